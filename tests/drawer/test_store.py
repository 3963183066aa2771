"""The store file itself: whose it is, its versions, its locks, a full disk, a read-only folder."""

import json
import os
import re
import resource
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from sheetcut.drawer import (
    Store,
    add_order,
    backups,
    correct_order,
    correct_sheet,
    cut_plan,
    in_drawer,
    newer_files,
    schema,
    work_list,
)
from sheetcut.drawer.refusals import (
    NewerStore,
    NoStore,
    NotAStore,
    StoreBusy,
    StoreDamaged,
    StoreNotWritten,
)
from sheetcut.drawer.rows import sheet_row
from sheetcut.job import Piece
from tests.drawer.studio import (
    NOW,
    begun,
    demo_drawing_paper,
    demo_plan,
    drawing,
    exported,
    on_hand,
    replayed,
    state,
)

VERSIONS = Path(__file__).parent / "versions"
ROOT = Path(__file__).resolve().parent.parent.parent


def shape(path: Path) -> set[tuple[str, str]]:
    """Return every table, index and trigger of a file with the words it was made by."""
    connection = sqlite3.connect(path)
    found = connection.execute("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL")
    # Where a column was added later, the spaces are the database's own.
    rows = {(name, re.sub(r"\s*([(),])\s*", r"\1", " ".join(sql.split()))) for name, sql in found}
    connection.close()
    return rows


def test_the_file_is_kept_as_promised(store):
    connection = store._connection
    pragma = {
        name: connection.execute(f"PRAGMA {name}").fetchone()[0]
        for name in ("journal_mode", "synchronous", "foreign_keys", "user_version")
    }
    assert pragma == {
        "journal_mode": "delete",
        "synchronous": 2,  # FULL
        "foreign_keys": 1,
        "user_version": schema.VERSION,
    }
    tables = connection.execute("PRAGMA table_list").fetchall()
    ours = [row for row in tables if not row[1].startswith("sqlite_")]
    assert len(ours) == 12
    assert all(row[5] for row in ours)  # STRICT


def test_there_is_no_store_until_one_is_made(folder):
    with pytest.raises(NoStore, match="sheetcut drawer import"):
        Store.open(folder)
    assert list(folder.iterdir()) == []
    Store.open(folder, create=True).close()
    with Store.open(folder) as store:
        assert store.is_new
        assert store.job().sheets == ()


def test_a_folder_may_be_called_anything(folder):
    odd = folder / "what? #1 at 50 % é;x"
    odd.mkdir()
    begun(odd, demo_drawing_paper()).close()
    assert sorted(path.name for path in odd.iterdir()) == ["mirror", "studio.sqlite"]
    with Store.open(odd) as store:
        assert store.job() == demo_drawing_paper()


def test_an_empty_file_is_no_store(folder):
    (folder / "studio.sqlite").touch()
    with pytest.raises(NoStore):
        Store.open(folder)


def test_other_files_are_left_alone(folder):
    path = folder / "studio.sqlite"
    path.write_bytes(b"order,size\nD01,297 x 420\n" * 50)
    before = path.read_bytes()
    with pytest.raises(NotAStore, match="not a file that sheetcut keeps stock in"):
        Store.open(folder, create=True)
    assert path.read_bytes() == before
    path.unlink()
    other = sqlite3.connect(path)
    other.execute("CREATE TABLE recipe (name TEXT)")
    other.commit()
    other.close()
    with pytest.raises(NotAStore):
        Store.open(folder, create=True)


def test_a_newer_file_is_refused_in_words(store):
    store._connection.execute(f"PRAGMA user_version = {schema.VERSION + 1}")
    store.close()
    with pytest.raises(NewerStore) as refused:
        Store.open(store.path.parent)
    assert (refused.value.found, refused.value.known) == (schema.VERSION + 1, schema.VERSION)
    assert "install the newer one" in str(refused.value)


def test_a_damaged_file_points_to_the_copies(store):
    store.close()
    data = bytearray(store.path.read_bytes())
    data[4096:] = b"\xff" * (len(data) - 4096)
    store.path.write_bytes(data)
    with pytest.raises(StoreDamaged, match="backups"), Store.open(store.path.parent) as damaged:
        damaged.job()


