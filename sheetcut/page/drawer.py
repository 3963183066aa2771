"""The place where paper lies: sheets and keepers to one scale, and what the files would change."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.drawer import InDrawer, in_drawer
from sheetcut.drawer.tables import length_text, size_text
from sheetcut.page.bringing_in import bring_in, fingerprint, newer, what_differs
from sheetcut.page.figures import Lying, lying
from sheetcut.page.studio import desk
from sheetcut.printout import money

place = Blueprint("drawer", __name__, url_prefix="/drawer")


@dataclass(frozen=True, slots=True)
class Row:
    """A sheet as it is shown."""

    id: str
    title: str
    size: str
    on_hand: str
    price: str
    facts: tuple[str, ...]
    is_low: bool
    is_offcut: bool
    figure: Lying


@place.get("")
def show() -> ResponseReturnValue:
    """Show what lies in the drawer, paper by paper."""
    at = desk()
    present = at.present()
    if present.is_kept:
        with at.store() as store:
            found = in_drawer(store)
    else:
        found = tuple(InDrawer(sheet) for sheet in present.job.sheets)
    papers = dict.fromkeys(one.sheet.paper for one in found)
    longest = max((max(one.sheet.width, one.sheet.height) for one in found), default=1)
    currency = present.job.currency
    return render_template(
        "drawer.html",
        is_kept=present.is_kept,
        newer=newer(at),
        papers=[
            (
                paper,
                _grammage(present.job.paper(paper).grammage),
                _rows(found, paper, longest, currency),
            )
            for paper in papers
        ],
    )


@place.get("/bring-in")
def differences() -> ResponseReturnValue:
    """Show what the studio's files would change."""
    at = desk()
    return render_template(
        "bring_in.html",
        found=what_differs(at),
        seen=fingerprint(at),
        is_kept=at.is_kept(),
        newer=newer(at),
    )


@place.post("/bring-in")
def take() -> ResponseReturnValue:
    """Bring in what was shown; files changed since are shown again first."""
    at = desk()
    if request.form.get("seen") != fingerprint(at):
        at.tell("The files have changed since; look at what would come in now.")
        return redirect(url_for("drawer.differences"), 303)
    applied = [one for one in bring_in(at) if one.kind != "stays"]
    changed = len({(one.what, one.name) for one in applied})
    rows = "row was" if changed == 1 else "rows were"
    at.tell(f"{changed} {rows} brought in. The diary can take it back.")
    return redirect(url_for("drawer.show"), 303)


def _grammage(grammage: int | None) -> str:
    return "" if grammage is None else f"{grammage} g/m²"


def _rows(found: Sequence[InDrawer], paper: str, longest: int, currency: str) -> list[Row]:
    return [_row(one, longest, currency) for one in found if one.sheet.paper == paper]


def _row(one: InDrawer, longest: int, currency: str) -> Row:
    sheet = one.sheet
    return Row(
        id=sheet.id,
        title=sheet.title,
        size=size_text(sheet.width, sheet.height, sheet.unit).replace(" x ", " × "),
        on_hand="any" if sheet.on_hand is None else str(sheet.on_hand),
        price="" if sheet.price is None else money(sheet.price, currency),
        facts=tuple(_facts(one)),
        is_low=one.is_low,
        is_offcut=sheet.kind == "offcut",
        figure=lying(sheet, longest),
    )


def _facts(one: InDrawer) -> list[str]:
    sheet = one.sheet
    said = []
    if sheet.id != sheet.title:
        said.append(sheet.id)
    if one.held:
        said.append(f"{one.held} pinned up")
    losses = set(sheet.edge_loss)
    if len(losses) == 1 and any(losses):
        said.append(f"{length_text(sheet.edge_loss.left, sheet.unit)} lost at every edge")
    elif any(losses):
        names = zip(("left", "right", "top", "foot"), sheet.edge_loss, strict=True)
        said.append(
            "lost: " + ", ".join(f"{n} {length_text(v, sheet.unit)}" for n, v in names if v)
        )
    if sheet.deckles:
        every = len(sheet.deckles) == 4
        said.append("deckle all round" if every else f"deckle {', '.join(sheet.deckles)}")
    if sheet.grain not in ("none", "not known"):
        said.append(f"grain {sheet.grain}")
    if sheet.side == "one":
        said.append("one side")
    if one.origin:
        said.append(one.origin)
    if sheet.note:
        said.append(sheet.note)
    return said
