"""Alternatives beside a small plan: what they take, give and are called."""

from dataclasses import replace

import pytest

from sheetcut.check import faults_in
from sheetcut.check.alternatives import _is_in
from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.layout import Alternative, Part, Placement
from tests.check.plans import PAPER, plan_of
from tests.check.test_faults import with_job, with_layout, with_paper

RULES = Rules(reading_step=1, keep_short=1000, keep_long=1000)


def blank(width, height):
    return Part(width, height, piece=0)


def beside(*parts):
    return Part(sum(part.width for part in parts), parts[0].height, "x", parts)


def above(*parts):
    return Part(parts[0].width, sum(part.height for part in parts), "y", parts)


def kinds_of_trees():
    """Two squares of 4 on 9 x 9, one beside the other or one above the other."""
    one = beside(above(blank(4, 4), Part(4, 5)), above(blank(4, 4), Part(4, 5)), Part(1, 9))
    other = above(beside(blank(4, 4), Part(5, 4)), beside(blank(4, 4), Part(5, 4)), Part(9, 1))
    return plan_of(one, rules=RULES), plan_of(other, rules=RULES)


def with_other(plan, layouts, kind="better leftover"):
    return with_paper(plan, alternatives=(Alternative(kind, layouts),))


def told(plan):
    return "\n".join(map(str, faults_in(plan)))


PLAN, OTHER = kinds_of_trees()
(LAYOUT,) = OTHER.layouts


def test_an_alternative_that_takes_and_gives_the_same_has_no_faults():
    assert faults_in(PLAN) == ()
    assert faults_in(with_other(PLAN, OTHER.layouts)) == ()


def test_the_plans_own_layouts_may_stand_in_an_alternative():
    assert faults_in(with_other(PLAN, PLAN.layouts)) == ()


def test_what_is_wrong_with_a_layout_of_an_alternative_is_told_with_its_kind():
    moved = replace(LAYOUT.placements[0], x=LAYOUT.placements[0].x + 1)
    wrong = replace(LAYOUT, placements=(moved, *LAYOUT.placements[1:]))
    (first, *_) = faults_in(with_other(PLAN, (wrong,)))
    assert first.where == f"{PAPER}, one, sheet 1, better leftover"


def test_numbers_that_cannot_be_relied_on_end_the_look_at_an_alternative():
    (only,) = faults_in(with_other(PLAN, (replace(LAYOUT, copies=0),)))
    assert only.message == "0 copies are to be cut; 1 or more are wanted"


@pytest.mark.parametrize(
    ("x", "y", "inside"),
    [(2, 3, True), (5, 5, True), (1, 3, False), (2, 2, False), (6, 5, False), (5, 6, False)],
)
def test_a_blank_is_in_hand_where_all_of_it_is(x, y, inside):
    """3 x 4 in 6 x 6 whose corner is at 2, 3."""
    assert _is_in(Placement(0, x, y, 3, 4), (2, 3, 6, 6)) == inside


def test_one_piece_more_or_less_is_told():
    fewer = replace(LAYOUT, placements=LAYOUT.placements[:1])
    assert "it gives 0 of D1; the plan gives 1" in told(with_other(PLAN, (fewer,)))
    doubled = replace(LAYOUT, placements=(*LAYOUT.placements, LAYOUT.placements[1]))
    assert "it gives 2 of D1; the plan gives 1" in told(with_other(PLAN, (doubled,)))


def test_a_sheet_more_is_told():
    """Two copies take two sheets of the two on hand, and 2.00 for 1.00."""
    plan = with_job(PLAN, (replace(PLAN.job.sheets[0], on_hand=2),), PLAN.job.pieces, rules=RULES)
    words = told(with_other(plan, (replace(LAYOUT, copies=2),)))
    assert "it takes 2 full sheets; the plan takes 1" in words
    assert "it costs 2.00; the plan costs 1.00" in words
    assert "are cut; the drawer holds" not in words
    short = told(with_other(PLAN, (replace(LAYOUT, copies=2),)))
    assert "2 of one are cut; the drawer holds 1" in short


