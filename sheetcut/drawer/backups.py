"""Copies of the store file, made by the database's own means: one a day, thirty kept."""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from datetime import date
from pathlib import Path

FOLDER = "backups"
KEPT = 30
PATIENCE_S = 10.0


def keep_daily_copy(connection: sqlite3.Connection, path: Path, day: date) -> str:
    """Copy the store before the first change of a day; return a notice if that failed.

    A store in which nothing was done yet is not copied.
    """
    folder = path.parent / FOLDER
    name = f"{path.stem}-{day.isoformat()}"
    if (folder / f"{name}{path.suffix}").exists():
        return ""
    if not connection.execute("SELECT EXISTS (SELECT * FROM history)").fetchone()[0]:
        return ""
    try:
        # A database that is being changed is not copied by whoever changes it, only by another.
        with closing(sqlite3.connect(path, timeout=PATIENCE_S)) as reader:
            keep_copy(reader, path, day.isoformat())
        for old in sorted(folder.glob(f"{path.stem}-????-??-??{path.suffix}"))[:-KEPT]:
            old.unlink()
    except (OSError, sqlite3.Error) as error:
        why = getattr(error, "strerror", None) or error
        return f"{folder}: no copy of the store was kept today ({why}); see to that folder"
    return ""


def keep_copy(connection: sqlite3.Connection, path: Path, mark: str) -> Path:
    """Copy the store into the folder of copies, whole or not at all, and return the copy."""
    folder = path.parent / FOLDER
    folder.mkdir(exist_ok=True)
    copy = folder / f"{path.stem}-{mark}{path.suffix}"
    unfinished = folder / f".{copy.name}-{os.getpid()}"
    try:
        target = sqlite3.connect(unfinished, isolation_level=None)
        try:
            connection.backup(target, progress=_for_a_while(), sleep=0.05)
        finally:
            target.close()
        sync(unfinished)
        unfinished.replace(copy)
    finally:
        unfinished.unlink(missing_ok=True)
        unfinished.with_name(f"{unfinished.name}-journal").unlink(missing_ok=True)
    return copy


def _for_a_while() -> Callable[[int, int, int], None]:
    end = time.monotonic() + PATIENCE_S

    def progress(_status: int, left: int, _pages: int) -> None:
        if left and time.monotonic() > end:
            raise TimeoutError("another program held the file all the while")

    return progress


def sync(path: Path) -> None:
    """Wait until a file is on the disk."""
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
