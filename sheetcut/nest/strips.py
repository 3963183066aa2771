"""Plans of strips only: long cuts, then cross cuts, each blank trimmed at the most.

Strips are filled one after the other, each by the most valuable row of the blanks that are
left; what finds no room is worth more the next time. Where that fails, prices from a linear
programme over such sheets give more of them, and an integer programme chooses.

Source:
    P. C. Gilmore and R. E. Gomory, "Multistage cutting stock problems of two and more
    dimensions", Operations Research 13 (1965), 94-120 (rows, then sheets of rows); G.
    Belov and G. Scheithauer, "Setup and open-stacks minimization in one-dimensional stock
    cutting", INFORMS Journal on Computing 19 (2007), 27-35 (values that change from one
    filling to the next).
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sheetcut.nest.best import Best
from sheetcut.nest.board import Solution, Tree
from sheetcut.nest.cover import Key, covering
from sheetcut.nest.grid import content
from sheetcut.nest.hunt import seed_of
from sheetcut.nest.pricing import prices_for
from sheetcut.nest.task import Task

LONGEST = 20_000  # steps of a side: beyond it rows take too long to fill
WORK = 2_500  # blanks times sheets filled, over all fillings of one kind
MOST_FILLINGS = 16
MOST_PRICED = 12  # times that the programme gives new prices
MOST_BLANKS = 300

Values = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Lying:
    """A kind of blank in one of the ways it may lie in a strip.

    Attributes:
        long: along the strip.
        across: from one side of the strip to the other.
    """

    kind: int
    long: int
    across: int


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip and the blanks in it, one after the other."""

    across: int
    row: tuple[Lying, ...]


