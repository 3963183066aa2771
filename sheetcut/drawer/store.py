"""The store: one file per studio that holds the drawer, the orders, and all that was done."""

from __future__ import annotations

import json
import sqlite3
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Any

from sheetcut.drawer import schema
from sheetcut.drawer.backups import keep_copy, keep_daily_copy
from sheetcut.drawer.history import Change
from sheetcut.drawer.mirror import write_mirror
from sheetcut.drawer.reading import Entry, Rows
from sheetcut.drawer.refusals import NewerStore, NoStore, NotAStore, in_words
from sheetcut.drawer.rows import paper_of, piece_of, settings_of, sheet_of
from sheetcut.job import Job, Sheet

FILE_NAME = "studio.sqlite"
PATIENCE_S = 5.0
"""How long to wait for another program that is writing."""


class Store:
    """A studio's store, open.

    Attributes:
        path: its file.
        notices: what its owner should hear after a change, a sentence each; nothing that
            undoes the change.
    """

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self.path = path
        self.notices: list[str] = []
        self._connection = connection
        self._is_alone = False

    @classmethod
    def open(cls, folder: Path, *, create: bool = False, patience_s: float = PATIENCE_S) -> Store:
        """Open the store of a studio's folder; an older one is brought up to date first.

        Args:
            create: makes the file where there is none.
            patience_s: how long to wait for another program that is writing.

        Raises:
            NoStore: if there is none, and none is to be made.
            NotAStore, NewerStore, StoreDamaged, StoreBusy, StoreNotWritten: as they say.
        """
        path = folder / FILE_NAME
        is_first = not path.exists()
        if is_first and not create:
            raise NoStore(path)
        with in_words(path):
            connection = _connected(path, patience_s)
            try:
                _bring_up_to_date(connection, path, create=create)
            except BaseException:
                connection.close()
                # An empty file would pass for a store that is there and cannot be opened.
                if is_first and path.exists() and not path.stat().st_size:
                    path.unlink()
                raise
        return cls(path, connection)

    def close(self) -> None:
        """Let go of the file."""
        self._connection.close()

    def __enter__(self) -> Store:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    @property
    def is_new(self) -> bool:
        """Whether nothing was ever done in it, so that the files still are the truth."""
        with in_words(self.path):
            return Rows(self._connection).last_entry()[0] == 0

    def moment(self) -> tuple[object, ...]:
        """Return what tells the store as it is from itself once changed; first its last entry.

        Its last entry alone is not enough: a copy that was brought back may have come to as many
        entries as the file that it stands in for.
        """
        with in_words(self.path):
            at = self.path.stat()
            entry = Rows(self._connection).last_entry()
        return (*entry, at.st_ino, at.st_size, at.st_mtime_ns)

    @contextmanager
    def reading(self) -> Iterator[Rows]:
        """Give the rows as they stand at one moment, whatever else is written meanwhile."""
        if self._is_alone:
            yield Rows(self._connection)
            return
        with in_words(self.path):
            self._connection.execute("BEGIN")
            try:
                yield Rows(self._connection)
            finally:
                self._drop()

    @contextmanager
    def alone(self) -> Iterator[None]:
        """Let no other program change anything until the first change of the block is made.

        So what a change depends on can be looked at first: it still holds when it is made.

        Raises:
            StoreBusy: if another program is writing all the while.
        """
        if self._is_alone:
            yield
            return
        with in_words(self.path):
            self._connection.execute("BEGIN IMMEDIATE")
            self._is_alone = True
            try:
                yield
            finally:
                self._is_alone = False
                self._drop()

    @contextmanager
    def changing(self, now: datetime) -> Iterator[Change]:
        """Give a change to be made whole: kept when the block ends, dropped if it raises.

        The first change of a day is preceded by a copy of the file; each is followed by a
        fresh mirror in CSV.

        Raises:
            StoreBusy, StoreNotWritten: if it cannot be kept; then nothing was changed.
        """
        with in_words(self.path):
            # Not before there is a change: a form that is refused leaves no file behind.
            self._tell(keep_daily_copy(self._connection, self.path, now.date()))
            if not self._is_alone:
                self._connection.execute("BEGIN IMMEDIATE")
            self._is_alone = False
            try:
                change = Change(self._connection, now)
                yield change
                if not change.is_empty:
                    change.keep()
                self._connection.execute("COMMIT")
            finally:
                self._drop()
        self.notices += change.notices
        if not change.is_empty:
            self._mirror()

    @contextmanager
    def trying(self, now: datetime) -> Iterator[Change]:
        """Give a change to be looked at: it is refused as ever, and dropped at the end."""
        with in_words(self.path):
            self._connection.execute("BEGIN IMMEDIATE")
            try:
                yield Change(self._connection, now)
            finally:
                self._drop()

    def job(self) -> Job:
        """Return what is to be planned now.

        Blanks that were cut are no longer wanted, and what is pinned up is spoken for: its
        sheets are not on hand, its blanks not wanted. Offcuts that are spent are left out;
        full sheets stay, though none be on hand, for what they would cost.
        """
        with self.reading() as rows:
            whole, held = _recorded(rows), rows.all("sheet_cut", state="held")
            cut = Counter(blank["line"] for blank in rows.all("blank") if is_made(blank))
            lines = {row["name"]: row["id"] for row in rows.all("order_line")}
        sheets_held = Counter(one["sheet"] for one in held)
        blanks_held: Counter[str] = Counter()
        for one in held:
            blanks_held.update(dict(json.loads(one["wanted"])))
        return replace(
            whole,
            sheets=tuple(_on_hand(whole, sheets_held)),
            pieces=tuple(
                replace(piece, count=left)
                for piece in whole.pieces
                if (left := piece.count - cut[lines[piece.order]] - blanks_held[piece.order]) > 0
            ),
        )

    def recorded(self) -> Job:
        """Return everything as it was taken in, whatever was cut of it since."""
        with self.reading() as rows:
            return _recorded(rows)

    def history(self) -> list[Entry]:
        """Return the diary, oldest entry first."""
        with self.reading() as rows:
            return rows.entries()

    def undo(self, *, now: datetime) -> str:
        """Take back the latest change that stands, and return what that was.

        Raises:
            NothingToUndo: if no change is left.
        """
        with self.changing(now) as change:
            change.undo()
        return change.says

    def redo(self, *, now: datetime) -> str:
        """Do again what was taken back last, and return what that was.

        Raises:
            NothingToRedo: if there is nothing, or another change was made since.
        """
        with self.changing(now) as change:
            change.redo()
        return change.says

    def note_quietly(self, values: dict[str, Any]) -> None:
        """Note what was seen of a file; no part of the history, as nothing of stock changes."""
        with in_words(self.path):
            self._connection.execute("BEGIN IMMEDIATE")
            try:
                Change(self._connection, datetime.min).note_quietly("source", "name", values)
                self._connection.execute("COMMIT")
            finally:
                self._drop()

    def _mirror(self) -> None:
        """Write the mirror while nobody else can change what it shows."""
        try:
            self._connection.execute("BEGIN IMMEDIATE")
            self._tell(write_mirror(Rows(self._connection), self.path.parent))
        except sqlite3.Error as error:
            # Whoever holds the file writes a newer mirror than ours.
            self._tell(f"the mirror was not written ({error}); the change itself is kept")
        finally:
            self._drop()

    def _drop(self) -> None:
        """Drop what was begun and not kept; after a full disk the database did so itself."""
        if self._connection.in_transaction:
            self._connection.execute("ROLLBACK")

    def _tell(self, notice: str) -> None:
        if notice and notice not in self.notices:
            self.notices.append(notice)


