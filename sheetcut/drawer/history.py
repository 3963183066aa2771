"""The history: every change is written down row by row, so it can be taken back and done again."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from sheetcut.drawer.refusals import NothingToRedo, NothingToUndo, NotKeepable
from sheetcut.drawer.rows import Row
from sheetcut.errors import SheetcutError

STATE_TABLES = ("setting", "paper", "sheet", "order_line", "sheet_cut", "blank", "book", "source")
_IN_PLACE = {"paper", "sheet", "order_line"}  # these keep the order they were typed in


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
        order = "place, id" if table in _IN_PLACE else "id"
        found = _run(
            self._connection,
            f"SELECT * FROM {_known(table)} WHERE {where} ORDER BY {order}",
            equal,
        )
        names = [column[0] for column in found.description]
        return [dict(zip(names, values, strict=True)) for values in found]

    def one(self, table: str, **equal: object) -> Row | None:
        """Return the first row with these values, or None."""
        return next(iter(self.all(table, **equal)), None)

    def entries(self) -> list[Entry]:
        """Return the diary, oldest first."""
        done = set(self._stacks()[0])
        found = self._connection.execute("SELECT id, at, says, kind FROM history ORDER BY id")
        return [
            Entry(number, at, says, kind, kind == "change" and number not in done)
            for number, at, says, kind in found
        ]

    def row_changes(self, entry: int) -> list[RowChange]:
        """Return what one entry did, row by row, in order."""
        found = self._connection.execute(
            "SELECT place, row, before, after FROM row_change WHERE entry = ? ORDER BY id", (entry,)
        )
        return [
            RowChange(table, row, _loaded(before), _loaded(after))
            for table, row, before, after in found
        ]

    def _stacks(self) -> tuple[list[int], list[int]]:
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


class Change(Rows):
    """A change in progress: rows are altered through it, and it writes down each of them.

    Attributes:
        now: when it happens.
        says: what it does, in a sentence; the change is kept only if some row did change.
        notices: what its owner should hear besides, a sentence each.
    """

    def __init__(self, connection: sqlite3.Connection, now: datetime) -> None:
        super().__init__(connection)
        self.now = now.isoformat(timespec="seconds")
        self.says = ""
        self.notices: list[str] = []
        self._kind: Literal["change", "undo", "redo"] = "change"
        self._of: int | None = None
        self._changes: list[RowChange] = []

    @property
    def is_empty(self) -> bool:
        """Whether no row has changed."""
        return not self._changes

    def add(self, table: str, values: Row) -> int:
        """Add a row, at the end of its table where that has an order, and return its number."""
        values = dict(values)
        if table in _IN_PLACE:
            values.setdefault("place", self._end_of(table))
        row = self._run(
            f"INSERT INTO {_known(table)} ({', '.join(values)}) "
            f"VALUES ({', '.join('?' for _ in values)})",
            values,
        ).lastrowid
        assert row is not None
        self._note(table, row, None)
        return row

    def alter(self, table: str, row: int, values: Row) -> None:
        """Give a row new values; none that differ, nothing done."""
        before = self.one(table, id=row)
        assert before is not None
        values = {column: value for column, value in values.items() if before[column] != value}
        if not values:
            return
        columns = ", ".join(f"{column} = ?" for column in values)
        self._run(f"UPDATE {_known(table)} SET {columns} WHERE id = {row:d}", values)
        self._note(table, row, before)

    def remove(self, table: str, row: int) -> None:
        """Remove a row."""
        before = self.one(table, id=row)
        self._run(f"DELETE FROM {_known(table)} WHERE id = {row:d}", {})
        self._note(table, row, before)

    def keep(self) -> None:
        """Enter the change into the history."""
        entry = self._run(
            "INSERT INTO history (at, says, kind, of) VALUES (?, ?, ?, ?)",
            {"at": self.now, "says": self.says, "kind": self._kind, "of": self._of},
        ).lastrowid
        self._connection.executemany(
            "INSERT INTO row_change (entry, place, row, before, after) VALUES (?, ?, ?, ?, ?)",
            (
                (entry, one.table, one.row, _dumped(one.before), _dumped(one.after))
                for one in self._changes
            ),
        )

    def undo(self) -> None:
        """Take back the latest change that stands.

        Raises:
            NothingToUndo: if none does.
        """
        done, _ = self._stacks()
        if not done:
            raise NothingToUndo
        self._kind, self._of = "undo", done[-1]
        self.says = f"Took back: {self._said(done[-1])}"
        for one in reversed(self.row_changes(done[-1])):
            self._put(one.table, one.row, expected=one.after, wanted=one.before)

    def redo(self) -> None:
        """Do again what was taken back last.

        Raises:
            NothingToRedo: if nothing was, or something else was done since.
        """
        _, undone = self._stacks()
        if not undone:
            raise NothingToRedo
        self._kind, self._of = "redo", undone[-1]
        self.says = f"Did again: {self._said(undone[-1])}"
        for one in self.row_changes(undone[-1]):
            self._put(one.table, one.row, expected=one.before, wanted=one.after)

    def note_quietly(self, table: str, key: str, values: Row) -> None:
        """Write a row that is no part of the history: what was last seen of a file."""
        self._run(f"DELETE FROM {_known(table)} WHERE {key} = ?", {key: values[key]})
        self._run(
            f"INSERT INTO {table} ({', '.join(values)}) VALUES ({', '.join('?' for _ in values)})",
            values,
        )

    def _put(self, table: str, row: int, *, expected: Row | None, wanted: Row | None) -> None:
        before = self.one(table, id=row)
        # What was last seen of a file may have been noted quietly since; nothing else can differ.
        if before != expected and table != "source":
            raise Tampered(table, row)
        self._run(f"DELETE FROM {_known(table)} WHERE id = {row:d}", {})
        if wanted is not None:
            self._run(
                f"INSERT OR REPLACE INTO {table} ({', '.join(wanted)}) "
                f"VALUES ({', '.join('?' for _ in wanted)})",
                wanted,
            )
        self._note(table, row, before)

    def _said(self, entry: int) -> str:
        found = self._connection.execute("SELECT says FROM history WHERE id = ?", (entry,))
        return str(found.fetchone()[0])

    def _end_of(self, table: str) -> int:
        found = self._connection.execute(f"SELECT coalesce(max(place), 0) + 1 FROM {_known(table)}")
        return int(found.fetchone()[0])

    def _note(self, table: str, row: int, before: Row | None) -> None:
        self._changes.append(RowChange(table, row, before, self.one(table, id=row)))

    def _run(self, statement: str, values: Row) -> sqlite3.Cursor:
        return _run(self._connection, statement, values)


class Tampered(SheetcutError):
    """A row is not what the history left it as."""

    def __init__(self, table: str, row: int) -> None:
        super().__init__(
            f"row {row} of {table} was changed by another program, so the history no longer fits "
            "it; bring back a copy from the folder backups. Nothing was changed"
        )


def _run(connection: sqlite3.Connection, statement: str, values: Row) -> sqlite3.Cursor:
    try:
        return connection.execute(statement, tuple(values.values()))
    except (OverflowError, UnicodeEncodeError) as error:
        raise _not_keepable(values) from error


def _not_keepable(values: Row) -> NotKeepable:
    for column, value in values.items():
        if isinstance(value, int) and not -(2**63) <= value < 2**63:
            return NotKeepable(column, value)
        if isinstance(value, str) and any("\ud800" <= letter <= "\udfff" for letter in value):
            return NotKeepable(column, value)
    return NotKeepable("a value", values)


def _known(table: str) -> str:
    assert table in STATE_TABLES, table
    return table


def _dumped(row: Row | None) -> str | None:
    return None if row is None else json.dumps(row, ensure_ascii=False)


def _loaded(text: str | None) -> Row | None:
    return None if text is None else dict(json.loads(text))


def diary(entries: list[Entry]) -> Iterator[str]:
    """Yield the entries as lines, day by day."""
    day = ""
    for entry in entries:
        if entry.at[:10] != day:
            day = entry.at[:10]
            yield day
        note = " (taken back)" if entry.is_undone else ""
        yield f"  {entry.at[11:16]}  {entry.says}{note}"
