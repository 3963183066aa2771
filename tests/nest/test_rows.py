"""Sheets counted in whole numbers, endless and free ones among them."""

import random
from itertools import product

import pytest

from sheetcut.nest import rows as counting
from sheetcut.nest.rows import Row, is_quickly_counted, least

ENDLESS = 14  # more than any need below asks for


@pytest.mark.parametrize("seed", range(80))
def test_the_least_is_that_of_every_number(seed):
    chance = random.Random(seed)
    costs = [chance.choice((0, 3, 5, 10, 25)) for _ in range(3)]
    limits = [chance.choice((None, None, 0, 1, 3)) for _ in range(3)]
    rows = [
        Row(
            (),
            tuple(chance.choice((0, 0, 4, 7, 9)) for _ in range(3)),
            chance.randint(0, 40),
            "fit",
        )
        for _ in range(chance.randint(1, 3))
    ]
    numbers = [range((ENDLESS if limit is None else limit) + 1) for limit in limits]
    good = [
        sum(n * cost for n, cost in zip(taken, costs, strict=True))
        for taken in product(*numbers)
        if all(
            sum(n * one for n, one in zip(taken, row.capacity, strict=True)) >= row.total
            for row in rows
        )
    ]
    assert least(rows, costs, limits) == min(good, default=None)


def test_no_rows_ask_for_nothing():
    assert least([], [5, 7], [None, 2]) == 0
    assert least([Row((), (4,), 0, "area")], [5], [None]) == 0


def test_prices_without_a_common_part_are_met_exactly():
    """6, 10 and 15 make every sum from 30 on, but 29: 12 units at 3 each and 13 for 5 or 8."""
    row = Row((), (3, 5, 8), 15, "area")
    tried = [
        6 * a + 10 * b + 15 * c
        for a in range(6) for b in range(4) for c in range(3) if 3 * a + 5 * b + 8 * c >= 15
    ]  # fmt: skip
    assert least([row], [6, 10, 15], [None] * 3) == min(tried)


HARD = [
    Row((), (7, 5, 3), 61, "area"),
    Row((), (2, 5, 9), 58, "fit"),
]


def test_beyond_so_many_steps_the_best_single_row_stands(monkeypatch):
    """100, 90 and 80 a sheet; by its best rate each row alone takes this much, in tens.

    61 at 100 / 7: 871.4, so 880; 58 at 80 / 9: 515.6, so 520. Both together take more.
    """
    costs, limits = [100, 90, 80], [None] * 3
    exact = least(HARD, costs, limits)
    assert exact > 880
    monkeypatch.setattr(counting, "MOST_NODES", 1)
    assert least(HARD, costs, limits) == 880


def test_what_is_quickly_counted_takes_few_steps(monkeypatch):
    """20 at 7 a sheet: a step for the start, and one for each number from 3 down to none."""
    row = Row((), (7,), 20, "area")
    monkeypatch.setattr(counting, "QUICK_NODES", 5)
    assert is_quickly_counted([row], [100], [None])
    monkeypatch.setattr(counting, "QUICK_NODES", 4)
    assert not is_quickly_counted([row], [100], [None])
    assert not is_quickly_counted([row], [1], [None])


def test_free_sheets_take_no_steps(monkeypatch):
    """An offcut costs nothing: the one step sees that no paid sheet can be tried."""
    monkeypatch.setattr(counting, "QUICK_NODES", 1)
    assert is_quickly_counted([Row((), (7,), 0, "area")], [0], [1])


def test_a_count_that_takes_too_long_ends_there():
    """A paper of eight sheets took a minute: a slip of paper carries next to nothing, and every
    number of slips was gone through after the steps were used up.

    Two rows that no sheet serves alike, so that the count has to look for long.
    """
    chance = random.Random(2)
    costs = [chance.randint(900, 1100) for _ in range(6)]
    rows = [
        Row((), tuple(chance.randint(1, 9) for _ in costs), 100_000 + chance.randint(0, 99), "fit")
        for _ in range(2)
    ]
    count = counting._Count(rows, costs, [None] * 6, range(6))
    assert count.run([row.total for row in rows]) is not None
    assert counting.MOST_NODES < count.nodes <= counting.MOST_NODES + 1