@pytest.mark.parametrize("version", range(1, schema.VERSION + 1))
def test_a_file_of_every_version_opens(folder, version):
    """Each stored file was written by the release that had its version, and holds one tale."""
    shutil.copy(VERSIONS / f"version-{version}.sqlite", folder / "studio.sqlite")
    with Store.open(folder) as store:
        assert on_hand(store) == {"HP-IMP": 2, "HP-DE": 1, "heron 7": 1}
        assert [sheet.on_hand for sheet in store.job().sheets] == [1, 1, 1]  # one is pinned up
        assert [str(one) for one in work_list(store)] == [
            "D01, D01: 1 drawn",
            "D02, D02: 3 cut; 1 to cut",
            "D03, D03: 1 cut",
        ]
        assert {row.sheet.id: row.low for row in in_drawer(store)}["HP-DE"] == 1
        assert [entry.says.split(":")[0] for entry in store.history()] == [
            "Brought in studio.toml, drawer.csv and orders.csv",
            "Cut plan K7QP, layout 1",
            "Drawn",
            "Pinned up",
            "HP-DE",
            "HP-IMP",
            "Took back",
        ]
        assert newer_files(store, folder) == ()
        for _ in range(5):
            store.undo(now=NOW)
        assert store.job().sheets == ()
    replayed(folder / "studio.sqlite")


@pytest.mark.parametrize("version", range(1, schema.VERSION + 1))
def test_an_older_file_becomes_what_a_new_one_is(folder, version):
    """Fails when tables change without a step from the version that was released before."""
    shutil.copy(VERSIONS / f"version-{version}.sqlite", folder / "studio.sqlite")
    Store.open(folder).close()
    (folder / "new").mkdir()
    Store.open(folder / "new", create=True).close()
    assert shape(folder / "studio.sqlite") == shape(folder / "new" / "studio.sqlite")


@pytest.mark.parametrize("version", range(1, schema.VERSION + 1))
def test_what_was_last_brought_in_is_still_known_in_an_older_file(folder, version):
    """Else a spent offcut would come back with the next import of an old spreadsheet."""
    shutil.copy(VERSIONS / f"version-{version}.sqlite", folder / "studio.sqlite")
    with Store.open(folder) as store, store.reading() as rows:
        source = rows.one("source", name="drawer.csv")
        typed = json.loads(source["typed"])["sheet"]
    assert typed == {sheet.id: sheet_row(sheet) for sheet in demo_drawing_paper().sheets}


def add_shelf(connection):
    connection.execute("ALTER TABLE sheet ADD COLUMN shelf TEXT NOT NULL DEFAULT ''")


def fail(connection):
    connection.execute("DROP TABLE book")
    raise sqlite3.OperationalError("cut off half way")


def test_a_step_is_taken_once_and_after_a_copy(folder, monkeypatch):
    begun(folder, demo_drawing_paper()).close()
    monkeypatch.setattr(schema, "VERSION", schema.VERSION + 1)
    monkeypatch.setattr(schema.migrate, "__defaults__", ((*schema.STEPS, add_shelf),))
    for _ in range(2):
        with Store.open(folder) as store:
            with store.reading() as rows:
                assert {row["shelf"] for row in rows.all("sheet")} == {""}
            assert store.job() == demo_drawing_paper()
    (copy,) = (folder / "backups").iterdir()
    assert copy.name == f"studio-before-version-{schema.VERSION}.sqlite"
    assert b"shelf" not in copy.read_bytes()


def test_a_step_that_fails_changes_nothing(folder, monkeypatch):
    begun(folder, demo_drawing_paper()).close()
    before = shape(folder / "studio.sqlite")
    monkeypatch.setattr(schema, "VERSION", schema.VERSION + 2)
    monkeypatch.setattr(schema.migrate, "__defaults__", ((*schema.STEPS, add_shelf, fail),))
    with pytest.raises(sqlite3.OperationalError, match="half way"):
        Store.open(folder)
    assert shape(folder / "studio.sqlite") == before


