"""The pin-up sheets as files of their own, an SVG for each page."""

from __future__ import annotations

from typing import Any

from sheetcut.draw import (
    A3,
    A4,
    Drawing,
    NoRoomOnPage,
    Page,
    pin_up,
    pin_up_pages,
    svg_text,
)
from sheetcut.layout import Plan
from sheetcut.printout.sheaves import Sheaf, day, file_word, numbers_text, sheaves

PAGES = (
    A4,
    A3,
    Page("A2", 420, 594),  # ISO 216:2007, as the two below
    Page("A1", 594, 841),
    Page("A0", 841, 1189),
)


def drawing(plan: Plan, sheaf: Sheaf) -> Drawing:
    """Return the pin-up sheet of sheets that are cut alike, on the smallest page that holds it.

    That is A4, save for layouts with very many steps; ``pin_ups`` is for a printer's paper.
    """
    for page in PAGES[:-1]:
        try:
            return pin_up(on=page, **_asked(plan, sheaf))
        except NoRoomOnPage:
            continue
    return pin_up(on=PAGES[-1], **_asked(plan, sheaf))


def pin_ups(plan: Plan, sheaf: Sheaf, on: Page = A4) -> tuple[Drawing, ...]:
    """Return the pin-up sheet on a printer's paper, steps going on over pages if they must."""
    return pin_up_pages(on=on, **_asked(plan, sheaf))


def _asked(plan: Plan, sheaf: Sheaf) -> dict[str, Any]:
    return {
        "plan": plan,
        "paper": sheaf.paper,
        "layout": sheaf.layouts[0],
        "title": sheaf.title,
        "sheet_numbers": numbers_text(plan, sheaf),
        "made": day(plan.made),
        "twins": sheaf.layouts[1:],
    }


def drawings(plan: Plan) -> dict[str, str]:
    """Return file name and SVG text of every page of a plan, in the order of the plan.

    A sheet that needs more pages has them beside it: ``imperial-1.svg``,
    ``imperial-1-page-2.svg``.
    """
    files: dict[str, str] = {}
    for sheaf in sheaves(plan):
        stem = f"{file_word(plan.sheet(sheaf.layouts[0].sheet).title)}-{sheaf.numbers}"
        name = next(f"{stem}{n}" for n in _suffixes() if f"{stem}{n}.svg" not in files)
        for number, page in enumerate(pin_ups(plan, sheaf), 1):
            following = "" if number == 1 else f"-page-{number}"
            files[f"{name}{following}.svg"] = svg_text(page)
    return files


def _suffixes() -> list[str]:
    return ["", *(f"-{letter}" for letter in "bcdefghijklmnopqrstuvwxyz")]
