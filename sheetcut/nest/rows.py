"""Rows: weigh every blank, know what a sheet can carry at most, and count sheets exactly.

A row gives each kind of blank a weight and each stock the greatest weight that any way of
cutting can get out of one sheet. Whatever is bought must carry the weight of all blanks, so
the least cost that satisfies every row, found in whole numbers, is a bound: it is at once
rounded up to a sum of prices that the stock on hand can make.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import gcd

QUICK_NODES = 500
MOST_NODES = 2_000  # of the exact count; beyond it the bound of the best single row stands


@dataclass(frozen=True, slots=True)
class Row:
    """A weight for each kind of blank, and what one sheet of each stock carries at most.

    Attributes:
        total: the weight of all blanks wanted.
        why: which argument the row is; see ``reasons``.
        cells: where capacities were worked out in coarse cells: how many across and up, and the
            run and rise that they divide.
    """

    weights: tuple[int, ...]
    capacity: tuple[int, ...]
    total: int
    why: str
    cells: tuple[int, int, int, int] | None = None


def least(rows: Sequence[Row], costs: Sequence[int], limits: Sequence[int | None]) -> int | None:
    """Return the least cost of sheets that satisfy every row; None where no stock does.

    Beyond ``MOST_NODES`` steps the greatest bound of any single row is returned instead.

    >>> area = Row((5,), (12, 7), 20, "area")
    >>> least([area], [100, 55], [None, None]), least([area], [100, 55], [0, 2])
    (165, None)
    """
    needs = [row.total for row in rows]
    paid = []
    for stock, limit in enumerate(limits):
        if costs[stock] > 0:
            paid.append(stock)
            continue
        for i, row in enumerate(rows):
            carried = row.capacity[stock]
            needs[i] -= needs[i] if limit is None and carried else carried * (limit or 0)
    return _Count(rows, costs, limits, paid).run(needs)


def is_quickly_counted(
    rows: Sequence[Row], costs: Sequence[int], limits: Sequence[int | None]
) -> bool:
    """Whether the exact count takes so few steps that anyone can repeat it."""
    needs = [row.total for row in rows]
    paid = [stock for stock in range(len(limits)) if costs[stock] > 0]
    count = _Count(rows, costs, limits, paid)
    count.run(needs)
    return count.nodes <= QUICK_NODES


class _Count:
    """A depth-first count over the stocks that cost something, the most carrying first."""

    def __init__(
        self,
        rows: Sequence[Row],
        costs: Sequence[int],
        limits: Sequence[int | None],
        paid: Sequence[int],
    ) -> None:
        self.capacities = [row.capacity for row in rows]
        self.costs = costs
        self.limits = limits
        self.order = sorted(paid, key=self._rate)
        self.unit = gcd(*(costs[stock] for stock in paid)) if paid else 1
        self.best: int | None = None
        self.nodes = 0
        # For each depth and row, the least cost for a unit of weight among the stocks left.
        self.rates = [
            [self._least_rate(capacity, depth) for capacity in self.capacities]
            for depth in range(len(self.order) + 1)
        ]

    def run(self, needs: list[int]) -> int | None:
        floor = self._floor(needs, 0)
        if floor is None:
            return None
        self._try(0, needs, 0, floor)
        if self.nodes > MOST_NODES:
            return floor
        return self.best

    def _rate(self, stock: int) -> Fraction:
        return sum(
            (
                Fraction(self.costs[stock], capacity[stock])
                for capacity in self.capacities
                if capacity[stock]
            ),
            Fraction(0),
        )

    def _least_rate(self, capacity: tuple[int, ...], depth: int) -> tuple[int, int] | None:
        rates = [
            Fraction(self.costs[stock], capacity[stock])
            for stock in self.order[depth:]
            if capacity[stock] > 0
        ]
        return min(rates).as_integer_ratio() if rates else None

    def _floor(self, needs: list[int], depth: int) -> int | None:
        """Return what the rest costs at least; None where the stocks left cannot do it."""
        worst = 0
        for need, rate in zip(needs, self.rates[depth], strict=True):
            if need <= 0:
                continue
            if rate is None:
                return None
            cost = need * rate[0]
            per = rate[1] * self.unit
            worst = max(worst, -(-cost // per) * self.unit)
        return worst

    def _try(self, depth: int, needs: list[int], cost: int, floor: int) -> None:
        self.nodes += 1
        if self.nodes > MOST_NODES or self.best == floor:
            return
        rest = self._floor(needs, depth)
        if rest is None or (self.best is not None and cost + rest >= self.best):
            return
        if rest == 0:
            self.best = cost
            return
        stock = self.order[depth]
        carried = [capacity[stock] for capacity in self.capacities]
        most = max(
            (-(-need // one) for need, one in zip(needs, carried, strict=True) if one and need > 0),
            default=0,
        )
        limit = self.limits[stock]
        for n in range(most if limit is None else min(most, limit), -1, -1):
            if self.nodes > MOST_NODES:
                return
            left = [need - n * one for need, one in zip(needs, carried, strict=True)]
            self._try(depth + 1, left, cost + n * self.costs[stock], floor)
