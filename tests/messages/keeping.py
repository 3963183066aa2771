"""Everything that the drawer refuses: what cannot be booked, and a file that cannot be used."""

# ruff: noqa: E501 (a message stands on one line, as it is read)
from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path

from sheetcut.answers.edition import Edition
from sheetcut.answers.kept_register import begin, enter_printed, enter_sold
from sheetcut.drawer import (
    AsCut,
    Leftover,
    Store,
    add_order,
    add_sheet,
    correct_sheet,
    cut_plan,
    found_otherwise,
    hold,
    move,
    receive,
    release,
    remove_edition,
    remove_order,
    remove_sheet,
    spoil,
    told_of,
    watch_stock,
)
from sheetcut.drawer.refusals import in_words
from sheetcut.drawer.schema import VERSION
from sheetcut.drawer.store import FILE_NAME
from sheetcut.job import Sheet
from sheetcut.units import mm
from tests.drawer.studio import (
    NOW,
    RAG,
    begun,
    demo_drawing_paper,
    demo_plan,
    drawing,
    laid,
    plan_of,
)
from tests.messages.cases import Case

Act = Callable[[Store], object]
PLAN = demo_plan()


def _kept(name: str, says: str, *acts: Act) -> Case:
    """Return a case of a drawer in which one thing is done after the other, the last in vain."""

    def provoke(folder: Path) -> object:
        with begun(folder, demo_drawing_paper()) as store:
            return [act(store) for act in acts]

    return Case(f"drawer: {name}", provoke, says)


def _cut(*told: AsCut) -> Act:
    return lambda store: cut_plan(store, PLAN, now=NOW, as_cut=told or None)


def _register(store: Store) -> object:
    return begin(store, "Slack Water", Edition(40), now=NOW)


def _tamper(store: Store) -> object:
    correct_sheet(store, "HP-IMP", now=NOW, price=1600)
    other = sqlite3.connect(store.path)
    with other:
        other.execute("UPDATE sheet SET price = 1700 WHERE name = 'HP-IMP'")
    return other.close()


def _loose_leftover(store: Store) -> object:
    """Keep more of a sheet than its blanks leave: 560 x 760 with D07 cut out of it."""
    job = demo_drawing_paper()
    plan = plan_of(job, laid(job, "HP-IMP", [("D07", 0, 0)]))
    kept = AsCut(1, kept=(Leftover(mm(560), mm(760)),))
    return cut_plan(store, plan, now=NOW, as_cut=[kept])


def _lost(store: Store) -> object:
    states = ()
    return cut_plan(
        store,
        PLAN,
        now=NOW,
        as_cut=list(told_of(PLAN, states, [1], spoiled=["D07"], left_out=[])),
    )


def _file(data: bytes) -> Callable[[Path], object]:
    def provoke(folder: Path) -> object:
        (folder / FILE_NAME).write_bytes(data)
        return Store.open(folder)

    return provoke


def _changed(change: Callable[[Path], object]) -> Callable[[Path], object]:
    """Return what opens and reads a store after something happened to its file."""

    def provoke(folder: Path) -> object:
        begun(folder, demo_drawing_paper()).close()
        change(folder / FILE_NAME)
        with Store.open(folder) as store:
            return store.job()

    return provoke


def _of_a_newer_kind(path: Path) -> None:
    other = sqlite3.connect(path)
    other.execute(f"PRAGMA user_version = {VERSION + 1}")
    other.close()


def _of_another_program(path: Path) -> None:
    path.unlink()
    other = sqlite3.connect(path)
    other.execute("CREATE TABLE recipe (name TEXT)")
    other.commit()
    other.close()


def _half_lost(path: Path) -> None:
    data = path.read_bytes()
    path.write_bytes(data[:4096] + b"\xff" * (len(data) - 4096))


