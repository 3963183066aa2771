"""The place for what is wanted: lines added, corrected and taken out where they stand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.drawer import (
    ORDER_HEADINGS,
    Store,
    add_order,
    correct_order,
    order_rows,
    remove_order,
)
from sheetcut.drawer.lines import cut_of, named_line
from sheetcut.drawer.refusals import LineInWork, NameTaken
from sheetcut.drawer.rows import piece_of
from sheetcut.drawer.tables import order_cells
from sheetcut.errors import ProblemsFound
from sheetcut.job import Piece
from sheetcut.page.changing import changing, version_of
from sheetcut.page.forms import Cells, both_versions, by_field, is_overtaken, typed_cells
from sheetcut.page.studio import clock, desk
from sheetcut.read import typed_order

place = Blueprint("orders", __name__, url_prefix="/orders")

EDGES = ("left", "right", "top", "foot")
CHOICES: Mapping[str, tuple[str, ...]] = {
    "kind": ("drawing", "print", "card"),
    "turn": ("yes", "no", "grain up", "grain across", "alike"),
}
HELP: Mapping[str, str] = {
    "size": "finished size; of a print, its image",
    "margin": "all round; of a print, its borders",
    "turn": "may it be turned on the sheet",
    "deckle": "edges that keep their deckle",
    "price": "for one",
}


@dataclass(frozen=True, slots=True)
class Line:
    """An order line as it is shown."""

    cells: Cells
    version: str
    to_cut: int


@place.get("")
def show() -> ResponseReturnValue:
    """Show the lines that are open; one of them may be open to be corrected."""
    return _page(opened=request.args.get("order", ""))


@place.post("/add")
def add() -> ResponseReturnValue:
    """Add a line."""
    typed = typed_cells(ORDER_HEADINGS)
    with changing() as store:
        try:
            piece = _read(store, typed)
            desk().tell(add_order(store, piece, now=clock()))
        except (ProblemsFound, NameTaken) as error:
            return _page(adding=typed, wrong=by_field(error, ORDER_HEADINGS)), 422
    return redirect(url_for("orders.show"), 303)


@place.post("/correct")
def correct() -> ResponseReturnValue:
    """Give a line the values that were typed, unless it was changed elsewhere meanwhile."""
    name, typed = request.form.get("line", ""), typed_cells(ORDER_HEADINGS)
    with changing() as store:
        kept = _cells(store, name)
        if is_overtaken(kept):
            return both_versions(name, typed, kept, "orders"), 409
        try:
            after = _read(store, typed)
            values = {field.name: getattr(after, field.name) for field in fields(Piece)}
            desk().tell(correct_order(store, name, now=clock(), **values))
        except (ProblemsFound, NameTaken) as error:
            return _page(opened=name, correcting=typed, wrong=by_field(error, ORDER_HEADINGS)), 422
    return redirect(url_for("orders.show"), 303)


@place.post("/remove")
def remove() -> ResponseReturnValue:
    """Take a line out."""
    name = request.form.get("line", "")
    with changing() as store:
        kept = _cells(store, name)
        if is_overtaken(kept):
            return both_versions(name, {}, kept, "orders"), 409
        try:
            desk().tell(remove_order(store, name, now=clock()))
        except LineInWork as error:
            return _page(opened=name, wrong={"": [str(error)]}), 409
    return redirect(url_for("orders.show"), 303)


def _page(
    opened: str = "",
    adding: Cells | None = None,
    correcting: Cells | None = None,
    wrong: Mapping[str, list[str]] | None = None,
) -> str:
    at = desk()
    present = at.present()
    lines: list[Line] = []
    if present.is_kept:
        with at.store() as store:
            lines = _lines(store)
    else:
        lines = [_line(order_cells(piece), piece.count) for piece in present.job.pieces]
    usual = dict.fromkeys(ORDER_HEADINGS, "") | {"kind": "drawing", "count": "1", "turn": "yes"}
    usual["order"] = _free_name([line.cells["order"] for line in lines])
    return render_template(
        "orders.html",
        is_kept=present.is_kept,
        lines=lines,
        opened=opened if present.is_kept else "",
        adding=adding or usual,
        is_adding=adding is not None,
        correcting=correcting,
        wrong=wrong or {},
        papers=tuple(dict.fromkeys(sheet.paper for sheet in present.job.sheets)),
        choices=CHOICES,
        help=HELP,
    )


def _free_name(names: list[str]) -> str:
    """Return a name for a new line: the one after the last, where that ends in figures."""
    last = names[-1] if names else "0"
    stem = last.rstrip("0123456789")
    figures = last[len(stem) :]
    number = int(figures or 0) + 1
    while (name := f"{stem}{number:0{len(figures)}d}") in names:
        number += 1
    return name


def _read(store: Store, typed: Cells) -> Piece:
    told = typed_order(typed, desk().present().settings, store.recorded().sheets, where="this line")
    desk().tell(*(note.removeprefix("this line: ") for note in told.notes))
    assert told.piece is not None
    return told.piece


def _cells(store: Store, name: str) -> Cells:
    with store.reading() as rows:
        return dict(zip(ORDER_HEADINGS, order_cells(piece_of(named_line(rows, name))), strict=True))


def _lines(store: Store) -> list[Line]:
    with store.reading() as rows:
        table = order_rows(rows)[1:]
        made = cut_of(rows)
        cut = {row["name"]: made[row["id"]] for row in rows.all("order_line")}
    place_of = ORDER_HEADINGS.index("count")
    return [_line(cells, max(0, int(cells[place_of]) - cut[cells[0]])) for cells in table]


def _line(cells: tuple[str, ...], to_cut: int) -> Line:
    return Line(dict(zip(ORDER_HEADINGS, cells, strict=True)), version_of(cells), to_cut)
