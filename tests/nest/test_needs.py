"""What a sheet must carry, against every number of every sheet that a budget buys."""

import random
from itertools import product

import pytest

from sheetcut.nest import needs as needing
from sheetcut.nest.needs import carried, needs
from sheetcut.nest.rows import Row


def most(row, costs, limits, budget):
    """Return the most weight for a budget by trying every number of each sheet; free ones too."""
    numbers = [
        range((limit if limit is not None else budget // cost if cost else 0) + 1)
        for cost, limit in zip(costs, limits, strict=True)
    ]
    return max(
        sum(n * one for n, one in zip(taken, row.capacity, strict=True))
        for taken in product(*numbers)
        if sum(n * cost for n, cost in zip(taken, costs, strict=True)) <= budget
    )


def case(seed, *, free=True):
    chance = random.Random(seed)
    costs = [chance.choice((0, 4, 6, 9, 14) if free else (4, 6, 9, 14)) for _ in range(3)]
    limits = [chance.choice((None, 0, 1, 2, 5)) for _ in range(3)]
    row = Row((), tuple(chance.randint(0, 9) for _ in range(3)), 40, "area")
    return row, costs, limits, chance.randint(0, 40)


@pytest.mark.parametrize("seed", range(60))
def test_what_a_budget_carries_is_the_most_of_every_number(seed):
    row, costs, limits, budget = case(seed)
    endless = any(
        not cost and limit is None and one
        for cost, limit, one in zip(costs, limits, row.capacity, strict=True)
    )
    assert carried(row, costs, limits, budget) == (
        row.total if endless else most(row, costs, limits, budget)
    )


def test_no_budget_carries_nothing_but_what_is_free():
    row = Row((), (7, 5), 40, "area")
    assert carried(row, [10, 0], [None, 2], -1) == 10
    assert carried(row, [10, 0], [None, 2], 9) == 10
    assert carried(row, [10, 0], [None, 2], 10) == 17
    assert carried(row, [0, 0], [3, 2], 0) == 31


def test_prices_are_told_apart_by_what_they_have_in_common():
    """3500 is 7 of 500: one of 1500 and two of 1000 carry 5 + 2 x 3; no sheet counts in part."""
    row = Row((), (3, 5), 40, "area")
    assert carried(row, [1000, 1500], [None, None], 3500) == 11


@pytest.mark.parametrize("seed", range(60))
def test_of_long_budgets_the_last_sheet_counts_in_part(seed, monkeypatch):
    """The most by the rate of weight for money: never too little, and no more than one sheet over.

    Taking the best rates first is the most that parts of sheets can carry (the greedy rule for
    the fractional knapsack: G. B. Dantzig, Operations Research 5 (1957), 266-277).
    """
    row, costs, limits, budget = case(seed, free=False)
    monkeypatch.setattr(needing, "LONGEST_COUNT", 0)
    found = carried(row, costs, limits, budget)
    left, exact = budget, 0
    for cost, limit, one in sorted(
        zip(costs, limits, row.capacity, strict=True), key=lambda it: -it[2] / it[0]
    ):
        whole = left // cost if limit is None else min(limit, left // cost)
        exact, left = exact + whole * one, left - whole * cost
        if limit is None or whole < limit:
            exact += -(-one * left // cost)
            break
    assert most(row, costs, limits, budget) <= found <= exact


@pytest.mark.parametrize("seed", range(40))
def test_a_sheet_must_carry_what_the_rest_of_the_money_cannot(seed):
    """Itself paid and taken from those there are."""
    row, costs, limits, budget = case(seed, free=False)
    for stock, cost in enumerate(costs):
        if limits[stock] == 0 or cost > budget:
            continue
        left = [n if n is None or i != stock else n - 1 for i, n in enumerate(limits)]
        assert needs(row, costs, limits, budget, stock) == 40 - most(
            row, costs, left, budget - cost
        )
