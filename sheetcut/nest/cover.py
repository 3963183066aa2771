"""The fewest or cheapest sheets out of known ways to cut one, chosen by integer programming.

Patterns that the pattern bound has come up with go together into a plan.

Source:
    M. Monaci and P. Toth, "A set-covering-based heuristic approach for bin-packing problems",
    INFORMS Journal on Computing 18 (2006), 71-85.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from sheetcut.nest.board import Solution, Tree
from sheetcut.nest.task import Task

Key = tuple[int, tuple[int, ...]]
"""A stock, and how many blanks of each kind one sheet of it gives."""

MOST_NODES = 400  # of the integer programme
WHOLE = 0.5
LATE_S = 0.02  # so that whoever asked for the stop finds it due once the solver has ended


def solver() -> Any:
    """Return a silent solver that gives the same answer every time."""
    import highspy  # noqa: PLC0415  most papers need none

    class Silent(highspy.Highs):
        """Without the callbacks, whose setting up prints a banner before it can be told not to."""

        def __init__(self) -> None:
            super(highspy.Highs, self).__init__()

    model = Silent()
    for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 0)):
        model.setOptionValue(option, value)
    return model


def run(model: Any, is_due: Callable[[], bool] | None, seconds: float | None) -> None:
    """Run a solver, and end it when it is time to stop, with what it has come to by then.

    Where it is not time meanwhile, it comes to the same as ever.

    Args:
        is_due: asked whenever the solver looks up, which may be seconds apart.
        seconds: known beforehand to be left; it keeps to these by itself.
    """
    import highspy  # noqa: PLC0415

    raised: list[BaseException] = []
    if is_due is not None:

        def look_up(_kind: Any, _message: str, _out: Any, into: Any, _data: Any) -> None:
            try:
                into.user_interrupt = bool(raised) or is_due()
            except BaseException as error:  # Ctrl-C as well; the solver would swallow it
                raised.append(error)
                into.user_interrupt = True

        kinds = highspy.cb.HighsCallbackType
        model.setCallback(look_up, None)
        for kind in (kinds.kCallbackMipInterrupt, kinds.kCallbackSimplexInterrupt):
            model.startCallback(kind)
    if seconds is not None:
        model.setOptionValue("time_limit", seconds + LATE_S)
    model.run()
    if raised:
        raise raised[0]


def covering(
    task: Task,
    trees: Mapping[Key, Tree],
    limits: Sequence[int | None],
    *,
    below: int | None = None,
    is_due: Callable[[], bool] | None = None,
    seconds: float | None = None,
) -> Solution | None:
    """Return the best plan made of known trees, or None where they make none.

    Args:
        limits: how many sheets of each stock may be used.
        below: only plans that cost less are of interest.
        is_due, seconds: when to end; see ``run``.
    """
    chosen = _chosen(task, list(trees), limits, below, lambda model: run(model, is_due, seconds))
    if chosen is None:
        return None
    sheets = [(key[0], trees[key]) for key, n in chosen.items() for _ in range(n)]
    return Solution(tuple(without_surplus(task, sheets)))


def _chosen(
    task: Task,
    keys: Sequence[Key],
    limits: Sequence[int | None],
    below: int | None,
    solve: Callable[[Any], None],
) -> Counter[Key] | None:
    import highspy  # noqa: PLC0415

    model = solver()
    infinite = highspy.kHighsInf
    for blank in task.blanks:
        model.addRow(float(blank.count), infinite, 0, [], [])
    for limit in limits:
        most = infinite if limit is None else float(limit)
        model.addRow(-infinite, most, 0, [], [])
    n = len(task.blanks)
    most_cost = infinite if below is None else below - WHOLE
    model.addRow(-infinite, most_cost, 0, [], [])
    for place, (stock, counts) in enumerate(keys):
        price = float(task.stocks[stock].price)
        rows = [i for i, many in enumerate(counts) if many]
        values = [float(counts[i]) for i in rows]
        rows += [n + stock, n + len(limits)]
        values += [1.0, price]
        cost = price if price else 1e-3  # an offcut that is not needed stays out
        model.addCol(cost, 0.0, infinite, len(rows), rows, values)
        model.changeColIntegrality(place, highspy.HighsVarType.kInteger)
    model.setOptionValue("mip_max_nodes", MOST_NODES)
    solve(model)
    solution = model.getSolution()
    if not solution.value_valid:
        return None
    numbers = [int(value + WHOLE) for value in solution.col_value]
    chosen = Counter({key: number for key, number in zip(keys, numbers, strict=True) if number})
    return chosen if _is_whole(task, chosen, limits, below) else None


def _is_whole(
    task: Task, chosen: Counter[Key], limits: Sequence[int | None], below: int | None
) -> bool:
    """Whether a choice, rounded to whole numbers, really is a plan: worked out exactly."""
    for kind, blank in enumerate(task.blanks):
        if sum(key[1][kind] * n for key, n in chosen.items()) < blank.count:
            return False
    for stock, limit in enumerate(limits):
        if limit is not None and sum(n for key, n in chosen.items() if key[0] == stock) > limit:
            return False
    cost = sum(task.stocks[key[0]].price * n for key, n in chosen.items())
    return below is None or cost < below


def without_surplus(task: Task, sheets: list[tuple[int, Tree]]) -> list[tuple[int, Tree]]:
    """Return the sheets without the blanks that nobody wants, from the emptiest sheets first."""
    surplus: Counter[int] = Counter()
    for _, tree in sheets:
        surplus += tree.kinds()
    surplus.subtract({kind: blank.count for kind, blank in enumerate(task.blanks)})
    surplus = +surplus
    areas = [blank.area for blank in task.blanks]
    order = sorted(range(len(sheets)), key=lambda i: _load(sheets[i][1], areas))
    left: list[tuple[int, Tree]] = []
    for i in order:
        stock, tree = sheets[i]
        rest = without(tree, surplus)
        if rest is not None:
            left.append((stock, rest))
    return left


def _load(tree: Tree, areas: Sequence[int]) -> int:
    return sum(areas[kind] * n for kind, n in tree.kinds().items())


def without(tree: Tree, surplus: Counter[int]) -> Tree | None:
    """Return a tree without blanks that are too many, None where nothing is left.

    What is taken out is also taken off the count of what is too many.
    """
    if tree.kind is not None:
        if surplus[tree.kind] <= 0:
            return tree
        surplus[tree.kind] -= 1
        return None
    members = []
    free = tree.free
    for member in tree.members:
        rest = without(member, surplus)
        if rest is None:
            free += (member.wide, member.high)[tree.along]
        else:
            members.append(rest)
    if not members:
        return None
    return Tree(tree.wide, tree.high, tree.along, tuple(members), free)