def test_who_comes_second_is_told_and_loses_nothing(store):
    with Store.open(store.path.parent, patience_s=0.05) as other:
        with store.changing(NOW) as change:
            change.alter("sheet", 1, {"price": 1})
            change.says = "A change that takes its time"
            before = other.job()  # reading goes on meanwhile
            with pytest.raises(StoreBusy, match="another sheetcut is writing"):
                correct_sheet(other, "HP-IMP", now=NOW, on_hand=9)
        assert before == demo_drawing_paper()
        correct_sheet(other, "HP-IMP", now=NOW, on_hand=9)
    assert on_hand(store)["HP-IMP"] == 9
    assert store.job().sheets[0].price == 1


def test_two_programs_at_once_take_turns(store):
    """Each books a sheet in fifteen times; every one of them counts."""
    words = (
        "import sys; from pathlib import Path; from datetime import datetime\n"
        "from sheetcut.drawer import Store, receive\n"
        "with Store.open(Path(sys.argv[1]), patience_s=60) as store:\n"
        "    for n in range(15): receive(store, 'HP-IMP', 1, now=datetime(2026, 11, 25, 15, n))\n"
    )
    command = [sys.executable, "-c", words, str(store.path.parent)]
    both = [subprocess.Popen(command, cwd=ROOT) for _ in range(2)]
    assert [one.wait(300) for one in both] == [0, 0]
    assert on_hand(store)["HP-IMP"] == 3 + 30
    assert len(store.history()) == 1 + 30
    replayed(store.path)


def test_a_full_file_system_is_said_and_loses_nothing(store):
    before = state(store), exported(store)
    pages = store._connection.execute("PRAGMA page_count").fetchone()[0]
    store._connection.execute(f"PRAGMA max_page_count = {pages}")
    long = Piece("D12", "x" * 100_000, "Rag", 1, 1)
    with pytest.raises(StoreNotWritten, match="the disk is full; make room"):
        add_order(store, long, now=NOW)
    assert (state(store), exported(store)) == before
    store._connection.execute(f"PRAGMA max_page_count = {10 * pages}")
    add_order(store, long, now=NOW)
    assert store.job().pieces[-1] == long


@contextmanager
def files_no_larger_than(size: int):
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def test_a_disk_that_takes_no_more_is_said_and_loses_nothing(store):
    before = state(store), exported(store)
    long = Piece("D12", "x" * 500_000, "Rag", 1, 1)
    size = store.path.stat().st_size
    with files_no_larger_than(size + 10_000), pytest.raises(StoreNotWritten, match="Nothing was"):
        add_order(store, long, now=NOW)
    assert (state(store), exported(store)) == before
    store.close()
    with Store.open(store.path.parent) as again:
        assert (state(again), exported(again)) == before
    replayed(store.path)


def test_a_disk_full_from_the_start_leaves_no_store(folder):
    """An empty file stayed there, and the page, finding a store, no longer read the tables."""
    with files_no_larger_than(2_000), pytest.raises(StoreNotWritten):
        Store.open(folder, create=True)
    assert list(folder.iterdir()) == []
    with pytest.raises(NoStore):
        Store.open(folder)


@contextmanager
def as_an_ordinary_user():
    """Nothing is read-only to the superuser, so step down from it for a while."""
    if os.geteuid():
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


def test_a_read_only_folder_can_be_read_and_says_why_not_written():
    with tempfile.TemporaryDirectory(prefix="sheetcut-") as made:
        folder = Path(made)
        begun(folder, demo_drawing_paper()).close()
        (folder / "studio.sqlite").chmod(0o444)
        folder.chmod(0o555)
        before = (folder / "studio.sqlite").read_bytes()
        try:
            with as_an_ordinary_user(), Store.open(folder) as store:
                assert store.job() == demo_drawing_paper()
                with pytest.raises(StoreNotWritten, match="it cannot be written here"):
                    cut_plan(store, demo_plan(), now=NOW)
            assert (folder / "studio.sqlite").read_bytes() == before
        finally:
            folder.chmod(0o755)


