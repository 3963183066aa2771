"""Plans from a supply: what is supposed, what a seed is worth, what a bound says."""

from dataclasses import replace

import pytest

from sheetcut.answers import supply
from sheetcut.answers.supply import (
    Effort,
    bound_with_more,
    laid_out,
    plain_bound,
    question,
    supplied,
    with_more,
)
from sheetcut.answers.trees import merged, without_line
from sheetcut.check import faults_in
from sheetcut.job import Job, Pack, Paper, Piece, Sheet
from sheetcut.layout import Bound, Part, Short
from sheetcut.nest import Stop
from sheetcut.units import mm

QUICK = Effort(rounds=60)


def sheet(name, width, height, on_hand, price=None, **more):
    return Sheet(name, "Rag", mm(width), mm(height), on_hand=on_hand, price=price, **more)


def piece(order, width, height, count=1):
    return Piece(order, "", "Rag", mm(width), mm(height), count=count)


def test_as_little_as_can_be_is_supposed():
    """A large sheet on hand at 9.00 goes first, though two small ones cost 6.00 in all."""
    job = Job((sheet("large", 200, 100, 1, 900), sheet("small", 100, 100, 0, 300)),
              (piece("a", 90, 90, count=2),))  # fmt: skip
    found = supplied(question(job, "Rag"), QUICK)
    assert (found.supposed, found.value, found.proved) == ({}, 900, True)


def test_what_must_be_supposed_is_the_cheapest():
    """Three blanks: with the large sheet on hand one small one at 3.00, not a large at 9.00."""
    job = Job((sheet("large", 200, 100, 1, 900), sheet("small", 100, 100, 0, 300)),
              (piece("a", 90, 90, count=3),))  # fmt: skip
    found = supplied(question(job, "Rag"), QUICK)
    assert (found.supposed, found.value, found.proved) == ({"small": 1}, 1200, True)
    assert found.full_sheets == 2
    assert faults_in(found.plan()) == ()


def test_only_the_sizes_allowed_are_supposed():
    job = Job((sheet("large", 200, 100, 1, 900), sheet("small", 100, 100, 0, 300)),
              (piece("a", 90, 90, count=3),))  # fmt: skip
    found = supplied(question(job, "Rag"), QUICK, sizes=["large"])
    assert (found.supposed, found.value) == ({"large": 1}, 1800)


def test_an_offcut_is_never_supposed():
    job = Job((sheet("heron 1", 300, 300, 1, 500, kind="offcut"),), (piece("a", 200, 200, 2),))
    found = supplied(question(job, "Rag"), QUICK)
    assert sum(short.count for short in found.answer.short) == 1
    assert found.supposed == {}


def test_a_question_counts_sheets_where_a_price_is_missing():
    priced, bare = sheet("p", 100, 100, 1, 300), sheet("b", 100, 100, 1)
    both = question(Job((priced, bare), (piece("a", 9, 9),)), "Rag")
    assert both.papers == (Paper("Rag", aim="fewest sheets"),)
    packed = replace(bare, packs=(Pack(3, 1000),))
    assert question(Job((priced, packed), ()), "Rag").papers[0].aim == "least cost"
    assert question(Job((priced, packed), ()), "Rag").sheets[1].price == 334


def test_a_question_leaves_out_what_no_sheet_can_hold():
    job = Job((sheet("s", 100, 100, 1),), (piece("a", 90, 90), piece("b", 101, 20)))
    assert [one.order for one in question(job, "Rag").pieces] == ["a"]


def seed(width, height, count):
    """Return a sheet of 100 x 100 with blanks of line 0 side by side from the left."""
    column = Part(
        width, mm(100), "y", (Part(width, height, piece=0), Part(width, mm(100) - height))
    )
    rest = mm(100) - count * width
    return "s", Part(mm(100), mm(100), "x", (*[column] * count, Part(rest, mm(100))))


