"""The most valuable selection from one sheet, each piece so many times at most: published optima.

The table of values knows no limits, so it is worth no less. The listing knows them: told to look
for a sheet worth the optimum it has to find one, and for one worth a unit more to show that there
is none. The check's own listing is held to the same, and so is the whole way: a sheet at hand
for nothing is filled as well as it can be, where what is left must be bought at its area. Sources
stand beside the sizes in ``selection``; `python -m tests.bench.selection` takes all 59 sets.
"""

import pytest

from sheetcut.check import bounds_again, faults_in
from sheetcut.nest import compiled, lay_out
from sheetcut.plan import plan_from
from tests.published.selection import PAPER, typed
from tests.published.selection_ways import (
    FOUND,
    NONE,
    STEPS,
    assert_comes_out,
    best_listed,
    from_check,
    from_listing,
    from_table,
)

ALL = typed()
WITHIN = {"A1s", "CU1", "wang1", "wang2"}  # the sheet of the table happens to keep all limits
SMALL = {"cgcut1", "gcut1", "gcut5", "gcut9", "ngcut7", "ngcut10"} | {
    f"ngcut{i}" for i in range(1, 6)
}
LISTED = [("compiled", one) for one in ALL if one.name != "CU1"]
LISTED += [("plain", one) for one in ALL if one.name in SMALL]
FILLED = [("plain", one) for one in ALL if one.name in SMALL]
FILLED += [
    ("compiled", one)
    for one in ALL
    if one.name in {"cgcut3", "wang20", "OF1", "CHL2"} and one.turn == "no"
]
BY_AREA = [
    one
    for one in ALL
    if one.name != "CU1" and all(p.value == p.width * p.height for p in one.pieces)
]
PROVED = [
    one
    for one in BY_AREA
    if one.name in {"CHL5", "OF2", "gcut1", "gcut5", "gcut9"} and one.turn == "no"
]
CHECK_STEPS = 400_000


def named(problem):
    if isinstance(problem, str):
        return problem
    return f"{problem.name}-{'turned' if problem.turn == 'yes' else 'as-written'}"


def loops(machine):
    if machine == "plain":
        return None
    if not compiled.is_possible():
        pytest.skip("numba has no wheel for this machine")
    return compiled.wait()


@pytest.mark.parametrize("machine", ["plain", "compiled"])
@pytest.mark.parametrize("problem", ALL, ids=named)
def test_without_limits_a_sheet_is_worth_no_less_and_the_same_if_it_keeps_them(problem, machine):
    worth, filled = from_table(problem, loops(machine))
    assert_comes_out(problem, filled.tree)
    assert filled.worth == worth >= problem.best
    assert filled.keeps_limits(problem) or problem.name not in WITHIN
    assert not filled.keeps_limits(problem) or worth == problem.best


@pytest.mark.parametrize(("machine", "problem"), LISTED, ids=named)
def test_the_listing_finds_the_optimum_and_shows_that_nothing_is_worth_more(machine, problem):
    most, _ = from_table(problem)
    word, filled = from_listing(problem, problem.best, most, loops(machine))
    assert word == FOUND
    assert_comes_out(problem, filled.tree)
    assert filled.keeps_limits(problem)
    assert filled.worth == problem.best
    assert from_listing(problem, problem.best + 1, most, loops(machine)) == (NONE, None)


@pytest.mark.parametrize("share", [99, 90])
@pytest.mark.parametrize(("machine", "problem"), FILLED, ids=named)
def test_the_best_of_all_that_are_listed_is_worth_the_optimum(machine, problem, share):
    """Told to look for less than the optimum, in hundredths of it."""
    most, _ = from_table(problem)
    need = problem.best * share // 100
    assert best_listed(problem, need, most, loops(machine)) == problem.best


def test_a_listing_that_takes_too_many_steps_claims_nothing():
    """CU1: the very first of its listings; the optimum is published all the same."""
    (problem,) = (one for one in ALL if one.name == "CU1")
    for need in (problem.best, problem.best + 1):
        assert from_listing(problem, need, problem.best, None, most_work=100_000) == (STEPS, None)


@pytest.mark.parametrize("problem", [one for one in ALL if one.name in SMALL], ids=named)
def test_the_listing_of_the_check_finds_the_same(problem):
    most, _ = from_table(problem)
    assert from_check(problem, problem.best, most, CHECK_STEPS) == problem.best
    assert from_check(problem, problem.best + 1, most, CHECK_STEPS) == 0


@pytest.mark.parametrize("problem", [one for one in BY_AREA if one not in PROVED], ids=named)
def test_what_must_be_bought_beside_a_sheet_at_hand_is_never_bounded_beyond(problem):
    """All pieces together less the best selection; see ``Selection.bought``."""
    job = problem.bought()
    plan = plan_from(job, [lay_out(job, PAPER, rounds=1_000)])
    assert not faults_in(plan)
    assert plan.papers[0].bound.value <= problem.total - problem.best
    assert plan.papers[0].value(job) >= problem.total - problem.best


@pytest.mark.parametrize("problem", PROVED, ids=named)
def test_what_must_be_bought_is_proved_and_the_check_works_it_out_again(problem):
    loops("compiled")
    job = problem.bought()
    plan = plan_from(job, [lay_out(job, PAPER, rounds=20_000)])
    assert plan.papers[0].value(job) == problem.total - problem.best
    assert plan.papers[0].bound.value == problem.total - problem.best
    assert bounds_again(plan) == ((), ())
