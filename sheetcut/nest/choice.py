"""Whether some of the listed sets hold all blanks within a budget: an integer programme."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from typing import Any

from sheetcut.nest.cover import MOST_NODES, WHOLE, run, solver
from sheetcut.nest.task import Task

Pick = tuple[int, tuple[int, ...]]
"""A stock, and how many blanks of each kind a set for one sheet of it has."""


def choice(
    task: Task,
    sets: Iterable[Pick],
    budget: int,
    *,
    is_due: Callable[[], bool] | None = None,
    seconds: float | None = None,
) -> tuple[bool, Counter[Pick]]:
    """Return whether no choice of sets holds all blanks, and else one that does, if found.

    Args:
        is_due, seconds: when to end; what it has not found by then it does not claim.
    """
    import highspy  # noqa: PLC0415  most papers need none

    picks = list(sets)
    if _is_missing(task, picks):
        return True, Counter()
    model = solver()
    infinite = highspy.kHighsInf
    for blank in task.blanks:
        model.addRow(float(blank.count), infinite, 0, [], [])
    for stock in task.stocks:
        model.addRow(-infinite, infinite if stock.limit is None else float(stock.limit), 0, [], [])
    model.addRow(-infinite, budget + WHOLE, 0, [], [])
    for place, pick in enumerate(picks):
        _add(task, model, pick)
        model.changeColIntegrality(place, highspy.HighsVarType.kInteger)
    model.setOptionValue("mip_max_nodes", MOST_NODES)
    run(model, is_due, seconds)
    if model.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return True, Counter()
    solution = model.getSolution()
    if not solution.value_valid:
        return False, Counter()
    numbers = [int(value + WHOLE) for value in solution.col_value]
    chosen = Counter({pick: n for pick, n in zip(picks, numbers, strict=True) if n})
    return False, chosen if _is_whole(task, chosen, budget) else Counter()


def _add(task: Task, model: Any, pick: Pick) -> None:
    import highspy  # noqa: PLC0415

    stock, counts = pick
    rows = [kind for kind, n in enumerate(counts) if n]
    values = [float(counts[kind]) for kind in rows]
    rows += [len(counts) + stock, len(counts) + len(task.stocks)]
    values += [1.0, float(task.stocks[stock].price)]
    model.addCol(0.0, 0.0, highspy.kHighsInf, len(rows), rows, values)


def _is_missing(task: Task, picks: list[Pick]) -> bool:
    """Whether some blank is in none of the sets."""
    return any(
        blank.count and not any(counts[kind] for _, counts in picks)
        for kind, blank in enumerate(task.blanks)
    )


def _is_whole(task: Task, chosen: Counter[Pick], budget: int) -> bool:
    """Whether a choice, rounded to whole numbers, really holds everything: worked out exactly."""
    for kind, blank in enumerate(task.blanks):
        if sum(pick[1][kind] * n for pick, n in chosen.items()) < blank.count:
            return False
    used: Counter[int] = Counter()
    for pick, n in chosen.items():
        used[pick[0]] += n
    return sum(task.stocks[i].price * n for i, n in used.items()) <= budget and all(
        stock.limit is None or used[i] <= stock.limit for i, stock in enumerate(task.stocks)
    )
