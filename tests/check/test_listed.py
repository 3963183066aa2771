"""Certificates of listings are worked out again, and a spoiled or a false one is told."""

from dataclasses import replace
from unittest.mock import patch

import pytest

from sheetcut.check import bounds_again, faults_in
from sheetcut.check.listed import QUICK_STEPS
from sheetcut.nest import compiled, lay_out
from sheetcut.plan import plan_from
from tests.nest.jobs import job_of, sizes
from tests.published.problems import problems

FIVE = [one for one in problems() if "five sizes" in one.name]


@pytest.fixture(scope="module", params=FIVE[::3], ids=lambda one: one.file)
def proved(request):
    """A plan proved cheapest by a listing; the least cost is published."""
    if compiled.is_possible():
        compiled.wait()
    one = request.param
    job = job_of(sizes(one.pieces), list(one.sheets), one.turn)
    plan = plan_from(job, [lay_out(job, "rag")])
    assert plan.papers[0].bound.value == one.least
    assert plan.papers[0].bound.certificate["form"] == "listing 1"
    return plan


def with_bound(plan, **changes):
    paper = plan.papers[0]
    bound = replace(paper.bound, **changes)
    paper = replace(paper, bound=bound, proved=paper.value(plan.job) == bound.value)
    return replace(plan, papers=(paper,))


def messages(plan):
    return [fault.message for fault in faults_in(plan)]


def test_a_listing_is_worked_out_again(proved):
    assert not faults_in(proved)
    assert bounds_again(proved) == ((), ())


def test_a_bound_above_what_a_plan_needs_is_told(proved):
    """The plan at hand is within the next higher budget, so its sets must come up."""
    value = proved.papers[0].bound.value
    assert "sheets that cost less than the bound can hold all blanks" in messages(
        with_bound(proved, value=value + 1)
    )


def test_a_sheet_that_carries_more_is_told(proved):
    certificate = proved.papers[0].bound.certificate
    row = certificate["rows"][0]
    name, most = max(row["capacity"].items(), key=lambda one: one[1])
    spoiled = dict(row, capacity=row["capacity"] | {name: most - 1})
    found = messages(with_bound(proved, certificate=dict(certificate, rows=[spoiled])))
    assert f"{name} can carry more than the bound's certificate says" in found


def test_weights_of_nothing_make_it_long_and_not_false(proved):
    """Under no weights every set is worth having; nothing is claimed that was not seen."""
    certificate = proved.papers[0].bound.certificate
    row = certificate["rows"][0]
    empty = dict(row, weights=dict.fromkeys(row["weights"], 0))
    plan = with_bound(proved, certificate=dict(certificate, rows=[empty]))
    with patch("sheetcut.check.certificate.PATIENT_STEPS", QUICK_STEPS):
        assert bounds_again(plan) in (((), ("rag",)), ((), ()))
    assert not faults_in(plan)


@pytest.mark.parametrize("rows", [None, [], [{"weights": {"P0": 0.5}, "capacity": {}}]])
def test_rows_that_are_not_rows_are_told(proved, rows):
    certificate = dict(proved.papers[0].bound.certificate, rows=rows)
    assert "the bound's certificate is not written as rows of weights in whole numbers" in messages(
        with_bound(proved, certificate=certificate)
    )


def test_what_takes_too_long_is_left_on_trust_and_said(proved):
    with patch("sheetcut.check.certificate.PATIENT_STEPS", 100):
        assert bounds_again(proved) == ((), ("rag",))


def test_a_bound_without_working_is_left_on_trust(proved):
    assert bounds_again(with_bound(proved, certificate=None)) == ((), ("rag",))


def test_a_sheet_narrower_than_a_step_asks_for_no_row():
    """The engine leaves it out as no blank fits, and its proof says nothing of it."""
    one = FIVE[0]
    pieces = [(2 * width, 2 * height, count) for width, height, count in sizes(one.pieces)]
    sheets = [(2 * width, 2 * height, price) for width, height, price in one.sheets]
    job = job_of(pieces, sheets, one.turn)
    thread = replace(job.sheets[0], id="thread", width=1, height=200)
    rules = replace(job.rules, reading_step=2)
    job = replace(job, sheets=(*job.sheets, thread), rules=rules)
    plan = plan_from(job, [lay_out(job, "rag")])
    assert plan.papers[0].bound.certificate["form"] == "listing 1"
    assert bounds_again(plan) == ((), ())
