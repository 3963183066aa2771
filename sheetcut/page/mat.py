"""The place beside the knife: one step at a time, as large as it goes, then booked as cut."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.draw.measures import is_read_in_inches, small_fractions
from sheetcut.draw.steps import Step, steps_of
from sheetcut.draw.view import View, view_of
from sheetcut.drawer import cut_plan, layout_states, told_of
from sheetcut.drawer.refusals import WrongAmount
from sheetcut.job import passes_of
from sheetcut.layout import Plan
from sheetcut.page.changing import changing
from sheetcut.page.figures import in_hand
from sheetcut.page.studio import clock, desk
from sheetcut.printout import Sheaf, in_words, sheaves

place = Blueprint("mat", __name__, url_prefix="/mat")


@dataclass(frozen=True, slots=True)
class ToCut:
    """Sheets of a plan that are cut alike, and how far they are."""

    number: int
    title: str
    steps: int
    orders: str
    left: int | None
    copies: int


@dataclass(frozen=True, slots=True)
class AtTheMat:
    """Sheets that are cut alike, as they lie, with their steps and their layouts' numbers."""

    sheaf: Sheaf
    view: View
    steps: tuple[Step, ...]
    layouts: tuple[int, ...]


@place.get("")
def show() -> ResponseReturnValue:
    """Show which sheets of the newest plan can be cut."""
    desk().present()
    plan = desk().newest_plan()
    return render_template("mat_list.html", plan=plan, sheets=_to_cut(plan) if plan else ())


@place.get("/<code>/<int:number>/<int:step>")
def step(code: str, number: int, step: int) -> ResponseReturnValue:
    """Show one step; after the last, what is to be booked."""
    plan, at = _at(code, number)
    if not 1 <= step <= len(at.steps) + 1:
        abort(404)
    around = {"code": code, "number": number, "title": at.sheaf.title, "steps": len(at.steps)}
    if step == len(at.steps) + 1:
        return render_template(
            "mat_done.html",
            **around,
            left=_left(plan, at.layouts),
            orders=_orders(plan, at.sheaf),
            step=step,
        )
    now = at.steps[step - 1]
    warned = {small_fractions(flag.words) for flag in at.view.flags}
    passes = passes_of(plan.job.paper(at.sheaf.paper.paper))
    return render_template(
        "mat.html",
        **around,
        step=step,
        now=now,
        figure=in_hand(now, at.view),
        minds=[note for note in now.notes if note in warned],
        hints=[note for note in now.notes if note not in warned],
        passes="" if passes is None else f"{in_words(passes)} light {_passes(passes)}",
        copies="" if at.sheaf.copies == 1 else f"{in_words(at.sheaf.copies)} sheets alike",
        unit="in" if is_read_in_inches(plan.job, at.sheaf.paper.paper) else "mm",
    )


def _passes(count: int) -> str:
    return "pass" if count == 1 else "passes"


@place.post("/<code>/<int:number>/cut")
def cut(code: str, number: int) -> ResponseReturnValue:
    """Book sheets as cut."""
    plan, at = _at(code, number)
    spoiled = [
        order
        for order in _orders(plan, at.sheaf)
        for _ in range(_number(request.form.get(f"spoiled-{order}", "0"), order))
    ]
    with changing() as store:
        states = layout_states(store, plan)
        still = [one for one in at.layouts if states[one - 1].to_cut + states[one - 1].held]
        told = told_of(plan, states, still or at.layouts, spoiled=spoiled)
        done = cut_plan(store, plan, now=clock(), as_cut=told)
    desk().tell(done.says)
    return redirect(url_for("mat.show"), 303)


def _number(text: str, order: str) -> int:
    if not text.strip().isdecimal() or len(text) > 4:
        raise WrongAmount(order, f'"{text}" spoiled is no number', "give 0 or more")
    return int(text)


def _at(code: str, number: int) -> tuple[Plan, AtTheMat]:
    plan = desk().newest_plan()
    if plan is None or plan.code != code:
        abort(404)
    found = sheaves(plan)
    if not 1 <= number <= len(found):
        abort(404)
    sheaf = found[number - 1]
    first = 1 + sum(len(one.layouts) for one in found[: number - 1])
    view = view_of(plan, sheaf.layouts[0])
    steps = steps_of(view, inches=is_read_in_inches(plan.job, sheaf.paper.paper))
    return plan, AtTheMat(sheaf, view, steps, tuple(range(first, first + len(sheaf.layouts))))


def _to_cut(plan: Plan) -> list[ToCut]:
    rows, first = [], 1
    for number, sheaf in enumerate(sheaves(plan), 1):
        layouts = tuple(range(first, first + len(sheaf.layouts)))
        first += len(layouts)
        cuts = len(sheaf.layouts[0].squaring) + len(sheaf.layouts[0].cuts)
        counts = _orders(plan, sheaf)
        orders = ", ".join(name if n == 1 else f"{name} × {n}" for name, n in counts.items())
        left = _left(plan, layouts)
        rows.append(ToCut(number, sheaf.title, cuts, orders, left, sheaf.copies))
    return rows


def _left(plan: Plan, layouts: tuple[int, ...]) -> int | None:
    """Return how many of these sheets are not cut; None where nothing is kept."""
    at = desk()
    if not at.is_kept():
        return None
    with at.store() as store:
        states = layout_states(store, plan)
    return sum(states[one - 1].to_cut + states[one - 1].held for one in layouts)


def _orders(plan: Plan, sheaf: Sheaf) -> dict[str, int]:
    """Return how many blanks of each order line these sheets give."""
    counts: Counter[str] = Counter()
    for layout in sheaf.layouts:
        for one in layout.placements:
            counts[plan.piece(one.piece).order] += layout.copies
    return dict(sorted(counts.items()))
