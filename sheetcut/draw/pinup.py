"""The pin-up sheet: one layout on one page, to be hung beside the mat and cut from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sheetcut.draw import overleaf
from sheetcut.draw.compose import Composer, NoRoomOnPage
from sheetcut.draw.lettering import clean
from sheetcut.draw.measures import is_read_in_inches
from sheetcut.draw.names import blank_names
from sheetcut.draw.primitives import A4, Drawing, Page
from sheetcut.draw.steps import steps_of
from sheetcut.draw.view import View, view_of
from sheetcut.layout import Layout, PaperPlan, Plan

__all__ = ["NoRoomOnPage", "pin_up", "pin_up_pages"]

STEPS_OVERLEAF = "The steps stand on the next page."


def pin_up(
    plan: Plan,
    paper: PaperPlan,
    layout: Layout,
    *,
    title: str,
    sheet_numbers: str,
    made: str,
    on: Page = A4,
    twins: Sequence[Layout] = (),
) -> Drawing:
    """Return one layout drawn to scale with its steps, ready for a writer.

    Args:
        plan: the whole answer, for its job, studio and code.
        paper: the part of it that the layout is from.
        layout: what is drawn.
        title: the line in large letters, as "Imperial, sheet 1: cut two alike".
        sheet_numbers: which sheets these are, as it is to be printed: "sheets 1, 2 of 4".
        made: the day, as it is to be printed.
        on: the page.
        twins: other layouts with the same cuts; their names stand on the blanks too.

    Raises:
        NoRoomOnPage: if its steps cannot all stand on the page.
    """
    composer = _composer(plan, paper, layout, sheet_numbers, on, twins)
    n, body = composer.body()
    items = [*composer.heading(title, sheet_numbers, made, n), *body, *composer.footing()]
    return Drawing(on, clean(title), tuple(items))


def pin_up_pages(
    plan: Plan,
    paper: PaperPlan,
    layout: Layout,
    *,
    title: str,
    sheet_numbers: str,
    made: str,
    on: Page = A4,
    twins: Sequence[Layout] = (),
) -> tuple[Drawing, ...]:
    """Return a pin-up sheet, its steps on pages of their own where one page would crowd them.

    Arguments are those of ``pin_up``; with one page, so is the drawing.

    Raises:
        NoRoomOnPage: if the sheet itself has no room at any scale.
    """
    whole = _composer(plan, paper, layout, sheet_numbers, on, twins)
    if whole.is_readable():
        n, body = whole.body()
        items = [*whole.heading(title, sheet_numbers, made, n), *body, *whole.footing()]
        return (Drawing(on, clean(title), tuple(items)),)
    sheet = whole.without_steps(STEPS_OVERLEAF)
    n, body = sheet.body()
    leaves = overleaf.leaves(whole.steps, whole.view, on, whole.foot)
    leaves[-1] += whole.account()
    count = 1 + len(leaves)
    pages = []
    for number, leaf in enumerate([[*body, *sheet.caution()], *leaves], 1):
        named = f"{title}, page {number} of {count}"
        head = sheet.heading(named, sheet_numbers, made, n)
        pages.append(Drawing(on, clean(named), (*head, *leaf)))
    return tuple(pages)


def _composer(
    plan: Plan,
    paper: PaperPlan,
    layout: Layout,
    sheet_numbers: str,
    on: Page,
    twins: Sequence[Layout],
) -> Composer:
    view = _with_twin_tags(view_of(plan, layout), twins)
    inches = is_read_in_inches(plan.job, paper.paper)
    return Composer(
        plan=plan,
        paper=paper,
        layout=layout,
        view=view,
        names=blank_names(plan, layout, twins, sheet_numbers),
        steps=steps_of(view, inches=inches),
        inches=inches,
        page=on,
    )


def _with_twin_tags(view: View, twins: Sequence[Layout]) -> View:
    """Return the view with the tags of the twins' keepers too: each copy's has its own."""
    tagged = []
    for n, (rect, names) in enumerate(view.keepers):
        others = (twin.keepers[n].names for twin in twins if n < len(twin.keepers))
        tagged.append((rect, names + tuple(name for each in others for name in each)))
    return replace(view, keepers=tuple(tagged))
