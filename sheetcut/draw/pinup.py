"""The pin-up sheet: one layout on one page, to be hung beside the mat and cut from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sheetcut.draw.compose import Composer, NoRoomOnPage
from sheetcut.draw.lettering import clean
from sheetcut.draw.measures import is_read_in_inches
from sheetcut.draw.names import blank_names
from sheetcut.draw.primitives import A4, Drawing, Page
from sheetcut.draw.steps import steps_of
from sheetcut.draw.view import View, view_of
from sheetcut.layout import Layout, PaperPlan, Plan

__all__ = ["NoRoomOnPage", "pin_up"]


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
    view = _with_twin_tags(view_of(plan, layout), twins)
    inches = is_read_in_inches(plan.job, paper.paper)
    names = blank_names(plan, layout, twins, sheet_numbers)
    steps = steps_of(view, plan.job.rules, inches=inches)
    composer = Composer(
        plan=plan,
        paper=paper,
        layout=layout,
        view=view,
        names=names,
        steps=steps,
        inches=inches,
        page=on,
    )
    n, body = composer.body()
    items = [*composer.heading(title, sheet_numbers, made, n), *body, *composer.footing()]
    return Drawing(on, clean(title), tuple(items))


def _with_twin_tags(view: View, twins: Sequence[Layout]) -> View:
    """Return the view with the tags of the twins' keepers too: each copy's has its own."""
    tagged = []
    for n, (rect, names) in enumerate(view.keepers):
        others = (twin.keepers[n].names for twin in twins if n < len(twin.keepers))
        tagged.append((rect, names + tuple(name for each in others for name in each)))
    return replace(view, keepers=tuple(tagged))
