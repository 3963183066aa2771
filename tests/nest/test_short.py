"""Short of paper: the earliest due first, then the row; later pieces may fill gaps."""

from dataclasses import replace
from datetime import date

import pytest

from sheetcut.job import Job, Paper, Piece, Sheet
from sheetcut.layout import Short
from sheetcut.nest import PriceMissing, lay_out
from sheetcut.units import Edges, mm
from tests.nest.jobs import assert_sound, job_of, value_of


def limited(job, n):
    return replace(job, sheets=tuple(replace(sheet, on_hand=n) for sheet in job.sheets))


def test_a_piece_larger_than_every_sheet_is_named():
    answer = lay_out(job_of([(5, 5), (11, 3)], [(10, 10)]), "rag")
    assert answer.short == (Short(1, 1, "fits no sheet"),)
    assert value_of(job_of([(5, 5)], [(10, 10)]), answer) == 1
    assert "of the pieces that are in the plan" in answer.bound.reason


def test_part_of_a_line_is_cut_when_paper_runs_out():
    """A 10 x 10 sheet holds two 5 x 10; four are wanted."""
    job = limited(job_of([(5, 10, 4)], [(10, 10)]), 1)
    answer = lay_out(job, "rag")
    assert_sound(job, answer)
    assert answer.short == (Short(0, 2, "paper ran out"),)


def test_the_earlier_due_is_cut_first_whatever_its_row():
    job = limited(job_of([(10, 10), (10, 9)], [(10, 10)]), 1)
    late, early = date(2026, 5, 9), date(2026, 5, 3)
    pieces = (replace(job.pieces[0], due=late), replace(job.pieces[1], due=early))
    answer = lay_out(replace(job, pieces=pieces), "rag")
    assert answer.short == (Short(0, 1, "paper ran out"),)


def test_without_a_day_the_piece_comes_last():
    job = limited(job_of([(10, 10), (10, 9)], [(10, 10)]), 1)
    pieces = (job.pieces[0], replace(job.pieces[1], due=date(2026, 5, 3)))
    answer = lay_out(replace(job, pieces=pieces), "rag")
    assert answer.short == (Short(0, 1, "paper ran out"),)


def test_a_later_small_piece_fills_a_gap():
    """10 x 8 leaves 10 x 2: the second 10 x 8 has no room, the third line's 10 x 2 has."""
    job = limited(job_of([(10, 8, 2), (10, 2)], [(10, 10)]), 1)
    answer = lay_out(job, "rag")
    assert_sound(job, answer)
    assert answer.short == (Short(0, 1, "paper ran out"),)


def test_an_offcut_is_used_before_anything_is_called_short():
    job = limited(job_of([(10, 10), (6, 6)], [(10, 10)]), 1)
    offcut = Sheet("heron 1", "rag", 6, 7, on_hand=1, kind="offcut", grain="none")
    job = replace(job, sheets=(*job.sheets, offcut))
    answer = lay_out(job, "rag")
    assert_sound(job, answer)
    assert not answer.short
    assert any("heron 1 is spent" in note and "(proved)" in note for note in answer.notes)


def test_no_sheet_on_hand_means_the_paper_ran_out():
    job = limited(job_of([(5, 5)], [(10, 10)]), 0)
    answer = lay_out(job, "rag")
    assert answer.short == (Short(0, 1, "paper ran out"),)
    assert answer.candidates[0].trees == ()
    assert answer.bound.value == 0


def test_least_cost_without_a_price_is_refused_in_words():
    job = replace(job_of([(5, 5)], [(10, 10)]), papers=(Paper("rag", aim="least cost"),))
    with pytest.raises(PriceMissing, match="S0 has no price; write its price") as caught:
        lay_out(job, "rag")
    assert caught.value.sheets == ("S0",)


def test_a_sheet_of_unknown_grain_is_not_used_for_grain_lines():
    sheets = (
        Sheet("known", "rag", mm(20), mm(20), grain="along height", price=300),
        Sheet("unknown", "rag", mm(20), mm(20), price=100),
    )
    pieces = (Piece("D1", "", "rag", mm(20), mm(10), turn="grain across"),)
    answer = lay_out(Job(sheets, pieces), "rag")
    assert [name for name, _ in answer.candidates[0].trees] == ["known"]
    assert answer.notes == ("unknown: the grain is not known, so no blank of D1 is cut from it",)


def test_less_than_a_step_of_the_sheet_is_left_over():
    """A sheet of 100.5 x 80.4 mm is used to 100 x 80; the tree still fills it exactly."""
    sheet = Sheet("odd", "rag", mm("102.5"), mm("80.4"), edge_loss=Edges(mm(2), 0, 0, 0))
    job = Job((sheet,), (Piece("D1", "", "rag", mm(50), mm(80), count=2),))
    answer = lay_out(job, "rag")
    assert_sound(job, answer)
    assert value_of(job, answer) == 1


@pytest.mark.parametrize(("turns", "sheets"), [("alike", 1), ("yes", 1)])
def test_all_of_a_line_lie_alike(turns, sheets):
    """Six 4 x 6 in 12 x 12 lie alike either way."""
    job = job_of([(4, 6, 6)], [(12, 12)], turns)
    job = replace(job, sheets=(replace(job.sheets[0], grain="along width"),))
    answer = lay_out(job, "rag")
    assert_sound(job, answer)
    assert value_of(job, answer) == sheets


def test_lying_alike_can_cost_a_sheet():
    """5 x 6 holds three 2 x 3 lying in a strip of 3 and two upright beside them.

    All upright it holds two rows of two; all lying three rows of one.
    """
    free = job_of([(2, 3, 5)], [(5, 6)])
    assert value_of(free, lay_out(free, "rag")) == 1
    alike = job_of([(2, 3, 5)], [(5, 6)], "alike")
    alike = replace(alike, sheets=(replace(alike.sheets[0], grain="along width"),))
    answer = lay_out(alike, "rag")
    assert_sound(alike, answer)
    assert value_of(alike, answer) == 2
