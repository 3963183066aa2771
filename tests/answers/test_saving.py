"""What would save a sheet, and what room is left: hand-made cases, and the demo's."""

from dataclasses import replace

import pytest

from sheetcut import make_plan
from sheetcut.answers import saving
from sheetcut.answers.quote import present_answer
from sheetcut.answers.room import room_left
from sheetcut.answers.saving import savings
from sheetcut.answers.supply import Effort
from sheetcut.check import faults_in
from sheetcut.if_room import with_line
from sheetcut.job import Job, Piece, Sheet
from sheetcut.layout import Bound
from sheetcut.units import Edges, mm

SMOOTH = "Slatehouse Smooth"
QUICK = Effort(rounds=60, seconds=60)


def sheet(width, height, **more):
    return Sheet("s", "Rag", mm(width), mm(height), price=100, **more)


def piece(order, width, height, *, margin=0, count=1, turn="yes"):
    sides = Edges(*[mm(margin)] * 4)
    return Piece(order, "", "Rag", mm(width), mm(height), count=count, turn=turn, margin=sides)


def found(change, job, **more):
    return {
        (one.order or one.sheet): one
        for one in savings(job, "Rag", effort=QUICK, **more)
        if one.change == change
    }


def test_a_millimetre_of_margin_saves_a_sheet():
    """Two blanks of 51 mm are 102 on a sheet of 100; with 1 mm less on each side they are 98."""
    job = Job((sheet(100, 100),), (piece("a", 45, 90, margin=3, count=2),))
    one = found("margin", job)[""]
    assert (one.before, one.after, one.by) == (200, 100, mm(1))
    assert one.least
    assert faults_in(one.answer.plan()) == ()


def test_the_smallest_margin_is_proved_by_the_one_above_it():
    """Blanks of 46 + 2 m: 2 m may be 4 at most; of 7 mm on each side 5 must go."""
    job = Job((sheet(100, 100),), (piece("a", 46, 82, margin=7, count=2),))
    one = found("margin", job)[""]
    assert one.by == mm(5)
    assert one.after == 100


def test_a_size_down_is_found_for_one_line():
    """60 and 45 side by side are 105 on 100: either line could give up 5 mm."""
    job = Job((sheet(100, 100),), (piece("a", 60, 95), piece("b", 45, 95)))
    lines = found("size", job)
    assert {order: one.by for order, one in lines.items()} == {"a": mm(5), "b": mm(5)}
    assert all(one.saves for one in lines.values())


def test_a_line_left_out_is_found():
    job = Job((sheet(100, 100),), (piece("a", 90, 90), piece("b", 80, 80)))
    lines = found("left out", job)
    assert [one.after for one in lines.values()] == [100, 100]


def test_a_turn_allowed_saves_a_sheet():
    """60 x 100 leaves 40 x 100; 100 x 40 would fit it, if either of the two might turn."""
    pieces = (piece("a", 60, 100, turn="no"), piece("b", 100, 40, turn="no"))
    lines = found("turn", Job((sheet(100, 100),), pieces))
    assert list(lines) == ["a", "b"]
    assert [(one.before, one.after) for one in lines.values()] == [(200, 100), (200, 100)]
    assert lines["b"].least


def test_one_more_size_of_sheet_saves():
    large = replace(sheet(100, 200), id="large", price=150)
    job = Job((sheet(100, 100),), (piece("a", 90, 90, count=2),))
    one = found("sheet", job, more=[large])["large"]
    assert (one.before, one.after) == (200, 150)
    assert found("sheet", job, more=[replace(large, price=None), job.sheets[0]]) == {}


def test_more_of_a_sheet_on_hand_may_save():
    """Two small sheets at 1.00 do what the one large on hand does for 3.00."""
    large = replace(sheet(100, 200), id="large", price=300, on_hand=1)
    small = sheet(100, 100, on_hand=1)
    job = Job((small, large), (piece("a", 90, 90, count=2),))
    one = found("sheet", job, more=job.sheets)["s"]
    assert (one.before, one.after) == (300, 200)
    assert faults_in(one.answer.plan()) == ()


