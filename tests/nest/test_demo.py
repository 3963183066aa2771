"""The invented studio's week: values from an exhaustive search of every pattern.

Drawing paper: 3 Imperial and 1 double elephant with heron 7 (£75.40). Print paper: 4 large
sheets (£45.60), the offcut and the A2 sheet saving nothing. Certificates: 8 on a sheet, so 3.
"""

from collections import Counter
from dataclasses import replace

import pytest

from sheetcut.nest import lay_out
from tests.nest.demo import LAID, RAG, SMOOTH, demo_job
from tests.nest.jobs import assert_sound, value_of

WANTED = {
    SMOOTH: ({"HP-IMP": 3, "HP-DE": 1, "heron 7": 1}, 7540),
    RAG: ({"RAG-L": 4}, 4560),
    LAID: ({"CERT": 3}, 144),
}


@pytest.mark.parametrize("paper", WANTED)
def test_the_week_comes_out_as_the_exhaustive_search_has_it(paper):
    sheets, cost = WANTED[paper]
    job = demo_job()
    answer = lay_out(job, paper)
    assert_sound(job, answer)
    assert value_of(job, answer) == cost
    assert Counter(name for name, _ in answer.candidates[0].trees) == sheets
    assert not answer.short


@pytest.mark.parametrize("paper", [SMOOTH, LAID])
def test_areas_and_sums_of_prices_prove_two_papers(paper):
    answer = lay_out(demo_job(), paper)
    assert answer.bound.value == WANTED[paper][1]


@pytest.mark.parametrize("turn", ["grain up", "grain across"])
def test_a_grain_rule_costs_the_print_paper_a_sheet(turn):
    """Every print's height along the sheet's 914, or across it: 5 sheets in each case."""
    job = demo_job()
    sheets = tuple(replace(sheet, on_hand=None) for sheet in job.sheets if sheet.id == "RAG-L")
    pieces = tuple(replace(piece, turn=turn) for piece in job.pieces if piece.paper == RAG)
    job = replace(job, sheets=sheets, pieces=pieces)
    answer = lay_out(job, RAG)
    assert_sound(job, answer)
    assert value_of(job, answer) == 5 * 1140
    assert answer.bound.value <= 5 * 1140


def test_from_a2_sheets_alone_the_prints_take_eleven():
    job = demo_job()
    sheets = tuple(replace(sheet, on_hand=None) for sheet in job.sheets if sheet.id == "RAG-A2")
    job = replace(job, sheets=sheets)
    answer = lay_out(job, RAG)
    assert_sound(job, answer)
    assert value_of(job, answer) == 5610
