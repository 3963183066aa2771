"""What must hold of leave-ons, flags, marks and slack for every job, on random jobs."""

import random
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from sheetcut.document import disagreements, plan_bytes, read_plan
from sheetcut.handling import flags, marks, mirrored, narrow_cuts
from sheetcut.job import reading_step
from sheetcut.units import mm
from tests.handling.test_marking import gives_all
from tests.handling.test_slack import gives_every_blank, slack
from tests.laws.jobs import jobs
from tests.laws.test_laws import fewer, planned


@st.composite
def bench_jobs(draw):
    """Return a job with a bench: a mat, a ruler, a narrowest strip; prints among the drawings."""
    job = draw(jobs(most_lines=4))
    rng = random.Random(draw(st.integers(0, 2**32)))
    kinds = ("drawing", "drawing", "print", "card")
    return replace(
        job,
        pieces=tuple(replace(piece, kind=rng.choice(kinds)) for piece in job.pieces),
        rules=replace(
            job.rules,
            narrowest_strip=mm(draw(st.sampled_from([5, 10, 20, 40]))),
            mat=(mm(300), mm(200)),
            ruler=mm(500),
            printer_width=mm(150),
        ),
    )


@fewer
@given(bench_jobs())
def test_leave_ons_are_slivers_on_drawings_and_no_drawing_has_one_cut_off(job):
    plan = planned(job)
    for layout in plan.layouts:
        for place in layout.placements:
            if any(place.leave_on):
                assert job.pieces[place.piece].kind == "drawing"
                assert max(place.leave_on) < 2 * job.rules.narrowest_strip
        narrow = {cut.number for cut, _ in narrow_cuts(job, layout)}
        drawings = [p for p in layout.placements if job.pieces[p.piece].kind == "drawing"]
        if len(drawings) == len(layout.placements):
            # Only a blank that is itself so narrow makes a narrow cut.
            least = min(min(p.width, p.height) for p in drawings)
            assert not narrow or least < job.rules.narrowest_strip


@fewer
@given(bench_jobs())
def test_steps_marks_and_slack_hold_with_a_bench_too(job):
    plan = planned(job)
    data = plan_bytes(plan)
    assert read_plan(data) == plan
    assert disagreements(data, plan) == ()
    for paper in plan.papers:
        step = reading_step(job, paper.paper)
        for layout in paper.layouts:
            table = marks(layout, step=step)
            assert not any(mark.why_not for mark in table)
            assert gives_all(layout, table)
            assert gives_all(mirrored(layout), table)
            bare = replace(
                layout, placements=tuple(p for p in layout.placements if not any(p.leave_on))
            )
            assert gives_every_blank(bare, *slack(layout))
            numbers = {cut.number for cut in layout.cuts} | {s.number for s in layout.squaring}
            assert {flag.number for flag in flags(job, layout)} <= numbers | {None}
