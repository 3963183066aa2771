"""Papers and restarts are independent tasks: any executor may search for them."""

import time
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace
from importlib.util import find_spec
from multiprocessing import get_context
from threading import Timer

import pytest

from sheetcut import Job, Piece, Rules, Sheet, make_plan, mm
from sheetcut.laying import GRACE_S, SEED_STEP, answers_from, answers_here, best_of, tasks_for
from sheetcut.layout import Answer, Bound, Candidate, Part, Short
from sheetcut.nest import Stop, lay_out

MADE = "2026-11-25T09:00:00+00:00"
LATE_S = 8  # how much later than asked on a busy machine; on an idle one it is 0.3


@pytest.fixture(scope="module")
def pool():
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as executor:
        yield executor


def open_job() -> Job:
    """Return a job that no bound proves soon, so that every restart counts."""
    sizes = [(71, 43), (67, 37), (61, 31), (59, 29), (53, 47), (41, 41), (73, 23), (37, 33)]
    pieces = tuple(Piece(f"{n}", "", "rag", mm(w), mm(h), 3) for n, (w, h) in enumerate(sizes))
    sheet = Sheet("S", "rag", mm(200), mm(150), grain="none")
    return Job((sheet,), pieces, Rules(reading_step=mm(1)))


def test_papers_laid_out_in_other_processes_give_the_same_plan(demo_job, pool):
    alone = make_plan(demo_job, rounds=2000, seconds=600, made=MADE)
    assert make_plan(demo_job, rounds=2000, seconds=600, made=MADE, executor=pool) == alone


def test_restarts_in_other_processes_give_the_same_plan(pool):
    alone = make_plan(open_job(), rounds=300, seconds=600, restarts=3)
    again = make_plan(open_job(), rounds=300, seconds=600, restarts=3, executor=pool)
    assert again == alone


def test_rounds_can_be_given_for_each_paper(demo_job):
    first = make_plan(demo_job, rounds=2000, seconds=600, made=MADE)
    used = {one.paper: one.rounds for one in first.papers}
    again = make_plan(demo_job, rounds=used, seconds=600, made=MADE)
    assert again.papers == first.papers


def answer(sheets: int, bound: int, short: int = 0) -> Answer:
    trees = tuple(("S", Part(mm(200), mm(150))) for _ in range(sheets))
    left = (Short(0, short, "paper ran out"),) if short else ()
    return Answer("rag", "fewest sheets", (Candidate(trees),), Bound("sheets", bound, "so"), left)


def test_the_best_of_several_searches_has_the_strongest_bound_of_all():
    """Three sheets beat four, the earlier of two threes is taken, and two is a better bound."""
    first = answer(3, 1)
    best = best_of(open_job(), [answer(4, 1), first, answer(3, 2)])
    assert best == replace(first, bound=Bound("sheets", 2, "so"))
    assert best_of(open_job(), [answer(2, 1, short=1), first]) == first


def test_nothing_follows_a_search_that_is_proved():
    """One blank on one sheet is proved at once: only the first of three searches is made."""
    job = replace(open_job(), pieces=(Piece("D", "", "rag", mm(10), mm(10)),))
    tasks = tasks_for(job, seed=7, restarts=3, rounds=50)
    assert [task.seed for task in tasks] == [7, 7 + SEED_STEP, 7 + 2 * SEED_STEP]
    told: list[str] = []
    (found,) = answers_here(job, tasks, stop=Stop(60), tell=told.append)
    assert found == lay_out(job, "rag", seed=7, rounds=50)


def test_a_search_in_other_processes_is_finished_on_request(pool):
    """ "That will do" is heard by every process within the time that is promised."""
    job = open_job()
    make_plan(job, rounds=10, restarts=2, executor=pool)  # the processes are there from now on
    stop = Stop(60)
    tasks = tasks_for(job, seed=0, restarts=4, rounds=50_000_000)
    began = time.monotonic()
    Timer(0.5, stop.finish).start()
    answers_from(job, tasks, pool, stop=stop)
    assert time.monotonic() - began < 0.5 + GRACE_S + LATE_S


def test_the_limit_of_time_holds_for_all_tasks_together(pool):
    job = open_job()
    make_plan(job, rounds=10, restarts=2, executor=pool)
    tasks = tasks_for(job, seed=0, restarts=4, rounds=50_000_000)
    began = time.monotonic()
    (found,) = answers_from(job, tasks, pool, stop=Stop(1))
    assert time.monotonic() - began < 1 + GRACE_S + LATE_S
    assert found.candidates


class Deaf(Executor):
    """An executor on a machine out of reach: no task ever comes back."""

    def submit(self, fn, /, *args, **kwargs):
        future: Future = Future()
        future.set_running_or_notify_cancel()
        return future


def test_tasks_that_never_come_back_are_left_alone():
    stop = Stop(0.1)
    plan = make_plan(open_job(), restarts=2, stop=stop, executor=Deaf())
    assert not plan.short
    assert plan.layouts


def test_threads_will_do_too():
    with ThreadPoolExecutor(2) as threads:
        plan = make_plan(open_job(), rounds=100, restarts=2, seconds=600, executor=threads)
    assert plan == make_plan(open_job(), rounds=100, restarts=2, seconds=600)


@pytest.mark.skipif(
    find_spec("distributed") is None, reason="needs the extra `cluster`: distributed"
)
@pytest.mark.filterwarnings("ignore")
def test_a_dask_cluster_gives_the_same_plan(demo_job):
    """Two workers of a local cluster, asked through the executor that it offers."""
    from distributed import Client, LocalCluster  # noqa: PLC0415

    alone = make_plan(demo_job, rounds=500, seconds=600, restarts=2)
    with (
        LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,
        Client(cluster) as client,
    ):
        there = make_plan(
            demo_job, rounds=500, seconds=600, restarts=2, executor=client.get_executor()
        )
    assert there == alone
