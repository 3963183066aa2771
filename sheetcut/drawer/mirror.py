"""A mirror of drawer and orders in CSV, written afresh after each change, whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from sheetcut.drawer.backups import sync
from sheetcut.drawer.reading import Rows
from sheetcut.drawer.tables import csv_bytes, drawer_rows, order_rows

FOLDER = "mirror"
"""Apart from the artist's own files of the same names, which are never rewritten."""


def write_mirror(rows: Rows, studio: Path) -> str:
    """Write both files; return a notice if that failed, since the change itself is kept."""
    folder = studio / FOLDER
    try:
        folder.mkdir(exist_ok=True)
        write_whole(folder / "drawer.csv", csv_bytes(drawer_rows(rows)))
        write_whole(folder / "orders.csv", csv_bytes(order_rows(rows)))
    except OSError as error:
        why = error.strerror or error
        return f"{folder}: the mirror was not written ({why}); the change itself is kept"
    return ""


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that whoever reads it finds the old one or the new one, never a part."""
    unfinished = path.with_name(f".{path.name}-{os.getpid()}")
    try:
        unfinished.write_bytes(data)
        sync(unfinished)
        unfinished.replace(path)
    finally:
        unfinished.unlink(missing_ok=True)
