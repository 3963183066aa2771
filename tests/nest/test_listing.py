"""Bounds and plans by listing: against a count that tries everything, and published optima."""

from functools import cache
from itertools import combinations, product
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetcut.layout import Answer
from sheetcut.nest import Stop, compiled, lay_out
from sheetcut.nest.bounds import area_rows
from sheetcut.nest.fronts import Fronts
from sheetcut.nest.listing import Sets, listing
from sheetcut.nest.needs import carried
from sheetcut.nest.rows import Row
from tests.nest.jobs import After, assert_sound, job_of, sizes, value_of
from tests.nest.test_bounds import task_for
from tests.published.problems import problems

MANY = 1_000_000  # rounds
OF1 = next(one for one in problems() if (one.name, one.turn) == ("OF1", "no"))


def can_be_cut(room, blanks, turning):
    """Whether blanks come out of a rectangle: every first cut tried, and where each blank goes."""

    @cache
    def holds(wide, high, some):
        if not some:
            return True
        if len(some) == 1:
            w, h = some[0]
            return (w <= wide and h <= high) or (turning and h <= wide and w <= high)
        for n in range(len(some)):
            for places in combinations(range(1, len(some)), n):
                one = tuple(some[i] for i in (0, *places))
                other = tuple(one_ for i, one_ in enumerate(some) if i and i not in places)
                if not other:
                    continue
                if any(
                    holds(x, high, one) and holds(wide - x, high, other) for x in range(1, wide)
                ):
                    return True
                if any(
                    holds(wide, y, one) and holds(wide, high - y, other) for y in range(1, high)
                ):
                    return True
        return False

    return holds(*room, tuple(blanks))


def fewest(room, blanks, turning):
    """Return how few sheets do: every way of sharing the blanks out tried."""
    if not blanks:
        return 0
    first, *rest = blanks
    best = len(blanks)
    for n in range(len(rest), -1, -1):
        for places in combinations(range(len(rest)), n):
            if can_be_cut(room, [first, *(rest[i] for i in places)], turning):
                others = [one for i, one in enumerate(rest) if i not in places]
                best = min(best, 1 + fewest(room, others, turning))
    return best


needs_compiled = pytest.mark.skipif(
    not compiled.is_possible(), reason="numba has no wheel for this machine"
)


small = st.tuples(st.integers(1, 7), st.integers(1, 6))
few = st.lists(small, min_size=2, max_size=5)


@settings(deadline=None, max_examples=25)
@given(blanks=few, turning=st.booleans())
def test_a_set_is_cuttable_exactly_if_some_first_cut_is(blanks, turning):
    task = task_for(job_of([(*one, 1) for one in blanks], [(7, 6)], "yes" if turning else "no"))
    fronts = Fronts(task, range(len(task.blanks)), [0])
    places = [place for place, blank in enumerate(task.blanks) for _ in range(blank.count)]
    assert fronts.fits(places, 0) == can_be_cut((7, 6), blanks, turning)


@settings(deadline=None, max_examples=25)
@given(blanks=few, turning=st.booleans(), n_sheets=st.integers(1, 4))
def test_a_listing_claims_only_what_is_true(blanks, turning, n_sheets):
    """A proof below the fewest sheets, a plan from there on."""
    job = job_of([(*one, 1) for one in blanks], [(7, 6)], "yes" if turning else "no")
    task = task_for(job)
    outcome = listing(task, area_rows(task), n_sheets, is_due=lambda: False, most=MANY)
    if n_sheets < fewest((7, 6), blanks, turning):
        assert outcome.listed is not None
    else:
        assert outcome.solution is not None
        assert len(outcome.solution.sheets) <= n_sheets
        assert outcome.solution.kinds() == {i: one.count for i, one in enumerate(task.blanks)}


@settings(deadline=None, max_examples=25)
@given(blanks=few, turning=st.booleans(), n_sheets=st.integers(1, 4))
def test_a_listing_ends_where_its_tables_are_full(blanks, turning, n_sheets):
    """A search of twenty seconds ended with an error: sets were tried though no room was left.

    Here there is none for sets of four, and what is claimed is still true.
    """
    job = job_of([(*one, 1) for one in blanks], [(7, 6)], "yes" if turning else "no")
    task = task_for(job)
    with patch("sheetcut.nest.listing.EXACT", 1), patch("sheetcut.nest.fronts.MOST_BLANKS", 3):
        outcome = listing(task, area_rows(task), n_sheets, is_due=lambda: False, most=MANY)
    if n_sheets < fewest((7, 6), blanks, turning):
        assert outcome.solution is None
    else:
        assert outcome.listed is None


def cheapest(stocks, blanks, turning):
    """Return the least cost of sheets of several sizes: every way of sharing the blanks out."""

    @cache
    def least(rest):
        if not rest:
            return 0
        best = None
        for n in range(len(rest)):
            for places in combinations(range(1, len(rest)), n):
                group = [rest[0], *(rest[i] for i in places)]
                others = tuple(one for i, one in enumerate(rest) if i and i not in places)
                for w, h, price in stocks:
                    if can_be_cut((w, h), group, turning):
                        cost = least(others)
                        if cost is not None and (best is None or price + cost < best):
                            best = price + cost
        return best

    return least(tuple(blanks))


STOCKS = [(7, 6, 40), (5, 6, 31), (4, 3, 17)]


