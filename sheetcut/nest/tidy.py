"""The last step: the same sheets and blanks with fewer cuts and larger leftovers."""

from __future__ import annotations

from sheetcut.nest import compiled
from sheetcut.nest import kernel as k
from sheetcut.nest.best import Best, tie_board
from sheetcut.nest.board import Solution, solution_of
from sheetcut.nest.hunt import seed_of

MOST_ROUNDS = 300
WORK = 12_000  # rounds times blanks
MOST_BLANKS = 1_000  # larger plans are left as they are
AREA_BITS = 22  # areas are counted this finely, so that squares of many blocks can be summed


def tidied(best: Best, seed: int) -> list[Solution]:
    """Return plans as good by the aim: the one with the largest leftovers, the fewest cuts first.

    Each starts from the plan at hand; neither is worse in what it looks for.
    """
    task = best.task
    if task.n_blanks > MOST_BLANKS:
        return [best.found.solution]
    board = tie_board(best)
    goal = sum(board.costs[stock] * n for stock, n in best.found.solution.used().items())
    start = board.load(best.found.solution, board.roots_under(goal))
    if start[k.LACK]:
        raise AssertionError("only whole plans are tidied")
    rounds = max(10, min(MOST_ROUNDS, WORK // task.n_blanks))
    largest = max(stock.area for stock in task.stocks)
    shift = max(0, largest.bit_length() - AREA_BITS)
    sheet = (largest >> shift) ** 2
    # Measured: 0.02 of a sheet squared for a block keeps both in view.
    found = []
    for number, toll in enumerate((sheet // 50, 2 * sheet)):
        run = list(start)
        chance = [seed_of(seed, 5000 + number), k.SKIP_SPAN // 2]
        compiled.run(
            "tidy", run, list(run), chance, board.blanks, board.ways, board.sheets,
            [0] * (len(task.stocks) + 1), [0] * len(task.blanks),
            [0] * (task.n_blanks + 1), shift, toll, goal, rounds,
        )  # fmt: skip
        solution = solution_of(run)
        if task.value(solution.used()) <= best.found.value:
            found.append(solution)
    return found or [best.found.solution]