def test_offcuts_are_counted_apart_from_full_sheets():
    """The plan takes a full sheet; an offcut in its place is one more offcut and no cash."""
    offcut = Sheet("heron 2", PAPER, 9, 9, on_hand=1, kind="offcut", price=5)
    plan = with_job(PLAN, (*PLAN.job.sheets, offcut), PLAN.job.pieces, rules=RULES)
    words = told(with_other(plan, (replace(LAYOUT, sheet="heron 2"),)))
    assert "it takes 1 offcuts; the plan takes 0" in words
    assert "full sheets; the plan" not in words
    assert "it costs" not in words


def test_a_dearer_sheet_is_told_and_one_without_price_too():
    for price, words in ((101, "it costs 1.01; the plan"), (None, "it costs a sum that is not")):
        dear = Sheet("two", PAPER, 9, 9, price=price)
        plan = with_job(PLAN, (*PLAN.job.sheets, dear), PLAN.job.pieces, rules=RULES)
        assert words in told(with_other(plan, (replace(LAYOUT, sheet="two"),)))
    cheap = Sheet("two", PAPER, 9, 9, price=100)
    plan = with_job(PLAN, (*PLAN.job.sheets, cheap), PLAN.job.pieces, rules=RULES)
    assert faults_in(with_other(plan, (replace(LAYOUT, sheet="two"),))) == ()


def test_each_kind_stands_once():
    assert faults_in(with_other(PLAN, OTHER.layouts, "strips only")) == ()
    words = told(with_other(PLAN, OTHER.layouts, "quicker to cut"))
    assert "2 plans for the paper are quicker to cut; each is of a kind of its own" in words
    assert 'is of the kind "by moonlight"; no such kind' in told(
        with_other(PLAN, OTHER.layouts, "by moonlight")
    )


def strips(tree):
    """Return a plan that has its own layout as an alternative of strips only."""
    plan = plan_of(tree, rules=RULES)
    return told(with_other(plan, plan.layouts, "strips only"))


TWO = (blank(3, 4), blank(3, 5))


def test_strips_are_parted_by_long_cuts_and_cross_cuts():
    assert strips(beside(above(*TWO), above(*TWO))) == ""


def test_a_third_level_may_trim_a_blank_and_not_part_two():
    """Strips of 3 | 6; the second has 6 x 4 over 6 x 5, and the 4 is trimmed or parted."""
    trimmed = above(beside(blank(4, 4), Part(2, 4)), blank(6, 5))
    assert strips(beside(blank(3, 9), trimmed)) == ""
    parted = above(beside(blank(4, 4), blank(2, 4)), blank(6, 5))
    words = strips(beside(blank(3, 9), parted))
    assert words.count("is parted from others by cuts of 3 levels") == 2
    assert "cuts of a fourth level" not in words


def test_a_fourth_level_is_no_strip_whatever_it_does():
    fourth = above(blank(4, 3), Part(4, 1))
    third = beside(fourth, Part(2, 4))
    assert "it has cuts of a fourth level" in strips(beside(blank(3, 9), above(third, blank(6, 5))))


def test_a_cut_that_only_frees_paper_parts_nothing():
    """Three levels of cuts, yet each blank has others on both sides at two of them only."""
    strip = above(beside(blank(4, 4), Part(5, 4)), beside(blank(5, 5), Part(4, 5)))
    assert strips(beside(strip, Part(3, 9))) == ""


def test_every_line_keeps_to_its_way_in_an_alternative_too():
    """A pair that is to lie alike lies so in the plan; the alternative turns one of the two."""
    sheet = Sheet("one", PAPER, 12, 6, on_hand=1, price=100, grain="along width")
    pair = Piece("D01", "Pair", PAPER, 6, 6, 2, turn="alike")
    plan = plan_of(beside(blank(6, 6), blank(6, 6)), rules=RULES)
    first, second = plan.layouts[0].placements
    plan = with_layout(plan, placements=(first, replace(second, piece=0)))
    plan = with_paper(replace(plan, job=Job((sheet,), (pair,), RULES)), shares={0: 100})
    assert faults_in(plan) == ()
    (layout,) = plan.layouts
    turned = Placement(0, 6, 0, 6, 6, turned=True)
    words = told(with_other(plan, (replace(layout, placements=(first, turned)),)))
    assert "D01 Pair, better leftover: its pieces are to lie alike" in words
