"""Certificates of bounds are worked out again, and a spoiled one is told."""

from dataclasses import replace

import pytest

from sheetcut.check import bounds_again, faults_in
from sheetcut.check.weights import greatest
from sheetcut.nest import lay_out
from sheetcut.plan import plan_from
from tests.nest.demo import RAG, SMOOTH, demo_job
from tests.nest.jobs import job_of, sizes


@pytest.fixture(scope="module")
def rag_plan():
    """The print paper, whose bound comes from weighing every way to cut a sheet."""
    job = demo_job()
    job = replace(
        job,
        sheets=tuple(sheet for sheet in job.sheets if sheet.paper == RAG),
        pieces=tuple(piece for piece in job.pieces if piece.paper == RAG),
    )
    return plan_from(job, [lay_out(job, RAG)])


def spoiled(plan, **changes):
    """Return the plan with something else in the first row of its certificate."""
    paper = plan.papers[0]
    certificate = dict(paper.bound.certificate)
    row = dict(certificate["rows"][0], **changes)
    bound = replace(paper.bound, certificate=certificate | {"rows": [row]})
    return replace(plan, papers=(replace(paper, bound=bound),))


def messages(plan):
    return [fault.message for fault in faults_in(plan)]


def test_the_print_papers_proof_is_worked_out_again(rag_plan):
    """Its pattern bound is £41.80; the next sum of prices that can be made is £45.60."""
    paper = rag_plan.papers[0]
    assert paper.bound.value == 4560
    assert paper.bound.certificate["form"] == "weights 1"
    assert not faults_in(rag_plan)


def test_a_sheet_that_carries_more_is_told(rag_plan):
    capacity = dict(rag_plan.papers[0].bound.certificate["rows"][0]["capacity"])
    capacity["RAG-L"] -= 1
    assert "RAG-L can carry more than the bound's certificate says" in messages(
        spoiled(rag_plan, capacity=capacity)
    )


def test_weights_that_bound_less_are_told(rag_plan):
    weights = dict.fromkeys(rag_plan.papers[0].bound.certificate["rows"][0]["weights"], 0)
    assert "sheets that cost less than the bound could satisfy its certificate" in messages(
        spoiled(rag_plan, weights=weights)
    )


@pytest.mark.parametrize(
    "changes",
    [{"weights": None}, {"capacity": {"RAG-L": -1}}, {"weights": {"P01": 1.5}}, {"cells": [1]}],
)
def test_rows_that_are_not_rows_are_told(rag_plan, changes):
    found = messages(spoiled(rag_plan, **changes))
    assert "the bound's certificate is not written as rows of weights in whole numbers" in found


def test_a_sheet_left_out_is_told(rag_plan):
    found = messages(spoiled(rag_plan, capacity={"RAG-L": 10**9}))
    assert "the bound's certificate does not say what RAG-A2 carries" in found


@pytest.mark.parametrize("turn", ["yes", "no"])
@pytest.mark.parametrize(
    ("sheet", "pieces"),
    [
        ((12, 12), "4x12*3, 7x12*2, 8x6"),
        ((20, 20), "14x2, 1x5, 20x4*2, 12x3*3, 11x8*2, 11x6*2, 7x9, 17x5, 7x14*2, 1x7*3"),
        ((250, 250), "167x184, 114x118, 167x152, 83x140, 70x86, 143x166, 120x160, 66x148"),
        ((10, 10), "6x6*3, 7x5*2, 9x9, 2x2*4"),
        ((1000, 700), "311x207*5, 173x411*3, 97x610*4, 402x299*6, 251x333*5, 119x127*9"),
    ],
)
def test_what_the_engine_hands_over_holds(sheet, pieces, turn):
    job = job_of(sizes(pieces), [sheet], turn)
    answer = lay_out(job, "rag", rounds=200)
    assert not faults_in(plan_from(job, [answer]))


def test_the_demos_drawing_paper_is_proved_by_areas_and_prices():
    job = demo_job()
    answer = lay_out(job, SMOOTH)
    assert answer.bound.certificate is not None
    assert {row["argument"] for row in answer.bound.certificate["rows"]} <= {"area", "fit"}


def test_the_plain_table_gives_published_values():
    """gcut1, any number of each, fixed: 56460 (Beasley 1985, proved again by an exact run)."""
    pieces = "167x184, 114x118, 167x152, 83x140, 70x86, 143x166, 120x160, 66x148, 87x141, 69x165"
    blanks = [(w, h, w * h) for w, h, _ in sizes(pieces)]
    assert greatest((250, 250), blanks) == 56460
    turned = [(h, w, value) for w, h, value in blanks]
    assert greatest((250, 250), blanks + turned) == 58136


def test_a_bound_with_nothing_to_show_carries_no_certificate():
    job = job_of([(5, 5)], [(4, 4)])
    assert lay_out(job, "rag").bound.certificate is None


def test_a_count_that_takes_too_long_leaves_the_bound_on_trust(rag_plan, monkeypatch):
    """Sheets of five prices took more steps than are made, and sound plans were refused."""
    assert bounds_again(rag_plan) == ((), ())
    monkeypatch.setattr("sheetcut.check.weights.MOST_STEPS", 0)
    assert not faults_in(rag_plan)
    assert bounds_again(rag_plan) == ((), (RAG,))
