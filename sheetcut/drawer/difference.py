"""Differences between a file and the store, as a person reads them."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from sheetcut.drawer.rows import Row
from sheetcut.drawer.tables import length_text, money_text, words_of

_CALLED = {"setting": "setting", "paper": "paper", "sheet": "sheet", "order_line": "order"}


@dataclass(frozen=True, slots=True)
class Difference:
    """One difference between a file and the store.

    Attributes:
        kind: "stays" is told, not done: what was done here since holds against the file.
        what: sheet, order, paper or setting; ``name`` says which.
        field: what of it is changed; empty for a whole row.
        before, after: the values, as a person reads them.
        also_here: that the store changed it too since the file was last brought in.
        why: for what stays, why it does.
    """

    kind: Literal["added", "changed", "removed", "stays"]
    what: str
    name: str
    field: str = ""
    before: str = ""
    after: str = ""
    also_here: bool = False
    why: str = ""

    def __str__(self) -> str:
        if self.kind == "stays":
            return f"{self.what} {self.name}: {self.why}"
        if self.kind != "changed":
            detail = self.after if self.kind == "added" else self.before
            return f"{self.what} {self.name}: {self.kind}" + (f" ({detail})" if detail else "")
        also = "; changed here too since the file was last brought in" if self.also_here else ""
        return f"{self.what} {self.name}: {self.field} {self.before} -> {self.after}{also}"


@dataclass(frozen=True, slots=True)
class Fate:
    """What becomes of one row: kind as in ``Difference``; values are what changes, or all."""

    kind: Literal["added", "changed", "removed", "stays"]
    name: str
    row: Row
    values: Row


def told(table: str, fate: Fate, last: Row) -> Iterator[Difference]:
    """Yield what comes in of one row; last is how its file had it when last brought in."""
    what, name = _CALLED[table], _written(table, fate.name)
    if fate.kind != "changed":
        detail = _detail(table, fate.values or fate.row)
        before, after = ("", detail) if fate.kind == "added" else (detail, "")
        yield Difference(fate.kind, what, name, before=before, after=after)
        return
    for column, value in fate.values.items():
        yield Difference(
            "changed",
            what,
            name,
            field=_field(column),
            before=_text(column, fate.row[column], fate.row),
            after=_text(column, value, fate.row),
            also_here=column in last and last[column] != fate.row[column],
        )


def told_staying(table: str, fate: Fate) -> Iterator[Difference]:
    """Yield what holds against the file, with the reason."""
    what, name = _CALLED[table], _written(table, fate.name)
    if not fate.row:
        why = "in the file as when it was last brought in, and gone here since; stays out"
        yield Difference("stays", what, name, why=why)
    elif not fate.values:
        why = "gone from the file; stays, as blanks are cut for it"
        yield Difference("stays", what, name, why=why)
    for column, value in fate.values.items() if fate.row else ():
        field, here = _field(column), _text(column, fate.row[column], fate.row)
        there = _text(column, value, fate.row)
        why = f"{field} is {there} in the file, as when it was last brought in; stays {here}"
        yield Difference("stays", what, name, field, here, there, why=why)


def _written(table: str, name: str) -> str:
    """Return a row's name as its file writes it: settings have hyphens there."""
    return name.replace("_", "-") if table == "setting" else name


def _field(column: str) -> str:
    names = {"leave": "deckles left on", "keep": "deckles kept", "skew": "out of square"}
    return names.get(column, column.replace("_", " ").replace("loss", "edge loss"))


def _detail(table: str, row: Row) -> str:
    if table == "setting":
        return _text("value", row["value"], row)
    if table == "paper":
        return ""
    column = "on_hand" if table == "sheet" else "count"
    size = " x ".join(_text(side, row[side], row) for side in ("width", "height"))
    return f"{_text(column, row[column], row)} of {size}, {row['paper']}"


def _text(column: str, value: Any, row: Row) -> str:
    """Return a value as a person reads it."""
    if column == "on_hand" and value is None:
        return "any"
    if value is None:
        return "nothing"
    if column in ("width", "height") or column.startswith(("loss", "margin", "border")):
        return length_text(value, row["unit"])
    if column == "price":
        return money_text(value)
    if column == "skew":
        return _skew_text(json.loads(value), row)
    if column in ("deckles", "leave", "keep", "packs"):
        return words_of(value) or "none"
    if column == "value":
        return _setting_text(row["name"], json.loads(value))
    return str(value) or "nothing"


def _skew_text(skew: dict[str, Any], row: Row) -> str:
    sides = ("foot", "top", "left", "right", "diagonal")
    return ", ".join(f"{side} {length_text(skew[side], row['unit'])}" for side in sides)


def _setting_text(name: str, value: Any) -> str:
    if value is None or value == "":
        return "not set"
    if isinstance(value, list):
        return " x ".join(_setting_text(name, one) for one in value)
    return length_text(value, "mm") if isinstance(value, int) else str(value)
