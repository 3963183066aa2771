"""What must hold for every job, on random jobs."""

import random
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from sheetcut.check import faults_in
from sheetcut.document import disagreements, plan_bytes, read_plan
from sheetcut.job import reading_step
from sheetcut.layout import Plan
from sheetcut.plan import make_plan
from tests.laws.jobs import jobs, scaled, transposed

ROUNDS = 20
few = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
fewer = settings(few, max_examples=30)


def planned(job, **options) -> Plan:
    """Return a plan that chance alone decides, never the clock."""
    return make_plan(job, rounds=ROUNDS, seconds=600, **options)


def ranges(plan: Plan) -> dict[str, tuple[int, int]]:
    """Return for each paper what it needs at the least and what its plan takes."""
    return {one.paper: (one.bound.value, one.value(plan.job)) for one in plan.papers}


def agree(one: Plan, other: Plan) -> bool:
    """Whether two plans of jobs that differ in nothing that matters can both be right."""
    first, second = ranges(one), ranges(other)
    return all(
        first[paper][0] <= second[paper][1] and second[paper][0] <= first[paper][1]
        for paper in first
    )


@few
@given(jobs())
def test_nothing_is_lost_and_every_sum_adds_up(job):
    plan = planned(job)
    assert not faults_in(plan)
    placed = Counter()
    for layout in plan.layouts:
        for place in layout.placements:
            placed[place.piece] += layout.copies
    for short in plan.short:
        placed[short.piece] += short.count
    assert placed == {number: piece.count for number, piece in enumerate(job.pieces)}
    for layout in plan.layouts:
        waste = layout.waste
        whole = waste.finished + waste.margins + waste.keepers + waste.scrap
        assert whole == layout.width * layout.height
    for paper in plan.papers:
        assert paper.bound.value <= paper.value(job)
        if paper.cost is not None and paper.layouts:
            assert sum(paper.shares.values()) == paper.cost


@few
@given(jobs())
def test_a_document_read_back_is_the_same_plan(job):
    plan = planned(job, made="2026-11-25T10:00:00+00:00")
    data = plan_bytes(plan)
    assert read_plan(data) == plan
    assert disagreements(data, plan) == ()


@fewer
@given(jobs())
def test_a_blank_is_enlarged_to_whole_steps_and_never_reduced(job):
    for paper in planned(job).papers:
        step = reading_step(job, paper.paper)
        for layout in paper.layouts:
            for place in layout.placements:
                piece = job.pieces[place.piece]
                asked = (piece.asked_width, piece.asked_height)
                width, height = (
                    (place.height, place.width) if place.turned else (place.width, place.height)
                )
                assert width % step == 0 and height % step == 0
                assert 0 <= width - asked[0] < step and 0 <= height - asked[1] < step


@fewer
@given(jobs(most_lines=4))
def test_the_same_job_seed_and_rounds_give_the_same_plan(job):
    assert planned(job, seed=3) == planned(job, seed=3)


@fewer
@given(jobs(most_lines=4))
def test_width_and_height_changing_places_changes_nothing_that_matters(job):
    one, other = planned(job), planned(transposed(job))
    assume(not one.short and not other.short)
    assert agree(one, other)


@fewer
@given(jobs(most_lines=4), st.randoms(use_true_random=False))
def test_the_order_of_rows_changes_nothing_that_matters(job, chance: random.Random):
    sheets = chance.sample(job.sheets, len(job.sheets))
    pieces = chance.sample(job.pieces, len(job.pieces))
    one, other = planned(job), planned(replace(job, sheets=sheets, pieces=pieces))
    assume(not one.short and not other.short)
    assert agree(one, other)


@fewer
@given(jobs(most_lines=4), st.sampled_from([2, 3]))
def test_a_job_drawn_larger_is_the_same_job(job, times):
    assume(job.rules.reading_step is not None)
    one, other = planned(job), planned(scaled(job, times))
    assume(not one.short and not other.short)
    assert agree(one, other)


@fewer
@given(jobs(most_lines=4))
def test_one_sheet_more_in_the_drawer_never_makes_a_plan_dearer_than_it_was_proved(job):
    one = planned(job)
    richer = replace(
        job,
        sheets=tuple(
            sheet if sheet.on_hand is None else replace(sheet, on_hand=sheet.on_hand + 1)
            for sheet in job.sheets
        ),
    )
    other = planned(richer)
    assume(not one.short and not other.short)
    assert all(low <= ranges(one)[paper][1] for paper, (low, _) in ranges(other).items())


@pytest.mark.parametrize("seed", range(3))
def test_a_seed_changes_chance_and_not_the_proof(seed, demo_job):
    plan = make_plan(demo_job, seed=seed, rounds=400, seconds=600)
    assert [one.value(demo_job) for one in plan.papers] == [7540, 4560, 144]
