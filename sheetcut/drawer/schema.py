"""The shape of the store file: its tables, its version, and the steps from older versions."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager

from sheetcut.drawer.rows import Row

APPLICATION_ID = 0x73686374  # "shct", in the file's header, so that no other file is taken for ours

EDITION_TABLES = (
    """
    CREATE TABLE edition (
        id INTEGER PRIMARY KEY,
        place INTEGER NOT NULL,
        name TEXT NOT NULL UNIQUE,
        numbered INTEGER NOT NULL CHECK (numbered > 0),
        proofs INTEGER NOT NULL CHECK (proofs >= 0)
    ) STRICT
    """,
    # One print, in the order they were entered; a spoiled one frees its number and certificate.
    """
    CREATE TABLE print (
        id INTEGER PRIMARY KEY,
        edition INTEGER NOT NULL REFERENCES edition (id) DEFERRABLE INITIALLY DEFERRED,
        mark TEXT NOT NULL CHECK (mark IN ('number', 'A.P.')),
        number INTEGER NOT NULL CHECK (number > 0),
        certificate INTEGER NOT NULL CHECK (certificate > 0),
        state TEXT NOT NULL CHECK (state IN ('printed', 'sold', 'spoiled')),
        note TEXT NOT NULL,
        since TEXT NOT NULL
    ) STRICT
    """,
    "CREATE INDEX print_of_edition ON print (edition)",
)

TABLES = (
    *EDITION_TABLES,
    # Studio, currency and rules, a value each as JSON.
    """
    CREATE TABLE setting (
        id INTEGER PRIMARY KEY,
        name TEXT NOT NULL UNIQUE,
        value TEXT NOT NULL
    ) STRICT
    """,
    """
    CREATE TABLE paper (
        id INTEGER PRIMARY KEY,
        place INTEGER NOT NULL,
        name TEXT NOT NULL UNIQUE,
        grammage INTEGER,
        passes INTEGER,
        aim TEXT
    ) STRICT
    """,
    # Lengths in ticks, money in cents; on_hand is NULL for as many as wanted. What a keeper
    # came from is said in words, as its sheet is gone by then. Of a sheet out of square, skew
    # has the five measurements and the edge that its true rectangle lies along, as JSON.
    """
    CREATE TABLE sheet (
        id INTEGER PRIMARY KEY,
        place INTEGER NOT NULL,
        name TEXT NOT NULL UNIQUE,
        title TEXT NOT NULL,
        paper TEXT NOT NULL,
        width INTEGER NOT NULL CHECK (width > 0),
        height INTEGER NOT NULL CHECK (height > 0),
        on_hand INTEGER CHECK (on_hand >= 0),
        price INTEGER CHECK (price >= 0),
        loss_left INTEGER NOT NULL,
        loss_right INTEGER NOT NULL,
        loss_top INTEGER NOT NULL,
        loss_foot INTEGER NOT NULL,
        deckles TEXT NOT NULL,
        side TEXT NOT NULL,
        grain TEXT NOT NULL,
        packs TEXT NOT NULL,
        kind TEXT NOT NULL,
        unit TEXT NOT NULL,
        note TEXT NOT NULL,
        true_edges TEXT,
        origin TEXT NOT NULL DEFAULT '',
        low INTEGER CHECK (low >= 0),
        leave TEXT NOT NULL DEFAULT '[]',
        keep TEXT NOT NULL DEFAULT '[]',
        watermark TEXT,
        skew TEXT
    ) STRICT
    """,
    # A line is due on a day, never, or "if room".
    """
    CREATE TABLE order_line (
        id INTEGER PRIMARY KEY,
        place INTEGER NOT NULL,
        name TEXT NOT NULL UNIQUE,
        label TEXT NOT NULL,
        paper TEXT NOT NULL,
        width INTEGER NOT NULL CHECK (width > 0),
        height INTEGER NOT NULL CHECK (height > 0),
        count INTEGER NOT NULL CHECK (count > 0),
        turn TEXT NOT NULL,
        kind TEXT NOT NULL,
        margin_left INTEGER NOT NULL,
        margin_right INTEGER NOT NULL,
        margin_top INTEGER NOT NULL,
        margin_foot INTEGER NOT NULL,
        border_left INTEGER NOT NULL,
        border_right INTEGER NOT NULL,
        border_top INTEGER NOT NULL,
        border_foot INTEGER NOT NULL,
        client TEXT NOT NULL,
        deckles TEXT NOT NULL,
        due TEXT,
        price INTEGER CHECK (price >= 0),
        unit TEXT NOT NULL,
        note TEXT NOT NULL
    ) STRICT
    """,
    # One sheet of a layout, pinned up ("held") or cut; plan is the SHA-256 of its document.
    """
    CREATE TABLE sheet_cut (
        id INTEGER PRIMARY KEY,
        plan TEXT NOT NULL,
        code TEXT NOT NULL,
        layout INTEGER NOT NULL,
        copy INTEGER NOT NULL,
        state TEXT NOT NULL CHECK (state IN ('held', 'cut')),
        sheet TEXT NOT NULL,
        paper TEXT NOT NULL,
        wanted TEXT NOT NULL,
        at TEXT NOT NULL,
        UNIQUE (plan, layout, copy)
    ) STRICT
    """,
    # One blank that was cut, the way its piece stands. Finished is an area; the price and the
    # area of its sheet tell what a leftover of it is worth.
    """
    CREATE TABLE blank (
        id INTEGER PRIMARY KEY,
        line INTEGER NOT NULL REFERENCES order_line (id) DEFERRABLE INITIALLY DEFERRED,
        sheet_cut INTEGER NOT NULL REFERENCES sheet_cut (id) DEFERRABLE INITIALLY DEFERRED,
        paper TEXT NOT NULL,
        width INTEGER NOT NULL,
        height INTEGER NOT NULL,
        finished INTEGER NOT NULL,
        share INTEGER,
        sheet_price INTEGER,
        sheet_area INTEGER NOT NULL,
        grain TEXT NOT NULL,
        side TEXT NOT NULL,
        unit TEXT NOT NULL,
        state TEXT NOT NULL CHECK (state IN
            ('cut', 'drawn', 'printed', 'trimmed', 'signed', 'sent', 'spoiled')),
        since TEXT NOT NULL
    ) STRICT
    """,
    "CREATE INDEX blank_of_line ON blank (line)",
    # Where paper and money came from and went: count times area, in square ticks.
    """
    CREATE TABLE book (
        id INTEGER PRIMARY KEY,
        at TEXT NOT NULL,
        paper TEXT NOT NULL,
        kind TEXT NOT NULL CHECK (kind IN
            ('bought', 'corrected', 'used', 'finished', 'margins', 'scrap')),
        count INTEGER NOT NULL,
        area INTEGER NOT NULL,
        cash INTEGER,
        what TEXT NOT NULL
    ) STRICT
    """,
    # A file that was brought in or written: part is what it holds, typed its rows as they
    # then stood, so that a later import can tell what its owner changed in it since.
    """
    CREATE TABLE source (
        id INTEGER PRIMARY KEY,
        name TEXT NOT NULL UNIQUE,
        part TEXT NOT NULL,
        hash TEXT NOT NULL,
        at TEXT NOT NULL,
        typed TEXT NOT NULL
    ) STRICT
    """,
    """
    CREATE TABLE history (
        id INTEGER PRIMARY KEY,
        at TEXT NOT NULL,
        says TEXT NOT NULL,
        kind TEXT NOT NULL CHECK (kind IN ('change', 'undo', 'redo')),
        of INTEGER REFERENCES history (id)
    ) STRICT
    """,
    """
    CREATE TABLE row_change (
        id INTEGER PRIMARY KEY,
        entry INTEGER NOT NULL REFERENCES history (id) DEFERRABLE INITIALLY DEFERRED,
        place TEXT NOT NULL,
        row INTEGER NOT NULL,
        before TEXT,
        after TEXT
    ) STRICT
    """,
    "CREATE INDEX row_change_of_entry ON row_change (entry)",
    *(
        f"""
        CREATE TRIGGER {table}_is_kept_at_{act} BEFORE {act} ON {table}
        BEGIN SELECT RAISE(ABORT, 'history is only ever added to'); END
        """
        for table in ("history", "row_change")
        for act in ("UPDATE", "DELETE")
    ),
)

Step = Callable[[sqlite3.Connection], None]


def _add_seldom_columns(connection: sqlite3.Connection) -> None:
    """Add what few sheets have: deckles that stay, the watermark's corner, out of square."""
    for column in ("leave TEXT NOT NULL DEFAULT '[]'", "keep TEXT NOT NULL DEFAULT '[]'",
                   "watermark TEXT", "skew TEXT"):  # fmt: skip
        connection.execute(f"ALTER TABLE sheet ADD COLUMN {column}")
    _complete_past(connection, {"leave": "[]", "keep": "[]", "watermark": None, "skew": None})


