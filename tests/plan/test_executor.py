"""Papers are independent tasks: any executor may lay them out."""

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

from sheetcut import make_plan

MADE = "2026-11-25T09:00:00+00:00"


def test_papers_laid_out_in_other_processes_give_the_same_plan(demo_job):
    alone = make_plan(demo_job, rounds=2000, seconds=600, made=MADE)
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        assert make_plan(demo_job, rounds=2000, seconds=600, made=MADE, executor=pool) == alone


def test_rounds_can_be_given_for_each_paper(demo_job):
    first = make_plan(demo_job, rounds=2000, seconds=600, made=MADE)
    used = {one.paper: one.rounds for one in first.papers}
    again = make_plan(demo_job, rounds=used, seconds=600, made=MADE)
    assert again.papers == first.papers
