"""Deckles that are kept, trimmed or left outside the margin, edge by edge."""

import random
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcut import Edges, Job, Piece, Sheet, make_plan, mm
from sheetcut.check import faults_in
from sheetcut.deckled import keeping_deckles
from sheetcut.errors import UnusableRecord
from sheetcut.handling import flags
from sheetcut.job import EDGES
from sheetcut.layout import Squaring
from sheetcut.nest import Stop, lay_out
from tests.handling.test_slack import gives_every_blank, slack
from tests.laws.jobs import jobs
from tests.laws.test_laws import fewer, planned

ALL = Edges(mm(8), mm(8), mm(8), mm(8))
TURNED = {"top": "left", "left": "foot", "foot": "right", "right": "top"}


def deckled(width, height, *, on_hand=1, loss=ALL, deckles=EDGES, **more):
    """Return a sheet with so much usable area inside its deckles."""
    return Sheet(
        more.pop("id", "S"), "Rag", mm(width) + loss.across, mm(height) + loss.up,
        on_hand=on_hand, price=more.pop("price", 100), edge_loss=loss, deckles=deckles, **more,
    )  # fmt: skip


def piece(order, width, height, count=1, **more):
    return Piece(order, "a label", "Rag", mm(width), mm(height), count, **more)


def planned_on(sheets, *pieces):
    plan = make_plan(Job(sheets, pieces), rounds=50, seconds=600)
    assert faults_in(plan) == ()
    return plan


def edges_touched(layout, one):
    width, height = layout.usable[2:]
    return {
        edge
        for edge, touches in {
            "left": one.x == 0,
            "right": one.x + one.width == width,
            "top": one.y + one.height == height,
            "foot": one.y == 0,
        }.items()
        if touches
    }


@pytest.mark.parametrize(
    ("edge", "start"),
    [
        ("right", ("left", "foot")),
        ("left", ("right", "foot")),
        ("top", ("left", "foot")),
        ("foot", ("left", "top")),
    ],
)
def test_a_kept_deckle_lies_at_its_edge_and_readings_begin_elsewhere(edge, start):
    """One 200 x 200 on 500 x 500: the blank is brought to the edge, the start corner from it."""
    plan = planned_on((deckled(500, 500),), piece("D", 200, 200, deckles=(edge,), turn="no"))
    (layout,) = plan.layouts
    (blank,) = layout.placements
    assert edge in edges_touched(layout, blank)
    assert layout.start == start
    assert edge not in {one.edge for one in layout.squaring}


def test_two_deckles_meet_in_a_corner():
    kept = piece("D", 200, 150, deckles=("left", "foot"), turn="no")
    (layout,) = planned_on((deckled(500, 500),), kept, piece("E", 250, 150)).layouts
    blank = next(one for one in layout.placements if one.piece == 0)
    assert {"left", "foot"} <= edges_touched(layout, blank)
    assert layout.start == ("right", "top")


def test_turned_the_deckle_goes_with_the_piece():
    """300 x 100 with its foot kept, on 120 wide: only turned does it fit, its foot at the right."""
    (layout,) = planned_on((deckled(120, 400),), piece("D", 300, 100, deckles=("foot",))).layouts
    (blank,) = layout.placements
    assert blank.turned
    assert "right" in edges_touched(layout, blank)
    assert layout.start[0] == "left"


def test_blanks_of_one_size_change_places_for_a_deckle():
    """Four quarters: two are to keep the deckle at the right, one at the top as well."""
    plan = planned_on(
        (deckled(400, 600),),
        piece("D", 200, 300, deckles=("right",), turn="no"),
        piece("E", 200, 300, deckles=("right", "top"), turn="no"),
        piece("F", 200, 300, 2, turn="no"),
    )
    assert not plan.short
    (layout,) = plan.layouts
    touched = {one.piece: edges_touched(layout, one) for one in layout.placements}
    assert "right" in touched[0]
    assert {"right", "top"} <= touched[1]
    assert [one.edge for one in layout.squaring] == ["left", "foot"]


def test_blanks_change_sheets_for_a_deckle():
    """Two sheets of one blank each, and only one of them has a deckle."""
    clean = deckled(200, 300, loss=Edges(), deckles=(), id="clean", price=50)
    rough = deckled(200, 300, id="rough", price=50)
    plan = planned_on(
        (clean, rough),
        piece("D", 200, 300, turn="no"),
        piece("E", 200, 300, deckles=("top",), turn="no"),
    )
    where = {layout.placements[0].piece: layout.sheet for layout in plan.layouts}
    assert where == {0: "clean", 1: "rough"}


