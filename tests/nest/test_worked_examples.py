"""Small published problems whose optimum is known.

The sources stand in ``tests.published.problems``.
"""

import pytest

from sheetcut.nest import lay_out
from tests.nest.jobs import assert_sound, job_of, sizes, value_of
from tests.published.problems import COSTS, FEWEST

HARD_TO_FIND = {("Hchl8s", "yes")}  # 974 of 980: the search alone may end at two sheets


@pytest.mark.parametrize(("turn", "column"), [("no", 0), ("yes", 1)])
@pytest.mark.parametrize(("name", "sheet", "pieces", "fixed", "turned"), FEWEST)
def test_fewest_sheets(name, sheet, pieces, fixed, turned, turn, column):
    fewest = (fixed, turned)[column]
    job = job_of(sizes(pieces), [sheet], turn)
    answer = lay_out(job, "rag")
    assert_sound(job, answer)
    assert answer.bound.value <= fewest
    if (name, turn) in HARD_TO_FIND:
        assert value_of(job, answer) <= fewest + 1
    else:
        assert value_of(job, answer) == fewest


@pytest.mark.parametrize(("turn", "column"), [("no", 0), ("yes", 1)])
@pytest.mark.parametrize(("name", "sheets", "pieces", "fixed", "turned"), COSTS)
def test_least_cost(name, sheets, pieces, fixed, turned, turn, column):
    least = (fixed, turned)[column]
    job = job_of(sizes(pieces), sheets, turn)
    answer = lay_out(job, "rag")
    assert_sound(job, answer)
    assert answer.bound.measure == "cost"
    assert answer.bound.value <= least
    assert value_of(job, answer) == least


ONE_SHEET = [  # 20 x 20; source Clautiaux, Carlier and Moukrim 2007 and Becker 2022
    ("E00N10", "1x13, 4x5, 5x7, 7x7, 7x8, 2x13, 8x4, 1x11, 4x14, 17x6", False, False),
    (
        "E00N15",
        "2x6, 1x17, 11x2, 4x3, 1x13, 10x4, 1x5, 13x5, 7x4, 11x3, 4x14, 5x3, 1x2, 8x2, 16x4",
        False,
        True,
    ),
    ("E07N10", "11x5, 7x7, 1x9, 5x13, 1x6, 12x2, 1x13, 1x10, 3x14, 11x9", False, True),
    (
        "c1-p1",
        "2x12, 7x12, 8x6, 3x6, 3x5, 5x5, 3x12, 3x7, 5x7, 2x6, 3x2, 4x2, 3x4, 4x4, 9x2, 11x2",
        True,
        True,
    ),
]


@pytest.mark.parametrize(("turn", "column"), [("no", 0), ("yes", 1)])
@pytest.mark.parametrize(("name", "pieces", "fixed", "turned"), ONE_SHEET)
def test_one_sheet_is_never_denied_or_promised_falsely(name, pieces, fixed, turned, turn, column):
    fits = (fixed, turned)[column]
    job = job_of(sizes(pieces), [(20, 20)], turn)
    answer = lay_out(job, "rag", rounds=600)
    assert_sound(job, answer)
    if fits:
        assert answer.bound.value == 1
    else:
        assert value_of(job, answer) >= 2