def _busy(folder: Path) -> object:
    begun(folder, demo_drawing_paper()).close()
    other = sqlite3.connect(folder / FILE_NAME, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    try:
        with Store.open(folder, patience_s=0) as store:
            return store.job()
    finally:
        other.close()


def _told_by_the_system(code: int, words: str) -> Callable[[Path], object]:
    """Return what meets an error of the database; tests/drawer bring the real ones about."""

    def provoke(folder: Path) -> object:
        error = sqlite3.OperationalError(words)
        error.sqlite_errorcode = code
        with in_words(folder / FILE_NAME):
            raise error

    return provoke


CASES = [
    # sheets and order lines
    _kept(
        "no such sheet",
        'there is no sheet "HP-INP"; did you mean "HP-IMP"?',
        lambda s: remove_sheet(s, "HP-INP", now=NOW),
    ),
    _kept(
        "no such sheet, none near",
        'there is no sheet "x"; look with: sheetcut drawer',
        lambda s: remove_sheet(s, "x", now=NOW),
    ),
    _kept(
        "no such order",
        'there is no order "HP-IMP"; look with: sheetcut orders',
        lambda s: remove_order(s, "HP-IMP", now=NOW),
    ),
    _kept(
        "sheet twice",
        'the sheet "HP-DE" is there already; correct it, or use a new name',
        lambda s: add_sheet(s, Sheet("HP-DE", RAG, 1, 1), now=NOW),
    ),
    _kept(
        "order twice",
        'the order "D01" is there already; correct it, or use a new name',
        lambda s: add_order(s, drawing("D01", 1, 1), now=NOW),
    ),
    _kept(
        "none arrived",
        "HP-IMP: 0 sheets arrived; give 1 or more. Nothing was changed",
        lambda s: receive(s, "HP-IMP", 0, now=NOW),
    ),
    _kept(
        "nobody counts them",
        '"HP-IMP" is kept as any number; give it a number on hand first, then book in what arrived',
        lambda s: correct_sheet(s, "HP-IMP", now=NOW, on_hand=None),
        lambda s: receive(s, "HP-IMP", 1, now=NOW),
    ),
    _kept(
        "less than none left",
        "HP-IMP: -1 is no number of sheets; give 0 or more. Nothing was changed",
        lambda s: watch_stock(s, "HP-IMP", -1, now=NOW),
    ),
    _kept(
        "more than there are",
        "HP-IMP: 4 of 3 on hand; give how many are so. Nothing was changed",
        lambda s: found_otherwise(s, "HP-IMP", now=NOW, number=4),
    ),
    _kept(
        "a price without end",
        "price: 9223372036854775808 cannot be kept; write it in ordinary characters and figures. Nothing was changed",
        lambda s: correct_sheet(s, "HP-IMP", now=NOW, price=2**63),
    ),
    _kept(
        "half a letter",
        "note: '\\udcff' cannot be kept; write it in ordinary characters and figures. Nothing was changed",
        lambda s: correct_sheet(s, "HP-IMP", now=NOW, note="\udcff"),
    ),
    # cuts
    _kept(
        "no layout of that number",
        "plan K7QP: it has no layout 6; name one from 1 to 5. Nothing was changed",
        _cut(AsCut(6)),
    ),
    _kept(
        "no layout named",
        "plan K7QP: no layout is named; name one to be cut. Nothing was changed",
        lambda s: cut_plan(s, PLAN, now=NOW, as_cut=[]),
    ),
    _kept(
        "a layout named twice",
        "plan K7QP: layouts 1, 1: one stands there twice; name each once. Nothing was changed",
        _cut(AsCut(1), AsCut(1)),
    ),
    _kept(
        "all cut",
        "plan K7QP, layouts 1 to 5: cut already; undo takes a cut back. Nothing was changed",
        _cut(),
        _cut(),
    ),
    _kept(
        "one cut",
        "plan K7QP, layout 2: cut already; undo takes a cut back. Nothing was changed",
        _cut(AsCut(2)),
        _cut(AsCut(2)),
    ),
    _kept(
        "more sheets than planned",
        "plan K7QP, layout 1: 2 sheets of it, and left to cut of them: 1; give 1. Nothing was changed",
        _cut(AsCut(1, copies=2)),
    ),
    _kept(
        "another paper",
        "RAG-L: it is Marram Rag, another paper than the layout's; name another sheet. Nothing was changed",
        lambda s: add_sheet(s, Sheet("RAG-L", RAG, mm(610), mm(914), 3), now=NOW),
        _cut(AsCut(1, sheet="RAG-L")),
    ),
    _kept(
        "longer than its sheet",
        "avocet 1: 561 x 10 mm is more than its sheet, 560 x 760 mm; measure it again. Nothing was changed",
        _cut(AsCut(1, kept=(Leftover(mm(561), mm(10)),))),
    ),
    _kept(
        "kept twice over",
        "plan K7QP, layout 1: blanks and what was kept are larger than the sheets they came from; measure again what was kept. Nothing was changed",
        _loose_leftover,
    ),
    _kept(
        "a blank of another layout",
        "plan K7QP, layout 1: 1 of D07 spoiled, and there are 0 in it; give blanks that this layout has. Nothing was changed",
        _cut(AsCut(1, spoiled=(("D07", 1),))),
    ),
    _kept(
        "a blank of no layout named",
        "plan K7QP: 1 of D07 spoiled, and the layouts to be cut have 0; name order lines that these layouts have, once for each blank. Nothing was changed",
        _lost,
    ),
    _kept(
        "out of date",
        "plan K7QP no longer fits what is there: order D07 is no longer there. Plan again, or cut only layout 4. Nothing was changed",
        lambda s: remove_order(s, "D07", now=NOW),
        lambda s: cut_plan(s, PLAN, now=NOW, as_cut=[AsCut(4), AsCut(5)]),
    ),
    _kept(
        "not pinned up",
        "plan K7QP, layout 1: it is not pinned up; name one that is. Nothing was changed",
        lambda s: release(s, PLAN, now=NOW, layouts=[1]),
    ),
    _kept(
        "pinned up after a cut",
        "plan K7QP, layout 1: cut already; undo takes a cut back. Nothing was changed",
        _cut(),
        lambda s: hold(s, PLAN, now=NOW, layouts=[1]),
    ),
    # work
    _kept(
        "order with blanks",
        'order "D01": 1 blank is cut for it already, so it stays; lower its count, or undo the cut',
        _cut(AsCut(1)),
        lambda s: remove_order(s, "D01", now=NOW),
    ),
    _kept(
        "no such stage",
        'order D01: a drawing is never "printed"; write one of drawn, trimmed, signed, sent. Nothing was changed',
        _cut(),
        lambda s: move(s, "D01", "printed", now=NOW),
    ),
    _kept(
        "none to move",
        "order D01: no blank of it is at a stage before drawn; look with: sheetcut work. Nothing was changed",
        lambda s: move(s, "D01", "drawn", now=NOW),
    ),
    _kept(
        "fewer to move",
        "order D01: 3 to be drawn, and at a stage before that: 1; look with: sheetcut work. Nothing was changed",
        _cut(),
        lambda s: move(s, "D01", "drawn", now=NOW, count=3),
    ),
    _kept(
        "none to spoil",
        "order D01: 1 spoiled, and of its blanks there are none; only what was cut can be spoiled. Nothing was changed",
        lambda s: spoil(s, "D01", now=NOW),
    ),
    _kept(
        "fewer to spoil",
        "order D01: 3 spoiled, and of its blanks there are 1 cut; give a number of those. Nothing was changed",
        _cut(),
        lambda s: spoil(s, "D01", now=NOW, count=3),
    ),
    _kept(
        "which of them",
        "order D02: its blanks are at different stages (2 cut, 2 drawn); say which are spoiled, by their stage. Nothing was changed",
        _cut(),
        lambda s: move(s, "D02", "drawn", now=NOW, count=2),
        lambda s: spoil(s, "D02", now=NOW),
    ),
    _kept(
        "more left over than there was",
        "the leftover: 581 x 100 mm is more than the blank, 580 x 810 mm; measure it again. Nothing was changed",
        _cut(),
        lambda s: spoil(s, "D10", now=NOW, leftover=Leftover(mm(581), mm(100))),
    ),
    # registers
    _kept(
        "no edition",
        'there is no edition "Slak Water" in the register; did you mean "Slack Water"?',
        _register,
        lambda s: enter_printed(s, "Slak Water", 1, now=NOW),
    ),
    _kept(
        "no edition at all",
        'there is no edition "Slack Water" in the register; begin it with: sheetcut register begin',
        lambda s: enter_printed(s, "Slack Water", 1, now=NOW),
    ),
    _kept(
        "edition twice",
        'the edition "Slack Water" is there already; correct it, or use a new name',
        _register,
        _register,
    ),
    _kept(
        "edition in use",
        'edition "Slack Water": its register has 39 prints, so it stays; undo takes back what was entered last. Nothing was changed',
        _register,
        lambda s: enter_printed(s, "Slack Water", 39, now=NOW),
        lambda s: remove_edition(s, "Slack Water", now=NOW),
    ),
    _kept(
        "edition full",
        "41 numbers are wanted and 40 are left; give no more than that, as the size of an edition is stated when it is first sold and does not grow",
        _register,
        lambda s: enter_printed(s, "Slack Water", 41, now=NOW),
    ),
    _kept(
        "no such print",
        '"1/40" is not in the register; write it as 7/50 or A.P. 2/5',
        _register,
        lambda s: enter_sold(s, "Slack Water", "1/40", now=NOW),
    ),
    # the history
    _kept(
        "nothing to undo",
        "there is no change to take back; the diary has what was done",
        lambda s: s.undo(now=NOW),
        lambda s: s.undo(now=NOW),
    ),
    _kept(
        "nothing to redo",
        "nothing was taken back that could be done again; the diary has what was done",
        lambda s: s.redo(now=NOW),
    ),
    _kept(
        "tampered with",
        "row 1 of sheet was changed by another program, so the history no longer fits it; bring back a copy from the folder backups. Nothing was changed",
        _tamper,
        lambda s: s.undo(now=NOW),
    ),
    # the file
    Case(
        "store: none",
        Store.open,
        "FOLDER/studio.sqlite: there is no such file yet; make it with: sheetcut drawer import",
    ),
    Case(
        "store: empty",
        _file(b""),
        "FOLDER/studio.sqlite: there is no such file yet; make it with: sheetcut drawer import",
    ),
    Case(
        "store: a table",
        _file(b"order,size\nD01,297 x 420\n" * 50),
        "FOLDER/studio.sqlite: this is not a file that sheetcut keeps stock in; move it elsewhere, or bring back a copy from FOLDER/backups",
    ),
    Case(
        "store: newer",
        _changed(_of_a_newer_kind),
        "FOLDER/studio.sqlite: a newer sheetcut wrote it (version 4 of the file; this one knows up to 3); install the newer one. Nothing was changed",
    ),
    Case(
        "store: damaged",
        _changed(_half_lost),
        "FOLDER/studio.sqlite: the file is damaged (database disk image is malformed); keep it as it is, and bring back the newest good copy from FOLDER/backups",
    ),
    Case(
        "store: another program's",
        _changed(_of_another_program),
        "FOLDER/studio.sqlite: this is not a file that sheetcut keeps stock in; move it elsewhere, or bring back a copy from FOLDER/backups",
    ),
    Case(
        "store: busy",
        _busy,
        "FOLDER/studio.sqlite: another sheetcut is writing to it; try again when it is done. Nothing was changed",
    ),
    Case(
        "store: read-only",
        _told_by_the_system(sqlite3.SQLITE_READONLY, "readonly"),
        "FOLDER/studio.sqlite: it cannot be written here; allow writing in its folder. Nothing was changed",
    ),
    Case(
        "store: full",
        _told_by_the_system(sqlite3.SQLITE_FULL, "full"),
        "FOLDER/studio.sqlite: the disk is full; make room and try again. Nothing was changed",
    ),
    Case(
        "store: disk",
        _told_by_the_system(sqlite3.SQLITE_IOERR, "disk I/O error"),
        "FOLDER/studio.sqlite: the disk did not take it; see whether it is full or was taken out. Nothing was changed",
    ),
]
