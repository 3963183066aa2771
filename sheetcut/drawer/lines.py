"""The order lines: added, corrected, taken out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from typing import Any

from sheetcut.drawer.history import Change
from sheetcut.drawer.reading import Rows
from sheetcut.drawer.refusals import LineInWork, NameTaken, NotThere
from sheetcut.drawer.rows import Row, line_row, piece_of
from sheetcut.drawer.store import Store, is_made
from sheetcut.drawer.tables import size_text
from sheetcut.job import Piece


def add_order(store: Store, piece: Piece, *, now: datetime) -> str:
    """Add an order line; return what was done, in a sentence."""
    with store.changing(now) as change:
        put_line(change, piece)
        change.says = f"Ordered: {words(piece)}"
    return change.says


def add_orders(store: Store, pieces: Iterable[Piece], *, now: datetime) -> str:
    """Add order lines that belong together, in one change; return what was done.

    Raises:
        NameTaken: if one of their names is; then none is added.
    """
    with store.changing(now) as change:
        added = list(pieces)
        for piece in added:
            put_line(change, piece)
        change.says = f"Ordered: {'; '.join(map(words, added))}"
    return change.says


def correct_order(store: Store, name: str, /, *, now: datetime, **fields: Any) -> str:
    """Give an order line other values, by the names that ``Piece`` has for them.

    Blanks that were cut for it stay cut; a larger count has the rest planned.

    Raises:
        NotThere: if there is no such line.
        UnusableRecord: if the values can never be right.
    """
    with store.changing(now) as change:
        row = named_line(change, name)
        corrected = replace(piece_of(row), **fields)
        if corrected.order != name:
            _refuse_taken(change, corrected.order)
        change.alter("order_line", row["id"], line_row(corrected))
        change.says = f"Corrected the order {name}: {words(corrected)}"
    return change.says


def remove_order(store: Store, name: str, *, now: datetime) -> str:
    """Take an order line out.

    Raises:
        NotThere: if there is no such line.
        LineInWork: if blanks were cut for it.
    """
    with store.changing(now) as change:
        row = named_line(change, name)
        drop_line(change, row)
        change.says = f"Took the order out: {words(piece_of(row))}"
    return change.says


def named_line(rows: Rows, name: str) -> Row:
    """Return an order line's row.

    Raises:
        NotThere: if there is none of that name.
    """
    row = rows.one("order_line", name=name)
    if row is None:
        raise NotThere("order", name, [one["name"] for one in rows.all("order_line")])
    return row


def put_line(change: Change, piece: Piece) -> None:
    """Add a row for an order line."""
    _refuse_taken(change, piece.order)
    change.add("order_line", line_row(piece))


def drop_line(change: Change, row: Row) -> None:
    """Remove a line's row, unless blanks hang on it."""
    blanks = change.all("blank", line=row["id"])
    if blanks:
        raise LineInWork(row["name"], len(blanks))
    change.remove("order_line", row["id"])


def cut_of(rows: Rows) -> Counter[int]:
    """Return for each line's row how many blanks are cut for it and not spoiled."""
    return Counter(blank["line"] for blank in rows.all("blank") if is_made(blank))


def words(piece: Piece) -> str:
    """Return an order line in few words."""
    size = size_text(piece.width, piece.height, piece.unit)
    title = f", {piece.label}" if piece.label else ""
    return f"{piece.count} x {piece.order}{title}, {piece.paper}, {size}"


def _refuse_taken(change: Change, name: str) -> None:
    if change.one("order_line", name=name):
        raise NameTaken("order", name)
