"""The search for a better plan: constructed ones first, then ruin and refill under a limit."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product
from types import ModuleType
from typing import Any

from sheetcut.nest import compiled
from sheetcut.nest import kernel as k
from sheetcut.nest.board import HISTORY, Board, Solution, Tree, solution_of
from sheetcut.nest.task import Task

NO_LIMIT = 1 << 60
MOST_CONSTRUCTED = 300_000  # blanks times sheets looked at, over all constructions


@dataclass(frozen=True, slots=True)
class Found:
    """A plan, what it lacks, and how good it is (less is better in both)."""

    lack: int
    value: tuple[int, int, int]
    solution: Solution

    @property
    def rank(self) -> tuple[int, tuple[int, int, int]]:
        """What plans are compared by."""
        return self.lack, self.value


def constructions(board: Board, seed: int) -> Iterator[Found]:
    """Yield plans built in one go: every order of blanks with every rule of fit.

    With several stocks, each is in turn the one that is opened first.
    """
    for run in _built(board, seed, k.RULES):
        yield found_in(board.task, run)


def better_and_better(board: Board, seed: int) -> Iterator[Found]:
    """Yield those plans, built in one go, that are better than all before them.

    Besides every order and every rule of fit, every rule of cutting takes part.
    """
    task = board.task
    best: tuple[int, tuple[int, int, int]] | None = None
    work = 0
    for run in _built(board, seed, k.RULES * k.CUTS):
        used = sheets_in(run)
        rank = int(run[k.LACK]), task.value(used)
        if best is None or rank < best:
            best = rank
            yield found_in(task, run)
        work += task.n_blanks * (used.total() + 8)
        if work > MOST_CONSTRUCTED:
            return


def _built(board: Board, seed: int, n_rules: int) -> Iterator[Any]:
    """Yield the runs that come from filling an empty one, by so many rules."""
    machine = compiled.loaded()
    start = board.fresh(board.roots_under(None))
    keys = [0] * (board.task.n_blanks + 1)
    chance = [seed_of(seed, 1), k.NO_SKIP]
    tables = [board.blanks, board.ways, board.sheets]
    failed = [0] * len(board.task.blanks)
    for tries in _preferences(board):
        ready = []
        for order in range(k.ORDERS):
            ready.append(list(start))
            k.arrange(ready[-1], chance, board.blanks, keys, order, 1)
        runs: Any = [chance, *tables, tries, failed]
        if machine is not None:
            ready, *runs = [[compiled.array(one) for one in ready], *map(compiled.array, runs)]
        refill: Callable[..., None] = k.refill if machine is None else machine.refill
        for cut, order, fit in product(range(n_rules // k.RULES), range(k.ORDERS), range(k.RULES)):
            run = ready[order].copy()
            refill(run, *runs, k.RULES * cut + fit, board.shift, NO_LIMIT)
            yield run


def found_in(task: Task, run: Any) -> Found:
    """Return what a run holds."""
    solution = solution_of(compiled.plain(run))
    return Found(int(run[k.LACK]), task.value(solution.used()), solution)


def sheets_in(run: Sequence[int]) -> Counter[int]:
    """Return how many sheets of each stock a run has in use."""
    return Counter(
        int(-2 - run[root + k.KIND])
        for root in range(run[k.ROOTS_AT], run[k.NODES_AT], k.RECORD)
        if run[root + k.FIRST] != 0
    )


def seed_of(seed: int, number: int) -> int:
    """Return a start for the random numbers of one search: 32 bits, never 0."""
    mixed = (seed * 0x9E3779B1 + number * 0x85EBCA6B + 0x165667B1) & k.WORD
    mixed ^= mixed >> 15
    mixed = (mixed * 0x2C1B3C6D) & k.WORD
    return (mixed ^ (mixed >> 12)) or 1


def _preferences(board: Board) -> list[list[int]]:
    """Return orders in which stocks are opened: by price for area, then each one first."""
    stocks = board.task.stocks
    allowed = [i for i, open_ in enumerate(board.allowed) if open_]
    by_price = sorted(allowed, key=lambda i: (stocks[i].price / stocks[i].area, i))
    orders = [by_price]
    for first in allowed:
        order = [first, *(one for one in by_price if one != first)]
        if order not in orders:
            orders.append(order)
    return [[len(order), *order, *[0] * (len(stocks) - len(order))] for order in orders]


@dataclass
class Hunt:
    """A search in progress, for plans that cost no more than a goal.

    It is a chain of rounds that depends on task, seed and number alone: how many are asked for
    at a time makes no difference.

    Attributes:
        best: the best plan found so far, or the one it started from.
        used: rounds so far.
    """

    board: Board
    seed: int
    number: int
    best: Found
    goal: int = NO_LIMIT
    used: int = 0
    _runs: list[Any] = field(default_factory=list)  # what ``kernel.seek`` takes, in its order
    _chance: list[int] = field(default_factory=list)

    def aim_below(self, cost: int) -> None:
        """Look only for plans that cost less from now on."""
        self.goal = min(self.goal, cost - 1)

    def advance(self, rounds: int, machine: ModuleType | None = None) -> tuple[int, Found | None]:
        """Search for so many rounds or until a plan is found; return the rounds and the plan.

        Args:
            machine: the compiled kernel, or None for plain Python; the plan is the same.
        """
        if not self._runs:
            self._start()
        if machine is not None and isinstance(self._runs[0], list):
            # From here on the run stays with the compiled kernel, which is never given up.
            self._runs = [compiled.array(run) for run in self._runs]
        seek: Callable[..., int] = k.seek
        if machine is not None:
            seek = machine.seek
        used = int(seek(*self._runs, self.board.shift, self.goal, self.used, rounds))
        self.used += used
        here = self._runs[0]
        if here[k.LACK]:
            return used, None
        self.best = found_in(self.board.task, here)
        self._chance = list(compiled.plain(self._runs[2]))
        self._runs = []
        return used, self.best

    def sheets(self) -> tuple[tuple[int, Tree], ...]:
        """Return the sheets of the plan at hand, which may lack blanks."""
        if not self._runs:
            return self.best.solution.sheets
        return solution_of(compiled.plain(self._runs[0])).sheets

    def kept(self) -> tuple[Any, ...]:
        """Return all that rounds change, for ``restore``."""
        return self.best, self.used, [run.copy() for run in self._runs], list(self._chance)

    def restore(self, kept: tuple[Any, ...]) -> None:
        """Forget all rounds since ``kept`` was asked for; the goal stays as it is now."""
        self.best, self.used, self._runs, self._chance = kept

    def _start(self) -> None:
        """Load the best plan with only as many roots as the goal leaves room for."""
        board = self.board
        task = board.task
        goal = None if self.goal >= NO_LIMIT else self.goal
        # The plan at hand may use more than the goal allows; the kernel empties sheets first.
        used = self.best.solution.used()
        roots = [max(most, used[i]) for i, most in enumerate(board.roots_under(goal))]
        run = board.load(self.best.solution, roots)
        if not self._chance:
            self._chance = [seed_of(self.seed, self.number), 1]
            self._chance[1] = 1 + k.below(self._chance, k.SKIP_SPAN)
        k.afford(run, board.blanks, board.sheets, self.goal)
        self._runs = [
            run,
            list(run),
            self._chance,
            board.blanks,
            board.ways,
            board.sheets,
            [0] * (len(task.stocks) + 1),
            [0] * len(task.blanks),
            [0] * (task.n_blanks + 1),
            [run[k.LACK]] * HISTORY,
        ]