def test_what_cannot_lie_together_gets_sheets_of_its_own():
    """A full sheet wide each: on one sheet both would have to touch the top.

    The small one comes out of what they leave.
    """
    wide = piece("D", 400, 200, 2, deckles=("top",), turn="no")
    plan = planned_on((deckled(400, 600, on_hand=2),), wide, piece("E", 100, 100))
    assert not plan.short
    assert sum(layout.copies for layout in plan.layouts) == 2
    (paper,) = plan.papers
    assert any("found for it alone, to keep its deckle at the top" in note for note in paper.notes)


def test_half_a_millimetre_too_much_never_comes_before_a_cut():
    """400 x 500.5, read to 1 mm: D, 200 high, is alone at first, and 300.5 are left above it.

    E and F go there. Were they to change places with D, a cut would be read at 300.5.
    """
    clean = deckled(400, 200, loss=Edges(), deckles=(), id="clean", price=10, on_hand=None)
    rough = deckled(400, 500, on_hand=None)
    rough = replace(rough, height=rough.height + mm("0.5"))
    kept = piece("D", 400, 200, deckles=("right",), turn="no")
    others = piece("E", 150, 200, turn="no"), piece("F", 100, 60, turn="no")
    plan = planned_on((clean, rough), kept, *others)
    (paper,) = plan.papers
    assert any("found for it alone" in note for note in paper.notes)
    ways = [paper.layouts, *(one.layouts for one in paper.alternatives)]
    readings = [cut.reading for way in ways for layout in way for cut in layout.cuts]
    assert [reading for reading in readings if reading % mm(1)] == []


def test_time_that_is_up_ends_the_second_search_as_well():
    """Clean sheets cost less, so D, which keeps a deckle, gets sheets of its own.

    The rest is laid out with no time left; as many rounds from the start give the same again.
    """
    clean = deckled(400, 600, loss=Edges(), deckles=(), on_hand=None, id="clean", price=90)
    wide = piece("D", 400, 200, 2, deckles=("top",), turn="no")
    rng = random.Random(3)
    others = [piece(f"E{n}", rng.randint(60, 190), rng.randint(60, 190), 3) for n in range(12)]
    job = Job((clean, deckled(400, 600, on_hand=2)), (wide, *others))
    answer = lay_out(job, "Rag", rounds=500)
    whole = keeping_deckles(job, answer)
    assert (whole.rounds, whole.stopped) == (answer.rounds, answer.stopped)
    ended = keeping_deckles(job, answer, stop=Stop(0))
    assert ended.stopped
    assert ended.rounds < answer.rounds
    again = keeping_deckles(job, lay_out(job, "Rag", rounds=ended.rounds))
    assert again.candidates == ended.candidates


def test_what_no_sheet_can_give_is_short_and_said():
    clean = deckled(400, 600, loss=Edges(), deckles=("left",), on_hand=3)
    plan = planned_on(
        (clean,), piece("D", 100, 100, deckles=("top",), turn="no"), piece("E", 90, 90)
    )
    assert [(one.piece, one.count, one.why) for one in plan.short] == [(0, 1, "fits no sheet")]
    assert any("no sheet left lets it" in note for note in plan.papers[0].notes)


def test_far_deckles_are_trimmed_only_if_a_blank_needs_it():
    (layout,) = planned_on((deckled(500, 500),), piece("D", 500, 200)).layouts
    assert layout.squaring == (
        Squaring(1, "left", mm(8)),
        Squaring(2, "foot", mm(8)),
        Squaring(3, "right", mm(500)),
    )


def test_a_deckle_left_on_is_not_trimmed_from_drawings():
    sheet = deckled(500, 500, leave=("right",))
    plan = planned_on((sheet,), piece("D", 500, 200))
    (layout,) = plan.layouts
    assert [one.edge for one in layout.squaring] == ["left", "foot"]
    told = [flag.words for flag in flags(plan.job, layout)]
    assert told == ["the deckle at the right is left on"]
    (layout,) = planned_on((sheet,), piece("P", 500, 200, kind="print")).layouts
    assert [one.edge for one in layout.squaring] == ["left", "foot", "right"]


