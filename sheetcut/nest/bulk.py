"""Large jobs with many alike: whole numbers of each pattern first, then a search for the rest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from sheetcut.nest.board import Board, Solution, Tree
from sheetcut.nest.cover import Key, without_surplus
from sheetcut.nest.grid import content
from sheetcut.nest.hunt import constructions
from sheetcut.nest.patterns import Patterns
from sheetcut.nest.task import Blank, Task

MANY = 400  # blanks; fewer are searched as they are
REPEATS = 4  # blanks of a kind, on average
SAMPLE = 150  # blanks of a small job in the same proportions


def is_bulk(task: Task) -> bool:
    """Whether a task is so large, and so much of it alike, that patterns come first."""
    kinds = sum(1 for blank in task.blanks if blank.count)
    return task.n_blanks >= MANY and task.n_blanks >= REPEATS * kinds


def sampled_patterns(task: Task, seed: int) -> Iterator[tuple[Key, Tree]]:
    """Yield the sheets of plans for a small job with about the same proportions."""
    share = -(-task.n_blanks // SAMPLE)
    small = with_counts(task, {i: -(-one.count // share) for i, one in enumerate(task.blanks)})
    small = replace(small, stocks=tuple(replace(stock, limit=None) for stock in task.stocks))
    costs = [stock.price for stock in small.stocks]
    board = Board(small, costs, [stock.limit != 0 for stock in task.stocks])
    for found in constructions(board, seed):
        for stock, tree in found.solution.sheets:
            yield (stock, content(tree, len(task.blanks))), tree


def in_whole_numbers(
    task: Task, patterns: Patterns, plan_rest: Callable[[Task], Solution | None]
) -> Solution | None:
    """Return a plan of whole numbers of the best patterns and a plan for the rest.

    None too where no pattern is taken as often as once.

    Args:
        plan_rest: plans what is left over; None where the paper left cannot hold it.
    """
    trees = patterns.trees()
    numbers = {key: n for key, n in patterns.whole_part().items() if key in trees}
    rest = rest_of(task, numbers)
    if rest.n_blanks == task.n_blanks:
        return None
    planned = plan_rest(rest) if rest.n_blanks else Solution(())
    return None if planned is None else together(task, numbers, trees, planned)


def with_counts(task: Task, counts: Mapping[int, int]) -> Task:
    """Return the task with other numbers of each kind of blank, whoever ordered them."""
    blanks = tuple(_counted(blank, counts.get(i, 0)) for i, blank in enumerate(task.blanks))
    return replace(task, blanks=blanks)


def _counted(blank: Blank, n: int) -> Blank:
    return replace(blank, lines=((blank.lines[0][0], n),) if n else ())


def rest_of(task: Task, whole: Mapping[Key, int]) -> Task:
    """Return what is still to be cut, and from what, once so many of each pattern are."""
    cut: Counter[int] = Counter()
    used: Counter[int] = Counter()
    for (stock, counts), n in whole.items():
        used[stock] += n
        for kind, many in enumerate(counts):
            cut[kind] += many * n
    left = {i: max(0, one.count - cut[i]) for i, one in enumerate(task.blanks)}
    stocks = tuple(
        stock if stock.limit is None else replace(stock, limit=max(0, stock.limit - used[i]))
        for i, stock in enumerate(task.stocks)
    )
    return replace(with_counts(task, left), stocks=stocks)


def together(
    task: Task, whole: Mapping[Key, int], trees: Mapping[Key, Tree], rest: Solution
) -> Solution:
    """Return one plan from whole numbers of patterns and the plan for the rest."""
    sheets = [(key[0], trees[key]) for key, n in whole.items() for _ in range(n)]
    return Solution(tuple(without_surplus(task, [*sheets, *rest.sheets])))
