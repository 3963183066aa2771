"""Bounds against exact counts: never above the truth, and the arguments one by one."""

import random
from dataclasses import replace

import numpy as np
import pytest

from sheetcut.nest import bounds
from sheetcut.nest.functions import counting, greatest, measures, rounding, stepped, threshold
from sheetcut.nest.patterns import Patterns
from sheetcut.nest.rows import Row, least
from sheetcut.nest.task import stocks_of, task_of
from tests.nest.jobs import job_of, sizes


def task_for(job):
    counts = {i: piece.count for i, piece in enumerate(job.pieces)}
    turns = {i: piece.turn for i, piece in enumerate(job.pieces)}
    return task_of(job, "rag", stocks_of(job, "rag"), turns, counts)


def test_blanks_that_may_not_turn_are_measured_beside_some_that_may():
    """The mirrored measure looked up a side that the fixed blank never lays along that edge.

    9 x 4 goes below one of three 7 x 6, of which no two share a 10 x 10 sheet: three sheets.
    """
    job = job_of([(9, 4), (7, 6, 3)], [(10, 10)])
    job = replace(job, pieces=(replace(job.pieces[0], turn="no"), job.pieces[1]))
    task = task_for(job)
    rows = bounds.function_rows(task)
    assert rows
    assert all(bounds.best_of(task, [row]) <= 3 for row in rows)


def test_no_two_of_the_largest_share_a_sheet():
    """Two 6 x 6 never come out of 10 x 10, whatever else does."""
    task = task_for(job_of(sizes("6x6*3, 7x5*2, 2x2*4"), [(10, 10)]))
    assert bounds.crowd_row(task).total == 3


@pytest.mark.parametrize("run", [10, 31, 60])
@pytest.mark.parametrize("seed", range(5))
def test_what_fits_side_by_side_still_fits_when_measured(run, seed):
    """Every family, every parameter: the best sum of values is at most the whole."""
    chance = random.Random(seed)
    lengths = tuple(sorted(chance.sample(range(1, run + 1), 6)))
    counts = tuple(chance.randint(1, 3) for _ in lengths)
    for measure in measures(run, lengths, counts):
        assert _most(run, lengths, counts, measure.values) <= measure.whole


def _most(run, lengths, counts, values):
    """Return the best sum of values, each length at most so often: every combination tried."""
    if not lengths:
        return 0
    return max(
        n * values[0] + _most(run - n * lengths[0], lengths[1:], counts[1:], values[1:])
        for n in range(min(counts[0], run // lengths[0]) + 1)
    )


def test_families_as_they_are_published():
    """Run 10, k = 3: 2 counts nothing, 8 the whole; 7 = 10 - 3 blocks one 3, so 2 (3 - 1)."""
    x = np.array([2, 3, 5, 7, 8])
    assert threshold(x, 10, 3)[0].tolist() == [0, 3, 5, 7, 10]
    # floor(10 / 3) = 3: twice the whole 3s for small ones, 6 less twice what still fits beside.
    assert rounding(x, 10, 3)[0].tolist() == [0, 2, 3, 4, 6]
    # Three lengths from 3 to 5 (3, 3, 4) fit into 10; beside a 7 one, beside an 8 none.
    lengths = np.array([3, 4, 7, 8])
    assert counting(lengths, 10, 3, (2, 1, 1, 1))[0].tolist() == [1, 1, 2, 3]
    # (k + 1) x / run whole: as it is, times k; else rounded down: 3 of 10 with k = 3 is 10.
    assert stepped(np.array([5, 3]), 10, 3)[0].tolist() == [15, 10]


def test_sums_along_a_run():
    assert greatest(10, (3, 4), (3, 5)) == 11  # 4 + 3 + 3


@pytest.mark.parametrize("seed", range(30))
def test_sheets_are_counted_exactly(seed):
    """Against every combination of up to 12 of each sheet."""
    chance = random.Random(seed)
    costs = [chance.choice([0, 1, 3, 7, 11]) for _ in range(3)]
    limits = [chance.choice([1, 2, 12]) for _ in range(3)]
    rows = [
        Row((), tuple(chance.randint(0, 9) for _ in range(3)), chance.randint(0, 40), "area")
        for _ in range(2)
    ]
    good = [
        sum(n * cost for n, cost in zip(numbers, costs, strict=True))
        for numbers in _combinations(limits)
        if all(
            sum(n * c for n, c in zip(numbers, row.capacity, strict=True)) >= row.total
            for row in rows
        )
    ]
    assert least(rows, costs, limits) == (min(good) if good else None)


def _combinations(limits):
    if not limits:
        return [()]
    return [(n, *rest) for n in range(limits[0] + 1) for rest in _combinations(limits[1:])]


PATTERN_BOUNDS = [  # name, sheet, pieces, least sheets by ways to cut, rounded up; none turned
    # Becker, Araujo and Buriol 2021, continuous bound of the plate-and-cut model.
    ("CHL5", (20, 20), "14x2, 1x5, 20x4*2, 12x3*3, 11x8*2, 11x6*2, 7x9, 17x5, 7x14*2, 1x7*3", 3),
    ("HH", (127, 98), "21x13*5, 36x17*4, 54x20*2, 24x27, 18x65*6", 2),
    (
        "OF2",
        (70, 40),
        "22x18*2, 40x10, 13x27*3, 23x18*2, 29x8*4, 16x4, 47x9, 19x19*4, 13x16*2, 36x16*4",
        4,
    ),
]


@pytest.mark.parametrize(("name", "sheet", "pieces", "fewest"), PATTERN_BOUNDS)
def test_pattern_bounds_reach_the_published_ones(name, sheet, pieces, fewest):
    patterns = Patterns(task_for(job_of(sizes(pieces), [sheet], "no")))
    patterns.run(floor=0, target=None, is_due=lambda: False)
    assert patterns.value == fewest


def test_a_coarse_grid_never_bounds_more_than_an_exact_one():
    chance = random.Random(3)
    pieces = [(chance.randint(90, 400), chance.randint(90, 400), 3) for _ in range(6)]
    task = task_for(job_of(pieces, [(760, 560)]))
    found = []
    for work in (1_000, 100_000_000):
        patterns = Patterns(task, most_work=work)
        assert patterns.is_exact == (work > 1_000)
        patterns.rounds = 60
        patterns.run(floor=0, target=None, is_due=lambda: False)
        found.append(patterns.value)
    assert 0 < found[0] <= found[1]
