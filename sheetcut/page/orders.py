"""The place for what is wanted: lines added, corrected and taken out where they stand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from flask import Blueprint, render_template, request
from flask.typing import ResponseReturnValue

from sheetcut.drawer import ORDER_HEADINGS, Store, order_rows
from sheetcut.drawer.lines import cut_of
from sheetcut.drawer.tables import order_cells
from sheetcut.kept_tables import ORDERS, Cells
from sheetcut.page.changing import version_of
from sheetcut.page.rows import RowForms, as_typed
from sheetcut.page.studio import desk
from sheetcut.page.work import place as work

place = Blueprint("orders", __name__, url_prefix="/orders")
place.register_blueprint(work)

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


def _lines(store: Store) -> list[Line]:
    with store.reading() as rows:
        table = order_rows(rows)[1:]
        made = cut_of(rows)
        cut = {row["name"]: made[row["id"]] for row in rows.all("order_line")}
    place_of = ORDER_HEADINGS.index("count")
    return [_line(cells, max(0, int(cells[place_of]) - cut[cells[0]])) for cells in table]


def _line(cells: tuple[str, ...], to_cut: int) -> Line:
    return Line(dict(zip(ORDER_HEADINGS, cells, strict=True)), version_of(cells), to_cut)


FORMS = RowForms(ORDERS, "orders", "this line", _page, as_typed)
place.post("/add", endpoint="add")(FORMS.add)
place.post("/correct", endpoint="correct")(FORMS.correct)
place.post("/remove", endpoint="remove")(FORMS.remove)
