"""Booking at the mat: as planned with one touch, or what was spoiled, left out, kept instead."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.draw.measures import size_text
from sheetcut.drawer import (
    AsCut,
    LayoutState,
    Leftover,
    cut_plan,
    in_drawer,
    layout_states,
    told_of,
)
from sheetcut.drawer.refusals import WrongAmount
from sheetcut.page.changing import changing
from sheetcut.page.on_the_mat import OnTheMat, left_to_cut, on_the_mat
from sheetcut.page.studio import clock, desk
from sheetcut.printout import in_words
from sheetcut.read import Refused, read_size

place = Blueprint("as_cut", __name__)

Typed = Mapping[str, str]

LONGEST_NUMBER = 4
KEPT = ("planned", "nothing", "measured")


@dataclass(frozen=True, slots=True)
class Line:
    """Blanks of one order line on these sheets."""

    order: str
    label: str
    count: int


@dataclass(frozen=True, slots=True)
class Alike:
    """One of the layouts that are cut alike: its number, and the orders on it."""

    number: int
    orders: str


class NotSaid(WrongAmount):
    """Something went otherwise with one of several sheets, and not with which."""

    def __init__(self, title: str) -> None:
        super().__init__(
            title, "it is not said which of these sheets went otherwise", "choose the one it was"
        )


def ask(at: OnTheMat, wrong: str = "", typed: Typed | None = None) -> str:
    """Return the page after the last cut: what is to be booked, with what was typed so far."""
    plan, left = at.plan, left_to_cut(at)
    labels = {piece.order: piece.label for piece in plan.job.pieces}
    return render_template(
        "mat_done.html",
        code=plan.code,
        number=at.number,
        title=at.sheaf.title,
        steps=len(at.steps),
        left=left,
        left_words=in_words(left or 0),
        lines=[Line(order, labels[order], n) for order, n in at.blanks.items()],
        alike=_alike(at) if len(at.layouts) > 1 else (),
        keepers=_keepers(at),
        planned=plan.sheet(at.sheaf.layouts[0].sheet).title,
        others=_others(at) if left else (),
        typed=request.args if typed is None else typed,
        wrong=wrong,
    )


@place.post("/<code>/<int:number>/cut")
def cut(code: str, number: int) -> ResponseReturnValue:
    """Book sheets as cut, all in one change."""
    at, typed = on_the_mat(code, number), request.form
    try:
        with changing() as store:
            told = _told(at, layout_states(store, at.plan), typed)
            done = cut_plan(store, at.plan, now=clock(), as_cut=told)
    except WrongAmount as refused:
        return ask(at, str(refused), typed), 422
    desk().tell(done.says)
    return redirect(url_for("mat.show"), 303)


def _told(at: OnTheMat, states: tuple[LayoutState, ...], typed: Typed) -> list[AsCut]:
    """Return what was said in the form, layout by layout."""
    chosen = _number(typed.get("layout", ""), "which sheet")
    wanted = [chosen] if chosen in at.layouts else list(at.layouts)
    still = [one for one in wanted if states[one - 1].to_cut + states[one - 1].held]
    told = list(
        told_of(
            at.plan,
            states,
            still or wanted,
            spoiled=_named(at, typed, "spoiled"),
            left_out=_named(at, typed, "left-out"),
        )
    )
    copies = _number(typed.get("copies", ""), "how many sheets") or None
    sheet, kept = typed.get("sheet", "") or None, _kept(typed)
    if copies is None and sheet is None and kept is None:
        return told
    if len(told) > 1:
        raise NotSaid(at.sheaf.title)
    return [replace(told[0], copies=copies, sheet=sheet, kept=kept)]


def _named(at: OnTheMat, typed: Typed, what: str) -> list[str]:
    """Return an order line's name once for each of its blanks that went so."""
    return [
        order
        for order in at.blanks
        for _ in range(_number(typed.get(f"{what}-{order}", ""), order))
    ]


def _number(text: str, what: str) -> int:
    text = text.strip() or "0"
    if not (text.isascii() and text.isdecimal()) or len(text) > LONGEST_NUMBER:
        raise WrongAmount(what, f'"{text}" is no number', "give 0 or more")
    return int(text)


def _kept(typed: Typed) -> tuple[Leftover, ...] | None:
    """Return what was really kept; None for the keepers as planned."""
    how = typed.get("keeping", "planned")
    if how not in KEPT or how == "planned":
        return None
    if how == "nothing":
        return ()
    sizes = [part for part in typed.get("kept", "").split(";") if part.strip()]
    if not sizes:
        raise WrongAmount("what was kept", "no size is given", "measure it, or choose nothing")
    unit = desk().present().settings.unit
    try:
        found = [read_size(part, unit=unit) for part in sizes]
    except Refused as refused:
        raise WrongAmount("what was kept", refused.message, refused.remedy) from refused
    return tuple(Leftover(size.width, size.height) for size in found)


def _keepers(at: OnTheMat) -> list[str]:
    return [
        f"{' and '.join(keeper.names)}, {size_text(keeper.width, keeper.height, inches=at.inches)}"
        f" {'in' if at.inches else 'mm'}"
        for layout in at.sheaf.layouts
        for keeper in layout.keepers
    ]


def _alike(at: OnTheMat) -> list[Alike]:
    """Return the layouts that are cut alike, told apart by the orders on them."""
    found = []
    for number, layout in zip(at.layouts, at.sheaf.layouts, strict=True):
        names = sorted({at.plan.piece(one.piece).order for one in layout.placements})
        found.append(Alike(number, ", ".join(names)))
    return found


def _others(at: OnTheMat) -> list[str]:
    """Return the other sheets of the paper that these may have been cut from."""
    paper, planned = at.sheaf.paper.paper, at.sheaf.layouts[0].sheet
    with desk().store() as store:
        sheets = [one.sheet for one in in_drawer(store)]
    return [
        sheet.id
        for sheet in sheets
        if sheet.paper == paper and sheet.id != planned and sheet.on_hand != 0
    ]
