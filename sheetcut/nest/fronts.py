"""Which sets of blanks can be cut from which rectangles, edge to edge, exactly.

It keeps the flat runs that the loops of ``filling`` work on, one after the other for all sheets
on which every blank may lie the same ways.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterator, Sequence
from math import prod
from types import ModuleType
from typing import Any

from sheetcut.nest import compiled, filling
from sheetcut.nest.board import Tree
from sheetcut.nest.grid import Lying, alone, joined
from sheetcut.nest.task import Task

MOST_NODES = 600_000  # sets
SLOTS = 1 << 20  # 16 MB
MOST_CORNERS = 1_200_000  # of all sets together; 19 MB
CORNERS = 50  # of a set, more than there are on average
MOST_SPARE = 1_000  # of one set
MOST_BLANKS = 14  # in a set that is tried in every way


class TooMuch(Exception):
    """More would take too long or too much memory."""


class Fronts:
    """Sets of blanks and the rectangles that hold them.

    A set is a run of *places*: where its blanks' kinds stand in the order given, lowest first.

    Args:
        kinds: the kinds of blank that sets are made of, in the order of their places.
        stocks: on all of which every blank may lie the same ways.
        machine: the compiled loops, or None for plain Python; the answers are the same.
    """

    def __init__(
        self,
        task: Task,
        kinds: Sequence[int],
        stocks: Sequence[int],
        machine: ModuleType | None = None,
    ) -> None:
        self.task = task
        self.kinds = tuple(kinds)
        self.stocks = tuple(stocks)
        self.loops: Any = machine or filling
        self._is_compiled = machine is not None
        # There are no more sets than ways to take some of each kind.
        nodes = min(MOST_NODES, 1 + prod(task.blanks[kind].count + 1 for kind in kinds))
        corners = min(MOST_CORNERS, CORNERS * nodes)
        slots = min(SLOTS, 1 << (2 * nodes).bit_length())
        head = [0] * filling.HEAD
        head[filling.PLACES] = len(kinds)
        head[filling.NODES] = 1
        head[filling.WIDE] = max(task.stocks[i].wide for i in stocks)
        head[filling.HIGH] = max(task.stocks[i].high for i in stocks)
        head[filling.MOST_NODES] = nodes
        head[filling.MOST_CORNERS] = corners
        head[filling.MOST_SPARE] = MOST_SPARE
        head[filling.SLOTS] = slots
        self.head = self.run(head)
        self.child = self.room(2 * slots)
        self.ends = self.room(nodes)
        self.corners = self.room(2 * corners)
        self.sides = self.run([side for kind in kinds for side in self._sides(kind)])
        self.items = self.room(MOST_BLANKS + 1)
        self.nodes = self.room(1 << MOST_BLANKS)
        self.spare = self.room(2 * MOST_SPARE + 2)

    @property
    def work(self) -> int:
        """How many steps were taken."""
        return int(self.head[filling.WORK])

    def run(self, numbers: Sequence[int]) -> Any:
        """Return numbers as the loops take them."""
        return compiled.array(numbers) if self._is_compiled else list(numbers)

    def room(self, n: int) -> Any:
        """Return so many noughts as the loops take them."""
        return compiled.noughts(n) if self._is_compiled else array("q", bytes(8 * n))

    def _sides(self, kind: int) -> Iterator[int]:
        """Yield width and height for each way it may lie on some of the stocks, then noughts."""
        ways = dict.fromkeys(
            side for stock in self.stocks for side in self.task.blanks[kind].sides(stock)
        )
        for wide, high in (*ways, (0, 0), (0, 0))[:2]:
            yield wide
            yield high

    def fits(self, places: Sequence[int], stock: int) -> bool:
        """Whether a set can be cut from a sheet.

        Raises:
            TooMuch: if it is too large to be tried in every way.
        """
        if not places:
            return True
        row = self.task.stocks[stock]
        node = self._node(places)
        return bool(self.loops.holds(self.ends, self.corners, node, row.wide, row.high))

    def _node(self, places: Sequence[int]) -> int:
        if len(places) > MOST_BLANKS:
            raise TooMuch
        for k, place in enumerate(places):
            self.items[k] = place
        node = self.loops.look_up(
            self.head, self.child, self.ends, self.corners, self.sides,
            self.items, len(places), self.nodes, self.spare,
        )  # fmt: skip
        if node == filling.UNKNOWN:
            raise TooMuch
        return int(node)

    def _corners(self, places: Sequence[int]) -> list[tuple[int, int]]:
        node = self._node(places)
        return [
            (int(self.corners[2 * k]), int(self.corners[2 * k + 1]))
            for k in range(int(self.ends[node - 1]), int(self.ends[node]))
        ]

    def tree(self, places: Sequence[int], wide: int, high: int) -> Tree:
        """Return a rectangle of a size that holds a set, cut into its blanks."""
        if len(places) == 1:
            kind = self.kinds[places[0]]
            w, h = next(one for one in self._corners(places) if one[0] <= wide and one[1] <= high)
            return alone(Lying(kind, w, h, 0, 0), wide, high)
        for one, other in _halves(places):
            low = min((h for w, h in self._corners(one) if w <= wide), default=high)
            top = min((h for w, h in self._corners(other) if w <= wide), default=high)
            if low + top <= high:
                under = self.tree(one, wide, low)
                return joined(1, under, self.tree(other, wide, high - low), wide, high)
            left = min((w for w, h in self._corners(one) if h <= high), default=wide)
            right = min((w for w, h in self._corners(other) if h <= high), default=wide)
            if left + right <= wide:
                first = self.tree(one, left, high)
                return joined(0, first, self.tree(other, wide - left, high), wide, high)
        raise AssertionError(f"set {places} does not fit {wide} x {high}")


def _halves(places: Sequence[int]) -> Iterator[tuple[list[int], list[int]]]:
    """Yield every way to part a set in two, the last blank always in the second part."""
    for mask in range(1, 1 << (len(places) - 1)):
        yield (
            [place for i, place in enumerate(places) if mask >> i & 1],
            [place for i, place in enumerate(places) if not mask >> i & 1],
        )
