"""Choosing among listed sets, by programme or by search: against every choice there is."""

import random
from itertools import product

import pytest

from sheetcut.job import Sheet
from sheetcut.nest.choice import choice
from sheetcut.nest.holding import held
from sheetcut.nest.rows import Row
from sheetcut.nest.task import Blank, Stock, Task

MOST = 4  # sheets of one set; the jobs below want no more of any blank


def task_of(counts, stocks):
    """Return a task of kinds wanted so often, and stocks with a price and a number of sheets.

    No size is read here: which blanks a set has is all that counts.
    """
    sheet = Sheet("S", "rag", 100, 100)
    return Task(
        job=None,
        paper="rag",
        aim="cost",
        step=1,
        stocks=tuple(Stock(sheet, 100, 100, limit, price) for price, limit in stocks),
        blanks=tuple(Blank(10, 10, (1,), ((line, n),)) for line, n in enumerate(counts)),
    )


def is_enough(task, sets, numbers, budget):
    """Whether so many of each set hold all blanks, cost no more, and take no sheet there is not."""
    used = [0] * len(task.stocks)
    held = [0] * len(task.blanks)
    for (stock, counts), n in zip(sets, numbers, strict=True):
        used[stock] += n
        held = [had + n * more for had, more in zip(held, counts, strict=True)]
    return (
        all(had >= blank.count for had, blank in zip(held, task.blanks, strict=True))
        and sum(n * stock.price for n, stock in zip(used, task.stocks, strict=True)) <= budget
        and all(
            stock.limit is None or n <= stock.limit
            for n, stock in zip(used, task.stocks, strict=True)
        )
    )


def row_of(task, sets):
    """Return the plainest row: blanks are counted, and a sheet carries its fullest set."""
    fullest = [max((sum(has) for at, has in sets if at == i), default=0) for i in range(2)]
    return Row((1,) * len(task.blanks), tuple(fullest), task.n_blanks, "count")


@pytest.mark.parametrize("seed", range(80))
def test_what_is_claimed_is_what_every_choice_shows(seed):
    """Three sets, none of them on more than four sheets: 125 choices, all of them tried."""
    chance = random.Random(seed)
    stocks = [(chance.randint(1, 9), chance.choice((None, 1, 2))) for _ in range(2)]
    task = task_of([chance.randint(1, MOST) for _ in range(3)], stocks)
    some = ((chance.randrange(2), tuple(chance.randint(0, 2) for _ in range(3))) for _ in range(3))
    sets = list(dict.fromkeys(some))  # each is listed once
    budget = chance.randint(5, 40)
    there_is = any(
        is_enough(task, sets, numbers, budget)
        for numbers in product(range(MOST + 1), repeat=len(sets))
    )
    for none, chosen in (
        choice(task, sets, budget),
        held(task, [row_of(task, sets)], sets, budget),
    ):
        assert none is not there_is
        if there_is:
            assert is_enough(task, sets, [chosen[one] for one in sets], budget)


def test_a_blank_in_none_of_the_sets_is_held_by_no_choice():
    assert choice(task_of([1, 1], [(5, None)]), [(0, (2, 0))], 100) == (True, {})


def test_one_cent_under_is_none_and_the_very_sum_is_one():
    """Three blanks, two to a sheet, are two sheets of 45.60: 91.20 and not a cent less."""
    task = task_of([3], [(4560, None)])
    assert choice(task, [(0, (2,))], 9119) == (True, {})
    assert choice(task, [(0, (2,))], 9120) == (False, {(0, (2,)): 2})


def test_a_sheet_there_is_only_one_of_is_taken_once():
    task = task_of([3], [(4560, 1)])
    assert choice(task, [(0, (2,))], 99_999) == (True, {})
