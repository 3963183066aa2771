"""The last step: the same sheets and blanks with fewer cuts, larger leftovers, plainer strips."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sheetcut.nest import compiled
from sheetcut.nest import kernel as k
from sheetcut.nest.best import Best, tie_board
from sheetcut.nest.board import Board, Solution, Tree, solution_of
from sheetcut.nest.hunt import seed_of
from sheetcut.nest.strips import strips_only

MOST_ROUNDS = 400
LEAST_ROUNDS = 10
WORK = 5_000  # rounds times blanks, in each of four runs
SHARE = 20  # of the rounds of search, one in so many is spent here besides
MOST_BESIDES = 2_000
MOST_BLANKS = 1_000  # larger plans are left as they are
AREA_BITS = 22  # areas are counted this finely, so that squares of many blocks can be summed
LOOKS = 4  # plans that are looked at in each run
KEPT = 3  # plans of each merit that are handed on


def tidied(best: Best, seed: int, searched: int = 0) -> list[Solution]:
    """Return plans as good by the aim: first the one with the largest leftovers, then others.

    They have few cuts, or large leftovers, or strips only; the last is the plan as it was
    found. All start from that plan or from strips, and the work follows from the size of the
    task and the rounds of search, never from a clock.

    Args:
        searched: how many rounds of search came before.
    """
    found = best.found.solution
    if best.task.n_blanks > MOST_BLANKS:
        return [found]
    tidying = _Tidying(best, seed, searched)
    strips = [one for one in strips_only(best, seed) if tidying.is_as_good(one)]
    strips.sort(key=tidying.cuts)
    pool = [*tidying.run(found, 0), *strips]
    for number, start in enumerate(strips[:1], start=1):
        pool += tidying.run(start, number)
    pool = list(dict.fromkeys(pool))
    large = sorted(pool, key=tidying.smallness)[:KEPT]
    large = list(dict.fromkeys((*large, *sorted(pool, key=tidying.largest)[:KEPT])))
    few = sorted(pool, key=tidying.cuts)[:KEPT]
    kept = dict.fromkeys((*large, *few, *strips[:KEPT], found))
    least = min(map(tidying.price, kept))  # what is sought for its strips may take less paper too
    return [one for one in kept if tidying.price(one) == least]


@dataclass(frozen=True, slots=True)
class _Merit:
    """What a plan has: holders with paper left beside their members, those squared, the largest."""

    blocks: int
    squares: int
    largest: int


class _Tidying:
    """Runs from one plan or another, all within what the plan at hand takes."""

    def __init__(self, best: Best, seed: int, searched: int) -> None:
        self.best = best
        self.seed = seed
        self.board: Board = tie_board(best)
        costs = self.board.costs
        self.goal = sum(costs[stock] * n for stock, n in best.found.solution.used().items())
        n = best.task.n_blanks
        besides = min(MOST_BESIDES, searched // SHARE)
        self.rounds = max(LEAST_ROUNDS, min(MOST_ROUNDS, WORK // n)) + besides
        largest = max(stock.area for stock in best.task.stocks)
        self.shift = max(0, largest.bit_length() - AREA_BITS)
        sheet = (largest >> self.shift) ** 2
        # Measured: 0.02 of a sheet squared for a block keeps both in view.
        self.tolls = (sheet // 50, 2 * sheet)
        self.merits: dict[Solution, _Merit] = {}

    def is_as_good(self, solution: Solution) -> bool:
        """Whether a plan is as good by the aim as the one at hand, ties included."""
        return self.best.task.value(solution.used()) <= self.best.found.value

    def price(self, solution: Solution) -> int:
        """Return a plan's value by the aim alone."""
        return self.best.task.value(solution.used())[0]

    def run(self, start: Solution, number: int) -> Iterator[Solution]:
        """Yield plans on the way from one to tidier ones, and these."""
        task, board = self.best.task, self.board
        loaded = self._loaded(start)
        for place, toll in enumerate(self.tolls):
            run = list(loaded)
            chance = [seed_of(self.seed, 5000 + 10 * number + place), k.SKIP_SPAN // 2]
            for _ in range(LOOKS):
                compiled.run(
                    "tidy", run, list(run), chance, board.blanks, board.ways, board.sheets,
                    [0] * (len(task.stocks) + 1), [0] * len(task.blanks),
                    [0] * (task.n_blanks + 1), self.shift, toll, self.goal,
                    -(-self.rounds // LOOKS),
                )  # fmt: skip
                solution = solution_of(run)
                if self.is_as_good(solution):
                    self.merits[solution] = self._merit_of(run)
                    yield solution

    def cuts(self, solution: Solution) -> tuple[int, int]:
        """Return what grows with the number of cuts."""
        merit = self._merit(solution)
        return merit.blocks, -merit.squares

    def smallness(self, solution: Solution) -> int:
        """Return what grows as leftovers get smaller, and with each of them a little."""
        merit = self._merit(solution)
        return self.tolls[0] * merit.blocks - merit.squares

    def largest(self, solution: Solution) -> tuple[int, int]:
        """Return what grows as the largest leftover gets smaller."""
        merit = self._merit(solution)
        return -merit.largest, merit.blocks

    def _merit(self, solution: Solution) -> _Merit:
        if solution not in self.merits:
            self.merits[solution] = self._merit_of(self._loaded(solution))
        return self.merits[solution]

    def _merit_of(self, run: list[int]) -> _Merit:
        largest = max((_largest(tree) for _, tree in solution_of(run).sheets), default=0)
        return _Merit(run[k.BLOCKS], k.tidiness(run, self.shift, 0), largest)

    def _loaded(self, solution: Solution) -> list[int]:
        run = self.board.load(solution, self.board.roots_under(self.goal))
        if run[k.LACK]:
            raise AssertionError("only whole plans are tidied")
        return run


def _largest(tree: Tree) -> int:
    """Return the area of the largest leftover in a tree."""
    if tree.kind is not None:
        return 0
    own = tree.free * (tree.high if tree.along == 0 else tree.wide)
    return max(own, *(_largest(member) for member in tree.members)) if tree.members else own
