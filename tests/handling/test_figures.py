"""What layouts ask of the hands, counted by hand on the worked answer of the studio."""

from dataclasses import replace

import pytest

from sheetcut.cuts import cut_order
from sheetcut.handling import cash_for, figures_of, is_strips_only, sheets_cut, takes_no_more
from sheetcut.job import Job, Paper, Piece, Rules, Sheet
from sheetcut.layout import Part
from sheetcut.units import mm
from tests.check.plans import IMPERIAL, JOB, imperial_twins

TWINS = imperial_twins().layouts


def test_figures_of_the_worked_imperial():
    """TRADE 10.4: two of 560 x 760 cut alike, each with left and foot squared, then seven cuts.

    The seven run 2658 mm in all, and the squaring 760 and 560 mm more.
    """
    assert [(layout.copies, len(layout.squaring)) for layout in TWINS] == [(1, 2), (1, 2)]
    figures = figures_of(JOB, TWINS)
    assert (figures.cuts, figures.settings, figures.fresh_edges) == (2 * 9, 2 * 9, 0)
    assert figures.effort == 2 * mm(2658 + 760 + 560)
    assert figures.scrap == 2 * TWINS[0].waste.scrap
    thick = replace(JOB, papers=(Paper(IMPERIAL.paper, passes=4),))
    assert figures_of(thick, TWINS).effort == 4 * figures.effort


def leaf(width, height, piece=None):
    return Part(mm(width), mm(height), piece=piece)


def layout_of(tree):
    sheet = Sheet("S", "rag", tree.width, tree.height, grain="none")
    job = Job((sheet,), (Piece("D", "", "rag", mm(1), mm(1)),), Rules(reading_step=mm(1)))
    ordered = cut_order(tree, sheet, job)
    return replace(
        TWINS[0],
        usable=(0, 0, tree.width, tree.height),
        placements=ordered.placements,
        cuts=ordered.cuts,
        leftovers=ordered.leftovers,
    )


def beside(*parts):
    return Part(sum(one.width for one in parts), parts[0].height, "x", parts)


def above(*parts):
    return Part(parts[0].width, sum(one.height for one in parts), "y", parts)


COLUMN = above(leaf(10, 20, 0), leaf(10, 30, 0))
TRIMMED = above(beside(leaf(8, 20, 0), leaf(2, 20)), leaf(10, 30, 0))
DEEP = above(beside(leaf(4, 20, 0), leaf(6, 20, 0)), leaf(10, 30, 0))


@pytest.mark.parametrize(
    ("tree", "strips"),
    [
        (beside(COLUMN, COLUMN), True),
        (beside(TRIMMED, COLUMN), True),  # a third level that trims one blank
        (beside(DEEP, COLUMN), False),  # a third level with two blanks beside each other
        (DEEP, True),  # the same on its own is two levels
        (above(beside(COLUMN, COLUMN), leaf(20, 5)), True),  # the end comes off, then strips
        (above(beside(DEEP, COLUMN), leaf(20, 5)), False),
    ],
)
def test_strips_are_long_cuts_then_cross_cuts_and_trimming(tree, strips):
    assert is_strips_only(layout_of(tree)) == strips


def test_cash_is_the_price_of_the_sheets_cut():
    assert sheets_cut(TWINS) == {IMPERIAL.id: 2}
    assert cash_for(JOB, TWINS) == 2 * IMPERIAL.price
    once = TWINS[:1]
    assert takes_no_more(JOB, once, TWINS)
    assert not takes_no_more(JOB, TWINS, once)
