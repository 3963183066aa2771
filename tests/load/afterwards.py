"""What must hold once all have gone: nothing is lost, nothing stands there twice or by half."""

from __future__ import annotations

import csv
import sqlite3
import tomllib
from collections import Counter
from collections.abc import Mapping
from contextlib import closing
from pathlib import Path

from sheetcut.drawer import FILE_NAME, Store, balances
from tests.drawer.studio import replayed
from tests.load.writing import Acknowledged


def entries_in(folder: Path) -> int:
    """Return how many entries the diary has."""
    with closing(sqlite3.connect(folder / FILE_NAME)) as database:
        return int(database.execute("SELECT count(*) FROM history").fetchone()[0])


def assert_whole(folder: Path) -> None:
    """Assert that file, history, balances and mirror are whole and of one mind."""
    with closing(sqlite3.connect(folder / FILE_NAME)) as database:
        assert database.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
        lines = dict(database.execute("SELECT name, note FROM order_line").fetchall())
        sheets = {name for (name,) in database.execute("SELECT name FROM sheet")}
    replayed(folder / FILE_NAME)
    with Store.open(folder) as store:
        assert all(balance.is_even for balance in balances(store).values())
    assert {row["order"]: row["note"] for row in rows_of(folder / "mirror/orders.csv")} == lines
    assert {row["sheet"] for row in rows_of(folder / "mirror/drawer.csv")} == sheets
    left_over = [path.name for path in folder.rglob(".*") if path.is_file() or path.is_dir()]
    assert [name for name in left_over if name != ".page.json"] == [], "unfinished files stay"


def assert_kept(folder: Path, known: Acknowledged, *, entries_before: int) -> None:
    """Assert that everything the page said it has done is there, once."""
    with closing(sqlite3.connect(folder / FILE_NAME)) as database:
        found = database.execute("SELECT name, note FROM order_line").fetchall()
    assert_lines(known.orders, found)
    assert entries_in(folder) - entries_before == known.entries
    if known.name:
        assert tomllib.loads((folder / "studio.toml").read_text())["name"] == known.name


def assert_lines(known: Mapping[str, str], found: list[tuple[str, str]]) -> None:
    """Assert that each order line stands there once, with its last note."""
    times = Counter(name for name, _ in found)
    assert {name: times[name] for name in known} == dict.fromkeys(known, 1)
    assert {name: note for name, note in found if name in known} == dict(known)


def rows_of(path: Path) -> list[dict[str, str]]:
    """Return a table that was written as CSV."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))
