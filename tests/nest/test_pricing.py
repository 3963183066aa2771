"""Prices from a linear programme small enough to be solved on paper."""

import pytest

from sheetcut.nest.pricing import prices_for
from sheetcut.nest.task import stocks_of, task_of
from tests.nest.jobs import job_of


def task_for(pieces, sheets):
    job = job_of(pieces, sheets, "no")
    counts = {i: piece.count for i, piece in enumerate(job.pieces)}
    turns = dict.fromkeys(counts, "no")
    return task_of(job, "rag", stocks_of(job, "rag"), turns, counts)


def test_a_price_is_what_a_blank_adds_to_the_cost():
    """Six of one kind, two on a sheet of 10: three sheets, 5 for a blank."""
    task = task_for([(5, 10, 6)], [(10, 10, 10)])
    ((cost, prices),) = prices_for(task, {(0, (2,))}, [None], most=1)
    assert (cost, prices) == (pytest.approx(30), pytest.approx([5]))


def test_the_known_sheets_may_grow_between_two_answers():
    """Two kinds, 4 and 2 wanted. Sheets of one kind each first: 2 + 2 of 10, so 5 and 10 a blank.

    A sheet of two and one serves both with two sheets: 20.
    """
    task = task_for([(5, 10, 4), (10, 6, 2)], [(10, 10, 10)])
    assert [blank.count for blank in task.blanks] == [4, 2]
    sheets = {(0, (2, 0)), (0, (0, 1))}
    answers = prices_for(task, sheets, [None], most=3)
    cost, prices = next(answers)
    assert (cost, prices) == (pytest.approx(40), pytest.approx([5, 10]))
    sheets.add((0, (2, 1)))
    cost, prices = next(answers)
    assert cost == pytest.approx(20)
    assert 4 * prices[0] + 2 * prices[1] == pytest.approx(20)
    assert 2 * prices[0] + prices[1] <= 10 + 1e-9
    assert next(answers)[0] == pytest.approx(20)
    assert next(answers, None) is None


def test_a_blank_on_no_known_sheet_has_the_dearest_price():
    """Ten times a sheet and one more: 10 x (1 + 12), for each of three."""
    task = task_for([(5, 10, 3)], [(10, 10, 10), (10, 10, 12)])
    ((cost, prices),) = prices_for(task, set(), [None, None], most=1)
    assert (cost, prices) == (pytest.approx(390), pytest.approx([130]))


def test_a_limit_makes_the_dearer_sheets_set_the_price():
    """Two cheap sheets of 4 give two of six each way; the rest come from sheets of 10 at 5 each."""
    task = task_for([(5, 10, 6)], [(10, 10, 4), (10, 10, 10)])
    sheets = {(0, (2,)), (1, (2,))}
    ((cost, prices),) = prices_for(task, sheets, [2, None], most=1)
    assert (cost, prices) == (pytest.approx(2 * 4 + 10), pytest.approx([5]))
    ((cost, prices),) = prices_for(task, sheets, [None, None], most=1)
    assert (cost, prices) == (pytest.approx(12), pytest.approx([2]))
