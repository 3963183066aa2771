"""The work list, and blanks spoiled days after they were cut."""

from datetime import date, datetime

import pytest

from sheetcut.drawer import (
    Leftover,
    balances,
    correct_order,
    cut_plan,
    figures,
    in_drawer,
    move,
    order_rows,
    spoil,
    work_list,
)
from sheetcut.drawer.refusals import NotThere, WrongAmount
from sheetcut.units import in_mm2, mm
from tests.drawer.studio import NOW, SMOOTH, demo_plan, on_hand, state

LATER = datetime(2026, 12, 3, 11, 0)


@pytest.fixture
def cut(store):
    """Return the store with the demo week's drawing paper cut."""
    cut_plan(store, demo_plan(), now=NOW)
    return store


def stages(store):
    return {one.piece.order: one.stages for one in work_list(store)}


def test_blanks_move_on_and_out(cut):
    assert stages(cut)["D02"] == {"cut": 4}
    move(cut, "D02", "drawn", now=LATER, count=3)
    assert stages(cut)["D02"] == {"cut": 1, "drawn": 3}
    move(cut, "D02", "trimmed", now=LATER, count=2)
    assert stages(cut)["D02"] == {"cut": 1, "drawn": 1, "trimmed": 2}
    move(cut, "D02", "signed", now=LATER, count=1)  # the one nearest to it
    assert stages(cut)["D02"] == {"cut": 1, "drawn": 1, "trimmed": 1, "signed": 1}
    move(cut, "D02", "sent", now=LATER)
    assert "D02" not in stages(cut)
    with cut.reading() as rows:
        assert "D02" not in [row[0] for row in order_rows(rows)]


def test_the_list_is_in_order_of_the_days_promised(cut):
    correct_order(cut, "D10", now=NOW, due=date(2026, 12, 1))
    correct_order(cut, "D04", now=NOW, due=date(2026, 11, 30))
    orders = [one.piece.order for one in work_list(cut)]
    assert orders[:3] == ["D04", "D10", "D01"]
    assert str(work_list(cut)[0]) == "D04, D04: 1 cut"


@pytest.mark.parametrize(
    ("order", "stage", "count"),
    [
        ("D01", "printed", None),  # a drawing is drawn
        ("D01", "cut", None),
        ("D01", "spoiled", None),
        ("D01", "folded", None),
        ("D01", "drawn", 2),
        ("D01", "drawn", 0),
        ("D01", "drawn", -1),
    ],
)
def test_no_way_round_the_stages(cut, order, stage, count):
    before = state(cut)
    with pytest.raises(WrongAmount):
        move(cut, order, stage, now=LATER, count=count)
    assert state(cut) == before


def test_nothing_moves_back_but_by_undo(cut):
    before = state(cut)
    move(cut, "D01", "signed", now=LATER)
    with pytest.raises(WrongAmount):
        move(cut, "D01", "drawn", now=LATER)
    cut.undo(now=LATER)
    assert state(cut) == before


def test_an_unknown_order_is_offered_a_near_one(cut):
    with pytest.raises(NotThere, match='did you mean "D'):
        move(cut, "D0l", "drawn", now=LATER)


def test_a_spoiled_blank_is_wanted_again(cut):
    before = balances(cut)[SMOOTH]
    spoil(cut, "D01", now=LATER)
    (piece,) = cut.job().pieces
    assert (piece.order, piece.count) == ("D01", 1)
    after = balances(cut)[SMOOTH]
    assert after.is_even
    assert in_mm2(after.scrap - before.scrap) == 327 * 450
    assert in_mm2(before.finished - after.finished) == 297 * 420
    assert [(f.month, in_mm2(f.finished)) for f in figures(cut)][-1] == ("2026-12", -297 * 420)


def test_what_is_left_of_a_spoiled_blank_may_be_kept(cut):
    """A third of D10 is still clean; it lies as the piece stands, 580 wide."""
    before = balances(cut)[SMOOTH]
    spoil(cut, "D10", now=LATER, leftover=Leftover(mm(580), mm(270)))
    kept = next(one for one in in_drawer(cut) if one.sheet.kind == "offcut")
    assert (kept.sheet.id, kept.sheet.on_hand) == ("avocet 1", 1)
    assert kept.sheet.grain == "along height"
    # 29.80 x 580 x 270 / (686 x 1016) is 6.696
    assert kept.sheet.price == 670
    assert kept.origin == "plan K7QP, a spoiled blank of D10"
    after = balances(cut)[SMOOTH]
    assert after.is_even
    assert in_mm2(after.scrap - before.scrap) == 580 * 810 - 580 * 270
    cut.undo(now=LATER)
    assert on_hand(cut) == {"HP-IMP": 0, "HP-DE": 0}


def test_the_grain_turns_with_the_piece(cut):
    """D11 lies turned on the double elephant, whose grain runs along its height."""
    spoil(cut, "D11", now=LATER, leftover=Leftover(mm(170), mm(230), "knot 4"))
    kept = next(one.sheet for one in in_drawer(cut) if one.sheet.id == "knot 4")
    assert kept.grain == "along width"


def test_a_leftover_is_no_larger_than_its_blank(cut):
    with pytest.raises(WrongAmount, match="581 x 100 mm is more than the blank, 580 x 810 mm"):
        spoil(cut, "D10", now=LATER, leftover=Leftover(mm(581), mm(100)))


def test_which_are_spoiled_must_be_clear(cut):
    move(cut, "D02", "drawn", now=LATER, count=2)
    with pytest.raises(WrongAmount, match="2 cut, 2 drawn"):
        spoil(cut, "D02", now=LATER)
    spoil(cut, "D02", now=LATER, state="drawn")
    assert stages(cut)["D02"] == {"cut": 2, "drawn": 1}
    spoil(cut, "D02", now=LATER, count=3)  # all that are left
    with pytest.raises(WrongAmount, match="there are none"):
        spoil(cut, "D02", now=LATER)


def test_one_that_was_sent_is_spoiled_only_by_name(cut):
    move(cut, "D01", "sent", now=LATER)
    with pytest.raises(WrongAmount):
        spoil(cut, "D01", now=LATER)
    spoil(cut, "D01", now=LATER, state="sent")
    assert [piece.order for piece in cut.job().pieces] == ["D01"]


def test_a_spoiled_one_shows_in_the_list_as_to_cut(cut):
    spoil(cut, "D02", now=LATER)
    line = next(one for one in work_list(cut) if one.piece.order == "D02")
    assert (line.stages, line.to_cut, line.spoiled) == ({"cut": 3}, 1, 1)
    assert str(line) == "D02, D02: 3 cut; 1 to cut"
