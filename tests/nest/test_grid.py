"""Tables of values: the lengths that matter, coarse cells, and the trees read from a table."""

import random
from collections import Counter
from dataclasses import replace
from itertools import combinations_with_replacement

import pytest

from sheetcut.nest import grid as grids_of
from sheetcut.nest.board import Tree
from sheetcut.nest.grid import (
    alone,
    axis_of,
    cells_of,
    content,
    grids,
    groups,
    in_cells,
    joined,
    sums,
    work_for,
)
from sheetcut.nest.task import stocks_of, task_of
from tests.nest.jobs import job_of


def task_for(pieces, sheets, turn="yes", **rules):
    job = job_of(pieces, sheets, turn, **rules)
    counts = {i: piece.count for i, piece in enumerate(job.pieces)}
    turns = {i: piece.turn for i, piece in enumerate(job.pieces)}
    return task_of(job, "rag", stocks_of(job, "rag"), turns, counts)


@pytest.mark.parametrize("seed", range(30))
def test_sums_are_all_that_sides_add_up_to(seed):
    chance = random.Random(seed)
    run, sides = chance.randint(1, 24), [chance.randint(1, 12) for _ in range(3)]
    every = {
        sum(row)
        for n in range(run + 1)
        for row in combinations_with_replacement(sorted(set(sides)), min(n, 24))
        if sum(row) <= run
    }
    assert sums(run, sides) == sorted(every)


@pytest.mark.parametrize("seed", range(20))
def test_an_axis_knows_rests_and_halves(seed):
    chance = random.Random(seed)
    run, sides = chance.randint(5, 40), [chance.randint(2, 15) for _ in range(3)]
    axis = axis_of(run, sides)
    spots = axis.spots
    for i, spot in enumerate(spots):
        assert axis.half[i] == sum(0 < one <= spot / 2 for one in spots)
        for j, cut in enumerate(spots[: i + 1]):
            assert spots[axis.rest[i, j]] == max(one for one in spots if one <= spot - cut)
    for length in range(run + 1):
        assert spots[axis.place(length)] == max(one for one in spots if one <= length)
    assert axis.flat.tolist() == axis.rest.ravel().tolist()
    assert axis.halves.tolist() == list(axis.half)


@pytest.mark.parametrize("seed", range(20))
def test_stretches_follow_each_other_and_are_shorter_than_a_side(seed):
    chance = random.Random(seed)
    axis = axis_of(chance.randint(5, 40), [chance.randint(2, 15) for _ in range(3)])
    stretches = axis.stretches()
    places = [place for start, end in stretches for place in range(start, end)]
    assert places == list(range(1, len(axis.spots)))
    for start, end in stretches:
        assert axis.spots[end - 1] - axis.spots[start] < axis.spots[1]
        if end < len(axis.spots):
            assert axis.spots[end] - axis.spots[start] >= axis.spots[1]


@pytest.mark.parametrize("n", [2, 3, 7])
@pytest.mark.parametrize("run", [7, 10, 13])
def test_what_fits_a_run_fits_its_cells(run, n):
    """Every set of up to four sides; and the run itself is all its cells."""
    assert in_cells(run, run, n) == n
    for many in range(1, 5):
        for sides in combinations_with_replacement(range(1, run + 1), many):
            if sum(sides) <= run:
                assert sum(in_cells(side, run, n) for side in sides) <= n


def test_the_number_of_cells_keeps_most_of_the_sides():
    """Of 50 to 80 cells on a run of 1000, halves and quarters come out best where 4 divides them.

    in_cells gives ceil((n + 1) s / 1000) - 1: a quarter keeps n / 4 only if 4 divides n, and the
    fewest such cells are 52.
    """
    assert cells_of(1000, [250, 500], [1.0, 1.0]) == 52
    assert cells_of(1000, [200], [1.0]) == 50
    # Three of 200 weigh more than one of 250, and 60 serves both.
    assert cells_of(1000, [200, 250], [3.0, 1.0]) == 60


