"""The limits of the bench: slivers, mat, ruler, printer, passes."""

from dataclasses import replace

import pytest

from sheetcut import Job, Piece, Rules, Sheet, make_plan, mm
from sheetcut.check import faults_in
from sheetcut.choosing import NarrowStripsRefused
from sheetcut.document import disagreements, plan_bytes, read_plan
from sheetcut.handling import flags, slack
from sheetcut.job import Paper, passes_of
from sheetcut.units import Edges, inch

RULES = Rules(narrowest_strip=mm(10))


def sheet(width, height, **more):
    return Sheet("S", "Rag", mm(width), mm(height), on_hand=1, price=100, **more)


def piece(order, width, height, count=1, **more):
    return Piece(order, "a label", "Rag", mm(width), mm(height), count, **more)


def layout_of(sheet, *pieces, rules=RULES):
    """Return the plan of one sheet, which has passed its check and reads back the same."""
    plan = make_plan(Job((sheet,), pieces, rules), rounds=50, seconds=600)
    assert not plan.short
    data = plan_bytes(plan)
    assert read_plan(data) == plan
    assert disagreements(data, plan) == ()
    (layout,) = plan.layouts
    return plan, layout


def words(plan, layout):
    return [flag.words for flag in flags(plan.job, layout)]


def test_a_sliver_is_left_on_a_drawing():
    """200 x 300 out of 204 x 300: 4 mm are left on, 4 x 300 = 1200 mm² of margin."""
    plan, layout = layout_of(sheet(204, 300), piece("D", 200, 300))
    (blank,) = layout.placements
    assert (blank.width, blank.height) == (mm(204), mm(300))
    assert blank.leave_on == Edges(right=mm(4))
    assert layout.cuts == ()
    assert layout.waste.extra == mm(4) * mm(300)
    assert layout.waste.scrap == 0
    assert words(plan, layout) == []


def test_a_sliver_along_two_drawings_is_left_on_both():
    plan, layout = layout_of(sheet(204, 400), piece("D", 200, 190), piece("E", 200, 210))
    assert {blank.leave_on for blank in layout.placements} == {Edges(right=mm(4))}
    assert len(layout.cuts) == 1
    assert words(plan, layout) == []


def test_beside_a_print_the_sliver_is_cut_and_flagged():
    plan, layout = layout_of(
        sheet(204, 400), piece("D", 200, 190), piece("P", 200, 210, kind="print")
    )
    assert all(not any(blank.leave_on) for blank in layout.placements)
    assert "narrow strip: 4" in words(plan, layout)


def test_a_strip_of_the_narrowest_is_cut_like_any_other():
    plan, layout = layout_of(sheet(210, 300), piece("D", 200, 300))
    assert len(layout.cuts) == 1
    assert words(plan, layout) == []


def test_a_strip_that_comes_off_with_the_deckle_is_no_sliver():
    """4 mm and the 8 mm deckle beyond come off in one: nothing is left on, nothing flagged."""
    plan, layout = layout_of(
        sheet(212, 300, edge_loss=Edges(right=mm(8)), deckles=("right",)), piece("D", 200, 300)
    )
    assert len(layout.cuts) == 1
    assert not any(layout.placements[0].leave_on)
    assert words(plan, layout) == []


def test_what_is_left_on_may_be_missing():
    """Slack counts a leave-on: 204 wide where 200 are asked."""
    _, layout = layout_of(sheet(204, 300), piece("D", 200, 300))
    assert slack(layout) == (mm(4), 0)


def test_narrow_strips_can_be_refused():
    job = Job(
        (sheet(204, 300),),
        (piece("P", 200, 300, kind="print"),),
        replace(RULES, narrow_strips="refused"),
    )
    with pytest.raises(NarrowStripsRefused, match=r"Rag, S: strips of 4 mm .* less than 10 mm"):
        make_plan(job, rounds=10)
    drawing = replace(job, pieces=(piece("D", 200, 300),))
    assert make_plan(drawing, rounds=10).layouts[0].placements[0].leave_on.right == mm(4)


