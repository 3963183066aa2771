"""What stopped cuts would save: claimed only where a way is found, or bounded."""

from itertools import combinations

import pytest

from sheetcut.answers.stopped_cuts import stopped_cuts
from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.nest.free import placed_freely
from sheetcut.nest.task import stocks_of, task_of
from sheetcut.plan import make_plan
from sheetcut.units import mm
from tests.bench.studios import PAPER, studio_jobs


def job_of(width, height, *pieces):
    sheet = Sheet("S", "rag", mm(width), mm(height), grain="none")
    lines = tuple(
        Piece(f"{n}", "", "rag", mm(w), mm(h), count, turn)
        for n, (w, h, count, turn) in enumerate(pieces)
    )
    return Job((sheet,), lines, Rules(reading_step=mm(1)))


def pinwheel():
    """Four of 20 x 10 round a hole of 10 x 10 fill 30 x 30, and no cut runs edge to edge."""
    return job_of(30, 30, (20, 10, 2, "no"), (10, 20, 2, "no"), (10, 10, 1, "no"))


def test_a_pinwheel_needs_stopped_cuts_to_stay_on_one_sheet():
    job = pinwheel()
    (paper,) = make_plan(job, rounds=200).papers
    found = stopped_cuts(job, paper)
    assert (found.value, found.least) == (2, 1)
    assert found.found in (None, 1)
    assert not found.save_nothing


def test_nothing_is_saved_where_areas_alone_need_as_much():
    job = job_of(30, 30, (30, 20, 2, "yes"))
    (paper,) = make_plan(job, rounds=50).papers
    found = stopped_cuts(job, paper)
    assert found.save_nothing
    assert (found.value, found.least, found.found) == (2, 2, None)


@pytest.mark.parametrize("number", (0, 7))
def test_a_free_placing_holds_every_blank_and_none_overlap(number):
    job = list(studio_jobs(number + 1))[number]
    counts = {line: piece.count for line, piece in enumerate(job.pieces)}
    turns = {line: piece.turn for line, piece in enumerate(job.pieces)}
    task = task_of(job, PAPER, stocks_of(job, PAPER), turns, counts)
    sheets = placed_freely(task)
    assert sheets is not None
    assert sum(len(sheet.blanks) for sheet in sheets) == task.n_blanks
    for sheet in sheets:
        row = task.stocks[sheet.stock]
        for kind, (x, y, wide, high) in sheet.blanks:
            assert (wide, high) in task.blanks[kind].sides(sheet.stock)
            assert 0 <= x <= row.wide - wide
            assert 0 <= y <= row.high - high
        for (_, one), (_, other) in combinations(sheet.blanks, 2):
            beside = one[0] + one[2] <= other[0] or other[0] + other[2] <= one[0]
            above = one[1] + one[3] <= other[1] or other[1] + other[3] <= one[1]
            assert beside or above


def test_no_way_is_ever_below_what_must_be_needed():
    for job in studio_jobs(5, seed=3):
        (paper,) = make_plan(job, rounds=100, seconds=600).papers
        found = stopped_cuts(job, paper)
        assert found.least <= (found.value if found.found is None else found.found) <= found.value
        assert found.least <= paper.bound.value