def is_made(blank: dict[str, Any]) -> bool:
    """Whether a blank was cut and is not spoiled, so that it need not be cut again."""
    return bool(blank["state"] != "spoiled")


def _connected(path: Path, patience_s: float) -> sqlite3.Connection:
    mode = "rw" if path.exists() else "rwc"
    connection = sqlite3.connect(
        f"{path.absolute().as_uri()}?mode={mode}",
        uri=True,
        timeout=patience_s,
        isolation_level=None,
    )
    try:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA journal_mode = DELETE")
    except BaseException:
        connection.close()
        raise
    return connection


def _bring_up_to_date(connection: sqlite3.Connection, path: Path, *, create: bool) -> None:
    version = schema.version_of(connection)
    if version is None:
        raise NotAStore(path)
    if version > schema.VERSION:
        raise NewerStore(path, version, schema.VERSION)
    if version == 0 and not create:
        raise NoStore(path)
    if version == 0:
        schema.create(connection)
    elif version < schema.VERSION:
        keep_copy(connection, path, f"before-version-{schema.VERSION}")
        schema.migrate(connection)


def _recorded(rows: Rows) -> Job:
    studio, currency, rules = settings_of(rows.all("setting"))
    return Job(
        sheets=tuple(sheet_of(row) for row in rows.all("sheet")),
        pieces=tuple(piece_of(row) for row in rows.all("order_line")),
        rules=rules,
        papers=tuple(paper_of(row) for row in rows.all("paper")),
        studio=studio,
        currency=currency,
    )


def _on_hand(job: Job, held: Counter[str]) -> Iterator[Sheet]:
    for sheet in job.sheets:
        if sheet.on_hand is None:
            yield sheet
            continue
        left = max(0, sheet.on_hand - held[sheet.id])
        if left or sheet.kind == "full":
            yield replace(sheet, on_hand=left)
