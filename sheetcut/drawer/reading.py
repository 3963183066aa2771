"""Reading the store: its rows and its diary, all as they stand at one moment."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sheetcut.drawer.refusals import NotKeepable
from sheetcut.drawer.rows import Row

STATE_TABLES = (
    "setting", "paper", "sheet", "order_line", "sheet_cut", "blank", "book", "source", "edition",
    "print",
)  # fmt: skip
IN_PLACE = {"paper", "sheet", "order_line", "edition"}  # these keep the order they were typed in


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of the diary.

    Attributes:
        at: when, as ISO 8601 text.
        says: what happened, in a sentence.
        kind: a change, or one taken back or done again.
        is_undone: for a change, that it is taken back at present.
    """

    number: int
    at: str
    says: str
    kind: Literal["change", "undo", "redo"]
    is_undone: bool = False

    def __str__(self) -> str:
        note = " (taken back)" if self.is_undone else ""
        return f"{self.at[:10]} {self.at[11:16]}  {self.says}{note}"


@dataclass(frozen=True, slots=True)
class RowChange:
    """One row before and after; None where there was or is no such row."""

    table: str
    row: int
    before: Row | None
    after: Row | None


class Rows:
    """The rows of the store as they stand, all read at one moment."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def all(self, table: str, **equal: object) -> list[Row]:
        """Return the rows of a table with these values, in the order they were typed."""
        where = " AND ".join(f"{column} IS ?" for column in equal) or "1"
        order = "place, id" if table in IN_PLACE else "id"
        found = run(
            self._connection,
            f"SELECT * FROM {known_table(table)} WHERE {where} ORDER BY {order}",
            equal,
        )
        names = [column[0] for column in found.description]
        return [dict(zip(names, values, strict=True)) for values in found]

    def one(self, table: str, **equal: object) -> Row | None:
        """Return the first row with these values, or None."""
        return next(iter(self.all(table, **equal)), None)

    def entries(self) -> list[Entry]:
        """Return the diary, oldest first."""
        done = set(self.stacks()[0])
        found = self._connection.execute("SELECT id, at, says, kind FROM history ORDER BY id")
        return [
            Entry(number, at, says, kind, kind == "change" and number not in done)
            for number, at, says, kind in found
        ]

    def last_entry(self) -> tuple[int, str, str]:
        """Return number, time and sentence of the diary's last entry; 0 where it has none."""
        found = self._connection.execute(
            "SELECT id, at, says FROM history ORDER BY id DESC LIMIT 1"
        ).fetchone()
        return (0, "", "") if found is None else (int(found[0]), str(found[1]), str(found[2]))

    def row_changes(self, entry: int) -> list[RowChange]:
        """Return what one entry did, row by row, in order."""
        found = self._connection.execute(
            "SELECT place, row, before, after FROM row_change WHERE entry = ? ORDER BY id", (entry,)
        )
        return [
            RowChange(table, row, _loaded(before), _loaded(after))
            for table, row, before, after in found
        ]

    def stacks(self) -> tuple[list[int], list[int]]:
        """Return the changes that stand, and those taken back, the latest last."""
        done: list[int] = []
        undone: list[int] = []
        for number, kind, of in self._connection.execute(
            "SELECT id, kind, of FROM history ORDER BY id"
        ):
            if kind == "change":
                done.append(number)
                undone.clear()
            elif kind == "undo":
                done.remove(of)
                undone.append(of)
            else:
                undone.remove(of)
                done.append(of)
        return done, undone


def diary(entries: list[Entry]) -> Iterator[str]:
    """Yield the entries as lines, day by day."""
    day = ""
    for entry in entries:
        if entry.at[:10] != day:
            day = entry.at[:10]
            yield day
        note = " (taken back)" if entry.is_undone else ""
        yield f"  {entry.at[11:16]}  {entry.says}{note}"


def run(connection: sqlite3.Connection, statement: str, values: Row) -> sqlite3.Cursor:
    """Run a statement with these values in order.

    Raises:
        NotKeepable: if one of them is no text or number that the file can hold.
    """
    try:
        return connection.execute(statement, tuple(values.values()))
    except (OverflowError, UnicodeEncodeError) as error:
        found = next(name for name, value in values.items() if not _is_keepable(value))
        raise NotKeepable(found, values[found]) from error


def _is_keepable(value: object) -> bool:
    if isinstance(value, int):
        return -(2**63) <= value < 2**63
    return not (isinstance(value, str) and any("\ud800" <= one <= "\udfff" for one in value))


def known_table(table: str) -> str:
    """Return the name of a table, after making sure that it is one: it becomes part of SQL."""
    assert table in STATE_TABLES, table
    return table


def _loaded(text: str | None) -> Row | None:
    return None if text is None else dict(json.loads(text))
