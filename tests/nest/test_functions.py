"""Dual feasible functions by their definitions, every one at every length of a run."""

import random
from itertools import product

import numpy as np
import pytest

from sheetcut.nest import functions
from sheetcut.nest.functions import (
    counting,
    greatest,
    measures,
    parameters,
    rounding,
    stepped,
    threshold,
)

RUNS = [7, 10, 12]
EVERY = [(run, k) for run in RUNS for k in range(1, run // 2 + 1)]


def at_all(function, run, k, *more):
    lengths = np.arange(1, run + 1)
    values, whole = function(lengths, run, k, *more)
    return dict(zip(lengths.tolist(), values.tolist(), strict=True)), whole


@pytest.mark.parametrize(("run", "k"), EVERY)
def test_the_threshold_is_that_of_fekete_and_schepers(run, k):
    """2004, their U: nothing below k, the whole above run - k, and in between as it is."""
    values, whole = at_all(threshold, run, k)
    assert whole == run
    for x, value in values.items():
        assert value == (0 if x < k else run if x + k > run else x)


@pytest.mark.parametrize(("run", "k"), EVERY)
def test_rounding_counts_what_it_leaves_of_a_long_one(run, k):
    """Carlier, Clautiaux and Moukrim 2007: a length and what it leaves together are the whole."""
    values, whole = at_all(rounding, run, k)
    assert whole == 2 * (run // k)
    for x, value in values.items():
        if 2 * x < run:
            assert value == 2 * (x // k)
            assert values[run - x] == whole - value
        if 2 * x == run:
            assert 2 * value == whole
    assert values[run] == whole


@pytest.mark.parametrize(("run", "k"), EVERY)
@pytest.mark.parametrize("seed", range(4))
def test_counting_counts_what_a_long_one_keeps_out(run, k, seed):
    """As many of the shortest from k to half the run as fit side by side, by trying."""
    chance = random.Random(f"{run} {k} {seed}")
    counts = tuple(chance.randint(0, 2) for _ in range(run))
    some = sorted(
        x for x in range(1, run + 1) if k <= x and 2 * x <= run for _ in range(counts[x - 1])
    )

    def fitting(room):
        return max(n for n in range(len(some) + 1) if sum(some[:n]) <= room)

    values, whole = at_all(counting, run, k, counts)
    assert whole == fitting(run)
    for x, value in values.items():
        assert value == (whole - fitting(run - x) if 2 * x > run else int(x >= k))


@pytest.mark.parametrize("run", RUNS)
@pytest.mark.parametrize("k", range(2, 9))
def test_steps_are_those_of_the_whole_part(run, k):
    """(k + 1) x / run as it is where that is whole, times run / k; else its whole part."""
    values, whole = at_all(stepped, run, k)
    assert whole == k * run
    for x, value in values.items():
        whole_part, rest = divmod((k + 1) * x, run)
        assert value == (k * x if not rest else run * whole_part)


@pytest.mark.parametrize("run", RUNS)
def test_every_function_of_every_family_is_there_once(run):
    """Brought to lowest terms; none that measures everything as nothing."""
    lengths = tuple(range(1, run + 1))
    counts = (1,) * run
    x = np.array(lengths)
    plain = [(x, run), *(stepped(x, run, k) for k in range(2, 101))]
    for k in range(1, run // 2 + 1):
        plain += [threshold(x, run, k), rounding(x, run, k), counting(x, run, k, counts)]
    expected = set()
    for values, whole in plain:
        shared = np.gcd.reduce([*values.tolist(), whole])
        if shared and whole > 0 and values.any():
            expected.add((tuple((values // shared).tolist()), whole // shared))
    found = [(one.values, one.whole) for one in measures(run, lengths, counts)]
    assert len(found) == len(set(found))
    assert set(found) == expected


def test_parameters_of_a_short_run_are_all_to_its_half():
    assert parameters(9, (2, 5)) == [1, 2, 3, 4]
    assert parameters(300, (2, 5)) == list(range(1, 151))


def test_parameters_of_a_long_run_are_where_a_length_changes_its_value():
    """The values of two lengths change only at these k, so every other k repeats one of them."""
    run, lengths = 301, (90, 200)
    chosen = parameters(run, lengths)
    assert chosen == sorted(set(chosen))
    assert chosen[0] >= 1
    assert chosen[-1] <= 150
    x = np.array(lengths)
    tried = {tuple(threshold(x, run, k)[0].tolist()) for k in chosen}
    assert tried == {tuple(threshold(x, run, k)[0].tolist()) for k in range(1, 151)}
    tried = {tuple(counting(x, run, k, (3, 1))[0].tolist()) for k in chosen}
    assert tried == {tuple(counting(x, run, k, (3, 1))[0].tolist()) for k in range(1, 151)}
    # 301 // j, 90 // j, 200 // j; 90, 91, 101, 102; and (301 - x) // j + 1
    assert {75, 100, 150, 45, 30, 22, 66, 50, 90, 91, 101, 102, 106, 71, 53} <= set(chosen)


def test_too_many_parameters_are_thinned_evenly(monkeypatch):
    run, lengths = 1001, tuple(range(10, 400, 7))
    monkeypatch.setattr(functions, "MOST_PARAMETERS", run)
    every = parameters(run, lengths)
    monkeypatch.setattr(functions, "MOST_PARAMETERS", len(every))
    assert parameters(run, lengths) == every
    monkeypatch.setattr(functions, "MOST_PARAMETERS", len(every) - 1)
    assert parameters(run, lengths) == every[::2]
    assert parameters(2, (3,)) == [1]


def test_the_shortest_length_is_a_parameter_of_a_long_run():
    assert parameters(301, (1, 100))[0] == 1


@pytest.mark.parametrize("seed", range(30))
def test_the_greatest_sum_along_a_run_is_that_of_every_combination(seed):
    chance = random.Random(seed)
    run = chance.randint(1, 20)
    lengths = tuple(chance.sample(range(1, 24), 3))
    values = tuple(chance.randint(0, 9) for _ in lengths)
    every = product(*(range(run // x + 1) for x in lengths))
    assert greatest(run, lengths, values) == max(
        sum(n * v for n, v in zip(numbers, values, strict=True))
        for numbers in every
        if sum(n * x for n, x in zip(numbers, lengths, strict=True)) <= run
    )