def _complete_past(connection: sqlite3.Connection, new: Row) -> None:
    """Give every sheet of the past the new columns too, so that undo still finds its rows.

    Nothing that was done is changed by it, so the history is open to writing for this alone.
    """
    for act in ("UPDATE", "DELETE"):
        connection.execute(f"DROP TRIGGER row_change_is_kept_at_{act}")
    found = connection.execute(
        "SELECT id, place, before, after FROM row_change WHERE place IN ('sheet', 'source')"
    ).fetchall()
    for row, place, *states in found:
        complete = _with_sheets_typed if place == "source" else _with
        values = [None if one is None else _text(complete(json.loads(one), new)) for one in states]
        connection.execute(
            "UPDATE row_change SET before = ?, after = ? WHERE id = ?", (*values, row)
        )
    for row, typed in connection.execute("SELECT id, typed FROM source").fetchall():
        kept = _with_sheets_typed({"typed": typed}, new)
        connection.execute("UPDATE source SET typed = ? WHERE id = ?", (kept["typed"], row))
    for statement in TABLES:
        if "TRIGGER row_change_" in statement:
            connection.execute(statement)


def _with(row: Row, new: Row) -> Row:
    return {**row, **new}


def _with_sheets_typed(source: Row, new: Row) -> Row:
    typed = json.loads(source["typed"])
    if "sheet" in typed:
        typed["sheet"] = {name: _with(row, new) for name, row in typed["sheet"].items()}
    return {**source, "typed": _text(typed)}


