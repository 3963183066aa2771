"""The pattern bound: prices for blanks under which no way to cut a sheet is worth more than it.

A linear programme over ways to cut a sheet gives each kind of blank a price. Those prices,
as whole numbers, are weights; the most that one sheet can carry of them is worked out
exactly, and the row that follows is counted like any other. So rounding in the programme can
weaken the bound but never make it wrong.

Source:
    P. C. Gilmore and R. E. Gomory, "Multistage cutting stock problems of two and more
    dimensions", Operations Research 13 (1965), 94-120; A. A. Farley, "A note on bounding a
    class of linear programming problems", Operations Research 38 (1990), 922-923.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from random import Random
from types import ModuleType

from sheetcut.nest import bounds
from sheetcut.nest.board import Tree
from sheetcut.nest.cover import Key, solver
from sheetcut.nest.grid import QUICK_WORK, Grid, Table, content, grids
from sheetcut.nest.rows import Row, least
from sheetcut.nest.task import Task

SCALE = 1_000_000  # whole numbers for the dearest price
MOST_ROUNDS = 250
MOST_TABLES = 120  # of the most work that a table may take
OTHERS = 8  # rows like the best that are looked for
LOOKS = 12  # for each of them
NEAR = Fraction(1, 20)  # of a sheet, by which a row may want less than the best
SPREAD = 0.3  # how much more is asked for, at most, as a share of what is wanted
SMOOTHING = 0.6  # how much of the old prices is kept
CLOSE = 1e-7


@dataclass(frozen=True, slots=True)
class Weighed:
    """What is left of a task, weighed.

    Attributes:
        looks: how often new patterns were looked for.
        cost: what the rest takes at least, as far as the programme can count; 0 where looking
            was ended early.
        prices: for each kind of blank.
        fees: for each stock, 0 or less, for its limit.
    """

    looks: int
    cost: float
    prices: Sequence[float]
    fees: Sequence[float]


class Patterns:
    """Column generation for one task.

    Attributes:
        patterns: those found so far, each with a tree where the grid is exact.
        row: the best row so far, or None.
        value: the least cost it gives on its own.
        tightest: for a single stock, the row that wants most sheets before rounding.
    """

    def __init__(self, task: Task, *, most_work: int = QUICK_WORK) -> None:
        self.task = task
        self.grids = grids(task, most_work)
        self.rounds = max(8, MOST_TABLES * most_work // max(1, self.work))
        self.patterns: dict[Key, Tree | None] = {}
        self.row: Row | None = None
        self.value: int | None = 0
        self.tightest: Row | None = None
        self.programme = _Programme(task)

    @property
    def work(self) -> int:
        """How much one look at all stocks takes."""
        return sum(grid.work for grid in self.grids)

    @property
    def is_exact(self) -> bool:
        """Whether every sheet is measured in whole steps."""
        return all(grid.exact for grid in self.grids)

    def run(
        self,
        *,
        floor: int,
        target: int | None,
        is_due: Callable[[], bool],
        machine: Callable[[], ModuleType | None] = lambda: None,
        most: int = MOST_ROUNDS,
        to_the_end: bool = False,
    ) -> int:
        """Improve the row until nothing can, or it reaches the target; return the rounds it took.

        Args:
            floor: a bound that is known; less is of no use.
            target: the value of a plan that is known; no bound can be higher.
            is_due: whether it is time to stop; the row so far stands.
            machine: the compiled kernel, as soon as it can be had.
            most: how many rounds it may take.
            to_the_end: go on where only the part that is rounded up can still improve.
        """
        for pattern in _first_patterns(self.task):
            self.add(pattern, None)
        smooth: list[float] | None = None
        for used in range(min(MOST_ROUNDS, self.rounds, most)):
            if is_due():
                return used
            cost, prices, fees = self.programme.solve()
            if smooth is None:
                smooth = prices
            else:
                smooth = [
                    SMOOTHING * old + (1 - SMOOTHING) * new
                    for old, new in zip(smooth, prices, strict=True)
                ]
            added = self._look(smooth, prices, fees, machine())
            if self.value is None or (target is not None and self.value >= target):
                return used + 1
            if not added:
                smooth = prices
                if not self._look(prices, prices, fees, machine()):
                    return used + 1
            if not to_the_end and max(self.value or 0, floor) >= cost - CLOSE * max(1.0, cost):
                return used + 1
        return min(MOST_ROUNDS, self.rounds, most)

    def _look(
        self,
        asked: Sequence[float],
        prices: Sequence[float],
        fees: Sequence[float],
        machine: ModuleType | None,
    ) -> bool:
        """Fill the tables for some prices; keep the row, add what is worth more than its sheet."""
        weights = _whole(asked)
        for grid in self.grids:
            for kind in grid.too_thin:
                weights[kind] = 0
        capacity = [0] * len(self.task.stocks)
        found: list[tuple[Key, Tree | None]] = []
        for grid in self.grids:
            table = grid.table(weights, machine)
            for stock, place in grid.stocks.items():
                capacity[stock] = int(table[place])
                found.append(self._found(grid, table, weights, stock, machine))
        self._keep(
            Row(tuple(weights), tuple(capacity), self._total(weights), "patterns", self._cells())
        )
        added = False
        for pattern, tree in found:
            stock, counts = pattern
            worth = sum(n * price for n, price in zip(counts, prices, strict=True))
            cost = self.task.stocks[stock].price
            if worth + fees[stock] > cost + CLOSE * max(1.0, cost):
                added |= self.add(pattern, tree)
        return added

    def _found(
        self,
        grid: Grid,
        table: Table,
        weights: Sequence[int],
        stock: int,
        machine: ModuleType | None,
    ) -> tuple[Key, Tree | None]:
        if not grid.exact:
            return (stock, grid.counts(table, weights, stock, machine)), None
        tree = grid.best_tree(table, weights, stock, machine)
        return (stock, content(tree, len(weights))), tree

    def leading(
        self,
        *,
        is_due: Callable[[], bool],
        machine: Callable[[], ModuleType | None] = lambda: None,
        most: int = MOST_ROUNDS,
    ) -> tuple[int, list[Row]]:
        """Return rows that bound about as much as the best, and the rounds they took.

        Many weights prove the same bound, and what one set of weights lets pass another may not.
        They come from asking for a little more of some blanks; the first is their mean, under
        which little is as good as the best.
        """
        used = self.run(
            floor=0, target=None, is_due=is_due, machine=machine, most=most, to_the_end=True
        )
        chance = Random(0)
        found: list[Row] = []
        for _ in range(OTHERS):
            self.programme.ask(
                [blank.count * (1 + chance.random() * SPREAD) for blank in self.task.blanks]
            )
            for _ in range(LOOKS):
                if is_due() or used >= most:
                    self.programme.ask_for(self.task)
                    return used, []
                _, prices, fees = self.programme.solve()
                used += 1
                if not self._look(prices, prices, fees, machine()):
                    break
            found.append(self._last)
        self.programme.ask_for(self.task)
        tops = [max(row.weights) for row in found]
        mean = [
            sum(row.weights[kind] / top for row, top in zip(found, tops, strict=True) if top)
            for kind in range(len(self.task.blanks))
        ]
        self._look(mean, mean, [0.0] * len(self.task.stocks), machine())
        rows = [self._last, *found, *([self.row] if self.row else [])]
        if self.tightest is not None:
            near = _sheets(self.tightest) - NEAR
            rows = [row for row in rows if row.capacity[0] and _sheets(row) >= near]
            rows.insert(min(1, len(rows)), self.tightest)
        return used + 1, list(dict.fromkeys(rows))

    def weigh_rest(
        self,
        rest: Task,
        *,
        is_due: Callable[[], bool],
        machine: Callable[[], ModuleType | None],
        looks: int,
    ) -> Weighed:
        """Weigh what is left of the task, and of what is on hand.

        Args:
            looks: how often new patterns are looked for at most.
        """
        self.programme.ask_for(rest)
        cost, prices, fees = self.programme.solve()
        for used in range(looks):
            if is_due():
                return Weighed(used, 0.0, prices, fees)
            if not self._look(prices, prices, fees, machine()):
                return Weighed(used + 1, cost, prices, fees)
            cost, prices, fees = self.programme.solve()
        return Weighed(looks, 0.0, prices, fees)

    @property
    def too_coarse(self) -> bool:
        """Whether none of its patterns is known to be cuttable."""
        return not any(grid.exact for grid in self.grids)

    def whole_part(self) -> dict[Key, int]:
        """Return how often the programme takes each pattern, rounded down."""
        self.programme.solve()
        used = zip(self.patterns, self.programme.used, strict=True)
        return {key: int(amount + CLOSE) for key, amount in used if amount + CLOSE >= 1}

    def trees(self) -> dict[Key, Tree]:
        """Return the patterns that are known to be cuttable."""
        return {key: tree for key, tree in self.patterns.items() if tree is not None}

    def _cells(self) -> tuple[int, int, int, int] | None:
        if self.is_exact:
            return None
        grid = self.grids[0]
        return grid.cells_across, grid.cells_up, grid.run, grid.rise

    def _keep(self, row: Row) -> None:
        self._last = row
        if len(row.capacity) == 1 and row.capacity[0] and _is_tighter(row, self.tightest):
            self.tightest = row
        value = least([row], bounds.costs_of(self.task), bounds.limits_of(self.task))
        if value is None or (self.value is not None and value > self.value):
            self.row, self.value = row, value

    def _total(self, weights: Sequence[int]) -> int:
        return sum(n.count * w for n, w in zip(self.task.blanks, weights, strict=True))

    def add(self, pattern: Key, tree: Tree | None) -> bool:
        """Add a pattern; return whether it is new."""
        if pattern in self.patterns or not any(pattern[1]):
            return False
        self.patterns[pattern] = tree
        self.programme.add(pattern)
        return True


def _sheets(row: Row) -> Fraction:
    """Return how many sheets of the only stock a row wants, in parts."""
    return Fraction(row.total, row.capacity[0])


def _is_tighter(row: Row, other: Row | None) -> bool:
    return other is None or row.total * other.capacity[0] > other.total * row.capacity[0]


def _whole(prices: Sequence[float]) -> list[int]:
    """Return prices as whole numbers in proportion, rounded down."""
    top = max(prices, default=0.0)
    if top <= 0:
        return [0] * len(prices)
    return [max(0, int(price / top * SCALE + 1e-6)) for price in prices]


def _first_patterns(task: Task) -> Iterator[Key]:
    """Yield, for every kind and stock, one blank alone."""
    for kind, blank in enumerate(task.blanks):
        for stock in range(len(task.stocks)):
            if blank.ways[stock] and blank.count:
                counts = tuple(int(i == kind) for i in range(len(task.blanks)))
                yield stock, counts


class _Programme:
    """The linear programme over patterns, kept warm between looks."""

    def __init__(self, task: Task) -> None:
        import highspy  # noqa: PLC0415  most papers are proved without it

        self.task = task
        self.used: list[float] = []  # how much of each pattern the last answer takes
        self.model = solver()
        self.model.setOptionValue("solver", "simplex")
        infinite = highspy.kHighsInf
        self.infinite = infinite
        self.dearest = 10.0 * (1 + max(stock.price for stock in task.stocks))
        for blank in task.blanks:
            self.model.addRow(float(blank.count), infinite, 0, [], [])
        self.limited = [i for i, stock in enumerate(task.stocks) if stock.limit is not None]
        for stock in self.limited:
            self.model.addRow(-infinite, float(task.stocks[stock].limit or 0), 0, [], [])
        for kind in range(len(task.blanks)):
            self.model.addCol(self.dearest, 0.0, infinite, 1, [kind], [1.0])

    def add(self, pattern: Key) -> None:
        """Add a column."""
        stock, counts = pattern
        places = [i for i, n in enumerate(counts) if n]
        values = [float(counts[i]) for i in places]
        if stock in self.limited:
            places.append(len(self.task.blanks) + self.limited.index(stock))
            values.append(1.0)
        cost = float(self.task.stocks[stock].price)
        self.model.addCol(cost, 0.0, self.infinite, len(places), places, values)

    def ask(self, wanted: Sequence[float]) -> None:
        """Ask for so many of each blank from now on."""
        for kind, n in enumerate(wanted):
            self.model.changeRowBounds(kind, n, self.infinite)

    def ask_for(self, rest: Task) -> None:
        """Ask for what is left to cut from what is left on hand."""
        self.ask([float(blank.count) for blank in rest.blanks])
        for place, stock in enumerate(self.limited, start=len(rest.blanks)):
            limit = float(rest.stocks[stock].limit or 0)
            self.model.changeRowBounds(place, -self.infinite, limit)

    def solve(self) -> tuple[float, list[float], list[float]]:
        """Return the least cost, a price for each kind, and for each stock the fee for its limit.

        Fees are 0 or less.
        """
        n = len(self.task.blanks)
        self.model.run()
        self.used = list(self.model.getSolution().col_value)[n:]
        duals = list(self.model.getSolution().row_dual)
        fees = [0.0] * len(self.task.stocks)
        for place, stock in enumerate(self.limited):
            fees[stock] = min(0.0, duals[n + place])
        cost = self.model.getInfo().objective_function_value
        return cost, [max(0.0, price) for price in duals[:n]], fees
