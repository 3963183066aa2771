import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcut.cuts import arrange, without_needless_levels
from sheetcut.cuts.alignment import aligned
from sheetcut.cuts.marks import marks_and_leaves
from sheetcut.cuts.regroup import other_groupings
from sheetcut.cuts.tidy import _tidiness
from sheetcut.layout import Part
from tests.check.plans import blanks_of, random_tree
from tests.cuts.trees import above, beside, blank, rest


def leaves(part):
    return [part] if part.along is None else [leaf for one in part.parts for leaf in leaves(one)]


def nodes(part):
    return [part, *(node for one in part.parts for node in nodes(one))] if part.parts else []


def leftovers(part):
    return sorted((leaf.width, leaf.height) for leaf in leaves(part) if leaf.piece is None)


def levels(part):
    return 1 + max(map(levels, part.parts)) if part.parts else 0


trees = st.builds(
    lambda seed, depth: random_tree(24, 30, depth, random.Random(seed)),
    st.integers(0, 2**32),
    st.integers(1, 4),
)


@given(tree=trees)
def test_no_blank_is_lost_or_changed(tree):
    assert blanks_of(arrange(tree)) == blanks_of(tree)


@given(tree=trees)
def test_parts_fill_every_piece_exactly(tree):
    for node in nodes(arrange(tree)):
        across, up = [one.width for one in node.parts], [one.height for one in node.parts]
        if node.along == "x":
            assert (sum(across), set(up)) == (node.width, {node.height})
        else:
            assert (set(across), sum(up)) == ({node.width}, node.height)


@given(tree=trees)
def test_levels_alternate_and_one_leftover_stands_last(tree):
    for node in nodes(arrange(tree)):
        assert len(node.parts) > 1
        assert all(one.along != node.along for one in node.parts)
        assert not any(one.is_leftover for one in node.parts[:-1])
        assert not any(one.is_leftover and one.parts for one in node.parts)


@given(tree=trees)
def test_equal_parts_stand_together(tree):
    for node in nodes(arrange(tree)):
        # leaves only: a strip's looks are compared in test_twins_are_arranged_alike
        sizes = [(one.width, one.height) for one in node.parts if one.piece is not None]
        kinds = [
            (one.width, one.height) if one.piece is not None else one.along for one in node.parts
        ]
        for size in set(sizes):
            first = kinds.index(size)
            assert kinds[first : first + kinds.count(size)] == [size] * kinds.count(size)


@given(tree=trees)
def test_what_is_tidy_stays_as_it_is(tree):
    tidy = arrange(tree)
    assert arrange(tidy) == tidy


def figures(tree):
    """Return ruler settings, levels and cuts of a tree whose levels alternate."""
    marks, _ = marks_and_leaves(tree)
    settings = {(mark.level, mark.ruler) for mark in marks}
    return len(settings), max((mark.level for mark in marks), default=0), len(marks)


@given(tree=trees)
def test_more_cuts_only_for_fewer_settings_or_levels(tree):
    """A cut more can save a placing of the ruler: settings come first, then turns of the paper."""
    before = figures(aligned(without_needless_levels(tree)))
    after = figures(arrange(tree))
    assert after <= before


@given(tree=trees)
def test_where_cuts_come_first_there_is_never_one_more(tree):
    before = figures(aligned(without_needless_levels(tree)))
    after = figures(arrange(tree, first="cuts"))
    assert (after[2], *after) <= (before[2], *before)


def largest_leftover(tree):
    _, leaves = marks_and_leaves(tree)
    return max((leaf.part.area for leaf in leaves if leaf.part.piece is None), default=0)


@given(tree=trees)
def test_where_the_leftover_comes_first_it_is_never_smaller(tree):
    before = largest_leftover(aligned(without_needless_levels(tree)))
    assert largest_leftover(arrange(tree, first="leftover")) >= before


@pytest.mark.parametrize("part", range(4))
def test_no_other_way_of_parting_is_better_by_what_comes_first(part):
    """Seed 324 has one of 9 cuts, and of 10 where settings come first."""
    for seed in range(300 + part, 360, 4):
        chance = random_tree(12, 12, 3, random.Random(seed), blank=0.9)
        tree = aligned(without_needless_levels(chance))
        others = [tree, *other_groupings(tree)]
        assert figures(arrange(tree, first="cuts"))[2] <= min(figures(one)[2] for one in others)
        largest = max(map(largest_leftover, others))
        assert largest_leftover(arrange(tree, first="leftover")) >= largest


def test_a_whole_leftover_is_one_leaf():
    assert arrange(beside(rest(3, 9), above(rest(4, 2), rest(4, 7)))) == rest(7, 9)


