"""Whether some of the listed sets hold all blanks within a budget: a search blank by blank.

Some set must hold the blank that fewest sets hold. Each of those is tried in turn, and what is
left must not weigh more than the rest of the budget carries.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sheetcut.nest.bounds import costs_of, limits_of
from sheetcut.nest.choice import Pick
from sheetcut.nest.needs import carried
from sheetcut.nest.rows import Row
from sheetcut.nest.task import Task

MOST_LOOKS = 1_500  # each at all sets that hold one blank: a tenth of a second in all

Numbers = NDArray[np.int64]


def held(
    task: Task, rows: Sequence[Row], sets: Sequence[Pick], budget: int
) -> tuple[bool, Counter[Pick]]:
    """Return whether no choice of sets holds all blanks, and else one that does, if found.

    Beyond ``MOST_LOOKS`` neither is said.
    """
    search = _Search(task, rows, sets, budget)
    wanted = np.array([blank.count for blank in task.blanks], dtype=np.int64)
    found = search.run(wanted, budget, limits_of(task))
    if found is not None:
        return False, Counter(sets[i] for i in found)
    return search.looks <= MOST_LOOKS, Counter()


class _Search:
    def __init__(self, task: Task, rows: Sequence[Row], sets: Sequence[Pick], budget: int) -> None:
        self.costs = costs_of(task)
        self.rows = rows
        n = len(task.blanks)
        table = np.array([counts for _, counts in sets], dtype=np.int64)
        self.counts: Numbers = table.reshape(-1, n)
        self.stocks = [stock for stock, _ in sets]
        self.prices: Numbers = np.array([self.costs[i] for i in self.stocks], dtype=np.int64)
        self.weights: Numbers = np.array([row.weights for row in rows], dtype=np.int64)
        self.holding = [np.flatnonzero(self.counts[:, kind]) for kind in range(n)]
        self.order = sorted(range(n), key=lambda kind: (len(self.holding[kind]), kind))
        self.budget = budget
        self.most: dict[tuple[Any, ...], Numbers] = {}
        self.looks = 0

    def run(self, wanted: Numbers, budget: int, limits: list[int | None]) -> list[int] | None:
        """Return places of sets that hold what is wanted, or None."""
        kind = next((one for one in self.order if wanted[one] > 0), None)
        if kind is None:
            return []
        self.looks += 1
        if self.looks > MOST_LOOKS:
            return None
        some = self.holding[kind]
        some = some[self.prices[some] <= budget]
        rest = np.maximum(wanted - self.counts[some], 0)
        lack = rest @ self.weights.T
        for place, i in enumerate(some.tolist()):
            stock = self.stocks[i]
            limit = limits[stock]
            if limit == 0:
                continue
            left = list(limits)
            left[stock] = None if limit is None else limit - 1
            if (lack[place] > self._carried(budget - self.costs[stock], left)).any():
                continue
            found = self.run(rest[place], budget - self.costs[stock], left)
            if found is not None:
                return [i, *found]
        return None

    def _carried(self, budget: int, limits: list[int | None]) -> Numbers:
        key = budget, tuple(limits)
        if key not in self.most:
            self.most[key] = np.array(
                [carried(row, self.costs, limits, budget) for row in self.rows], dtype=np.int64
            )
        return self.most[key]
