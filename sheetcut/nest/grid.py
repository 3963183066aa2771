"""The most valuable way to cut one sheet, blanks as often as liked: an exact table of values.

Every length that matters is a sum of blanks' sides; the table holds the best value of every
rectangle with such sides, each the better of one blank and of all ways to cut it in two.

Source:
    J. E. Beasley, "Algorithms for unconstrained two-dimensional guillotine cutting", Journal
    of the Operational Research Society 36 (1985), 297-306.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import ModuleType

import numpy as np
from numpy.typing import NDArray

from sheetcut.nest import tabling
from sheetcut.nest.board import Tree
from sheetcut.nest.task import AS_WRITTEN, TURNED, Task

Table = NDArray[np.int64]
QUICK_WORK = 5_000_000  # sums of two values for one table; about ten milliseconds
LONG_WORK = 150_000_000  # about a fifth of a second
COARSE = range(50, 81)  # cells on a side, of which the best number is taken


@dataclass(frozen=True)
class Axis:
    """The lengths along one side that matter.

    Attributes:
        spots: sums of sides, from 0 up.
        rest: for two spots, the place of the greatest spot that fits into their difference.
        half: for each spot, how many spots above 0 are at most half of it.
    """

    spots: tuple[int, ...]
    rest: NDArray[np.intp]
    half: tuple[int, ...]

    @cached_property
    def flat(self) -> Table:
        """The places of ``rest`` in one run."""
        return self.rest.ravel().astype(np.int64)

    @cached_property
    def halves(self) -> Table:
        """The numbers of ``half`` as an array."""
        return np.array(self.half, dtype=np.int64)

    def stretches(self) -> list[tuple[int, int]]:
        """Return runs of places, from the first spot above 0, each shorter than that spot."""
        found = []
        start = 1
        while start < len(self.spots):
            end = bisect_left(self.spots, self.spots[start] + self.spots[1])
            found.append((start, end))
            start = end
        return found

    def place(self, length: int) -> int:
        """Return the place of the greatest spot that is not longer."""
        return bisect_right(self.spots, length) - 1


def axis_of(run: int, sides: Sequence[int]) -> Axis:
    """Return the axis of a run that blanks with these sides are laid along."""
    spots = tuple(sums(run, sides))
    whole = np.array(spots, dtype=np.int64)
    rest = np.searchsorted(whole, whole[:, None] - whole[None, :], side="right") - 1
    half = tuple(bisect_right(spots, spot // 2) - 1 for spot in spots)
    return Axis(spots, np.maximum(rest, 0), half)


def sums(run: int, sides: Sequence[int]) -> list[int]:
    """Return all sums of sides up to a run, 0 among them.

    >>> sums(10, (3, 4))
    [0, 3, 4, 6, 7, 8, 9, 10]
    """
    reached = 1
    mask = (1 << (run + 1)) - 1
    for side in sorted(set(sides)):
        step = side
        while step <= run:
            reached |= (reached << step) & mask
            step *= 2
    return [spot for spot in range(run + 1) if reached >> spot & 1]


def cells_of(run: int, sides: Sequence[int], weights: Sequence[float]) -> int:
    """Return into how many cells a long run is best divided: those that keep most of the sides."""

    def kept(n: int) -> float:
        return sum(w * in_cells(s, run, n) for s, w in zip(sides, weights, strict=True)) / n

    return max(COARSE, key=lambda n: (kept(n), -n))


def in_cells(side: int, run: int, n: int) -> int:
    """Return a length in cells of which a run has n, so that what fits the run fits in cells.

    Beyond whole cells it is rounded down only where the side is not a little longer than
    that, so that sides add up as they should: the sum of two is never less than theirs apart.

    >>> in_cells(100, 100, 4), in_cells(50, 100, 4), in_cells(51, 100, 4), in_cells(21, 100, 4)
    (4, 2, 2, 1)
    """
    return -(-(n + 1) * side // run) - 1


@dataclass(frozen=True, slots=True)
class Lying:
    """A kind of blank in one of the ways it may lie: its least places on both axes."""

    kind: int
    wide: int
    high: int
    x: int
    y: int


class Grid:
    """The table for stocks on which every kind of blank may lie the same ways.

    Attributes:
        stocks: the stocks it serves, with their places on both axes.
        exact: whether it is measured in whole steps; else its values are only never too low.
        too_thin: kinds that a coarse grid cannot measure, so that they must weigh nothing.
    """

    def __init__(self, task: Task, stocks: Sequence[int], most_work: int) -> None:
        self.task = task
        rows = [task.stocks[i] for i in stocks]
        run, rise = max(row.wide for row in rows), max(row.high for row in rows)
        lying = _lying(task, stocks)
        widths, heights = [w for _, w, _ in lying], [h for _, _, h in lying]
        self.exact = _work(_spots(run, widths), _spots(rise, heights)) <= most_work
        if self.exact:
            self.x, self.y = axis_of(run, widths), axis_of(rise, heights)
            self.cells_across, self.cells_up = run, rise
        else:
            counts = [float(task.blanks[kind].count) for kind, _, _ in lying]
            self.cells_across = cells_of(run, widths, counts)
            self.cells_up = cells_of(rise, heights, counts)
            self.x = axis_of(self.cells_across, range(1, self.cells_across + 1))
            self.y = axis_of(self.cells_up, range(1, self.cells_up + 1))
        self.run, self.rise = run, rise
        self.lying = [Lying(kind, w, h, *self._places(w, h)) for kind, w, h in lying]
        self.too_thin = {one.kind for one in self.lying if not one.x or not one.y}
        self.lying = [one for one in self.lying if one.kind not in self.too_thin]
        self.stocks = {i: self._places(task.stocks[i].wide, task.stocks[i].high) for i in stocks}

    def _places(self, wide: int, high: int) -> tuple[int, int]:
        if self.exact:
            return self.x.place(wide), self.y.place(high)
        return (
            in_cells(wide, self.run, self.cells_across),
            in_cells(high, self.rise, self.cells_up),
        )

    @property
    def work(self) -> int:
        """About how many sums of two values one table takes."""
        return _work(len(self.x.spots), len(self.y.spots))

    def table(self, weights: Sequence[int], machine: ModuleType | None = None) -> Table:
        """Return the best value of every rectangle, exactly.

        Args:
            machine: the compiled kernel, or None for numpy; the table is the same.
        """
        table = self.base(weights)
        if machine is None:
            return filled(table, self.x, self.y)
        x, y = self.x, self.y
        machine.fill(table.ravel(), *table.shape, x.flat, y.flat, x.halves, y.halves)
        return table

    def base(self, weights: Sequence[int]) -> Table:
        """Return the values of single blanks, each where a rectangle is just large enough."""
        table = np.zeros((len(self.x.spots), len(self.y.spots)), dtype=np.int64)
        x, y, kinds = self._places_of_all
        np.maximum.at(table, (x, y), np.array(weights, dtype=np.int64)[kinds])
        return table

    @cached_property
    def _places_of_all(self) -> tuple[Table, Table, Table]:
        rows = [(one.x, one.y, one.kind) for one in self.lying]
        x, y, kinds = np.array(rows, dtype=np.int64).reshape(-1, 3).T
        return x, y, kinds

    def best_tree(
        self,
        table: Table,
        weights: Sequence[int],
        stock: int,
        machine: ModuleType | None = None,
    ) -> Tree:
        """Return a way to cut a sheet that has the value in the table."""
        row = self.task.stocks[stock]
        steps = iter(self.steps(table, weights, stock, machine))
        tree = self._tree(steps, row.wide, row.high)
        return tree if tree.kind is None else Tree(row.wide, row.high, 0, (tree,))

    def counts(
        self,
        table: Table,
        weights: Sequence[int],
        stock: int,
        machine: ModuleType | None = None,
    ) -> tuple[int, ...]:
        """Return how many blanks of each kind a sheet of the value in the table holds."""
        found = [0] * len(self.task.blanks)
        for step in self.steps(table, weights, stock, machine):
            if step < -1:
                found[self.lying[-2 - step].kind] += 1
        return tuple(found)

    def steps(
        self,
        table: Table,
        weights: Sequence[int],
        stock: int,
        machine: ModuleType | None = None,
    ) -> list[int]:
        """Return how a sheet of the value in the table is cut; see ``tabling.trace``."""
        across, up, kinds = self._places_of_all
        lying = np.stack((across, up, np.array(weights, dtype=np.int64)[kinds]), axis=1)
        i, j = self.stocks[stock]
        nx, ny = table.shape
        todo, steps = (np.zeros(2 * table.size, dtype=np.int64) for _ in range(2))
        x, y = self.x, self.y
        runs = [table.ravel(), x.flat, y.flat, x.halves, y.halves, lying.ravel()]
        trace: Callable[..., int] = tabling.trace if machine is None else machine.trace
        if machine is None:
            *runs, todo, steps = (run.tolist() for run in (*runs, todo, steps))
        n = trace(runs[0], nx, ny, *runs[1:], i * ny + j, todo, steps)
        return [int(step) for step in steps[:n]]

    def _tree(self, steps: Iterator[int], wide: int, high: int) -> Tree:
        """Return the tree of one rectangle in whole steps."""
        step = next(steps)
        if step == -1:
            return Tree(wide, high, free=wide)
        if step < -1:
            return alone(self.lying[-2 - step], wide, high)
        if step % 2 == 0:
            cut = self.x.spots[step // 2]
            left = self._tree(steps, cut, high)
            return joined(0, left, self._tree(steps, wide - cut, high), wide, high)
        cut = self.y.spots[step // 2]
        low = self._tree(steps, wide, cut)
        return joined(1, low, self._tree(steps, wide, high - cut), wide, high)


def filled(table: Table, x: Axis, y: Axis) -> Table:
    """Fill a table of single blanks with the best of all ways to cut.

    Rectangles whose sides differ by less than the shortest side of a blank are never parts of
    each other, so whole stretches of rows and columns are worked out at once.
    """
    for top, end in x.stretches():
        rows = table[top:end]
        _take_best(rows, table, x, top, end)
        for left, right in y.stretches():
            part = rows[:, left:right]
            _take_best(part.T, rows.T, y, left, right)
            np.maximum(part[:, 0], rows[:, left - 1], out=part[:, 0])
            np.maximum.accumulate(part, axis=1, out=part)
            np.maximum(part[0], table[top - 1, left:right], out=part[0])
            np.maximum.accumulate(part, axis=0, out=part)
    return table


def _take_best(rows: Table, table: Table, axis: Axis, top: int, end: int) -> None:
    """Raise the rows of a stretch to the best of all cuts between rows above it."""
    half = axis.half[end - 1]
    if half <= end - top:
        for a in range(1, half + 1):
            np.maximum(rows, table[a] + table[axis.rest[top:end, a]], out=rows)
        return
    for i in range(top, end):
        cuts = slice(1, axis.half[i] + 1)
        if axis.half[i]:
            best = (table[cuts] + table[axis.rest[i, cuts]]).max(axis=0)
            np.maximum(rows[i - top], best, out=rows[i - top])


def grids(task: Task, most_work: int = QUICK_WORK) -> list[Grid]:
    """Return the fewest tables that serve all stocks, first come first served.

    Args:
        most_work: what one table may take before its sheet is measured in coarser cells.
    """
    return [Grid(task, group, most_work) for group in groups(task)]


def groups(task: Task) -> list[list[int]]:
    """Return the stocks in as few groups as do, in each of which all blanks lie the same ways."""
    found: list[list[int]] = []
    for stock in range(len(task.stocks)):
        for group in found:
            if all(_agree(task, stock, other) for other in group):
                group.append(stock)
                break
        else:
            found.append([stock])
    return found


def work_for(task: Task) -> int:
    """Return how much exact tables for a task would take."""
    total = 0
    for stock in range(len(task.stocks)):
        lying = _lying(task, [stock])
        row = task.stocks[stock]
        nx, ny = (
            _spots(row.wide, [w for _, w, _ in lying]),
            _spots(row.high, [h for *_, h in lying]),
        )
        total += _work(nx, ny)
    return total


def _agree(task: Task, one: int, other: int) -> bool:
    """Whether every blank may lie the same ways on two stocks, as far as it fits them."""
    for blank in task.blanks:
        for way, sides in (
            (AS_WRITTEN, (blank.wide, blank.high)),
            (TURNED, (blank.high, blank.wide)),
        ):
            both = all(
                sides[0] <= task.stocks[i].wide and sides[1] <= task.stocks[i].high
                for i in (one, other)
            )
            if both and (blank.ways[one] ^ blank.ways[other]) & way:
                return False
    return True


def _work(nx: int, ny: int) -> int:
    return nx * ny * (nx + ny) // 4


def _spots(run: int, sides: Sequence[int]) -> int:
    """Return how many sums of sides there are, or the run itself where it is very long."""
    return len(sums(run, sides)) if run <= 50_000 else run


def _lying(task: Task, stocks: Sequence[int]) -> list[tuple[int, int, int]]:
    found: dict[tuple[int, int, int], None] = {}
    for kind, blank in enumerate(task.blanks):
        if blank.count:
            for stock in stocks:
                for wide, high in blank.sides(stock):
                    found[kind, wide, high] = None
    return list(found)


def alone(one: Lying, wide: int, high: int) -> Tree:
    """Return a rectangle with one blank in its corner."""
    blank = Tree(one.wide, one.high, kind=one.kind)
    if (one.wide, one.high) == (wide, high):
        return blank
    if one.high == high:
        return Tree(wide, high, 0, (blank,), wide - one.wide)
    if one.wide == wide:
        return Tree(wide, high, 1, (blank,), high - one.high)
    strip = Tree(one.wide, high, 1, (blank,), high - one.high)
    return Tree(wide, high, 0, (strip,), wide - one.wide)


def joined(along: int, one: Tree, other: Tree, wide: int, high: int) -> Tree:
    """Return two rectangles side by side, their members in one row where they allow it."""
    members: list[Tree] = []
    free = 0
    for tree in (one, other):
        if tree.kind is None and not tree.members:
            free += (tree.wide, tree.high)[along]
        elif tree.kind is None and tree.along == along:
            members.extend(tree.members)
            free += tree.free
        else:
            members.append(tree)
    return Tree(wide, high, along, tuple(members), free)


def content(tree: Tree, n: int) -> tuple[int, ...]:
    """Return how many blanks of each of n kinds lie in a tree."""
    kinds = tree.kinds()
    return tuple(kinds[kind] for kind in range(n))
