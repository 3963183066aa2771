"""Sheets with more cuts than their rulers have room to read: drawn all the same."""

import re

import pytest

from sheetcut import Job, Piece, Sheet, make_plan, mm
from sheetcut.draw import overleaf, rows
from sheetcut.draw.running import Reading, sparse
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