def strips_only(best: Best, seed: int) -> list[Solution]:
    """Return plans of strips only that take no more than a plan does, none if none was found.

    They are cut from the sheets that the plan is cut from, or from others worth no more.
    """
    task = best.task
    longest = max(max(stock.wide, stock.high) for stock in task.stocks)
    if task.n_blanks > MOST_BLANKS or longest > LONGEST:
        return []
    used = best.found.solution.used()
    sheets = sorted(used.elements(), key=lambda stock: (-task.stocks[stock].area, stock))
    search = _Fillings(task, seed)
    fillings = max(2, min(MOST_FILLINGS, WORK // (task.n_blanks * len(sheets))))
    found = [search.solution() for _ in range(fillings) if search.filled(sheets)]
    if found or not any(stock.price for stock in task.stocks):
        return list(dict.fromkeys(found))
    covered = _covered(best, search, used)
    return [] if covered is None else [covered]


def is_strips_only(solution: Solution) -> bool:
    """Whether every sheet of a plan has long cuts and cross cuts, and trims at the most."""
    return all(_partings(tree) <= 2 for _, tree in solution.sheets)


def _partings(tree: Tree) -> int:
    """Return how many levels of cuts part blanks from blanks."""
    if tree.kind is not None:
        return 0
    below = max((_partings(member) for member in tree.members), default=0)
    return below + (len(tree.members) > 1)


def _covered(best: Best, search: _Fillings, used: Counter[int]) -> Solution | None:
    """Return the plan that an integer programme chooses from sheets of strips."""
    task = best.task
    spends = best.uses_offcuts
    limits = [
        stock.limit if stock.is_full else used[at] * spends for at, stock in enumerate(task.stocks)
    ]
    stocks = [at for at, limit in enumerate(limits) if limit != 0]
    for least, prices in prices_for(task, search.sheets, limits, most=MOST_PRICED):
        if least > best.price + 1e-6 * max(1, best.price) and search.is_priced_out(prices, stocks):
            return None  # no plan of strips costs so little
        if not search.add_worth(prices, stocks):
            break
    return covering(task, search.sheets, limits, below=best.price + 1)


class _Fillings:
    """Fills sheets with strips, and remembers every sheet that it filled.

    Attributes:
        sheets: by what they hold, all sheets filled so far.
    """

    def __init__(self, task: Task, seed: int) -> None:
        self.task = task
        self.chance = random.Random(seed_of(seed, 7000))
        self.sheets: dict[Key, Tree] = {}
        self.filling: list[tuple[int, Tree]] = []
        largest = max(blank.area for blank in task.blanks)
        self.weights = [(blank.area / largest) ** 1.05 for blank in task.blanks]
        self.rows = {
            (stock, along): _Rows(task, stock, along)
            for stock in range(len(task.stocks))
            for along in (0, 1)
        }

    def filled(self, sheets: Sequence[int]) -> bool:
        """Fill sheets one after the other; return whether all blanks lie on them."""
        left = [blank.count for blank in self.task.blanks]
        values = [weight * self.chance.uniform(0.95, 1.05) for weight in self.weights]
        order = list(sheets)
        if self.sheets:
            self.chance.shuffle(order)
        self.filling = []
        for stock in order:
            along = max((0, 1), key=lambda one: self.rows[stock, one].promise(values, left))
            tree = _tree(self.task, stock, along, self.rows[stock, along].fill(values, left))
            if tree.members:
                self.filling.append((stock, tree))
                self._remember(stock, tree)
        for kind, n in enumerate(left):
            if n:
                self.weights[kind] *= 1 + 0.15 * n / self.task.blanks[kind].count
        return not any(left)

    def solution(self) -> Solution:
        """Return the sheets filled last."""
        return Solution(tuple(self.filling))

    def add_worth(self, prices: Sequence[float], stocks: Sequence[int]) -> bool:
        """Fill a sheet of each stock, each way, for what is worth most; whether any is new."""
        before = len(self.sheets)
        for stock in stocks:
            for along in (0, 1):
                left = [blank.count for blank in self.task.blanks]
                strips = self.rows[stock, along].fill(prices, left)
                tree = _tree(self.task, stock, along, strips)
                if tree.members:
                    self._remember(stock, tree)
        return len(self.sheets) > before

    def is_priced_out(self, prices: Sequence[float], stocks: Sequence[int]) -> bool:
        """Whether no sheet of strips is worth more than its price, blanks as often as liked."""
        left = [blank.count for blank in self.task.blanks]
        return all(
            self.rows[stock, along].promise(prices, left)
            <= self.task.stocks[stock].price * (1 + 1e-7) + 1e-7
            for stock in stocks
            for along in (0, 1)
        )

    def _remember(self, stock: int, tree: Tree) -> None:
        self.sheets.setdefault((stock, content(tree, len(self.task.blanks))), tree)


class _Rows:
    """The strips of one stock that run one way.

    Along 0 the sheet is parted from left to right, so that strips stand upright.
    """

    def __init__(self, task: Task, stock: int, along: int) -> None:
        row = task.stocks[stock]
        self.run, self.length = (row.wide, row.high) if along == 0 else (row.high, row.wide)
        lying = [
            Lying(kind, high, wide) if along == 0 else Lying(kind, wide, high)
            for kind, blank in enumerate(task.blanks)
            for wide, high in blank.sides(stock)
        ]
        self.lying = sorted(lying, key=lambda one: (one.across, -one.long, one.kind))

    def promise(self, values: Sequence[float], left: Sequence[int]) -> float:
        """Return what the sheet is worth if every strip could be had as often as liked."""
        worth, _ = self._best_of_rows(values, left, self.run)
        return float(worth[-1])

    def fill(self, values: Sequence[float], left: list[int]) -> list[Strip]:
        """Return strips side by side; what is in them is taken off the count of what is left."""
        strips = []
        run = self.run
        while run > 0:
            strip = self._next(values, left, run)
            if strip is None:
                break
            for one in strip.row:
                left[one.kind] -= 1
            strips.append(strip)
            run -= strip.across
        return strips

    def _next(self, values: Sequence[float], left: Sequence[int], run: int) -> Strip | None:
        """Return the strip to take now: the widest of those that together are worth most."""
        worth, taken = self._best_of_rows(values, left, run)
        at, now = run, worth
        for across, n, row, before in reversed(taken):
            if now[at] != before[at]:
                return Strip(across, row.row(left)) if n else None
            now = before
        return None

    def _best_of_rows(
        self, values: Sequence[float], left: Sequence[int], run: int
    ) -> tuple[Values, list[tuple[int, int, _Row, Values]]]:
        """Return the most that strips are worth on every run, and how that came about."""
        worth = np.zeros(run + 1)
        taken = []
        for across, row in self._rows(values, left, run):
            many, n = run // across, 1
            while many > 0:
                here = min(n, many)
                many, n = many - here, 2 * n
                before = worth
                worth = _with(before, here * across, here * row.best)
                taken.append((across, here, row, before))
        return worth, taken

    def _rows(
        self, values: Sequence[float], left: Sequence[int], run: int
    ) -> Iterator[tuple[int, _Row]]:
        """Yield for each width of a strip the most valuable row; wider ones hold all narrower."""
        steps: list[tuple[Lying, int, Values]] = []
        table = np.zeros(self.length + 1)
        best = 0.0
        for place, one in enumerate(self.lying):
            many = min(left[one.kind], self.length // one.long if one.long else 0)
            if one.across > run:
                return
            taken = 1
            while many > 0:
                n = min(taken, many)
                many, taken = many - n, 2 * taken
                before = table
                table = _with(before, n * one.long, n * values[one.kind])
                steps.append((one, n, before))
            is_last = place + 1 == len(self.lying) or self.lying[place + 1].across > one.across
            if is_last and table[-1] > best:
                best = float(table[-1])
                yield one.across, _Row(best, tuple(steps), table)


def _with(before: Values, length: int, worth: float) -> Values:
    """Return the best values of every run where one thing more may be taken, or not."""
    table = before.copy()
    np.maximum(table[length:], before[: len(before) - length] + worth, out=table[length:])
    return table


@dataclass(frozen=True, slots=True)
class _Row:
    """The best row of a strip: its value, and the tables it came from, one for each step."""

    best: float
    steps: tuple[tuple[Lying, int, Values], ...]
    table: Values

    def row(self, left: Sequence[int]) -> tuple[Lying, ...]:
        """Return the blanks of the row, of no kind more than are left."""
        taken: Counter[int] = Counter()
        found: list[Lying] = []
        at = len(self.table) - 1
        now = self.table
        for one, n, before in reversed(self.steps):
            if now[at] != before[at]:
                at -= n * one.long
                there = min(n, left[one.kind] - taken[one.kind])
                taken[one.kind] += there
                found.extend([one] * there)
            now = before
        return tuple(found)


def _tree(task: Task, stock: int, along: int, strips: Sequence[Strip]) -> Tree:
    """Return the strips of a sheet as its cut tree."""
    row = task.stocks[stock]
    run, length = (row.wide, row.high) if along == 0 else (row.high, row.wide)
    members = [_strip(strip, along, length) for strip in strips if strip.row]
    free = run - sum(strip.across for strip in strips if strip.row)
    return Tree(row.wide, row.high, along, tuple(members), free)


def _strip(strip: Strip, along: int, length: int) -> Tree:
    width = max(one.across for one in strip.row)
    assert width <= strip.across
    blanks = [_blank(one, along, strip.across) for one in strip.row]
    free = length - sum(one.long for one in strip.row)
    size = (strip.across, length) if along == 0 else (length, strip.across)
    if len(blanks) == 1 and not free:
        return blanks[0]
    return Tree(*size, 1 - along, tuple(blanks), free)


def _blank(one: Lying, along: int, across: int) -> Tree:
    size = (one.across, one.long) if along == 0 else (one.long, one.across)
    blank = Tree(*size, kind=one.kind)
    if one.across == across:
        return blank
    outer = (across, one.long) if along == 0 else (one.long, across)
    return Tree(*outer, along, (blank,), across - one.across)