@settings(deadline=None, max_examples=25)
@given(blanks=few, turning=st.booleans(), more=st.integers(-9, 4))
def test_a_listing_for_several_sizes_claims_only_what_is_true(blanks, turning, more):
    """A proof for a budget below the least cost, a plan for one that is enough."""
    job = job_of([(*one, 1) for one in blanks], STOCKS, "yes" if turning else "no")
    task = task_for(job)
    least = cheapest(STOCKS, blanks, turning)
    outcome = listing(task, area_rows(task), least + more, is_due=lambda: False, most=MANY)
    if more < 0:
        assert outcome.listed is not None
    else:
        assert outcome.solution is not None
        assert task.value(outcome.solution.used())[0] <= least + more
        assert outcome.solution.kinds() == {i: one.count for i, one in enumerate(task.blanks)}


@settings(deadline=None, max_examples=20)
@given(blanks=few, turning=st.booleans(), more=st.integers(-9, 4), closely=st.integers(1, 3))
def test_sets_taken_as_cuttable_make_no_false_claim(blanks, turning, more, closely):
    """So many blanks of a set are tried while listing; what is chosen is tried in full."""
    job = job_of([(*one, 1) for one in blanks], STOCKS, "yes" if turning else "no")
    task = task_for(job)
    least = cheapest(STOCKS, blanks, turning)
    with (
        patch("sheetcut.nest.listing.EXACT", closely),
        patch("sheetcut.nest.listing.MOST_SIFTED", closely),
    ):
        outcome = listing(task, area_rows(task), least + more, is_due=lambda: False, most=MANY)
    assert (outcome.listed is not None) == (more < 0)
    assert (outcome.solution is not None) == (more >= 0)


@settings(deadline=None, max_examples=25)
@given(
    weights=st.lists(st.integers(0, 9), min_size=3, max_size=3),
    limits=st.lists(st.none() | st.integers(0, 3), min_size=3, max_size=3),
    costs=st.lists(st.integers(1, 6), min_size=3, max_size=3),
    budget=st.integers(0, 20),
)
def test_what_sheets_within_a_budget_carry_is_the_best_of_all_numbers(
    weights, limits, costs, budget
):
    most = [budget if limit is None else limit for limit in limits]
    tried = [
        sum(n * w for n, w in zip(many, weights, strict=True))
        for many in product(*(range(min(n, budget) + 1) for n in most))
        if sum(n * cost for n, cost in zip(many, costs, strict=True)) <= budget
    ]
    row = Row((1,), tuple(weights), 100, "area")
    assert carried(row, costs, limits, budget) == max(tried)


@needs_compiled
@pytest.mark.parametrize("budget", [688, 720])
def test_the_compiled_loops_list_the_same(budget):
    one = next(one for one in problems() if one.name == "class 1, first of 20, five sizes")
    task = task_for(job_of(sizes(one.pieces), list(one.sheets), one.turn))
    plain = Sets(task, area_rows(task), budget, is_due=lambda: False)
    other = Sets(task, area_rows(task), budget, is_due=lambda: False, machine=compiled.wait())
    assert [sets.find() for sets in (plain, other)] == [True, True]
    assert (plain.found, plain.work) == (other.found, other.work)
    assert plain.found


@settings(deadline=None, max_examples=25)
@given(blanks=few, turning=st.booleans())
def test_no_bound_above_the_fewest_sheets(blanks, turning):
    job = job_of([(*one, 1) for one in blanks], [(7, 6)], "yes" if turning else "no")
    answer = lay_out(job, "rag", rounds=3000)
    assert_sound(job, answer)
    assert answer.bound.value <= fewest((7, 6), blanks, turning) == value_of(job, answer)


@pytest.mark.parametrize(
    "problem",
    [one for one in problems() if len(one.sheets) == 1 and len(one.sheets[0]) == 2],
    ids=lambda one: one.file,
)
def test_no_bound_above_a_published_optimum(problem):
    job = job_of(sizes(problem.pieces), list(problem.sheets), problem.turn)
    answer = lay_out(job, "rag", rounds=1800)
    assert_sound(job, answer)
    assert answer.bound.value <= problem.least


def of1(**options) -> Answer:
    compiled.wait()
    job = job_of(sizes(OF1.pieces), list(OF1.sheets), OF1.turn)
    return lay_out(job, "rag", **{"rounds": 60_000} | options)


@needs_compiled
def test_three_sheets_are_shown_to_be_too_few():
    """OF1 as written: four sheets are published as the optimum, by area three might do."""
    answer = of1()
    assert answer.bound.value == OF1.least
    assert answer.bound.reason.startswith("every way to fill a sheet well enough was listed, ")
    assert answer.bound.reason.endswith("no three of those hold all the blanks, so four at least")
    assert of1() == answer


@needs_compiled
def test_a_search_ended_while_listing_can_be_repeated_by_its_rounds():
    """Ended at the nth look at the clock, and repeated without a clock."""
    whole = After(10**9)
    of1(stop=whole)
    for share in (0.5, 0.9):
        ended = of1(stop=After(int(share * (10**9 - whole.left))))
        again = of1(rounds=ended.rounds)
        assert (again.candidates, again.bound) == (ended.candidates, ended.bound)


def test_a_listing_that_would_take_long_claims_nothing():
    task = task_for(job_of(sizes(OF1.pieces), list(OF1.sheets), OF1.turn))
    outcome = listing(task, area_rows(task), 3, is_due=lambda: False, most=50)
    assert (outcome.rounds, outcome.listed, outcome.solution) == (50, None, None)
    assert not Sets(task, area_rows(task), 3, is_due=Stop(0).is_due).find()


@needs_compiled
def test_the_five_sizes_are_proved_cheapest():
    """Pisinger and Sigurd 2005, class 1: the least costs were found by an exact model."""
    for one in problems():
        if "five sizes" in one.name:
            compiled.wait()
            answer = lay_out(job_of(sizes(one.pieces), list(one.sheets), one.turn), "rag")
            assert answer.bound.value == one.least
            assert answer.bound.reason.startswith(
                "every way to fill a sheet well enough for less than "
            )
