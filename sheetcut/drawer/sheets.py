"""The drawer's sheets: added, corrected, removed, received, found smaller, with the books kept."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import count
from typing import Any

from sheetcut.drawer.books import Kind, book
from sheetcut.drawer.history import Change
from sheetcut.drawer.reading import Rows
from sheetcut.drawer.refusals import KeptAsAny, NameTaken, NotThere, WrongAmount
from sheetcut.drawer.rows import Row, sheet_of, sheet_row
from sheetcut.drawer.store import Store
from sheetcut.drawer.tables import length_text, money_text, size_text
from sheetcut.job import Edge, Sheet, Skew
from sheetcut.tags import new_tags
from sheetcut.units import Cents, Edges, Length


@dataclass(frozen=True, slots=True)
class InDrawer:
    """A sheet with what only the drawer knows of it.

    Attributes:
        held: how many of those on hand are spoken for by layouts that are pinned up.
        low: at so many on hand, or fewer, it is time to buy; None is not watched.
        true_edges: of a keeper, the edges that were cut or squared; None for a sheet as bought.
        origin: of a keeper, what it was cut from.
    """

    sheet: Sheet
    held: int = 0
    low: int | None = None
    true_edges: tuple[Edge, ...] | None = None
    origin: str = ""

    @property
    def is_low(self) -> bool:
        """Whether it is time to buy."""
        on_hand = self.sheet.on_hand
        return self.low is not None and on_hand is not None and on_hand <= self.low


def in_drawer(store: Store) -> tuple[InDrawer, ...]:
    """Return what lies in the drawer, in drawer order."""
    with store.reading() as rows:
        held = [one["sheet"] for one in rows.all("sheet_cut", state="held")]
        return tuple(
            InDrawer(
                sheet=sheet_of(row),
                held=held.count(row["name"]),
                low=row["low"],
                true_edges=_edges(row["true_edges"]),
                origin=row["origin"],
            )
            for row in rows.all("sheet")
        )


def _edges(text: str | None) -> tuple[Edge, ...] | None:
    return None if text is None else tuple(json.loads(text))


def add_sheet(store: Store, sheet: Sheet, *, now: datetime) -> str:
    """Put a new row into the drawer; return what was done, in a sentence."""
    with store.changing(now) as change:
        put_sheet(change, sheet)
        change.says = f"Added to the drawer: {words(sheet)}"
    return change.says


def correct_sheet(store: Store, name: str, /, *, now: datetime, **fields: Any) -> str:
    """Give a sheet other values, by the names that ``Sheet`` has for them.

    Raises:
        NotThere: if there is no such sheet.
        UnusableRecord: if the values can never be right.
    """
    with store.changing(now) as change:
        row = named_sheet(change, name)
        corrected = replace(sheet_of(row), **fields)
        if corrected.id != name:
            _refuse_taken(change, corrected.id)
        alter_sheet(change, row, sheet_row(corrected))
        change.says = f"Corrected {name}: {words(corrected)}"
    return change.says


def remove_sheet(store: Store, name: str, *, now: datetime) -> str:
    """Take a row out of the drawer, with what it had on hand."""
    with store.changing(now) as change:
        row = named_sheet(change, name)
        drop_sheet(change, row)
        change.says = f"Took out of the drawer: {words(sheet_of(row))}"
    return change.says


def watch_stock(store: Store, name: str, low: int | None, *, now: datetime) -> str:
    """Say at how many on hand it is time to buy; None stops watching."""
    with store.changing(now) as change:
        row = named_sheet(change, name)
        if low is not None and low < 0:
            raise WrongAmount(name, f"{low} is no number of sheets", "give 0 or more")
        change.alter("sheet", row["id"], {"low": low})
        level = "no longer watched" if low is None else f"time to buy at {low} on hand"
        change.says = f"{name}: {level}"
    return change.says


def receive(
    store: Store,
    name: str,
    number: int,
    *,
    now: datetime,
    paid: Cents | None = None,
    measured: tuple[Length, Length] | None = None,
    batch: str = "",
) -> str:
    """Book sheets in that have arrived: counted, and measured where they were.

    Args:
        paid: for all of them together.
        measured: width and height; where these are not the row's own, the sheets get a row
            of their own beside it.
        batch: what their label says.

    Raises:
        NotThere: if the drawer has no row for them.
        KeptAsAny: if nobody counts that sheet.
    """
    if number < 1:
        raise WrongAmount(name, f"{number} sheets arrived", "give 1 or more")
    with store.changing(now) as change:
        row = named_sheet(change, name)
        if row["on_hand"] is None:
            raise KeptAsAny(name)
        sheet = sheet_of(row)
        what = ", ".join(word for word in (name, batch and f"batch {batch}") if word)
        if measured is None or measured == (sheet.width, sheet.height):
            into = name
            change.alter("sheet", row["id"], {"on_hand": row["on_hand"] + number})
            book(change, row["paper"], "bought", number, sheet.area, cash=paid, what=what)
        else:
            into = next(_free_names(change, name))
            width, height = measured
            other = replace(sheet, id=into, width=width, height=height, on_hand=number, skew=None)
            put_sheet(change, other, kind="bought", cash=paid, what=what)
        money = "" if paid is None else f", {money_text(paid)} paid"
        own = "" if into == name else f", measured otherwise and kept as {into}"
        change.says = f"Arrived: {number} x {what}{money}{own}"
    return change.says


def found_otherwise(
    store: Store,
    name: str,
    *,
    now: datetime,
    number: int = 1,
    measured: tuple[Length, Length] | None = None,
    edge_loss: Edges | None = None,
    skew: Skew | None = None,
) -> str:
    """Book that some sheets turned out smaller than their row says, or bruised at an edge.

    They get a row of their own beside it, unless all of the row are so; return what was done,
    with the row's name.

    Args:
        skew: how they are out of square, with these losses; None where they are square.
    """
    with store.changing(now) as change:
        row = named_sheet(change, name)
        if number < 1 or (row["on_hand"] is not None and number > row["on_hand"]):
            have = "any number" if row["on_hand"] is None else row["on_hand"]
            raise WrongAmount(name, f"{number} of {have} on hand", "give how many are so")
        sheet = sheet_of(row)
        width, height = measured or (sheet.width, sheet.height)
        all_of_them = number == row["on_hand"]
        other = replace(
            sheet,
            id=name if all_of_them else next(_free_names(change, name)),
            width=width,
            height=height,
            on_hand=number,
            edge_loss=sheet.edge_loss if edge_loss is None else edge_loss,
            skew=skew,
        )
        if all_of_them:
            alter_sheet(change, row, sheet_row(other))
        else:
            if row["on_hand"] is not None:
                alter_sheet(change, row, {"on_hand": row["on_hand"] - number})
            put_sheet(change, other, true_edges=row["true_edges"], origin=row["origin"])
        loss = ", ".join(
            f"{edge} {length_text(length, other.unit)}"
            for edge, length in zip(("left", "right", "top", "foot"), other.edge_loss, strict=True)
        )
        change.says = (
            f"Found otherwise: {number} x {name} is "
            f"{size_text(width, height, other.unit)}, edges lose {loss}; kept as {other.id}"
        )
    return change.says


def free_tag(store: Store) -> str:
    """Return a tag for an offcut that nothing in the drawer carries yet."""
    with store.reading() as rows:
        return next(new_tags(row["name"] for row in rows.all("sheet")))


def named_sheet(rows: Rows, name: str) -> Row:
    """Return a sheet's row.

    Raises:
        NotThere: if there is none of that name.
    """
    row = rows.one("sheet", name=name)
    if row is None:
        raise NotThere("sheet", name, [one["name"] for one in rows.all("sheet")])
    return row


def put_sheet(
    change: Change,
    sheet: Sheet,
    *,
    kind: Kind | None = "corrected",
    cash: Cents | None = None,
    what: str = "",
    true_edges: str | None = None,
    origin: str = "",
) -> None:
    """Add a row and book its paper; a keeper's paper is on the books already (kind None)."""
    _refuse_taken(change, sheet.id)
    change.add("sheet", {**sheet_row(sheet), "true_edges": true_edges, "origin": origin})
    if kind and sheet.on_hand:
        book(change, sheet.paper, kind, sheet.on_hand, sheet.area, cash=cash, what=what or sheet.id)


