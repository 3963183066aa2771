"""What is short and what to buy for it."""

from dataclasses import replace

import pytest

from sheetcut.answers.buying import Carriage, NotForSale
from sheetcut.answers.quote import quoted_piece
from sheetcut.answers.shopping import shopping
from sheetcut.check import faults_in
from sheetcut.job import Job, Pack, Piece, Sheet
from sheetcut.units import Edges, mm

SMOOTH = "Slatehouse Smooth"


def a5(job, count):
    margin = Edges(*[mm(12)] * 4)
    return quoted_piece(job, mm(148), mm(210), paper=SMOOTH, margin=margin, count=count)


def test_the_week_needs_nothing(demo_job):
    found = shopping(demo_job)
    assert found.papers == ()
    assert found.purchase.cost == 0


@pytest.fixture(scope="module")
def one_more(demo_job):
    """Return what to buy when one more A5 is ordered on the drawing paper."""
    more = a5(demo_job, 1)
    job = replace(demo_job, pieces=(*demo_job.pieces_of(SMOOTH), more))
    return shopping(job, sold=[replace(more, order="A5")])


def test_one_more_a5_takes_a_pack_of_five(one_more):
    """It is sold in fives for 76.00; a double elephant, sold single at 29.80, costs less now."""
    paper = one_more.papers[0]
    assert [(dict(one.sheets), one.cost) for one in paper.choices] == [
        ({"HP-DE": 1}, 2980),
        ({"HP-IMP": 1}, 7600),
    ]
    assert sum(short.count for short in paper.short) == 1
    assert one_more.purchase.cost == 2980
    assert one_more.purchase.surplus == {}


def test_every_choice_is_a_plan_that_passes_its_check(one_more):
    for choice in one_more.papers[0].choices:
        plan = choice.answer.plan()
        assert not plan.short
        assert faults_in(plan) == ()


def test_the_surplus_is_told_in_sizes_sold(demo_job):
    """Without the larger sheet five Imperial come; four are over, and each gives nine A5."""
    more = a5(demo_job, 1)
    sheets = [sheet for sheet in demo_job.sheets_of(SMOOTH) if sheet.id != "HP-DE"]
    pieces = [piece for piece in demo_job.pieces_of(SMOOTH) if piece.order != "D10"]
    job = replace(demo_job, sheets=tuple(sheets), pieces=(*pieces, more, replace(more, order="b")))
    found = shopping(job, sold=[replace(more, order="A5")])
    surplus = found.purchase.surplus["HP-IMP"]
    assert found.purchase.cost == 7600
    assert surplus == 5 - found.papers[0].chosen.sheets["HP-IMP"]
    assert [(one.gives.count, one.count) for one in found.makes] == [(9, 9 * surplus)]


def test_papers_bought_together_share_their_carriage():
    """Two papers at 10.00 and 12.00: 9.00 to send, or nothing from 22.00 on."""
    sheets = [
        Sheet("r", "Rag", mm(300), mm(200), on_hand=0, price=1000),
        Sheet("s", "Smooth", mm(300), mm(200), on_hand=0, price=1200),
    ]
    pieces = [
        Piece("a", "", "Rag", mm(200), mm(150)),
        Piece("b", "", "Smooth", mm(200), mm(150)),
    ]
    carriage = Carriage(((0, 900), (2200, 0)))
    found = shopping(Job(sheets, pieces), carriage=carriage)
    assert [one.chosen.sheets for one in found.papers] == [{"r": 1}, {"s": 1}]
    assert (found.purchase.goods, found.purchase.carriage) == (2200, 0)


def test_packs_decide_between_sizes():
    """Four blanks: two small sheets at 5.00, or one large at 9.00 that is sold in fives only."""
    small = Sheet("small", "Rag", mm(200), mm(100), on_hand=0, price=500)
    large = Sheet("large", "Rag", mm(200), mm(200), on_hand=0, price=900, packs=(Pack(5, 4500),))
    job = Job((small, large), (Piece("a", "", "Rag", mm(100), mm(100), count=4),))
    found = shopping(job)
    assert found.papers[0].chosen.sheets == {"small": 2}
    assert found.purchase.cost == 1000
    assert [one.cost for one in found.papers[0].choices] == [1000, 4500]


def test_what_has_no_price_cannot_be_bought():
    job = Job(
        (Sheet("s", "Rag", mm(200), mm(100), on_hand=0),), (Piece("a", "", "Rag", mm(9), mm(9)),)
    )
    with pytest.raises(NotForSale):
        shopping(job)
