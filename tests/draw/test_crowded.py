"""Sheets with more cuts than their rulers have room to read: drawn all the same."""

import re
from itertools import combinations

import pytest

from sheetcut import Job, Piece, Sheet, make_plan, mm
from sheetcut.draw import overleaf, rows
from sheetcut.draw.leaders import CROWDED
from sheetcut.draw.lettering import box
from sheetcut.draw.primitives import Text
from sheetcut.draw.running import Reading, sparse
from sheetcut.draw.sheet import sheet_picture
from sheetcut.draw.view import view_of
from sheetcut.printout import drawings
from sheetcut.printout.pages import pages

MADE = "2026-11-25T09:00:00+00:00"


def strips(count, wide, *, upright):
    """Return the plan of one sheet that is cut into so many strips."""
    size = (mm(wide), mm(760)) if upright else (mm(560), mm(wide))
    sheet = Sheet("Imperial", "Rag", mm(560), mm(760), price=1520, grain="none")
    piece = Piece("1", "Bookmark", "Rag", *size, count, turn="no")
    return make_plan(Job((sheet,), (piece,)), rounds=50, seconds=600, made=MADE)


@pytest.mark.parametrize(("count", "wide", "upright"), [(60, 9, True), (150, 5, False)])
def test_a_sheet_of_many_strips_has_its_page_and_every_reading_among_the_steps(
    count, wide, upright
):
    """No plan could be written for it: the readings at the ruler were wider than the page."""
    plan = strips(count, wide, upright=upright)
    files = drawings(plan)
    steps = "".join(text for name, text in files.items() if "page" in name)
    shown = set(re.findall(r">(\d+)<", steps))
    readings = {str(wide * n) for n in range(1, count + 1)} - {"760"}
    assert readings <= shown
    assert pages(plan, kinds=("mirrored",))


def cards():
    """Return the plan of 220 small cards on one sheet: 229 cuts, a few millimetres apart."""
    sheet = Sheet("Imperial", "Rag", mm(560), mm(760), price=1520, grain="none")
    pieces = [("Card", 30, 40, 90), ("Tag", 21, 55, 70), ("Label", 25, 25, 60)]
    return make_plan(
        Job((sheet,), tuple(Piece(n, n, "Rag", mm(w), mm(h), many) for n, w, h, many in pieces)),
        rounds=50,
        seconds=600,
        made=MADE,
    )


def test_on_a_sheet_of_very_many_cards_every_word_can_be_read():
    """Readings, tags and letters stood on each other in heaps.

    What finds no room stands with the steps alone; every card that has room has its letter.
    """
    plan = cards()
    (layout,) = plan.layouts
    names = tuple((plan.job.pieces[one.piece].order,) for one in layout.placements)
    picture = sheet_picture(view_of(plan, layout), 5, names, inches=False)
    assert picture.clashes >= CROWDED
    words = [box(one) for one in picture.items if isinstance(one, Text)]
    assert not [
        (one, other) for one, other in combinations(words, 2) if meets(shrunk(one), shrunk(other))
    ]
    assert len(words) > len(layout.placements) / 2


def shrunk(one):
    return one[0] + 0.05, one[1] + 0.05, one[2] - 0.05, one[3] - 0.05


def meets(one, other):
    across = one[0] < other[2] and other[0] < one[2]
    return across and one[1] < other[3] and other[1] < one[3]


def test_a_page_of_steps_holds_as_many_as_go_on_it(monkeypatch):
    """Of 2 000 steps each number was tried, from all of them down, for every page."""
    by_halving, pages_of_steps = overleaf._as_many, []

    def compared(steps, view, page, foot):
        found = by_halving(steps, view, page, foot)
        assert found == _counted_down(steps, view, page, foot)
        pages_of_steps.append(found[0])
        return found

    monkeypatch.setattr(overleaf, "_as_many", compared)
    monkeypatch.setattr(overleaf, "STYLES", ())  # else one page with smaller figures holds them
    drawings(strips(150, 5, upright=False))
    assert len(pages_of_steps) > 1


def _counted_down(steps, view, page, foot):
    for style in rows.STYLES:
        frames = overleaf._frames(page, style, foot)
        for count in range(len(steps), 0, -1):
            drawn = rows.flow(steps[:count], view, style, frames)
            if drawn is not None:
                return count, drawn
    return None


def test_readings_that_find_room_lie_evenly_from_the_farthest():
    """Six values of 10 mm in 35 mm: every second one, as 6 x 10 / 35 is more than one."""
    readings = [Reading(str(n), 10.0 * n, "") for n in range(1, 7)]
    kept, others = sparse(readings, 10, 35)
    assert [one.text for one in kept] == ["6", "4", "2"]
    assert [one.text for one in others] == ["5", "3", "1"]