def test_what_leaving_out_cannot_save_no_smaller_size_can(monkeypatch):
    """Four blanks alike, two to a sheet, in lines of 2, 1 and 1: no line left out saves two.

    Once the line of two is seen to save nothing, neither of the others is searched for, and
    nor is any smaller size of it.
    """
    tried = []
    plain = saving.laid_out

    def counted(job, effort, **more):
        tried.append([one.order for one in job.pieces])
        return plain(job, effort, **more)

    monkeypatch.setattr(saving, "laid_out", counted)
    monkeypatch.setattr(saving, "plain_bound", lambda job: Bound("cost", 0, "not asked"))
    lines = [
        piece("a", 50, 90),
        piece("b", 50, 90, count=2),
        piece("c", 50, 90),
        piece("d", 90, 90),
    ]
    job = Job((sheet(100, 100),), tuple(lines))
    told = savings(job, "Rag", effort=QUICK)
    left_out = {one.order: one for one in told if one.change == "left out"}
    assert {order: one.after for order, one in left_out.items()} == {
        "a": 300, "b": 200, "c": 300, "d": 200,
    }  # fmt: skip
    assert all(one.least for one in told)
    assert ["a", "b", "d"] not in tried


def test_the_plan_that_is_shown_is_what_is_saved_on():
    """The same changes come out of the plan that was made as of one made again."""
    job = Job((sheet(100, 100, on_hand=5),), (piece("a", 45, 90, margin=3, count=2),))
    made = make_plan(job, rounds=60)
    assert [replace(one, answer=None) for one in savings(job, "Rag", effort=QUICK)] == [
        replace(one, answer=None)
        for one in savings(job, "Rag", present=made.papers[0], effort=QUICK)
    ]


def test_no_margin_saves_a_sheet_in_the_week(demo_job):
    """Margins cut to 10 mm, or altogether, do not save a sheet here, and it is proved."""
    changes = savings(demo_job, SMOOTH, effort=Effort(rounds=100, seconds=60))
    margin = next(one for one in changes if one.change == "margin")
    assert not margin.saves
    assert margin.least
    assert {one.order for one in changes if one.saves} == {"D10"}  # its sheet is all its own


def test_a_job_that_is_short_or_empty_has_no_savings():
    assert savings(Job((sheet(100, 100, on_hand=0),), (piece("a", 9, 9),)), "Rag") == ()
    assert savings(Job((sheet(100, 100),), ()), "Rag") == ()


def test_time_that_has_run_out_ends_the_list():
    job = Job((sheet(100, 100),), (piece("a", 45, 90, margin=3, count=2),))
    present = present_answer(job, "Rag")
    assert savings(job, "Rag", present=present, effort=Effort(seconds=0)) == ()


@pytest.fixture(scope="module")
def halves():
    """Return a plan of one 100 x 60 on a sheet of 100 x 100: a strip of 40 is left."""
    job = Job((sheet(100, 100, on_hand=1),), (piece("a", 100, 60),))
    return present_answer(job, "Rag")


def test_room_left_counts_what_the_strip_gives(halves):
    """100 x 40 gives ten 20 x 20, five 20 x 40 either way, none of 41 x 41."""
    sizes = [piece("s", 20, 20), piece("t", 40, 20), piece("u", 41, 41)]
    rooms = room_left(halves.plan(), sizes)
    assert [room.count for room in rooms] == [10, 5, 0]
    assert rooms[0].places == {"s": 10}


def test_pieces_alike_keep_one_way_in_the_room_that_is_left():
    """100 x 40 takes two of 40 x 30 lying and three standing; mixed there is nothing to gain."""
    job = Job((sheet(100, 100, on_hand=1, grain="along width"),), (piece("a", 100, 60),))
    plan = present_answer(job, "Rag")
    assert room_left(plan.plan(), [piece("s", 40, 30, turn="alike")])[0].count == 3
    asked = replace(plan.job, pieces=(*plan.job.pieces, piece("s", 40, 30, count=3, turn="alike")))
    assert with_line(asked, plan.trees, 1) is not None
    four = replace(asked, pieces=(asked.pieces[0], replace(asked.pieces[1], count=4)))
    assert with_line(four, plan.trees, 1) is None
