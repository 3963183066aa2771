"""The most that sheets within a budget carry: against every number of sheets, tried one by one."""

import random
from itertools import product

import pytest

from sheetcut.nest import needs as module
from sheetcut.nest.needs import carried, needs
from sheetcut.nest.rows import Row


def most_carried(capacity, costs, limits, budget, most=12):
    """Return the most that any number of each sheet carries within a budget."""
    ranges = [range(1 + (most if limit is None else limit)) for limit in limits]
    return max(
        sum(n * one for n, one in zip(numbers, capacity, strict=True))
        for numbers in product(*ranges)
        if sum(n * one for n, one in zip(numbers, costs, strict=True)) <= budget
    )


def case(seed):
    """Return sheets with what they carry, their prices and numbers, and a budget for at most 12."""
    chance = random.Random(seed)
    capacity = tuple(chance.randint(0, 20) for _ in range(3))
    costs = [chance.randint(5, 30) for _ in range(3)]
    limits = [chance.choice((None, 1, 3)) for _ in range(3)]
    return capacity, costs, limits, chance.randint(0, 60)


@pytest.mark.parametrize("seed", range(40))
def test_it_is_the_most_of_all_numbers_of_sheets(seed):
    capacity, costs, limits, budget = case(seed)
    found = carried(Row((1,), capacity, 999, "area"), costs, limits, budget)
    assert found == most_carried(capacity, costs, limits, budget)


@pytest.mark.parametrize("seed", range(40))
def test_of_too_many_sums_of_money_it_is_never_too_little(seed, monkeypatch):
    """At least what whole sheets carry, and not a sheet more: of the last a part is taken.

    G. B. Dantzig, "Discrete-variable extremum problems", Operations Research 5 (1957), 266-277.
    """
    capacity, costs, limits, budget = case(seed)
    monkeypatch.setattr(module, "LONGEST_COUNT", 0)
    found = carried(Row((1,), capacity, 999, "area"), costs, limits, budget)
    exact = most_carried(capacity, costs, limits, budget)
    assert exact <= found <= exact + max(capacity)


def test_sheets_that_cost_nothing_carry_what_there_are_of_them():
    """Two offcuts of 7 for nothing, and one sheet of 12 for 100: 26. With no end of them: all."""
    row = Row((1,), (7, 12), 40, "area")
    assert carried(row, [0, 100], [2, None], 100) == 26
    assert carried(row, [0, 100], [None, None], 0) == 40


def test_a_sheet_must_carry_what_the_others_cannot():
    """40 to carry, 300 to spend: after one sheet of 100 two more carry 24, so it must carry 16."""
    row = Row((1,), (12,), 40, "area")
    assert needs(row, [100], [None], 300, 0) == 16
    assert needs(row, [100], [2], 300, 0) == 28  # there is only one more
