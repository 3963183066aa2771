"""Slivers left on the drawings beside them, on 100 x 80 where 5 is the narrowest strip."""

import pytest

from sheetcut.cuts import with_leave_ons
from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.units import Edges
from tests.cuts.trees import above, beside, blank, rest

DRAWING, PRINT = 0, 1
PIECES = (Piece("D01", "", "rag", 9, 9), Piece("P01", "", "rag", 9, 9, kind="print"))


def left_on(tree, *, narrowest=5, loss=Edges(), start=("left", "foot")):  # noqa: B008  a tuple
    sheet = Sheet("one", "rag", tree.width + loss.across, tree.height + loss.up, edge_loss=loss)
    job = Job((sheet,), PIECES, Rules(reading_step=1, narrowest_strip=narrowest))
    return with_leave_ons(tree, sheet, job, start=start)


@pytest.mark.parametrize(
    ("tree", "grown"),
    [
        # narrower than 5 stays on, 5 comes off
        (beside(blank(96, 80), rest(4, 80)), blank(100, 80)),
        (beside(blank(95, 80), rest(5, 80)), None),
        (above(blank(100, 76), rest(100, 4)), blank(100, 80)),
        (above(blank(100, 75), rest(100, 5)), None),
        # the borders of a print are as ordered
        (beside(blank(97, 80, PRINT), rest(3, 80)), None),
        # only what it lies beside grows
        (
            beside(blank(50, 80), blank(47, 80), rest(3, 80)),
            beside(blank(50, 80), blank(50, 80)),
        ),
        (
            beside(blank(50, 80, PRINT), blank(47, 80), rest(3, 80)),
            beside(blank(50, 80, PRINT), blank(50, 80)),
        ),
        # every blank along it grows, and the leftover among them; one print forbids it
        (
            beside(above(blank(97, 30), blank(97, 40), rest(97, 10)), rest(3, 80)),
            above(blank(100, 30), blank(100, 40), rest(100, 10)),
        ),
        (beside(above(blank(97, 30), blank(97, 50, PRINT)), rest(3, 80)), None),
        # of blanks one behind the other only the last, as readings before it stay on the ruler
        (
            beside(
                above(beside(blank(40, 30), blank(57, 30)), blank(97, 50)),
                rest(3, 80),
            ),
            above(beside(blank(40, 30), blank(60, 30)), blank(100, 50)),
        ),
        (
            beside(
                above(beside(blank(20, 30), blank(30, 30), blank(47, 30)), blank(97, 50)),
                rest(3, 80),
            ),
            above(beside(blank(20, 30), blank(30, 30), blank(50, 30)), blank(100, 50)),
        ),
        (
            beside(
                above(beside(blank(40, 30), blank(57, 30, PRINT)), blank(97, 50)),
                rest(3, 80),
            ),
            None,
        ),
        (
            above(
                beside(above(blank(40, 30), blank(40, 46)), blank(60, 76)),
                rest(100, 4),
            ),
            beside(above(blank(40, 30), blank(40, 50)), blank(60, 80)),
        ),
        # inside a strip as well, and in the last of them
        (
            beside(above(blank(60, 78), rest(60, 2)), blank(40, 80, PRINT)),
            beside(blank(60, 80), blank(40, 80, PRINT)),
        ),
        (
            beside(blank(40, 80, PRINT), above(blank(60, 78), rest(60, 2))),
            beside(blank(40, 80, PRINT), blank(60, 80)),
        ),
        # both ways: first the strip at the right grows on, then what ends in it
        (
            beside(above(blank(97, 78), rest(97, 2)), rest(3, 80)),
            blank(100, 80),
        ),
        # a leftover alone, and a blank alone, are what they were
        (rest(100, 80), None),
        (blank(100, 80), None),
    ],
)  # fmt: skip
def test_a_sliver_is_left_on_the_drawings_beside_it(tree, grown):
    assert left_on(tree) == (grown or tree)
    assert left_on(tree, narrowest=None) == tree


@pytest.mark.parametrize(
    ("loss", "start", "stays"),
    [
        (Edges(right=2), ("left", "foot"), True),
        (Edges(left=2), ("left", "foot"), False),  # a start edge is made true by itself
        (Edges(top=2), ("left", "foot"), False),  # another edge
        (Edges(left=2), ("right", "foot"), True),
        (Edges(right=2), ("right", "foot"), False),
    ],
)
def test_a_sliver_at_a_far_edge_comes_off_with_its_loss(loss, start, stays):
    """No blank ends at the far side, so the strip of 3 and the loss come off in one cut."""
    tree = beside(blank(97, 80), rest(3, 80))
    assert left_on(tree, loss=loss, start=start) == (tree if stays else blank(100, 80))


@pytest.mark.parametrize(
    ("loss", "start", "stays"),
    [
        (Edges(top=2), ("left", "foot"), True),
        (Edges(foot=2), ("left", "foot"), False),
        (Edges(right=2), ("left", "foot"), False),
        (Edges(foot=2), ("left", "top"), True),
        (Edges(top=2), ("left", "top"), False),
    ],
)
def test_so_does_one_at_the_far_edge_above(loss, start, stays):
    tree = above(blank(100, 77), rest(100, 3))
    assert left_on(tree, loss=loss, start=start) == (tree if stays else blank(100, 80))


@pytest.mark.parametrize("turn", [beside, above])
def test_where_a_blank_needs_the_far_edge_trimmed_slivers_stay_on(turn):
    """The second strip ends at the far side and is squared, so a sliver would be one cut more."""
    if turn is beside:
        tree = above(beside(blank(97, 40), rest(3, 40)), blank(100, 40))
        assert left_on(tree, loss=Edges(right=2)) == above(blank(100, 40), blank(100, 40))
    else:
        tree = beside(above(blank(50, 77), rest(50, 3)), blank(50, 80))
        assert left_on(tree, loss=Edges(top=2)) == beside(blank(50, 80), blank(50, 80))


def test_a_sliver_inside_the_sheet_does_not_reach_the_edge_that_is_lost():
    """Right loses 2 and nothing ends there. The first strip's sliver of 3 lies well inside.

    It grows onto its drawing; the sliver of 4 in the last strip reaches the far side and stays.
    """
    inner = above(beside(blank(27, 40), rest(3, 40)), blank(30, 40))
    outer = above(beside(blank(66, 40), rest(4, 40)), beside(blank(60, 40), rest(10, 40)))
    grown = beside(above(blank(30, 40), blank(30, 40)), outer)
    assert left_on(beside(inner, outer), loss=Edges(right=2)) == grown


def test_the_same_holds_from_foot_to_top():
    inner = beside(above(blank(50, 27), rest(50, 3)), blank(50, 30))
    outer = beside(above(blank(50, 46), rest(50, 4)), above(blank(50, 40), rest(50, 10)))
    grown = above(beside(blank(50, 30), blank(50, 30)), outer)
    assert left_on(above(inner, outer), loss=Edges(top=2)) == grown
