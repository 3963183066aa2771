"""What lies on the mat: sheets of a plan that are cut alike, their steps, and how far they are."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from flask import abort

from sheetcut.draw.measures import is_read_in_inches, small_fractions
from sheetcut.draw.steps import Step, steps_of
from sheetcut.draw.view import View, view_of
from sheetcut.drawer import layout_states
from sheetcut.drawer.as_cut import plan_key
from sheetcut.job import passes_of
from sheetcut.layout import Plan
from sheetcut.page.figures import in_hand
from sheetcut.page.once import once_for
from sheetcut.page.studio import NotKept, desk
from sheetcut.printout import Sheaf, in_words, sheaves


@dataclass(frozen=True, slots=True)
class OnTheMat:
    """Sheets that are cut alike, as they lie.

    Attributes:
        number: of these sheets among all that are drawn, from 1.
        layouts: the numbers of their layouts among the plan's.
    """

    plan: Plan
    number: int
    sheaf: Sheaf
    view: View
    steps: tuple[Step, ...]
    layouts: tuple[int, ...]

    @property
    def inches(self) -> bool:
        """Whether its paper is cut with an inch ruler."""
        return is_read_in_inches(self.plan.job, self.sheaf.paper.paper)

    @property
    def blanks(self) -> dict[str, int]:
        """How many blanks of each order line these sheets give."""
        counts: Counter[str] = Counter()
        for layout in self.sheaf.layouts:
            for one in layout.placements:
                counts[self.plan.piece(one.piece).order] += layout.copies
        return dict(sorted(counts.items()))


def on_the_mat(code: str, number: int) -> OnTheMat:
    """Return sheets of the newest plan; where there are none such, the page is not there."""
    plan = desk().newest_plan()
    if plan is None or plan.code != code:
        abort(404)
    found = all_on_the_mat(plan)
    if not 1 <= number <= len(found):
        abort(404)
    return found[number - 1]


@once_for(8)
def all_on_the_mat(plan: Plan) -> tuple[OnTheMat, ...]:
    """Return all sheets of a plan, alike ones together, in the plan's order."""
    found, first = [], 1
    for number, sheaf in enumerate(sheaves(plan), 1):
        layouts = tuple(range(first, first + len(sheaf.layouts)))
        first += len(layouts)
        view = view_of(plan, sheaf.layouts[0])
        steps = steps_of(view, inches=is_read_in_inches(plan.job, sheaf.paper.paper))
        found.append(OnTheMat(plan, number, sheaf, view, steps, layouts))
    return tuple(found)


def left_to_cut(at: OnTheMat) -> int | None:
    """Return how many of these sheets are not cut; None where nothing is kept."""
    return all_left_to_cut(at.plan)[at.number - 1]


def all_left_to_cut(plan: Plan) -> tuple[int | None, ...]:
    """Return how many are not cut of all sheets of a plan; None for each where nothing is kept."""
    found = all_on_the_mat(plan)
    try:
        with desk().store() as store:
            states = layout_states(store, plan, key=_key(plan))
    except NotKept:
        return (None,) * len(found)
    return tuple(
        sum(states[one - 1].to_cut + states[one - 1].held for one in at.layouts) for at in found
    )


@once_for(2)
def _key(plan: Plan) -> str:
    return plan_key(plan)


def shown_step(at: OnTheMat, step: int) -> dict[str, object]:
    """Return what a page shows of one step, by the names its template has for it."""
    now = at.steps[step - 1]
    warned = {small_fractions(flag.words) for flag in at.view.flags}
    passes = passes_of(at.plan.job.paper(at.sheaf.paper.paper))
    copies = at.sheaf.copies
    return {
        "title": at.sheaf.title,
        "steps": len(at.steps),
        "step": step,
        "now": now,
        "figure": in_hand(now, at.view),
        "minds": [note for note in now.notes if note in warned],
        "hints": [note for note in now.notes if note not in warned],
        "passes": "" if passes is None else f"{in_words(passes)} light {_passes(passes)}",
        "copies": "" if copies == 1 else f"{in_words(copies)} sheets alike",
        "unit": "in" if at.inches else "mm",
    }


def _passes(count: int) -> str:
    return "pass" if count == 1 else "passes"
