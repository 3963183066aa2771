"""Blanks parted another way, on trees small enough to draw."""

import random

import pytest

from sheetcut.cuts.regroup import other_groupings, without_needless_levels
from sheetcut.layout import Part
from tests.check.plans import blanks_of, random_tree
from tests.cuts.trees import above, beside, blank, rest


@pytest.mark.parametrize(
    ("tree", "plain"),
    [
        (beside(rest(3, 9), above(rest(4, 2), rest(4, 7))), rest(7, 9)),
        (Part(5, 7, "x", (blank(5, 7),)), blank(5, 7)),
        (
            beside(rest(1, 9), blank(2, 9), rest(3, 9), blank(4, 9)),
            beside(blank(2, 9), blank(4, 9), rest(4, 9)),
        ),
        (
            above(rest(4, 1), blank(4, 2), above(blank(4, 3), rest(4, 5))),
            above(blank(4, 2), blank(4, 3), rest(4, 6)),
        ),
        # the strip is one blank, so its level goes, and the two of one direction become one
        (
            beside(Part(2, 9, "y", (beside(blank(1, 9), blank(1, 9)),)), blank(3, 9)),
            beside(blank(1, 9), blank(1, 9), blank(3, 9)),
        ),
    ],
)
def test_needless_levels_go(tree, plain):
    assert without_needless_levels(tree) == plain


def test_the_leftover_of_all_strips_comes_off_first():
    """Two strips of 4 + 6 and a leftover 4 high, beside a leftover strip.

    Either 4 comes off all at once, or the lines at 4 and 10 are used for all, or that at 3.
    """
    strips = [above(blank(side, 4), blank(side, 6), rest(side, 4)) for side in (3, 5)]
    columns = [above(*strip.parts[:2]) for strip in strips]
    found = set(other_groupings(beside(*strips, rest(2, 14))))
    assert found == {
        above(beside(*columns, rest(2, 10)), rest(10, 4)),
        beside(*strips, rest(2, 14)),
        above(
            beside(blank(3, 4), blank(5, 4), rest(2, 4)),
            beside(blank(3, 6), blank(5, 6), rest(2, 6)),
            rest(10, 4),
        ),
    }


@pytest.mark.parametrize(
    "strips",
    [
        [above(blank(3, 10), rest(3, 4)), blank(5, 14)],  # one strip has none
        [above(blank(3, 10), rest(3, 4)), above(blank(5, 10), blank(5, 4))],
    ],
)
def test_leftovers_that_are_no_band_stay_in_their_strips(strips):
    tree = beside(*strips)
    assert all(other.parts[-1] != rest(8, 4) for other in other_groupings(tree))


def test_what_is_in_hand_later_is_parted_anew_as_well():
    """A grid of 2 x 2 above a blank: rows for columns in the grid, the whole as it was."""
    columns = beside(above(blank(3, 4), blank(3, 6)), above(blank(5, 4), blank(5, 6)))
    rows = above(beside(blank(3, 4), blank(5, 4)), beside(blank(3, 6), blank(5, 6)))
    tree = above(columns, blank(8, 7))
    assert above(*rows.parts, blank(8, 7)) in list(other_groupings(tree))
    deep = beside(tree, blank(2, 17))
    assert beside(above(*rows.parts, blank(8, 7)), blank(2, 17)) in list(other_groupings(deep))


def test_one_strip_is_parted_anew_while_its_neighbour_stays():
    """Two grids of 2 x 2 side by side, their rows at 4 and at 5: columns for one of them."""
    rows = [
        above(beside(blank(3, 4), blank(5, 4)), beside(blank(3, 6), blank(5, 6))),
        above(beside(blank(2, 5), blank(7, 5)), beside(blank(2, 5), blank(7, 5))),
    ]
    first = [above(blank(3, 4), blank(3, 6)), above(blank(5, 4), blank(5, 6))]
    second = [above(blank(2, 5), blank(2, 5)), above(blank(7, 5), blank(7, 5))]
    assert set(other_groupings(beside(*rows))) == {
        beside(*first, *second),
        beside(*first, rows[1]),
        beside(rows[0], *second),
        beside(*rows),  # a row parted anew along itself is what it was
    }


def test_what_is_beyond_all_blanks_comes_off_first():
    """Rows of 3 + 5 and 4 + 3 on 10 wide: no line parts them, but that at 8 ends them all."""
    tree = above(
        beside(blank(3, 4), blank(5, 4), rest(2, 4)), beside(blank(4, 6), blank(3, 6), rest(3, 6))
    )
    block = above(beside(blank(3, 4), blank(5, 4)), beside(blank(4, 6), blank(3, 6), rest(1, 6)))
    assert set(other_groupings(tree)) == {beside(block, rest(2, 10)), tree}


def test_a_single_blank_can_lose_either_side_first():
    """6 x 6 on 10 x 8: the strip of 4 first, or that of 2."""
    tree = beside(above(blank(6, 6), rest(6, 2)), rest(4, 8))
    other = above(beside(blank(6, 6), rest(4, 6)), rest(10, 2))
    assert set(other_groupings(tree)) == {other, tree}


def test_blanks_that_no_line_parts_stay_as_they_are():
    """Two columns of 3 + 2 and 2 + 3: no line across parts them both."""
    tree = beside(above(blank(2, 3), blank(2, 2)), above(blank(3, 2), blank(3, 3)))
    assert set(other_groupings(tree)) == {tree}


def fills(part):
    for one in part.parts:
        assert one.along != part.along
        fills(one)
    if part.along == "x":
        assert {one.height for one in part.parts} == {part.height}
        assert sum(one.width for one in part.parts) == part.width
    if part.along == "y":
        assert {one.width for one in part.parts} == {part.width}
        assert sum(one.height for one in part.parts) == part.height


@pytest.mark.parametrize("seed", range(40))
def test_every_way_has_the_same_blanks_and_fills_the_sheet(seed):
    rng = random.Random(seed)
    tree = without_needless_levels(random_tree(20, 24, 4, rng, blank=0.8))
    for other in other_groupings(tree):
        assert (other.width, other.height) == (tree.width, tree.height)
        assert blanks_of(other) == blanks_of(tree)
        fills(other)


def test_what_is_parted_another_way_has_no_needless_levels_either():
    """Only what was parted anew is put right: of the rest it is known that nothing is needless."""
    chance = random.Random(20261125)
    seen = 0
    for _ in range(60):
        tree = without_needless_levels(random_tree(40, 40, 4, chance))
        for other in other_groupings(tree):
            assert without_needless_levels(other) == other
            assert blanks_of(other) == blanks_of(tree)
            seen += 1
    assert seen > 100
