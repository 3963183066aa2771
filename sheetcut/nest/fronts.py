"""Which sets of blanks can be cut from one rectangle, edge to edge, exactly.

For every set the least height is kept for each width that matters, and the least width for each
height. A set lies in two parts, one above the other or side by side; so its least heights come
from sums of those of its parts at one width, and its least widths likewise.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from itertools import compress

import numpy as np
from numpy.typing import NDArray

from sheetcut.nest.board import Tree
from sheetcut.nest.grid import Lying, alone, joined, sums
from sheetcut.nest.task import Task

FAR = 1 << 29  # longer than any sheet in steps; two of them still fit into 32 bits
MOST_CELLS = 8_000_000  # numbers kept for all sets; 32 MB
MOST_SUBSETS = 1 << 14  # of one set
SET_WORK = 60  # what a set takes besides its sums, counted like POINT_WORK sums
POINT_WORK = 500  # sums of two lengths that count as one step: about a microsecond

Lengths = NDArray[np.int32]


class TooMuch(Exception):
    """More would take too long or too much memory."""


class Fronts:
    """Sets of blanks for the only sheet of a task, each named by a whole number.

    Args:
        kinds: the kinds of blank that sets are made of; a place in it is a digit of the name.
        count: is told of work before it is done, and may raise ``TooMuch``.
    """

    def __init__(self, task: Task, kinds: Sequence[int], count: Callable[[int], None]) -> None:
        self.task = task
        self.kinds = tuple(kinds)
        self.count = count
        self.room = task.stocks[0].wide, task.stocks[0].high
        self.bits = max((task.blanks[kind].count for kind in kinds), default=1).bit_length()
        sides = [side for kind in kinds for side in task.blanks[kind].sides(0)]
        self.x = sums(self.room[0], [w for w, _ in sides])
        self.y = sums(self.room[1], [h for _, h in sides])
        self._x, self._y = np.array(self.x, dtype=np.int32), np.array(self.y, dtype=np.int32)
        self._places: dict[int, int] = {}
        self._high: Lengths = np.full((64, len(self.x)), FAR, dtype=np.int32)
        self._wide: Lengths = np.full((64, len(self.y)), FAR, dtype=np.int32)

    def one(self, place: int) -> int:
        """Return the name of a single blank; names of sets are sums of these."""
        return 1 << place * self.bits

    def number(self, name: int, place: int) -> int:
        """Return how many blanks of the kind in one place are in a set."""
        return name >> place * self.bits & (1 << self.bits) - 1

    def is_known(self, name: int) -> bool:
        """Whether a set has been looked at."""
        return name in self._places

    def fits(self, name: int) -> bool:
        """Whether a set can be cut from the sheet."""
        if name not in self._places:
            for part in self._subsets(name):
                if part not in self._places:
                    self._add(part)
                if self._high[self._places[part], -1] >= FAR:
                    self._places.setdefault(name, self._places[part])
                    return False
        return bool(self._high[self._places[name], -1] < FAR)

    def tree(self, name: int, wide: int, high: int) -> Tree:
        """Return a rectangle of a size that holds a set, cut into its blanks."""
        single = [place for place in range(len(self.kinds)) if name == self.one(place)]
        if single:
            kind = self.kinds[single[0]]
            for w, h in self.task.blanks[kind].sides(0):
                if w <= wide and h <= high:
                    return alone(Lying(kind, w, h, 0, 0), wide, high)
        across, up = bisect_right(self.x, wide) - 1, bisect_right(self.y, high) - 1
        for part in self._subsets(name)[:-1]:
            one, other = self._places[part], self._places[name - part]
            cut = int(self._high[one, across])
            if cut + int(self._high[other, across]) <= high:
                low = self.tree(part, wide, cut)
                return joined(1, low, self.tree(name - part, wide, high - cut), wide, high)
            cut = int(self._wide[one, up])
            if cut + int(self._wide[other, up]) <= wide:
                left = self.tree(part, cut, high)
                return joined(0, left, self.tree(name - part, wide - cut, high), wide, high)
        raise AssertionError(f"set {name} does not fit {wide} x {high}")

    def _subsets(self, name: int) -> list[int]:
        """Return all sets within a set but the empty one, parts before what they are parts of."""
        found = [0]
        for place in range(len(self.kinds)):
            many = self.number(name, place)
            if many:
                one = self.one(place)
                found += [set_ + n * one for n in range(1, many + 1) for set_ in found]
                if len(found) > MOST_SUBSETS:
                    raise TooMuch
        return found[1:]

    def _add(self, name: int) -> None:
        """Work out a set whose parts are known."""
        parts = self._subsets(name)[:-1]
        width = len(self.x) + len(self.y)
        self.count(SET_WORK + len(parts) * width // POINT_WORK)
        if len(parts) > 0:
            one = [self._places[part] for part in parts if 2 * part <= name]
            other = [self._places[name - part] for part in parts if 2 * part <= name]
            high = (self._high[one] + self._high[other]).min(axis=0)
            wide = (self._wide[one] + self._wide[other]).min(axis=0)
            high[high > self.room[1]] = FAR
            wide[wide > self.room[0]] = FAR
            high, wide = (
                np.minimum(high, _turned_over(wide, self._x, self._y)),
                np.minimum(wide, _turned_over(high, self._y, self._x)),
            )
        else:
            high, wide = self._single(name)
        at = len(self._places)
        if (at + 1) * width > MOST_CELLS:
            raise TooMuch
        if at >= len(self._high):
            self._high = np.concatenate((self._high, np.full_like(self._high, FAR)))
            self._wide = np.concatenate((self._wide, np.full_like(self._wide, FAR)))
        self._high[at], self._wide[at] = high, wide
        self._places[name] = at

    def _single(self, name: int) -> tuple[Lengths, Lengths]:
        here = (name == self.one(place) for place in range(len(self.kinds)))
        kind = next(compress(self.kinds, here))
        high = np.full(len(self.x), FAR, dtype=np.int32)
        wide = np.full(len(self.y), FAR, dtype=np.int32)
        for w, h in self.task.blanks[kind].sides(0):
            high[self._x >= w] = np.minimum(high[self._x >= w], h)
            wide[self._y >= h] = np.minimum(wide[self._y >= h], w)
        return high, wide


def _turned_over(least: Lengths, runs: Lengths, rises: Lengths) -> Lengths:
    """Return the least rise for each run, from the least run for each rise."""
    first = np.searchsorted(-least, -runs, side="left")
    return np.append(rises, np.int32(FAR))[first]