def test_a_refused_width_is_said_once():
    """Two prints of 196 on a strip of 200 each: 4 mm are cut off twice."""
    prints = (
        piece("P", 196, 100, 2, kind="print", turn="no"),
        piece("Q", 200, 100, kind="print", turn="no"),
    )
    job = Job((sheet(200, 300),), prints, replace(RULES, narrow_strips="refused"))
    with pytest.raises(NarrowStripsRefused, match="strips of 4 mm would") as refused:
        make_plan(job, rounds=10)
    assert refused.value.strips == (mm(4),)


def test_a_leave_on_is_never_on_a_print():
    """The check says so, whoever made the plan."""
    plan, _ = layout_of(sheet(204, 300), piece("D", 200, 300))
    pieces = (replace(plan.job.pieces[0], kind="print"),)
    faults = faults_in(replace(plan, job=replace(plan.job, pieces=pieces)))
    assert any("is a print and has a leave-on" in str(fault) for fault in faults)


def test_a_cut_longer_than_the_mat_says_where_to_slide():
    """700 mm on a 600 mm mat: two stretches of 350. 1300 mm: three, of 433, 433 and 434."""
    rules = Rules(mat=(mm(600), mm(450)))
    plan, layout = layout_of(sheet(300, 700), piece("D", 200, 700), rules=rules)
    assert words(plan, layout) == ["slide the sheet at 350"]
    plan, layout = layout_of(sheet(300, 1300), piece("D", 200, 1300), rules=rules)
    assert words(plan, layout) == ["slide the sheet at 433 and 866"]
    assert flags(plan.job, layout)[0].number == layout.cuts[0].number


def test_a_cut_longer_than_the_ruler_is_flagged():
    plan, layout = layout_of(sheet(300, 700), piece("D", 200, 700), rules=Rules(ruler=mm(500)))
    assert words(plan, layout) == ["set the ruler again at 350"]


def test_figures_are_those_of_an_inch_ruler():
    rules = Rules(mat=(inch(24), inch(18)), reading_step=inch(1) // 16)
    one = Sheet("S", "Rag", inch(12), inch("30 1/4"), on_hand=1, unit="in")
    wanted = Piece("D", "", "Rag", inch(8), inch("30 1/4"), unit="in")
    plan, layout = layout_of(one, wanted, rules=rules)
    assert words(plan, layout) == ["slide the sheet at 15 1/8"]


def test_first_cuts_that_fit_the_mat_are_preferred():
    """Four alike on 500 x 700, either cut first: 500 mm fits a 600 mm mat, 700 does not."""
    four = piece("D", 250, 350, 4)
    _, layout = layout_of(sheet(500, 700), four, rules=Rules(mat=(mm(600), mm(450))))
    assert [cut.stop - cut.start for cut in layout.cuts] == [mm(500), mm(350), mm(350)]


def test_a_print_wider_than_the_printer_is_flagged():
    rules = Rules(printer_width=mm(432))
    large = piece("P", 440, 500, kind="print")
    plan, layout = layout_of(sheet(440, 500), large, rules=rules)
    assert words(plan, layout) == ["P is 440 wide; the printer takes 432"]
    plan, layout = layout_of(sheet(432, 500), piece("P", 432, 500, kind="print"), rules=rules)
    assert words(plan, layout) == []


def test_the_watermark_is_on_the_blank_in_its_corner():
    marked = sheet(300, 300, watermark="foot left")
    plan, layout = layout_of(marked, piece("D", 300, 200))
    assert words(plan, layout) == ["the watermark, at the foot left, is on D"]
    marked = sheet(300, 300, watermark="top left")
    plan, layout = layout_of(marked, piece("D", 300, 200))
    assert words(plan, layout) == ["the watermark, at the top left, is on what is left over"]


@pytest.mark.parametrize(
    ("grammage", "passes"),
    [
        (300, 2),  # a first pass and about 0.25 mm each: our working figures, no source gives any
        (640, 4),
        (None, None),
    ],
)
def test_passes_follow_from_weight(grammage, passes):
    assert passes_of(Paper("Rag", grammage)) == passes
    assert passes_of(Paper("Rag", grammage, passes=7)) == 7
