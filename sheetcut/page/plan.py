"""The place where orders are laid out: what is being tried, then every sheet drawn."""

from __future__ import annotations

import io
from dataclasses import dataclass

from flask import Blueprint, jsonify, redirect, render_template, request, send_file
from flask import url_for as to
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from sheetcut.draw import glance, svg_text
from sheetcut.layout import PaperPlan, Plan
from sheetcut.page.arrivals import place as arrivals
from sheetcut.page.further import further_of, planner
from sheetcut.page.further import place as further
from sheetcut.page.inline import inline
from sheetcut.page.instead import Way, ways_of
from sheetcut.page.instead import place as instead
from sheetcut.page.once import once_for
from sheetcut.page.studio import Present, desk
from sheetcut.printout import (
    Sheaf,
    day,
    drawing,
    how_good,
    keepers,
    money,
    sheaves,
    sheets_used,
    stays,
)
from sheetcut.printout.pages import PIN_UP, USUAL, Kind, printed
from sheetcut.printout.words import slack_text, warnings

place = Blueprint("plan", __name__, url_prefix="/plan")
place.register_blueprint(further)
place.register_blueprint(arrivals)
place.register_blueprint(instead)

LONGEST_S = {"5": "5 seconds", "30": "half a minute", "120": "two minutes"}


@dataclass(frozen=True, slots=True)
class Paper:
    """What a plan says of one paper, in words."""

    name: str
    cost: str
    used: str
    claim: str
    reason: str
    proved: bool
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Drawn:
    """Sheets that are cut alike, drawn."""

    number: int
    title: str
    paper: str
    slack: str
    warnings: tuple[str, ...]
    svg: Markup


@dataclass(frozen=True, slots=True)
class Pictures:
    """All that is drawn of a plan; it takes longer than everything else on its place."""

    glance: Markup
    sheets: tuple[Drawn, ...]
    ways: tuple[Way, ...]


@place.get("")
def show() -> ResponseReturnValue:
    """Show how far planning is, or the newest plan."""
    at = desk()
    present, progress = at.present(), planner().progress
    plan = None if progress.is_planning else at.newest_plan()
    return render_template(
        "plan.html",
        progress=progress,
        longest=LONGEST_S,
        wanted=len(present.job.pieces),
        notes=present.notes,
        plan=plan,
        made=day(plan.made) if plan else "",
        moved_on=plan is not None and _has_moved_on(plan, present),
        papers=[_paper(plan, paper) for paper in plan.papers] if plan else (),
        short=_short(plan) if plan else (),
        closing=_closing(plan) if plan else (),
        more=further_of(plan, present) if plan else None,
        is_kept=present.is_kept,
        pictures=_pictures(plan) if plan else None,
    )


@place.get("/now")
def now() -> ResponseReturnValue:
    """Say how far planning is, for the page's script."""
    progress = planner().progress
    return jsonify(running=progress.is_running, words=progress.words)


@place.post("/start")
def start() -> ResponseReturnValue:
    """Begin to plan."""
    desk().present()
    longest = request.form.get("longest", "")
    planner().start(float(longest if longest in LONGEST_S else "5"))
    return redirect(to("plan.show"), 303)


@place.post("/will-do")
def will_do() -> ResponseReturnValue:
    """Finish with what was found."""
    planner().will_do()
    planner().wait(2.0)
    return redirect(to("plan.show"), 303)


@place.get("/<code>/<pages>.pdf")
def pdf(code: str, pages: str) -> ResponseReturnValue:
    """Give the newest plan's pages as a file for true-size printing."""
    plan = desk().newest_plan()
    kinds = {"pin-up": PIN_UP, "all-pages": USUAL}.get(pages)
    if plan is None or plan.code != code or kinds is None:
        return render_template(
            "sentence.html", lines=["That plan is not the newest any more."]
        ), 404
    data = io.BytesIO(_printed(plan, kinds))
    return send_file(
        data, "application/pdf", as_attachment=True, download_name=f"{pages}-{code}.pdf"
    )


def _has_moved_on(plan: Plan, present: Present) -> bool:
    return plan.input_hash != present.input_hash


def _paper(plan: Plan, paper: PaperPlan) -> Paper:
    claim, _, reason = how_good(plan, paper).partition(" (")
    return Paper(
        name=paper.paper,
        cost="" if paper.cost is None else money(paper.cost, plan.job.currency),
        used=sheets_used(plan, paper),
        claim=claim,
        reason=reason.removesuffix(")"),
        proved=paper.proved,
        notes=paper.notes,
    )


def _short(plan: Plan) -> list[str]:
    """Return what the plan leaves out for want of paper, a line each."""
    lines = []
    for short in plan.short:
        piece = plan.piece(short.piece)
        name = ", ".join(word for word in (piece.order, piece.label) if word)
        lines.append(f"{name}: {short.count} of {piece.count} ({short.why})")
    return lines


def _closing(plan: Plan) -> list[tuple[str, str]]:
    """Return what holds for all papers, a heading and its words each."""
    rows = []
    if kept := keepers(plan):
        rows.append(("back into the drawer", "; ".join(kept)))
    if left := stays(plan):
        rows.append(("stays in the drawer", ", ".join(left)))
    return rows


@once_for(1)
def _pictures(plan: Plan) -> Pictures:
    """Return the drawings of a plan; those of the plan that was shown last are kept."""
    return Pictures(_glance(plan), tuple(_drawn(plan)), ways_of(plan))


@once_for(2)
def _printed(plan: Plan, kinds: tuple[Kind, ...]) -> bytes:
    return printed(plan, kinds=kinds).data


def _glance(plan: Plan) -> Markup:
    entries = [(sheaf.title, sheaf.layouts[0]) for sheaf in sheaves(plan)]
    return inline(svg_text(glance(plan, entries))) if entries else Markup()


def _drawn(plan: Plan) -> list[Drawn]:
    return [
        Drawn(
            number=number,
            title=sheaf.title,
            paper=sheaf.paper.paper,
            slack=slack_text(plan, sheaf),
            warnings=warnings(plan, sheaf),
            svg=_inline_drawing(plan, sheaf),
        )
        for number, sheaf in enumerate(sheaves(plan), 1)
    ]


def _inline_drawing(plan: Plan, sheaf: Sheaf) -> Markup:
    return inline(svg_text(drawing(plan, sheaf)))
