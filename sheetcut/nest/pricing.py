"""Prices for blanks from a linear programme over sheets that are known: what each adds."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from sheetcut.nest.cover import Key, solver
from sheetcut.nest.task import Task


def prices_for(
    task: Task, sheets: Collection[Key], limits: Sequence[int | None], *, most: int
) -> Iterator[tuple[float, list[float]]]:
    """Yield the least cost and a price for each kind of blank, as the known sheets grow.

    Args:
        sheets: may be added to between two answers.
        limits: how many sheets of each stock may be used.
        most: how many answers there are at the most.
    """
    import highspy  # noqa: PLC0415  most papers need none

    infinite = highspy.kHighsInf
    n = len(task.blanks)
    model = solver()
    model.setOptionValue("solver", "simplex")
    dearest = 10.0 * (1 + max(stock.price for stock in task.stocks))
    for blank in task.blanks:
        model.addRow(float(blank.count), infinite, 0, [], [])
    for limit in limits:
        model.addRow(-infinite, infinite if limit is None else float(limit), 0, [], [])
    for kind in range(n):
        model.addCol(dearest, 0.0, infinite, 1, [kind], [1.0])
    known: set[Key] = set()
    for _ in range(most):
        for key in [key for key in sheets if key not in known]:
            known.add(key)
            stock, counts = key
            rows = [kind for kind, many in enumerate(counts) if many]
            values = [float(counts[kind]) for kind in rows]
            price = float(task.stocks[stock].price)
            model.addCol(price, 0.0, infinite, len(rows) + 1, [*rows, n + stock], [*values, 1.0])
        model.run()
        prices = [max(0.0, price) for price in list(model.getSolution().row_dual)[:n]]
        yield model.getInfo().objective_function_value, prices