def test_stocks_share_a_table_where_every_blank_lies_the_same_ways():
    free = task_for([(4, 3), (6, 2)], [(10, 10), (8, 8), (5, 7)])
    assert groups(free) == [[0, 1, 2]]
    assert [sorted(one.stocks) for one in grids(free)] == [[0, 1, 2]]
    # A blank of 9 fits the first only, which says nothing of how it would lie on the second.
    assert groups(task_for([(4, 3), (9, 2)], [(10, 10), (8, 8)])) == [[0, 1]]


def test_grain_parts_the_tables():
    """Upright on the first and third, lying on the second."""
    job = job_of([(4, 3)], [(10, 10), (10, 10), (9, 9)], "grain up")
    task = with_grains(job, ("along height", "along width", "along height"))
    assert groups(task) == [[0, 2], [1]]


def test_a_stock_joins_those_that_it_agrees_with_every_one_of():
    """8 x 6 lies upright on the first and not on the last; the small one between takes neither."""
    job = job_of([(8, 6)], [(10, 10), (5, 5), (10, 10)], "grain up")
    grains = ("along height", "along height", "along width")
    assert groups(with_grains(job, grains)) == [[0, 1], [2]]


@pytest.mark.parametrize("side", [10, 11])
def test_what_fits_to_the_last_step_is_asked_about(side):
    """10 x 6 upright fills 10 x 6, and lying fits neither sheet; one that is 11 long fits none."""
    job = job_of([(side, 6)], [(10, 6), (10, 6)], "grain up")
    task = with_grains(job, ("along height", "along width"))
    assert groups(task) == ([[0], [1]] if side == 10 else [[0, 1]])


def with_grains(job, grains):
    sheets = tuple(replace(one, grain=g) for one, g in zip(job.sheets, grains, strict=True))
    job = replace(job, sheets=sheets)
    return task_of(job, "rag", stocks_of(job, "rag"), {0: "grain up"}, {0: 1})


def test_a_sheet_that_holds_nothing_is_left_whole():
    """5 x 5 takes none of 8 x 6, and 9 x 9 of no weight is as good as none."""
    task = task_for([(8, 6)], [(10, 10), (5, 5)])
    (grid,) = grids(task)
    for stock, weight in ((1, 7), (0, 0)):
        table = grid.table([weight])
        assert grid.steps(table, [weight], stock) == [-1]
        assert grid.counts(table, [weight], stock) == (0,)
        side = task.stocks[stock].wide
        assert grid.best_tree(table, [weight], stock) == Tree(side, side, free=side)


def test_a_blank_that_is_the_sheet_stands_in_a_row_by_itself():
    task = task_for([(8, 6)], [(8, 6)])
    (grid,) = grids(task)
    tree = grid.best_tree(grid.table([1]), [1], 0)
    assert tree == Tree(8, 6, 0, (Tree(8, 6, kind=0),))


def test_places_of_stocks_and_blanks_are_the_greatest_sums_that_fit():
    """Sides 3 and 4 on 11 x 9: 0, 3, 4, 6, 7, 8, 9, 10, 11 are all sums; 5 x 5 has 4 x 4."""
    task = task_for([(4, 3)], [(11, 9), (5, 5)])
    (grid,) = grids(task)
    assert grid.x.spots == (0, 3, 4, 6, 7, 8, 9, 10, 11)
    assert grid.y.spots == (0, 3, 4, 6, 7, 8, 9)
    assert grid.stocks == {0: (8, 6), 1: (2, 2)}
    assert {(one.wide, one.high, one.x, one.y) for one in grid.lying} == {
        (4, 3, 2, 1),
        (3, 4, 1, 2),
    }
    assert grid.work == 9 * 7 * (9 + 7) // 4 == 252
    # Each sheet by itself: 252, and 0, 3, 4 both ways on the second.
    assert work_for(task) == 252 + 3 * 3 * 6 // 4