def test_a_copy_is_kept_before_the_first_change_of_a_day(folder):
    store = begun(folder, demo_drawing_paper())
    assert not (folder / "backups").exists()  # nothing was in it that could be lost
    for day in range(32):
        for hour in range(2):
            when = datetime(2026, 12, 1, 9) + timedelta(days=day, hours=hour)
            correct_sheet(store, "HP-IMP", now=when, on_hand=100 + 2 * day + hour)
    store.close()
    copies = sorted(path.name for path in (folder / "backups").iterdir())
    assert len(copies) == backups.KEPT == 30
    assert copies[0] == "studio-2026-12-03.sqlite"
    assert copies[-1] == "studio-2027-01-01.sqlite"
    (folder / "again").mkdir()
    shutil.copy(folder / "backups" / copies[-1], folder / "again" / "studio.sqlite")
    with Store.open(folder / "again") as copy:
        assert on_hand(copy)["HP-IMP"] == 100 + 2 * 30 + 1  # as it was the evening before


def test_a_copy_or_mirror_that_fails_is_said_and_the_change_kept(folder):
    (folder / "mirror").write_text("in the way")
    (folder / "backups").write_text("in the way")
    with begun(folder, demo_drawing_paper()) as store:
        correct_sheet(store, "HP-IMP", now=NOW, on_hand=9)
        assert on_hand(store)["HP-IMP"] == 9
        assert [notice.split(": ")[0] for notice in store.notices] == [
            str(folder / "mirror"),
            str(folder / "backups"),
        ]
        assert "the change itself is kept" in store.notices[0]
        assert "no copy of the store was kept today" in store.notices[1]


def test_the_mirror_shows_the_drawer_after_each_change(store):
    mirror = store.path.parent / "mirror"
    for act in (
        lambda: cut_plan(store, demo_plan(), now=NOW),
        lambda: store.undo(now=NOW),
        lambda: add_order(store, drawing("D12", 100, 100), now=NOW),
    ):
        act()
        assert ((mirror / "drawer.csv").read_bytes(), (mirror / "orders.csv").read_bytes()) == (
            exported(store)
        )
    assert sorted(path.name for path in mirror.iterdir()) == ["drawer.csv", "orders.csv"]


def test_what_is_looked_at_alone_still_holds_when_the_change_is_made(folder):
    """Two programs looked, found the same, and each changed it: the second undid a stranger's."""
    begun(folder, demo_drawing_paper()).close()
    with Store.open(folder) as one, Store.open(folder, patience_s=0) as other:
        with one.alone():
            (line,) = (piece for piece in one.recorded().pieces if piece.order == "D01")
            with pytest.raises(StoreBusy):
                correct_order(other, "D01", now=NOW, note="theirs")
            assert other.recorded() == one.recorded()  # to look is free
            correct_order(one, line.order, now=NOW, note="ours")
            # The change is kept, so others may go on, though the block has not ended.
            correct_order(other, "D02", now=NOW, note="theirs")
        notes = {piece.order: piece.note for piece in one.recorded().pieces}
        assert (notes["D01"], notes["D02"]) == ("ours", "theirs")
        with one.alone(), one.alone():
            pass
        correct_order(other, "D03", now=NOW, note="free again")


def test_nothing_is_kept_of_a_block_that_changed_nothing_or_failed(folder):
    begun(folder, demo_drawing_paper()).close()
    with Store.open(folder) as store:
        with pytest.raises(ZeroDivisionError), store.alone(), store.changing(NOW) as change:
            change.alter("order_line", 1, {"note": "half"})
            _ = 1 / 0
        assert store.recorded() == demo_drawing_paper()
        assert len(store.history()) == 1
        correct_order(store, "D01", now=NOW, note="later")
        assert len(store.history()) == 2


def test_a_copy_is_made_before_the_change_of_a_block_and_not_for_looking(folder):
    """Every form that the page refused kept a copy of the day, before anything was changed."""
    begun(folder, demo_drawing_paper()).close()
    with Store.open(folder) as store:
        with store.alone():
            assert store.recorded() == demo_drawing_paper()
        assert not (folder / "backups").exists()
        with store.alone():
            correct_order(store, "D01", now=NOW, note="ours")
        assert store.notices == []
    (copy,) = (folder / "backups").iterdir()
    copy.rename(copy.with_name("studio.sqlite"))
    with Store.open(folder / "backups") as before:
        assert before.recorded() == demo_drawing_paper()
