"""The pin-up sheets as files of their own, an SVG for each."""

from __future__ import annotations

from sheetcut.draw import A3, A4, Drawing, NoRoomOnPage, Page, pin_up, svg_text
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

    That is A4, save for layouts with very many steps.
    """
    for page in PAGES[:-1]:
        try:
            return _drawn_on(page, plan, sheaf)
        except NoRoomOnPage:
            continue
    return _drawn_on(PAGES[-1], plan, sheaf)


def _drawn_on(page: Page, plan: Plan, sheaf: Sheaf) -> Drawing:
    return pin_up(
        plan,
        sheaf.paper,
        sheaf.layouts[0],
        title=sheaf.title,
        sheet_numbers=numbers_text(plan, sheaf),
        made=day(plan.made),
        twins=sheaf.layouts[1:],
        on=page,
    )


def pin_ups(plan: Plan, sheaf: Sheaf, on: Page) -> tuple[Drawing, ...]:
    """Return the pin-up sheet on the printer's paper, steps going on over pages if they must."""
    return (_drawn_on(on, plan, sheaf),)


def drawings(plan: Plan) -> dict[str, str]:
    """Return file name and SVG text of every drawing of a plan, in the order of the plan."""
    files: dict[str, str] = {}
    for sheaf in sheaves(plan):
        stem = f"{file_word(plan.sheet(sheaf.layouts[0].sheet).title)}-{sheaf.numbers}"
        name = next(f"{stem}{n}.svg" for n in _suffixes() if f"{stem}{n}.svg" not in files)
        files[name] = svg_text(drawing(plan, sheaf))
    return files


def _suffixes() -> list[str]:
    return ["", *(f"-{letter}" for letter in "bcdefghijklmnopqrstuvwxyz")]
