"""Lines that are cut only if there is room: what they get, and that they never cost anything."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as some

from sheetcut import Edges, Job, Piece, Rules, Sheet, make_plan, mm
from sheetcut.check import faults_in
from sheetcut.document import plan_bytes, read_plan
from sheetcut.errors import UnusableRecord
from sheetcut.layout import Short
from sheetcut.printout import summary_lines
from tests.laws.jobs import jobs, pieces


def sheet(width=100, height=100, **more):
    return Sheet("s", "Rag", mm(width), mm(height), **{"price": 100, "on_hand": 5, **more})


def piece(order, width, height, count=1, **more):
    return Piece(order, f"a {order}", "Rag", mm(width), mm(height), count, **more)


def waits(order, width, height, count=1, **more):
    return piece(order, width, height, count, if_room=True, **more)


def planned(*lines, sheets=None, rules=None):
    job = Job((sheet(),) if sheets is None else sheets, lines, rules or Rules())
    plan = make_plan(job, rounds=60, seconds=600)
    assert faults_in(plan) == ()
    return plan


def cut(plan):
    """Return how many of each line a plan cuts."""
    counts = {}
    for layout in plan.layouts:
        for place in layout.placements:
            order = plan.piece(place.piece).order
            counts[order] = counts.get(order, 0) + layout.copies
    return counts


def test_a_strip_left_over_is_filled_in_the_order_typed():
    """100 x 40 is left: seven squares of 20 are 2800 of its 4000 mm2, and one 40 x 20 has room."""
    plan = planned(waits("T", 20, 20, 7), piece("a", 100, 60), waits("S", 40, 20, 9))
    assert cut(plan) == {"a": 1, "T": 7, "S": 1}
    assert plan.papers[0].sheets_used == {"s": 1}
    assert "T is cut if there is room: all 7 have it" in plan.papers[0].notes
    assert "S is cut if there is room: 1 of 9 have it" in plan.papers[0].notes


def test_no_sheet_is_opened_and_nothing_is_short():
    """Two of 90 x 90 would need sheets of their own, of which five are on hand."""
    plan = planned(piece("a", 100, 60), waits("T", 90, 90, 2))
    assert cut(plan) == {"a": 1}
    assert plan.short == ()
    assert plan.papers[0].notes == ("T is cut if there is room: none has it",)


def test_what_waits_carries_no_share_of_the_cash():
    """The sheet was opened for the line that must be cut, so all of its 1.00 is paid by that."""
    plan = planned(piece("a", 100, 60), waits("T", 20, 20, 7))
    assert plan.papers[0].shares == {0: 100}
    assert plan.papers[0].bound.value == 100
    assert plan.is_proved


def test_alone_it_is_not_planned_at_all():
    plan = planned(waits("T", 20, 20))
    assert (plan.papers, plan.short) == ((), ())
    assert any("nothing else is cut from Rag" in line for line in summary_lines(plan))


def test_it_never_makes_a_strip_that_is_refused():
    """5 mm would be cut off beside the 95; the plan without it leaves 20 mm whole."""
    strict = Rules(narrowest_strip=mm(10), narrow_strips="refused")
    plan = planned(
        piece("a", 100, 80, kind="print"), waits("T", 15, 95, kind="print"), rules=strict
    )
    assert cut(plan) == {"a": 1}
    assert "it would need a strip that is refused" in plan.papers[0].notes[-1]
    assert cut(planned(piece("a", 100, 80), waits("T", 15, 95))) == {"a": 1, "T": 1}


def test_its_turn_is_kept_to_the_grain():
    """100 x 40 is left, the fibres along its 100: 40 high along them can lie only turned."""
    grain = (sheet(grain="along width"),)
    plan = planned(
        piece("a", 100, 60, turn="no"), waits("T", 40, 60, 3, turn="grain across"), sheets=grain
    )
    assert cut(plan) == {"a": 1}
    plan = planned(
        piece("a", 100, 60, turn="no"), waits("T", 40, 60, 3, turn="grain up"), sheets=grain
    )
    assert cut(plan) == {"a": 1, "T": 1}


def test_a_deckle_that_is_kept_stays_at_its_edge():
    """The blank with the deckle takes an edge; what is filled in beside it does not take that."""
    sides = Edges(mm(8), mm(8), mm(8), mm(8))
    deckled = sheet(116, 116, edge_loss=sides, deckles=("left", "right", "top", "foot"))
    plan = planned(piece("a", 60, 100, deckles=("top",)), waits("T", 40, 30, 5), sheets=(deckled,))
    assert cut(plan)["a"] == 1


@pytest.mark.parametrize("change", ["more", "short"])
def test_the_check_counts_what_waits_too(change):
    """More than was asked for is a fault, and so is calling it short."""
    plan = planned(piece("a", 100, 60), waits("T", 20, 20, 7))
    fewer = replace(plan.job.pieces[1], count=6)
    if change == "more":
        plan = replace(plan, job=replace(plan.job, pieces=(plan.job.pieces[0], fewer)))
    else:
        plan = replace(plan, short=(Short(1, 1, "paper ran out"),))
    assert any("T a T" in str(fault) for fault in faults_in(plan))


def test_it_has_no_day_and_keeps_no_deckle():
    with pytest.raises(UnusableRecord, match="only if there is room"):
        waits("T", 20, 20, deckles=("top",))


def test_the_document_says_which_lines_wait():
    plan = planned(piece("a", 100, 60), waits("T", 20, 20, 7))
    assert read_plan(plan_bytes(plan)) == plan
    assert plan_bytes(plan).count(b'"if_room": true') == 1


@given(jobs(most_lines=4), some.data())
def test_what_waits_changes_neither_cash_nor_sheets_nor_bound(job, data):
    """Whatever is asked for if there is room, the plan of the rest is the one without it."""
    papers = sorted({one.paper for one in job.sheets})
    waiting = [
        replace(
            data.draw(pieces(90 + n, data.draw(some.sampled_from(papers)))), if_room=True, due=None
        )
        for n in range(data.draw(some.integers(1, 2)))
    ]
    asked = replace(job, pieces=(*waiting, *job.pieces))
    without = make_plan(job, rounds=20, seconds=600)
    plan = make_plan(asked, rounds=20, seconds=600)
    assert faults_in(plan) == ()
    assert [one.sheets_used for one in plan.papers] == [one.sheets_used for one in without.papers]
    assert [one.bound.value for one in plan.papers] == [one.bound.value for one in without.papers]
    assert [sum(one.shares.values()) for one in plan.papers] == [
        sum(one.shares.values()) for one in without.papers
    ]
    assert [(one.count, one.why) for one in plan.short] == [
        (one.count, one.why) for one in without.short
    ]
    assert not any(plan.job.pieces[one.piece].if_room for one in plan.short)