def alter_sheet(change: Change, row: Row, values: Row) -> None:
    """Change a row and book what that adds to its paper or takes from it."""
    change.alter("sheet", row["id"], values)
    new = {**row, **values}
    if all(row[key] == new[key] for key in ("paper", "on_hand", "width", "height")):
        return
    for one, sign in ((row, -1), (new, 1)):
        if one["on_hand"]:
            area = one["width"] * one["height"]
            book(change, one["paper"], "corrected", sign * one["on_hand"], area, what=one["name"])


def drop_sheet(change: Change, row: Row) -> None:
    """Remove a row and book its paper out."""
    if row["on_hand"]:
        area = row["width"] * row["height"]
        book(change, row["paper"], "corrected", -row["on_hand"], area, what=row["name"])
    change.remove("sheet", row["id"])


def words(sheet: Sheet) -> str:
    """Return a sheet in few words."""
    on_hand = "any number" if sheet.on_hand is None else str(sheet.on_hand)
    size = size_text(sheet.width, sheet.height, sheet.unit)
    return f"{on_hand} x {sheet.id}, {sheet.paper}, {size}"


def _refuse_taken(change: Change, name: str) -> None:
    if change.one("sheet", name=name):
        raise NameTaken("sheet", name)


def _free_names(change: Change, name: str) -> Iterator[str]:
    taken = {row["name"].casefold() for row in change.all("sheet")}
    for number in count(2):
        if f"{name} ({number})".casefold() not in taken:
            yield f"{name} ({number})"