def test_a_deckle_left_on_is_no_start_edge_where_another_will_do():
    (layout,) = planned_on((deckled(500, 500, leave=("left",)),), piece("D", 500, 200)).layouts
    assert layout.start == ("right", "foot")
    assert [one.edge for one in layout.squaring] == ["right", "foot"]
    both = deckled(500, 500, leave=("left", "right"))
    (layout,) = planned_on((both,), piece("D", 500, 200)).layouts
    assert [one.edge for one in layout.squaring] == ["left", "foot"]


def test_a_kept_edge_of_the_sheet_is_never_cut_and_a_print_there_is_flagged():
    sheet = deckled(500, 500, keep=("left",))
    plan = planned_on((sheet,), piece("P", 500, 200, kind="print"))
    (layout,) = plan.layouts
    assert layout.start == ("right", "foot")
    assert "left" not in {one.edge for one in layout.squaring}
    assert [flag.words for flag in flags(plan.job, layout)] == [
        "P carries the deckle at the left: trim it"
    ]


def test_opposite_deckles_cannot_both_be_kept():
    with pytest.raises(UnusableRecord, match="left and right"):
        deckled(500, 500, keep=("left", "right"))
    with pytest.raises(UnusableRecord, match="no deckle"):
        deckled(500, 500, deckles=("left",), keep=("right",))


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda layout: replace(layout, squaring=(*layout.squaring, Squaring(3, "right", mm(400)))),
         "which is cut off"),
        (lambda layout: replace(layout, placements=(replace(layout.placements[0], x=0),)),
         "does not lie there"),
    ],
)  # fmt: skip
def test_the_check_finds_a_deckle_lost(change, told):
    plan = planned_on((deckled(400, 300),), piece("D", 200, 300, deckles=("right",), turn="no"))
    (paper,) = plan.papers
    spoiled = replace(plan, papers=(replace(paper, layouts=(change(paper.layouts[0]),)),))
    assert any(told in str(fault) for fault in faults_in(spoiled))


def test_the_check_finds_a_sheet_without_the_deckle():
    plan = planned_on((deckled(400, 300),), piece("D", 200, 300, deckles=("right",), turn="no"))
    (sheet,) = plan.job.sheets
    clean = replace(plan, job=replace(plan.job, sheets=(replace(sheet, deckles=("left",)),)))
    assert any("the sheet has none there" in str(fault) for fault in faults_in(clean))


@st.composite
def deckle_jobs(draw):
    """Return a job whose sheets have deckles, treated one way or another, and pieces that keep."""
    job = draw(jobs(most_lines=4))
    rng = random.Random(draw(st.integers(0, 2**32)))

    def rough(sheet):
        edges = tuple(edge for edge in EDGES if rng.random() < 0.7)
        stays = {edge: rng.choice(("trim", "trim", "leave", "keep")) for edge in edges}
        for one, other in (("left", "right"), ("top", "foot")):
            if stays.get(one) == stays.get(other) == "keep":
                stays[one] = "trim"
        return replace(
            sheet,
            deckles=edges,
            leave=tuple(edge for edge in edges if stays[edge] == "leave"),
            keep=tuple(edge for edge in edges if stays[edge] == "keep"),
        )

    def keeping(piece):
        kept = tuple(edge for edge in EDGES if rng.random() < 0.15)
        return replace(piece, deckles=kept, kind=rng.choice(("drawing", "print")))

    return replace(
        job, sheets=tuple(map(rough, job.sheets)), pieces=tuple(map(keeping, job.pieces))
    )


@fewer
@given(deckle_jobs())
def test_every_plan_keeps_what_it_cuts_and_starts_elsewhere(job):
    """The plan passes its check, and each deckle that is kept is where it should be."""
    plan = planned(job)
    assert faults_in(plan) == ()
    for layout in plan.layouts:
        sheet = plan.sheet(layout.sheet)
        trimmed = {one.edge for one in layout.squaring} | set(layout.start)
        assert not trimmed & set(sheet.keep)
        for one in layout.placements:
            asked = job.pieces[one.piece].deckles
            asked = {TURNED[edge] for edge in asked} if one.turned else set(asked)
            assert asked <= edges_touched(layout, one) & set(sheet.deckles)
            assert not asked & trimmed
        assert gives_every_blank(layout, *slack(layout))