def test_a_seed_that_meets_the_bound_needs_no_search(monkeypatch):
    monkeypatch.setattr(supply, "lay_out", None)
    job = question(Job((sheet("s", 100, 100, 5, 100),), (piece("a", 40, 90, 2),)), "Rag")
    trees = (seed(mm(40), mm(90), 2),)
    assert plain_bound(job).value == 100
    found = laid_out(job, QUICK, seeds=[trees])
    assert (found.trees, found.proved) == (trees, True)


def test_a_dearer_seed_is_beaten_by_the_search():
    job = question(Job((sheet("s", 100, 100, 5, 100),), (piece("a", 40, 90, 2),)), "Rag")
    found = laid_out(job, QUICK, seeds=[(seed(mm(40), mm(90), 1),) * 2])
    assert found.value == 100


@pytest.mark.parametrize("is_short", [True, False])
def test_a_search_that_does_worse_does_not_replace_a_seed(monkeypatch, is_short):
    """It may leave pieces out, which looks cheap, or take a sheet more: the seed stands."""
    job = question(Job((sheet("s", 100, 100, 5, 100),), (piece("a", 40, 90, 4),)), "Rag")
    trees = (seed(mm(40), mm(90), 2),) * 2
    poor = (seed(mm(40), mm(90), 1),) * (1 if is_short else 4)
    real = supply.lay_out

    def worse(*args, **more):
        answer = real(*args, **more)
        short = (Short(0, 3, "paper ran out"),) if is_short else ()
        return replace(answer, candidates=(replace(answer.candidates[0], trees=poor),), short=short)

    monkeypatch.setattr(supply, "lay_out", worse)
    monkeypatch.setattr(supply, "plain_bound", lambda job: replace(plain_bound(job), value=100))
    found = laid_out(job, QUICK, seeds=[trees])
    assert found.trees == trees
    assert found.answer.short == ()


def test_a_line_taken_out_puts_its_empty_sheets_back():
    trees = (seed(mm(40), mm(90), 2), seed(mm(40), mm(90), 1))
    assert without_line(trees, 0) == ()
    assert len(without_line(trees, 1)) == 2


def test_more_sheets_are_added_to_those_on_hand():
    job = Job((sheet("s", 9, 9, 1), sheet("t", 9, 9, None)), ())
    more = with_more(job, {"s": 2, "t": 5})
    assert [one.on_hand for one in more.sheets] == [3, None]


def test_a_certificate_does_not_follow_its_bound_to_more_pieces():
    bound = Bound("sheets", 2, "because", {"form": "weights 1"})
    assert bound_with_more(bound) == Bound("sheets", 2, "because")


def test_leftovers_of_a_row_become_one():
    """Two leftovers with a blank between them, and a row that holds nothing at all."""
    blank = Part(20, 50, piece=0)
    empty = Part(30, 50, "y", (Part(30, 20), Part(30, 30)))
    tree = merged(Part(90, 50, "x", (empty, blank, Part(40, 50))))
    assert tree.parts == (blank, Part(70, 50))
    assert merged(empty) == Part(30, 50)
    assert merged(Part(20, 50, "x", (blank,))) == blank


def test_a_plan_made_of_an_answer_keeps_to_the_effort(monkeypatch):
    """A deckle that is kept asks for a second search, which nobody had told when to end."""
    told, plan_from = [], supply.plan_from

    def watched(*arguments, stop, **more):
        told.append(stop)
        return plan_from(*arguments, stop=stop, **more)

    monkeypatch.setattr(supply, "plan_from", watched)
    job = question(Job((sheet("S", 400, 300, 3),), (piece("a", 90, 80, 9),)), "Rag")
    found = laid_out(job, Effort(rounds=60, seconds=7))
    stop = Stop(0)
    assert found.plan(stop=stop) == found.plan()
    assert told[0] is stop
    assert 0 < told[1].seconds_left() <= 7
