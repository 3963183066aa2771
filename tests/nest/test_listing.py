"""Bounds and plans by listing: against a count that tries everything, and published optima."""

from functools import cache
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetcut.layout import Answer
from sheetcut.nest import Stop, lay_out
from sheetcut.nest.bounds import area_rows
from sheetcut.nest.fronts import Fronts
from sheetcut.nest.listing import Sets, listing
from sheetcut.nest.stop import Stop as Ending
from tests.nest.jobs import assert_sound, job_of, sizes, value_of
from tests.nest.test_bounds import task_for
from tests.published.problems import problems

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


small = st.tuples(st.integers(1, 7), st.integers(1, 6))
few = st.lists(small, min_size=2, max_size=5)


@settings(deadline=None, max_examples=60)
@given(blanks=few, turning=st.booleans())
def test_a_set_is_cuttable_exactly_if_some_first_cut_is(blanks, turning):
    task = task_for(job_of([(*one, 1) for one in blanks], [(7, 6)], "yes" if turning else "no"))
    fronts = Fronts(task, range(len(task.blanks)), lambda work: None)
    name = sum(blank.count * fronts.one(place) for place, blank in enumerate(task.blanks))
    assert fronts.fits(name) == can_be_cut((7, 6), blanks, turning)


@settings(deadline=None, max_examples=60)
@given(blanks=few, turning=st.booleans(), n_sheets=st.integers(1, 4))
def test_a_listing_claims_only_what_is_true(blanks, turning, n_sheets):
    """A proof only below the fewest, a plan only from there on, and one of the two if cheap."""
    job = job_of([(*one, 1) for one in blanks], [(7, 6)], "yes" if turning else "no")
    task = task_for(job)
    row = area_rows(task)[0]
    outcome = listing(task, [row], n_sheets, is_due=lambda: False, most=1000)
    least = fewest((7, 6), blanks, turning)
    if row.total <= (n_sheets - 1) * row.capacity[0]:
        assert (outcome.listed, outcome.solution) == (None, None)
    elif n_sheets < least:
        assert outcome.listed is not None
    else:
        assert len(outcome.solution.sheets) <= n_sheets
        assert outcome.solution.kinds() == {i: one.count for i, one in enumerate(task.blanks)}


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


def of1() -> Answer:
    return lay_out(job_of(sizes(OF1.pieces), list(OF1.sheets), OF1.turn), "rag", rounds=4000)


def test_three_sheets_are_shown_to_be_too_few():
    """OF1 as written: four sheets are published as the optimum, by area three might do."""
    answer = of1()
    assert answer.bound.value == OF1.least
    assert answer.bound.reason.startswith("every way to fill a sheet well enough was listed, ")
    assert answer.bound.reason.endswith("no three of those hold all the blanks, so four at least")
    assert of1() == answer


def test_a_search_ended_while_listing_can_be_repeated_by_its_rounds():
    """Ended at the nth look at the clock, and repeated without a clock.

    The listing begins at about the 50th look and ends at about the 75th.
    """
    job = job_of(sizes(OF1.pieces), list(OF1.sheets), OF1.turn)
    for looks in (49, 60, 73, 75):
        ended = lay_out(job, "rag", rounds=4000, stop=Counted(looks))
        again = lay_out(job, "rag", rounds=ended.rounds)
        assert (again.candidates, again.bound) == (ended.candidates, ended.bound)


class Counted(Ending):
    """A stop that is due after so many looks."""

    __slots__ = ("looks",)

    def __init__(self, looks: int) -> None:
        super().__init__()
        self.looks = looks

    def is_due(self) -> bool:
        self.looks -= 1
        return self.looks < 0


def test_a_listing_that_would_take_long_claims_nothing():
    task = task_for(job_of(sizes(OF1.pieces), list(OF1.sheets), OF1.turn))
    outcome = listing(task, area_rows(task), 3, is_due=lambda: False, most=50)
    assert (outcome.rounds, outcome.listed, outcome.solution) == (50, None, None)
    assert not Sets(task, area_rows(task), 3, is_due=Stop(0).is_due).find()
