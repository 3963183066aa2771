"""One core or two, plain Python or compiled: the same plan after the same rounds."""

import random

import pytest

from sheetcut.nest import Stop, compiled, hunts, lay_out
from sheetcut.nest.turns import Turns
from tests.nest.jobs import After, assert_sound, job_of

pytestmark = pytest.mark.skipif(
    not compiled.is_possible(), reason="numba has no wheel for this machine"
)


def open_job(seed):
    """Return a job that plain arguments do not prove at once."""
    chance = random.Random(seed)
    pieces = [(chance.randint(9, 90), chance.randint(9, 90)) for _ in range(50)]
    sheets = [(100, 100, 100), (80, 60, 55)] if seed % 2 else [(100, 100)]
    return job_of(pieces, sheets)


@pytest.mark.parametrize("seed", range(4))
def test_two_cores_give_the_plan_that_one_gives(seed, monkeypatch):
    compiled.wait()
    job = open_job(seed)
    monkeypatch.setattr(hunts, "ALONE_ROUNDS", 2_000)
    answers = [lay_out(job, "rag", rounds=9_000, cores=cores) for cores in (1, 2)]
    assert answers[0] == answers[1]
    assert_sound(job, answers[0])


def test_the_compiled_kernel_gives_the_plan_that_plain_python_gives(monkeypatch):
    compiled.wait()
    job = open_job(1)
    fast = lay_out(job, "rag", rounds=1_500, cores=1)
    monkeypatch.setattr(compiled._state, "loaded", None)
    monkeypatch.setattr(compiled._state, "out_of_reach", True)
    assert lay_out(job, "rag", rounds=1_500) == fast


@pytest.mark.parametrize("cores", [1, 2])
def test_a_search_that_was_stopped_is_repeated_by_its_rounds(cores, monkeypatch):
    monkeypatch.setattr(hunts, "ALONE_ROUNDS", 2_000)
    compiled.wait()
    job = open_job(3)
    stopped = lay_out(job, "rag", rounds=10**9, stop=After(40), cores=cores)
    assert stopped.stopped
    again = lay_out(job, "rag", rounds=stopped.rounds)
    assert again.candidates == stopped.candidates


def test_that_will_do():
    stop = Stop()
    stop.finish()
    job = open_job(0)
    answer = lay_out(job, "rag", rounds=10**9, stop=stop)
    assert answer.stopped
    assert answer.rounds == 0
    assert_sound(job, answer)


def test_a_stop_goes_by_the_clock_it_is_given():
    now = [0.0]
    stop = Stop(5, clock=lambda: now[0])
    turns = Turns(stop, cores=1)
    assert not turns.stops()
    now[0] = 5.0
    assert turns.stops()