def _text(value: Row) -> str:
    return json.dumps(value, ensure_ascii=False)


def _add_registers(connection: sqlite3.Connection) -> None:
    """Add the registers of editions; nothing of the past has any."""
    for statement in EDITION_TABLES:
        connection.execute(statement)


STEPS: tuple[Step, ...] = (_add_seldom_columns, _add_registers)
"""The first leads from version 1 to 2, and so on; a step that was released never changes."""

VERSION = 1 + len(STEPS)


def version_of(connection: sqlite3.Connection) -> int | None:
    """Return the version of a store file; 0 for an empty file, None for somebody else's."""
    ours = _pragma(connection, "application_id")
    if ours == APPLICATION_ID:
        return _pragma(connection, "user_version")
    tables = connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0]
    return None if ours or tables else 0


def create(connection: sqlite3.Connection) -> None:
    """Make the tables in an empty file, all of them or none."""
    with _whole(connection):
        # Asked under the lock: another program may have made them meanwhile.
        if version_of(connection):
            return
        for statement in TABLES:
            connection.execute(statement)
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {VERSION}")


def migrate(connection: sqlite3.Connection, steps: Sequence[Step] = STEPS) -> None:
    """Take a file through every step it lacks, all of them or none."""
    with _whole(connection):
        # Asked under the lock: another program may have taken the steps meanwhile.
        version = _pragma(connection, "user_version")
        for number, step in enumerate(steps[version - 1 :], start=version + 1):
            step(connection)
            connection.execute(f"PRAGMA user_version = {number}")
        broken = connection.execute("PRAGMA foreign_key_check").fetchone()
        if broken:
            raise sqlite3.IntegrityError(f"a row of {broken[0]} lost what it belongs to")


@contextmanager
def _whole(connection: sqlite3.Connection) -> Iterator[None]:
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    finally:
        if connection.in_transaction:
            connection.execute("ROLLBACK")


def _pragma(connection: sqlite3.Connection, name: str) -> int:
    return int(connection.execute(f"PRAGMA {name}").fetchone()[0])
