"""The diary: every change can be taken back and done again, and none is ever erased."""

import sqlite3
from datetime import datetime

import pytest

from sheetcut.drawer import (
    add_order,
    correct_sheet,
    cut_plan,
    diary,
    move,
    receive,
    remove_sheet,
    spoil,
)
from sheetcut.drawer.history import Tampered
from sheetcut.drawer.refusals import NothingToRedo, NothingToUndo, NotKeepable
from tests.drawer.studio import NOW, demo_plan, drawing, exported, replayed, state


def test_undo_and_redo_go_back_and_forth(store):
    states = [state(store)]
    for act in (
        lambda: correct_sheet(store, "HP-IMP", now=NOW, price=1600),
        lambda: cut_plan(store, demo_plan(), now=NOW),
        lambda: spoil(store, "D07", now=NOW),
        lambda: move(store, "D01", "drawn", now=NOW),
        lambda: receive(store, "HP-IMP", 5, now=NOW, paid=7600),
        lambda: remove_sheet(store, "HP-DE", now=NOW),
    ):
        act()
        states.append(state(store))
    for there in reversed(states[:-1]):
        store.undo(now=NOW)
        assert state(store) == there
    for there in states[1:]:
        store.redo(now=NOW)
        assert state(store) == there
    replayed(store.path)


def test_a_new_change_ends_what_could_be_done_again(store):
    receive(store, "HP-IMP", 1, now=NOW)
    store.undo(now=NOW)
    receive(store, "HP-IMP", 2, now=NOW)
    with pytest.raises(NothingToRedo):
        store.redo(now=NOW)
    store.undo(now=NOW)
    store.undo(now=NOW)
    with pytest.raises(NothingToUndo):
        store.undo(now=NOW)
    assert store.job().sheets == ()  # the import was taken back too
    store.redo(now=NOW)
    assert len(store.job().sheets) == 3


def test_the_diary_reads_as_it_was_lived(store):
    receive(store, "HP-IMP", 5, now=datetime(2026, 11, 26, 9, 5), paid=7600, batch="B7")
    cut_plan(store, demo_plan(), now=datetime(2026, 11, 26, 17, 40))
    store.undo(now=datetime(2026, 11, 27, 8, 0))
    assert list(diary(store.history())) == [
        "2026-11-25",
        "  14:03  Brought in studio.toml, drawer.csv and orders.csv: 27 added",
        "2026-11-26",
        "  09:05  Arrived: 5 x HP-IMP, batch B7, 76.00 paid",
        "  17:40  Cut plan K7QP, layouts 1 to 5: 3 x HP-IMP, 1 x HP-DE, 1 x heron 7; "
        "18 blanks; paper 75.40 (taken back)",
        "2026-11-27",
        "  08:00  Took back: Cut plan K7QP, layouts 1 to 5: 3 x HP-IMP, 1 x HP-DE, "
        "1 x heron 7; 18 blanks; paper 75.40",
    ]


def test_history_can_only_be_added_to(store):
    connection = sqlite3.connect(store.path)
    for statement in (
        "DELETE FROM history",
        "UPDATE history SET says = ''",
        "DELETE FROM row_change",
        "UPDATE row_change SET before = NULL",
    ):
        with pytest.raises(sqlite3.IntegrityError, match="only ever added to"):
            connection.execute(statement)
    connection.close()


def test_before_and_after_are_both_kept(store):
    correct_sheet(store, "HP-IMP", now=NOW, price=1600, note="dearer")
    with store.reading() as rows:
        (change,) = rows.row_changes(rows.entries()[-1].number)
    assert change.table == "sheet"
    assert (change.before["price"], change.after["price"]) == (1520, 1600)
    assert (change.before["note"], change.after["note"]) == ("", "dearer")


def test_a_change_that_changes_nothing_is_no_entry(store):
    correct_sheet(store, "HP-IMP", now=NOW, price=1520)
    assert len(store.history()) == 1


def test_a_change_that_fails_half_way_leaves_no_trace(store):
    before = state(store), exported(store)
    with pytest.raises(ZeroDivisionError), store.changing(NOW) as change:
        change.alter("sheet", 1, {"price": 1})
        change.remove("order_line", 1)
        _ = 1 // 0
    assert (state(store), exported(store)) == before
    assert len(store.history()) == 1


@pytest.mark.parametrize(
    "fields",
    [
        {"note": "\udcff"},
        {"price": 2**63},
        {"on_hand": 10**30},
        {"name": "a\ud800"},
        {"id": "\udc80"},
    ],
)
def test_what_the_file_cannot_hold_is_refused(store, fields):
    before = state(store)
    with pytest.raises(NotKeepable, match="cannot be kept"):
        correct_sheet(store, "HP-IMP", now=NOW, **fields)
    assert state(store) == before


def test_undo_refuses_rows_that_something_else_changed(store):
    correct_sheet(store, "HP-IMP", now=NOW, price=1600)
    connection = sqlite3.connect(store.path)
    with connection:
        connection.execute("UPDATE sheet SET price = 1700 WHERE name = 'HP-IMP'")
    connection.close()
    with pytest.raises(Tampered):
        store.undo(now=NOW)


def test_any_text_comes_back_as_it_was(store):
    text = 'a "quoted" \x00 line\r\nbreak, ½ 雪 \'; DROP TABLE sheet; --'
    add_order(store, drawing(text, 100, 100), now=NOW)
    assert store.job().pieces[-1].order == text
    store.undo(now=NOW)
    store.redo(now=NOW)
    assert store.job().pieces[-1].order == text
