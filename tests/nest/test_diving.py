"""Plans by diving: complete, within their budget, never better than the fewest there can be."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetcut.nest import compiled, diving, lay_out, search
from sheetcut.nest.diving import Dives
from sheetcut.nest.patterns import Patterns
from sheetcut.nest.search import Search
from tests.nest.jobs import After, job_of, sizes
from tests.nest.test_bounds import task_for
from tests.nest.test_listing import STOCKS, cheapest, few, fewest, needs_compiled

MANY = 1_000_000  # rounds


def dives_for(task, seed=0):
    return Dives(task, Patterns(task), seed)


def dive(dives, budget, most=MANY, machine=None):
    return dives.dive(budget, is_due=lambda: False, machine=lambda: machine, most=most)


@settings(deadline=None, max_examples=25)
@given(blanks=few, turning=st.booleans(), n=st.integers(1, 3))
def test_a_dive_finds_no_plan_where_there_is_none(blanks, turning, n):
    """Held against every way of sharing the blanks out among sheets."""
    task = task_for(job_of([(*one, 1) for one in blanks], [(7, 6)], "yes" if turning else "no"))
    dives = dives_for(task)
    least = fewest((7, 6), blanks, turning)
    for _ in range(n):
        _, solution = dive(dives, least - 1)
        assert solution is None


@settings(deadline=None, max_examples=25)
@given(blanks=few, turning=st.booleans())
def test_a_dive_into_several_sizes_holds_every_blank_and_keeps_its_budget(blanks, turning):
    job = job_of([(*one, 1) for one in blanks], STOCKS, "yes" if turning else "no")
    task = task_for(job)
    least = cheapest(STOCKS, blanks, turning)
    assert dive(dives_for(task), least - 1)[1] is None
    _, solution = dive(dives_for(task), least + 40)  # the price of the largest sheet to spare
    if solution is not None:
        assert solution.kinds() == {i: one.count for i, one in enumerate(task.blanks)}
        assert task.value(solution.used())[0] <= least + 40


def test_a_dive_takes_no_more_sheets_of_a_size_than_there_are():
    """Nine of 4 x 3 on one sheet of 12 x 3, which holds three, and as many of 4 x 6 as it takes."""
    job = job_of([(4, 3, 9)], [(12, 3, 3), (4, 6, 3)], "no")
    job = replace(job, sheets=(replace(job.sheets[0], on_hand=1), job.sheets[1]))
    _, solution = dive(dives_for(task_for(job)), 12)
    assert solution is not None
    assert solution.used() == {0: 1, 1: 3}


def test_a_dive_ends_when_its_rounds_are_used():
    task = task_for(job_of(*CLASS_7))
    for most in (1, 13, 400):
        used, _ = dive(dives_for(task), 12, most)
        assert used <= most


def test_the_same_seed_dives_the_same_way():
    task = task_for(job_of(*CLASS_7))
    runs = [
        [dive(dives, 13, 3_000) for _ in range(3)] for dives in (dives_for(task), dives_for(task))
    ]
    assert runs[0] == runs[1]


def test_a_dive_leaves_the_other_programme_as_it_was():
    """What is left to cut is asked for in its own: the bound and the listing know of no dive."""
    task = task_for(job_of(*CLASS_7))
    patterns = Patterns(task)
    patterns.run(floor=0, target=None, is_due=lambda: False)
    before = patterns.programme.solve(), list(patterns.patterns)
    dive(Dives(task, patterns, 0), 12, 400)
    assert (patterns.programme.solve(), list(patterns.patterns)) == before


# Class 7, 40 pieces, fourth of ten, turning allowed: 12 sheets, proved in 13 s by an exact model
# (Berkey and Wang 1987, 10.1057/jors.1987.70; Martello and Vigo 1998, 10.1287/mnsc.44.3.388).
CLASS_7 = (
    sizes(
        "68x43, 72x39*2, 67x42, 84x20, 67x19, 81x5, 69x23, 97x43, 73x6, 98x33, 80x17, 84x27, "
        "83x55, 34x81, 99x22, 19x22, 76x17, 88x24, 86x89, 23x29, 92x87, 87x67, 92x48, 77x24, "
        "75x12, 99x8, 16x85, 34x79, 97x99, 81x10, 69x21, 75x27, 42x98, 71x23, 69x25, 69x47, "
        "98x56, 69x48, 78x41"
    ),
    [(100, 100)],
)


@needs_compiled
def test_dives_find_a_published_optimum():
    task = task_for(job_of(*CLASS_7))
    dives, machine = dives_for(task), compiled.wait()
    found = [dive(dives, 12, machine=machine)[1] for _ in range(6)]
    assert any(found)
    assert all(one is None or len(one.sheets) == 12 for one in found)


@pytest.mark.parametrize("times", [30, 60, 90, 120])
def test_a_dive_that_was_stopped_is_repeated_by_its_rounds(times, monkeypatch):
    for name in ("FIRST_ROUNDS", "MORE_ROUNDS", "MANY_ROUNDS", "BETWEEN_DIVES"):
        monkeypatch.setattr(search, name, 64)
    monkeypatch.setattr(diving, "SHORT", 1_500)
    dived = []
    monkeypatch.setattr(Search, "_dive", _noted(Search._dive, dived))
    job = job_of(*CLASS_7)
    stopped = lay_out(job, "rag", rounds=MANY, stop=After(times), cores=1)
    assert stopped.stopped
    assert dived
    again = lay_out(job, "rag", rounds=stopped.rounds, cores=1)
    assert again.candidates == stopped.candidates


def _noted(method, calls):
    def noted(self):
        calls.append(self.used)
        method(self)

    return noted
