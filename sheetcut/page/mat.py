"""The place beside the knife: one step at a time, as large as it goes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flask import Blueprint, abort, render_template, url_for
from flask.typing import ResponseReturnValue

from sheetcut.layout import Plan
from sheetcut.page.as_cut import ask
from sheetcut.page.as_cut import place as as_cut
from sheetcut.page.on_the_mat import all_left_to_cut, all_on_the_mat, on_the_mat, shown_step
from sheetcut.page.slip import place as slip
from sheetcut.page.studio import desk

place = Blueprint("mat", __name__, url_prefix="/mat")
place.register_blueprint(as_cut)
place.register_blueprint(slip)


@dataclass(frozen=True, slots=True)
class ToCut:
    """Sheets of a plan that are cut alike, and how far they are."""

    number: int
    title: str
    steps: int
    orders: str
    left: int | None
    copies: int


@place.get("")
def show() -> ResponseReturnValue:
    """Show which sheets of the newest plan can be cut."""
    desk().present()
    plan = desk().newest_plan()
    return render_template("mat_list.html", plan=plan, sheets=_to_cut(plan) if plan else ())


@place.get("/<code>/<int:number>/<int:step>")
def step(code: str, number: int, step: int) -> ResponseReturnValue:
    """Show one step; after the last, what is to be booked."""
    at = on_the_mat(code, number)
    if not 1 <= step <= len(at.steps) + 1:
        abort(404)
    if step == len(at.steps) + 1:
        return ask(at)
    here: dict[str, Any] = {"code": code, "number": number}
    return render_template(
        "mat.html",
        **shown_step(at, step),
        leave=url_for("mat.show"),
        ahead=url_for("mat.step", **here, step=step + 1),
        back=url_for("mat.step", **here, step=step - 1) if step > 1 else "",
        slipped=url_for("mat.slip.ask", **here, step=step),
    )


def _to_cut(plan: Plan) -> list[ToCut]:
    rows = []
    for at, left in zip(all_on_the_mat(plan), all_left_to_cut(plan), strict=True):
        orders = ", ".join(name if n == 1 else f"{name} × {n}" for name, n in at.blanks.items())
        sheaf = at.sheaf
        rows.append(ToCut(at.number, sheaf.title, len(at.steps), orders, left, sheaf.copies))
    return rows
