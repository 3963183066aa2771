"""Other ways to cut a plan, side by side with it, and taking one of them in its place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import get_args

from flask import Blueprint, redirect, request, url_for
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from sheetcut.answers.alternatives import alternatives
from sheetcut.draw import glance, svg_text
from sheetcut.job import Preference
from sheetcut.layout import Plan
from sheetcut.page.further import planner
from sheetcut.page.inline import inline
from sheetcut.page.studio import desk
from sheetcut.printout import alternative_rows, sheaves

place = Blueprint("instead", __name__, url_prefix="/like")


@dataclass(frozen=True, slots=True)
class Way:
    """The plan, or a way to cut it otherwise.

    Attributes:
        kind: empty for the plan as it is.
        papers: each paper that is cut otherwise somewhere, and its figures in this way.
        drawing: the sheets of these papers.
    """

    kind: str
    papers: tuple[tuple[str, tuple[str, ...]], ...]
    drawing: Markup


def ways_of(plan: Plan) -> tuple[Way, ...]:
    """Return the plan and its alternatives; nothing where it has none."""
    others = alternatives(plan)
    if not others:
        return ()
    drawn = partial(_drawing, names={name for other in others for name in other.papers})
    return (
        Way("", tuple(_figures(plan, "")), drawn(plan)),
        *(Way(one.kind, tuple(_figures(plan, one.kind)), drawn(one.plan)) for one in others),
    )


def _figures(plan: Plan, kind: str) -> Iterable[tuple[str, tuple[str, ...]]]:
    for paper in plan.papers:
        rows = alternative_rows(plan, paper)
        if not rows:
            continue
        row = next((row for row in rows[1:] if row[0] == kind), rows[0])
        yield paper.paper, tuple(word.replace(" x ", " × ") for word in row[1:])


def _drawing(plan: Plan, *, names: set[str]) -> Markup:
    entries = [(one.title, one.layouts[0]) for one in sheaves(plan) if one.paper.paper in names]
    return inline(svg_text(glance(plan, entries)))


def kinds() -> Sequence[str]:
    """Return the kinds an alternative can be of."""
    return get_args(Preference)


@place.post("")
def take() -> ResponseReturnValue:
    """Begin to make the plan that an alternative of the one that was shown is."""
    at = desk()
    plan, kind = at.newest_plan(), request.form.get("kind", "")
    if plan is None or plan.code != request.form.get("code"):
        at.tell("Meanwhile there is another plan; look at that one.")
    elif plan.input_hash != at.present().input_hash:
        at.tell("Orders or drawer have changed since this was planned; plan again.")
    elif kind in kinds():
        planner().take(plan.code, kind)
    return redirect(url_for("plan.show"), 303)
