"""The history: every change is written down row by row, to be taken back and done again."""

from __future__ import annotations

import json
import sqlite3
from datetime import datetime
from typing import Literal

from sheetcut.drawer.reading import IN_PLACE, RowChange, Rows, known_table, run
from sheetcut.drawer.refusals import NothingToRedo, NothingToUndo
from sheetcut.drawer.rows import Row
from sheetcut.errors import SheetcutError


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
        self._ends: dict[str, int] = {}

    @property
    def is_empty(self) -> bool:
        """Whether no row has changed."""
        return not self._changes

    def add(self, table: str, values: Row) -> int:
        """Add a row, at the end of its table where that has an order, and return its number."""
        values = dict(values)
        if table in IN_PLACE:
            values.setdefault("place", self._end_of(table))
        row = self._run(
            f"INSERT INTO {known_table(table)} ({', '.join(values)}) "
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
        self._run(f"UPDATE {known_table(table)} SET {columns} WHERE id = {row:d}", values)
        self._note(table, row, before)

    def remove(self, table: str, row: int) -> None:
        """Remove a row."""
        before = self.one(table, id=row)
        self._run(f"DELETE FROM {known_table(table)} WHERE id = {row:d}", {})
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
        done, _ = self.stacks()
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
        _, undone = self.stacks()
        if not undone:
            raise NothingToRedo
        self._kind, self._of = "redo", undone[-1]
        self.says = f"Did again: {self._said(undone[-1])}"
        for one in self.row_changes(undone[-1]):
            self._put(one.table, one.row, expected=one.before, wanted=one.after)

    def note_quietly(self, table: str, key: str, values: Row) -> None:
        """Write a row that is no part of the history: what was last seen of a file."""
        self._run(f"DELETE FROM {known_table(table)} WHERE {key} = ?", {key: values[key]})
        self._run(
            f"INSERT INTO {table} ({', '.join(values)}) VALUES ({', '.join('?' for _ in values)})",
            values,
        )

    def _put(self, table: str, row: int, *, expected: Row | None, wanted: Row | None) -> None:
        before = self.one(table, id=row)
        # What was last seen of a file may have been noted quietly since; nothing else can differ.
        if before != expected and table != "source":
            raise Tampered(table, row)
        self._run(f"DELETE FROM {known_table(table)} WHERE id = {row:d}", {})
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
        if table not in self._ends:
            found = self._connection.execute(
                f"SELECT coalesce(max(place), 0) FROM {known_table(table)}"
            )
            self._ends[table] = int(found.fetchone()[0])
        self._ends[table] += 1
        return self._ends[table]

    def _note(self, table: str, row: int, before: Row | None) -> None:
        self._changes.append(RowChange(table, row, before, self.one(table, id=row)))

    def _run(self, statement: str, values: Row) -> sqlite3.Cursor:
        return run(self._connection, statement, values)


class Tampered(SheetcutError):
    """A row is not what the history left it as."""

    def __init__(self, table: str, row: int) -> None:
        super().__init__(
            f"row {row} of {table} was changed by another program, so the history no longer fits "
            "it; bring back a copy from the folder backups. Nothing was changed"
        )


def _dumped(row: Row | None) -> str | None:
    return None if row is None else json.dumps(row, ensure_ascii=False)
