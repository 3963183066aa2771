"""What every sheet of a plan within a budget must carry, whatever the others carry.

Source:
    R. Baldacci, N. Christofides and A. Mingozzi, "An exact algorithm for the vehicle routing
    problem based on the set partitioning formulation with additional cuts", Mathematical
    Programming 115 (2008), 351-385: columns listed by reduced cost; here in whole numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd

import numpy as np

from sheetcut.nest.rows import Row

LONGEST_COUNT = 20_000  # sums of money that are told apart; beyond, the last sheet is taken in part


def needs(
    row: Row, costs: Sequence[int], limits: Sequence[int | None], budget: int, stock: int
) -> int:
    """Return the weight that a sheet of a stock carries at least; it can be below nought.

    >>> needs(Row((5,), (12, 7), 40, "area"), [100, 55], [None, None], 355, 1)
    4
    """
    left = [
        None if limit is None else limit - (other == stock) for other, limit in enumerate(limits)
    ]
    return row.total - carried(row, costs, left, budget - costs[stock])


def carried(row: Row, costs: Sequence[int], limits: Sequence[int | None], budget: int) -> int:
    """Return the most that sheets within a budget carry, or a little more.

    >>> carried(Row((5,), (12, 7), 40, "area"), [100, 55], [None, None], 355)
    43
    """
    total = 0
    paid = []
    for stock, most in enumerate(row.capacity):
        limit = limits[stock]
        if costs[stock]:
            paid.append((stock, most, budget // costs[stock] if limit is None else limit))
        elif most and limit is None:
            return row.total  # as many as wanted for nothing
        else:
            total += most * (limit or 0)
    unit = gcd(*(costs[stock] for stock, *_ in paid)) if paid else 1
    if budget // unit > LONGEST_COUNT:
        return total + _in_part(paid, costs, budget)
    best = np.zeros(max(0, budget) // unit + 1, dtype=np.int64)
    for stock, most, limit in paid:
        step = costs[stock] // unit
        left, many = limit, 1
        while left > 0:
            # One, two, four and so on at a time make every number of sheets.
            some = min(many, left)
            with_them = best[: max(0, len(best) - some * step)] + some * most
            best[some * step :] = np.maximum(best[some * step :], with_them)
            left -= some
            many *= 2
    return total + int(best[-1])


def _in_part(paid: list[tuple[int, int, int]], costs: Sequence[int], budget: int) -> int:
    total = 0
    for stock, most, n in sorted(paid, key=lambda one: -one[1] / costs[one[0]]):
        if n * costs[stock] > budget:
            return total + -(-most * budget // costs[stock])
        total += n * most
        budget -= n * costs[stock]
    return total
