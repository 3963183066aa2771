"""After a slip: nothing of the layout is lost but the spoiled blank."""

import random
from collections import Counter

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from sheetcut import Edges, Job, Piece, Sheet, make_plan, mm
from sheetcut.answers.relay import NoSuchSlip, relay
from sheetcut.check import faults_in
from tests.check.plans import imperial_twins
from tests.laws.jobs import jobs
from tests.laws.test_laws import fewer, planned

ROUNDS = {"rounds": 30, "seconds": 600}


def area(pieces):
    return sum(width * height for _, _, width, height in pieces)


def rectangle(one):
    return one.x, one.y, one.width, one.height


def test_a_slip_in_the_middle_strip_of_imperial_1():
    """Step 5 parts the 54 mm strip from 327 x 744; the A3 below it (y 240 to 690) is spoiled.

    The strips 0-172 and 499-544 are parted already. Nothing is whole yet. Around the A3 there
    are left 327 x 54 above and 327 x 240 below it: the A4 (327 x 240) still comes out, the A3
    does not, and three of 172 x 234 come out of 172 x 744.
    """
    plan = imperial_twins()
    layout = plan.layouts[0]
    found = relay(plan, layout, step=5, spoiled=1, **ROUNDS)
    assert found.done == ()
    assert set(found.in_hand) == {
        (0, 0, mm(172), mm(744)),
        (mm(499), 0, mm(45), mm(744)),
        (mm(172), 0, mm(327), mm(240)),
        (mm(172), mm(690), mm(327), mm(54)),
    }
    assert [
        (found.plan.piece(one.piece).order, one.count, one.why) for one in found.plan.short
    ] == [("D01", 1, "paper ran out")]
    placed = Counter(
        found.plan.piece(one.piece).order
        for layout in found.plan.layouts
        for one in layout.placements
    )
    assert placed == {"D03": 1, "D02": 3}
    assert faults_in(found.plan) == ()


def test_what_is_parted_and_good_is_not_cut_again():
    """Step 9 is the last: the small blank at y 468 is parted by then, as are A3 and A4."""
    plan = imperial_twins()
    layout = plan.layouts[0]
    found = relay(plan, layout, step=9, spoiled=3, **ROUNDS)
    assert {rectangle(one) for one in found.done} == {
        (mm(172), mm(240), mm(327), mm(450)),
        (mm(172), 0, mm(327), mm(240)),
        (0, mm(468), mm(172), mm(234)),
    }
    assert sum(one.count for one in found.plan.short) == 1


def test_what_is_left_elsewhere_takes_the_spoiled_blank():
    """Two of 100 x 100 out of 300 x 100: the third of the sheet gives the second again."""
    job = Job(
        (Sheet("S", "Rag", mm(300), mm(100), on_hand=1),),
        (Piece("D", "", "Rag", mm(100), mm(100), 2),),
    )
    plan = make_plan(job, **ROUNDS)
    (layout,) = plan.layouts
    assert [cut.reading for cut in layout.cuts] == [mm(200), mm(100)]
    found = relay(plan, layout, step=2, spoiled=1, **ROUNDS)
    assert not found.plan.short
    assert sum(len(one.placements) for one in found.plan.layouts) == 2


def test_a_far_deckle_is_still_on_what_is_left():
    """Nothing touches the right edge, so its deckle of 8 mm is on the piece left there."""
    sheet = Sheet(
        "S", "Rag", mm(316), mm(100), on_hand=1, edge_loss=Edges(left=mm(8), right=mm(8)),
        deckles=("left", "right"),
    )  # fmt: skip
    plan = make_plan(Job((sheet,), (Piece("D", "", "Rag", mm(100), mm(100), 2),)), **ROUNDS)
    (layout,) = plan.layouts
    found = relay(plan, layout, step=layout.cuts[-1].number, spoiled=1, **ROUNDS)
    by_size = {(one.usable_width, one.usable_height): one for one in found.plan.job.sheets[:2]}
    raw = by_size[mm(100), mm(100)]
    assert {one.edge_loss for one in found.plan.job.sheets if one.on_hand} == {
        Edges(right=mm(8)),
        Edges(),
    }
    assert raw.kind == "offcut"


def test_names_of_keepers_are_new(demo_plan):
    layout = demo_plan.layouts[0]
    found = relay(demo_plan, layout, step=len(layout.squaring) + 1, spoiled=1, **ROUNDS)
    old = {name for one in demo_plan.layouts for keeper in one.keepers for name in keeper.names}
    new = {name for one in found.plan.layouts for keeper in one.keepers for name in keeper.names}
    assert not old & new
    assert faults_in(found.plan) == ()


@pytest.mark.parametrize(("step", "spoiled"), [(0, 1), (11, 1), (5, 0), (5, 6)])
def test_a_slip_that_cannot_be_is_told(step, spoiled):
    plan = imperial_twins()
    with pytest.raises(NoSuchSlip, match="give one from 1 to"):
        relay(plan, plan.layouts[0], step=step, spoiled=spoiled)


@fewer
@given(jobs(most_lines=4), st.integers(0, 2**32))
def test_nothing_is_lost_but_the_spoiled_blank(job, seed):
    rng = random.Random(seed)
    plan = planned(job)
    assume(plan.layouts)
    layout = rng.choice(plan.layouts)
    spoiled = rng.randint(1, len(layout.placements))
    step = rng.randint(1, len(layout.squaring) + len(layout.cuts) + 1)
    found = relay(plan, layout, step=step, spoiled=spoiled, **ROUNDS)
    lost = layout.placements[spoiled - 1]
    pieces = [*found.in_hand, *map(rectangle, found.done), rectangle(lost)]
    assert area(pieces) == layout.usable[2] * layout.usable[3]
    whole = shapely.union_all([shapely.box(x, y, x + w, y + h) for x, y, w, h in pieces])
    assert whole.area == layout.usable[2] * layout.usable[3]
    assert faults_in(found.plan) == ()
    orders = Counter(job.pieces[one.piece].order for one in layout.placements)
    got = Counter(job.pieces[one.piece].order for one in found.done)
    for again in found.plan.layouts:
        for one in again.placements:
            got[found.plan.piece(one.piece).order] += again.copies
    for short in found.plan.short:
        got[found.plan.piece(short.piece).order] += short.count
    assert got == orders