def test_a_blank_that_is_the_sheet_needs_no_cut():
    assert arrange(Part(5, 7, "x", (blank(5, 7),))) == blank(5, 7)


def test_parts_like_their_own_are_taken_apart():
    tree = beside(beside(blank(2, 9), blank(3, 9)), blank(4, 9))
    assert arrange(tree) == beside(blank(2, 9), blank(3, 9), blank(4, 9))


def test_a_leftover_between_blanks_goes_to_the_far_end():
    tree = above(rest(9, 1), blank(9, 4), rest(9, 2), blank(9, 3))
    assert arrange(tree) == above(blank(9, 3), blank(9, 4), rest(9, 3))


@pytest.mark.parametrize(
    ("width", "height", "kept"),
    [
        # a blank of 6 x 6 leaves an L; its corner goes to the arm that makes the larger piece:
        (10, 8, (4, 8)),  # 4 x 8 is more than 10 x 2
        (7, 12, (7, 6)),  # 7 x 6 is more than 1 x 12
    ],
)
def test_the_corner_goes_to_the_larger_leftover(width, height, kept):
    both_ways = (
        beside(above(blank(6, 6), rest(6, height - 6)), rest(width - 6, height)),
        above(beside(blank(6, 6), rest(width - 6, 6)), rest(width, height - 6)),
    )
    for tree in both_ways:
        assert kept in leftovers(arrange(tree))


def test_one_cut_takes_off_what_all_strips_leave():
    """Three strips of 10 with 4 left over each: three cuts and three slips, or one of each."""
    strips = [above(blank(side, 10), rest(side, 4)) for side in (3, 5, 6)]
    tidy = arrange(beside(*strips))
    assert leftovers(tidy) == [(14, 4)]
    assert len(leaves(tidy)) - 1 == 3


def test_a_grid_is_cut_into_strips_first():
    """Eight certificates of 148 x 105 on 310 x 428, however the tree came: 2 long cuts, 2 x 4."""
    row = beside(blank(148, 105), blank(148, 105), rest(14, 105))
    block = above(blank(148, 105), blank(148, 105))
    tree = above(row, row, beside(block, block, rest(14, 210)), rest(310, 8))
    column = above(*[blank(148, 105)] * 4, rest(148, 8))
    assert arrange(tree) == beside(column, column, rest(14, 428))


def test_the_studio_strips_stay_strips():
    """The Imperial of the trade reference: leftovers of 42 and 54 mm do not become one."""
    small = above(blank(172, 234), blank(172, 234), blank(172, 234), rest(172, 42))
    large = above(blank(327, 450), blank(327, 240), rest(327, 54))
    tidy = arrange(beside(rest(45, 744), large, small))
    assert tidy == beside(
        above(*small.parts),
        above(blank(327, 240), blank(327, 450), rest(327, 54)),
        rest(45, 744),
    )


@given(tree=trees, seed=st.integers(0, 99))
def test_twins_are_arranged_alike(tree, seed):
    """Names move no cut: the pieces dealt anew, the same sizes lie in the same places."""
    rng = random.Random(seed)

    def renamed(part):
        if part.piece is not None:
            return Part(part.width, part.height, piece=rng.randrange(9))
        return Part(part.width, part.height, part.along, tuple(map(renamed, part.parts)))

    def nameless(part):
        return part.width, part.height, part.along, tuple(map(nameless, part.parts))

    assert nameless(arrange(renamed(tree))) == nameless(arrange(tree))


@pytest.mark.parametrize("mat", [None, 6])
def test_tidiness_counts_what_the_marks_of_the_cuts_say(mat):
    """It is read off the tree without making marks, as hundreds of trees are compared."""
    trees = [random_tree(9, 14, 4, random.Random(seed), blank=0.6) for seed in range(60)]
    edge = above(beside(blank(3, 4), blank(5, 4)), blank(8, 5))
    for tree in [*map(arrange, trees), beside(blank(1, 9), edge)]:
        marks, leaves = marks_and_leaves(tree)
        settings, levels, cuts, too_long, leftovers, fresh = _tidiness(tree, mat)
        assert settings == len({(mark.level, mark.ruler) for mark in marks})
        assert levels == max((mark.level for mark in marks), default=0)
        assert cuts == len(marks)
        assert too_long == sum(mat is not None and mark.length > mat for mark in marks)
        assert [-area for area in leftovers] == sorted(
            (leaf.part.area for leaf in leaves if leaf.part.piece is None), reverse=True
        )
        assert fresh == sum(mark.maker is not None for mark in marks)
