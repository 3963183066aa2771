"""What goes with a plan on its place: what would save a sheet, room left, what to buy."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flask import Blueprint, current_app, redirect, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.layout import Plan
from sheetcut.page.found import room_in
from sheetcut.page.planner import Planner
from sheetcut.page.studio import Present, desk

place = Blueprint("further", __name__, url_prefix="/further")


@dataclass(frozen=True, slots=True)
class Further:
    """What there is to say of a plan beyond its layouts.

    Attributes:
        savings: a paper and its lines each; None where nobody looked yet.
        buying: the cheapest packs and carriage; None where nothing is short or nobody looked.
        room: a line for each paper; None where the studio sells no sizes.
        trying: what is being looked for now.
        refused: why looking ended.
    """

    savings: list[dict[str, Any]] | None
    buying: dict[str, Any] | None
    room: tuple[str, ...] | None
    trying: str = ""
    refused: tuple[str, ...] = ()


def planner() -> Planner:
    """Return the planner of the page that answers."""
    found: Planner = current_app.extensions["planner"]
    return found


def further_of(plan: Plan, present: Present) -> Further:
    """Return what is known of a plan beyond its layouts; nothing is searched for."""
    found = planner().found(plan.code) or {}
    progress = planner().progress
    is_looking = progress.is_running and progress.task == "further"
    return Further(
        savings=found.get("savings"),
        buying=found.get("buying"),
        room=room_in(plan, present.settings) if present.settings.sizes_sold else None,
        trying=progress.words if is_looking else "",
        refused=progress.refused if progress.task == "further" else (),
    )


@place.post("")
def look() -> ResponseReturnValue:
    """Begin to look for what would save a sheet of the plan that was shown, and what to buy."""
    plan = desk().newest_plan()
    if plan is None or plan.code != request.form.get("code"):
        desk().tell("Meanwhile there is another plan; look at that one.")
    else:
        planner().look_further(plan.code)
    return redirect(url_for("plan.show", _anchor="further"), 303)


@place.post("/leave-off")
def leave_off() -> ResponseReturnValue:
    """End the looking; the plan stays as it is."""
    planner().give_up()
    return redirect(url_for("plan.show", _anchor="further"), 303)
