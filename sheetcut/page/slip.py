"""After a slip of the knife: which blank is lost, and the rest laid out on what is left in hand."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from flask import Blueprint, abort, render_template, url_for
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from sheetcut.answers.relay import Relay, relay
from sheetcut.draw import svg_text
from sheetcut.draw.measures import size_text
from sheetcut.draw.view import view_of
from sheetcut.layout import Layout, Placement, Plan
from sheetcut.page.figures import HAND_LONG, Box
from sheetcut.page.inline import inline
from sheetcut.page.on_the_mat import OnTheMat, all_on_the_mat, on_the_mat, shown_step
from sheetcut.page.once import once_for
from sheetcut.page.studio import Desk, desk
from sheetcut.printout import drawing, in_words
from sheetcut.units import in_mm

place = Blueprint("slip", __name__)

LONGEST_S = 3.0  # somebody stands at the mat with the knife in hand


@dataclass(frozen=True, slots=True)
class Lying:
    """One layout as it lies, each blank with the number that a lost one is named by."""

    width: float
    height: float
    blanks: tuple[tuple[int, Box, str], ...]


@dataclass(frozen=True, slots=True)
class Again:
    """A piece in hand with what is cut from it now."""

    number: int
    title: str
    svg: Markup


@place.get("/<code>/<int:number>/<int:step>/slip")
def ask(code: str, number: int, step: int) -> ResponseReturnValue:
    """Ask which blank is lost."""
    at = _at(code, number, step)
    return render_template(
        "slip_ask.html",
        code=code,
        number=number,
        step=step,
        steps=len(at.steps),
        title=at.sheaf.title,
        back=url_for("mat.step", code=code, number=number, step=step),
        figures=_figures(at),
    )


@place.get("/<code>/<int:number>/<int:step>/slip/<int:blank>")
def show(code: str, number: int, step: int, blank: int) -> ResponseReturnValue:
    """Show what is cut and good, what is left in hand, and the rest laid out on it."""
    at = _at(code, number, step)
    layout, lost = _lost(at, blank)
    found = _laid_again(desk().folder, code, layout, step, lost)
    plan, mm = found.plan, "in" if at.inches else "mm"
    return render_template(
        "slip.html",
        code=code,
        number=number,
        step=step,
        steps=len(at.steps),
        blank=blank,
        title=at.sheaf.title,
        name=_name(at.plan, _layout(at.plan, layout).placements[lost - 1]),
        good=_counted(at.plan, found.done),
        in_hand=[
            f"{size_text(wide, high, inches=at.inches)} {mm}" for _, _, wide, high in found.in_hand
        ],
        short=[(plan.piece(one.piece).order, in_words(one.count)) for one in plan.short],
        again=_drawn(plan),
        book=_booking(at, layout, found),
    )


@place.get("/<code>/<int:number>/<int:step>/slip/<int:blank>/<int:sheet>/<int:now>")
def cut(code: str, number: int, step: int, blank: int, sheet: int, now: int) -> ResponseReturnValue:
    """Show one step on what is left in hand; after the last, what is to be booked."""
    at = _at(code, number, step)
    layout, lost = _lost(at, blank)
    found = all_on_the_mat(_laid_again(desk().folder, code, layout, step, lost).plan)
    if not 1 <= sheet <= len(found) or not 1 <= now <= len(found[sheet - 1].steps):
        abort(404)
    here: dict[str, Any] = {"code": code, "number": number, "step": step, "blank": blank}
    around = url_for("mat.slip.show", **here)
    shown = found[sheet - 1]

    def turned(by: int) -> str:
        to = now + by
        if not 1 <= to <= len(shown.steps):
            return around
        return url_for("mat.slip.cut", **here, sheet=sheet, now=to)

    return render_template(
        "mat.html",
        **shown_step(shown, now),
        leave=around,
        ahead=turned(1),
        back=turned(-1),
        slipped="",
    )


def _at(code: str, number: int, step: int) -> OnTheMat:
    at = on_the_mat(code, number)
    if not 1 <= step <= len(at.steps) + 1:
        abort(404)
    return at


def _lost(at: OnTheMat, blank: int) -> tuple[int, int]:
    """Return the layout that a blank lies in, and its number there: counted over alike ones."""
    blanks = [
        (number, n)
        for number, layout in zip(at.layouts, at.sheaf.layouts, strict=True)
        for n in range(1, len(layout.placements) + 1)
    ]
    if not 1 <= blank <= len(blanks):
        abort(404)
    return blanks[blank - 1]


@lru_cache(maxsize=8)
def _laid_again(folder: Path, code: str, layout: int, step: int, lost: int) -> Relay:
    """Return the rest laid out again; kept, so that its steps stay what they were."""
    plan = Desk(folder).newest_plan()
    assert plan is not None
    assert plan.code == code
    return relay(plan, _layout(plan, layout), step=step, spoiled=lost, seconds=LONGEST_S)


@once_for(8)
def _drawn(plan: Plan) -> list[Again]:
    return [
        Again(one.number, one.sheaf.title, inline(svg_text(drawing(plan, one.sheaf))))
        for one in all_on_the_mat(plan)
    ]


def _layout(plan: Plan, number: int) -> Layout:
    return plan.layouts[number - 1]


def _figures(at: OnTheMat) -> list[Lying]:
    found, first = [], 1
    for layout in at.sheaf.layouts:
        found.append(_figure(at, layout, first))
        first += len(layout.placements)
    return found


def _figure(at: OnTheMat, layout: Layout, first: int) -> Lying:
    """Return a layout drawn small, its blanks counted from a number on."""
    view = view_of(at.plan, layout)
    scale = HAND_LONG / max(view.usable.width, view.usable.height)
    blanks = []
    for n, one in enumerate(view.blanks):
        edge = one.edge
        box = Box(
            round(edge.x * scale, 1),
            round((view.usable.height - edge.top) * scale, 1),
            round(edge.width * scale, 1),
            round(edge.height * scale, 1),
            one.piece.order,
        )
        blanks.append((first + n, box, _name(at.plan, one.placement)))
    return Lying(
        round(view.usable.width * scale, 1), round(view.usable.height * scale, 1), tuple(blanks)
    )


def _name(plan: Plan, one: Placement) -> str:
    piece = plan.piece(one.piece)
    return f"{piece.order}, {piece.label}" if piece.label else piece.order


def _counted(plan: Plan, places: tuple[Placement, ...]) -> str:
    counts = Counter(plan.piece(one.piece).order for one in places)
    return ", ".join(name if n == 1 else f"{name} × {n}" for name, n in sorted(counts.items()))


def _booking(at: OnTheMat, layout: int, found: Relay) -> str:
    """Return the address that books the sheet as it came out: what is short, what is kept."""
    short: Counter[str] = Counter()
    for one in found.plan.short:
        short[found.plan.piece(one.piece).order] += one.count
    kept = [
        f"{in_mm(keeper.width):f} x {in_mm(keeper.height):f} mm"
        for own in found.plan.layouts
        for keeper in own.keepers
        for _ in keeper.names
    ]
    typed = {f"left-out-{order}": str(n) for order, n in short.items()}
    typed |= {"keeping": "measured" if kept else "nothing", "kept": "; ".join(kept), "copies": "1"}
    if len(at.layouts) > 1:
        typed["layout"] = str(layout)
    done = url_for("mat.step", code=at.plan.code, number=at.number, step=len(at.steps) + 1)
    return f"{done}?{urlencode(typed)}"