def test_beyond_the_work_a_sheet_is_measured_in_cells():
    task = task_for([(400, 300, 2), (3, 3)], [(1100, 900)])
    (exact,) = grids(task, 10**9)
    (coarse,) = grids(task, 1000)
    assert exact.exact
    assert not coarse.exact
    assert coarse.too_thin == {1}
    assert {one.kind for one in coarse.lying} == {0}
    assert coarse.stocks == {0: (coarse.cells_across, coarse.cells_up)}
    assert (coarse.run, coarse.rise) == (1100, 900)


@pytest.mark.parametrize("seed", range(30))
def test_the_tree_of_a_table_has_its_value(seed):
    """And fills its sheet, cut by cut; ``content`` counts what it holds."""
    chance = random.Random(seed)
    sheets = [(chance.randint(12, 30), chance.randint(12, 30)) for _ in "ab"]
    pieces = [(chance.randint(2, 12), chance.randint(2, 12), 1) for _ in range(4)]
    task = task_for(pieces, sheets, chance.choice(("yes", "no")))
    weights = [chance.randint(1, 40) for _ in task.blanks]
    for grid in grids(task):
        table = grid.table(weights)
        for stock, (i, j) in grid.stocks.items():
            tree = grid.best_tree(table, weights, stock)
            held = content(tree, len(task.blanks))
            assert held == grid.counts(table, weights, stock)
            assert sum(n * w for n, w in zip(held, weights, strict=True)) == table[i, j]
            assert (tree.wide, tree.high) == (task.stocks[stock].wide, task.stocks[stock].high)
            assert tree.kind is None
            assert_filled(tree, task)


def assert_filled(tree, task):
    assert min(tree.wide, tree.high) > 0
    assert tree.free >= 0
    if tree.kind is not None:
        blank = task.blanks[tree.kind]
        assert sorted((tree.wide, tree.high)) == sorted((blank.wide, blank.high))
        return
    if not tree.members:
        return
    run = (tree.wide, tree.high)[tree.along]
    assert tree.free + sum((one.wide, one.high)[tree.along] for one in tree.members) == run
    for one in tree.members:
        assert (one.wide, one.high)[1 - tree.along] == (tree.wide, tree.high)[1 - tree.along]
        assert one.kind is not None or one.along != tree.along
        assert_filled(one, task)


LYING = grids_of.Lying(5, 4, 3, 0, 0)
BLANK = Tree(4, 3, kind=5)


@pytest.mark.parametrize(
    ("wide", "high", "tree"),
    [
        (4, 3, BLANK),
        (6, 3, Tree(6, 3, 0, (BLANK,), 2)),
        (4, 7, Tree(4, 7, 1, (BLANK,), 4)),
        (6, 7, Tree(6, 7, 0, (Tree(4, 7, 1, (BLANK,), 4),), 2)),
    ],
)
def test_a_blank_lies_in_the_corner(wide, high, tree):
    assert alone(LYING, wide, high) == tree


def test_rectangles_of_one_direction_become_one_row():
    row = Tree(6, 3, 0, (BLANK,), 2)
    nothing = Tree(5, 3, free=5)
    assert joined(0, row, nothing, 11, 3) == Tree(11, 3, 0, (BLANK,), 7)
    assert joined(0, row, BLANK, 10, 3) == Tree(10, 3, 0, (BLANK, BLANK), 2)
    assert joined(1, row, Tree(6, 4, free=6), 6, 7) == Tree(6, 7, 1, (row,), 4)
    column = Tree(4, 7, 1, (BLANK,), 4)
    assert joined(1, column, BLANK, 4, 10) == Tree(4, 10, 1, (BLANK, BLANK), 4)
    assert joined(0, column, column, 8, 7) == Tree(8, 7, 0, (column, column), 0)
    assert content(joined(0, row, row, 12, 3), 6) == (0, 0, 0, 0, 0, 2)
    assert Counter(content(nothing, 3)) == {0: 3}
