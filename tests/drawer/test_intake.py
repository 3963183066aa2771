"""Files brought in: differences first, then those and nothing else."""

from dataclasses import replace

import pytest

from sheetcut.drawer import (
    AsCut,
    SourceFile,
    Store,
    add_order,
    correct_sheet,
    cut_plan,
    differences,
    newer_files,
    note_written,
    take_in,
)
from sheetcut.job import Job, Paper, Rules, Sheet
from sheetcut.units import mm
from tests.drawer.studio import FILES, NOW, SMOOTH, demo_drawing_paper, demo_plan, drawing, on_hand

SHEETS = {"sheets": FILES["sheets"]}
ORDERS = {"orders": FILES["orders"]}


def test_a_job_comes_out_as_it_went_in(store):
    assert store.recorded() == demo_drawing_paper()
    assert store.job() == demo_drawing_paper()


def test_the_same_files_again_change_nothing(store):
    assert differences(store, demo_drawing_paper(), FILES) == ()
    assert take_in(store, demo_drawing_paper(), FILES, now=NOW) == ()
    assert len(store.history()) == 1


def test_differences_are_told_field_by_field(store):
    job = demo_drawing_paper()
    imperial = replace(job.sheets[0], on_hand=5, width=mm("558.5"))
    rolled = Sheet("RAG-L", "Marram Rag", mm(610), mm(914), 4)
    changed = replace(
        job,
        sheets=(imperial, job.sheets[2], rolled),
        pieces=(replace(job.pieces[0], deckles=("left", "top")), *job.pieces[1:]),
        rules=replace(job.rules, ruler=mm(600), mat=None),
        papers=(Paper(SMOOTH, 640, 5),),
    )
    found = [str(one) for one in differences(store, changed, FILES)]
    assert found == [
        "setting mat: value 600 mm x 450 mm -> not set",
        "setting ruler: value 1000 mm -> 600 mm",
        f"paper {SMOOTH}: passes 4 -> 5",
        "sheet HP-IMP: width 560 mm -> 558.5 mm",
        "sheet HP-IMP: on hand 3 -> 5",
        "sheet RAG-L: added (4 of 610 mm x 914 mm, Marram Rag)",
        f"sheet HP-DE: removed (1 of 686 mm x 1016 mm, {SMOOTH})",
        "order D01: deckles none -> left top",
    ]
    assert store.recorded() == job  # told, not done
    assert [str(one) for one in take_in(store, changed, FILES, now=NOW)] == found
    assert store.recorded() == changed
    assert store.history()[-1].says == (
        "Brought in studio.toml, drawer.csv and orders.csv: 1 added, 5 changed, 1 removed"
    )
    store.undo(now=NOW)
    assert store.recorded() == job
    assert [str(one) for one in differences(store, changed, FILES)] == found


def test_only_the_parts_asked_for_are_looked_at(store):
    take_in(store, Job((), ()), ORDERS, now=NOW)
    assert store.recorded().pieces == ()
    assert len(store.recorded().sheets) == 3


def test_an_old_spreadsheet_does_not_undo_a_cut(store):
    """The drawer's file still says 3 on hand and heron 7, after all of it was cut."""
    cut_plan(store, demo_plan(), now=NOW)
    old = demo_drawing_paper()
    priced = replace(old, sheets=(replace(old.sheets[0], price=1580), *old.sheets[1:]))
    saved = {"sheets": SourceFile("drawer.csv", "saved again")}
    told = [
        "sheet HP-IMP: price 15.20 -> 15.80",
        "sheet HP-IMP: on hand is 3 in the file, as when it was last brought in; stays 0",
        "sheet HP-DE: on hand is 1 in the file, as when it was last brought in; stays 0",
        "sheet heron 7: in the file as when it was last brought in, and gone here since; stays out",
    ]
    assert [str(one) for one in take_in(store, priced, saved, now=NOW)] == told
    assert on_hand(store) == {"HP-IMP": 0, "HP-DE": 0}
    assert differences(store, priced, saved) == ()  # told once, then done with


def test_what_both_changed_is_said(store):
    correct_sheet(store, "HP-IMP", now=NOW, on_hand=2)
    old = demo_drawing_paper()
    counted = replace(old, sheets=(replace(old.sheets[0], on_hand=8), *old.sheets[1:]))
    (difference,) = differences(store, counted, SHEETS)
    assert difference.also_here
    assert "on hand 2 -> 8; changed here too" in str(difference)


def test_a_line_gone_from_the_file_stays_while_blanks_are_cut_for_it(store):
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(5)])
    fewer = replace(demo_drawing_paper(), pieces=demo_drawing_paper().pieces[:6])  # D01 to D06
    saved = {"orders": SourceFile("orders.csv", "saved again")}
    found = {one.name: one.kind for one in take_in(store, fewer, saved, now=NOW)}
    assert found["D07"] == "stays"
    assert found["D08"] == found["D11"] == "removed"
    assert [piece.order for piece in store.recorded().pieces][-1] == "D07"


def test_what_was_added_here_stays_when_a_file_comes_in(store):
    add_order(store, drawing("D12", 100, 100), now=NOW)
    assert differences(store, demo_drawing_paper(), ORDERS) == ()


def test_a_file_never_seen_is_compared_as_it_stands(store):
    job = demo_drawing_paper()
    other = {"sheets": SourceFile("count.csv", "x")}
    fewer = replace(job, sheets=(replace(job.sheets[0], on_hand=2),))
    assert [str(one) for one in take_in(store, fewer, other, now=NOW)] == [
        "sheet HP-IMP: on hand 3 -> 2"
    ]
    assert len(store.recorded().sheets) == 3


def test_an_exported_file_is_known_when_it_comes_back(store):
    cut_plan(store, demo_plan(), now=NOW, as_cut=[AsCut(1)])
    export = {"sheets": SourceFile("export.csv", "e")}
    note_written(store, "sheets", export["sheets"], now=NOW)
    job = store.recorded()
    assert differences(store, job, export) == ()
    back_to_three = replace(job, sheets=(replace(job.sheets[0], on_hand=3), *job.sheets[2:]))
    assert [str(one) for one in differences(store, back_to_three, export)] == [
        "sheet HP-IMP: on hand 2 -> 3",
        f"sheet HP-DE: removed (1 of 686 mm x 1016 mm, {SMOOTH})",
    ]


def test_files_that_say_something_new_are_named(folder):
    for name, text in (("drawer.csv", "a"), ("orders.csv", "b"), ("studio.toml", "c")):
        (folder / name).write_text(text)
    files = {part: SourceFile.of(folder / one.name) for part, one in FILES.items()}
    with Store.open(folder, create=True) as store:
        assert newer_files(store, folder) == ("orders.csv", "drawer.csv", "studio.toml")
        take_in(store, demo_drawing_paper(), files, now=NOW)
        assert newer_files(store, folder) == ()
        (folder / "orders.csv").write_text("b, and one more")
        (folder / "orders.xlsx").write_text("new")
        assert newer_files(store, folder) == ("orders.csv", "orders.xlsx")
        # A file that says the same in other bytes is done with once it was looked at.
        again = {"orders": SourceFile.of(folder / "orders.csv")}
        assert take_in(store, demo_drawing_paper(), again, now=NOW) == ()
        assert newer_files(store, folder) == ("orders.xlsx",)
        assert len(store.history()) == 1
        store.undo(now=NOW)
        store.redo(now=NOW)
        assert store.recorded() == demo_drawing_paper()


def test_one_sheet_that_cannot_come_in_keeps_all_out(store):
    before = store.recorded()
    with pytest.raises(Exception, match="cannot be kept"):
        take_in(
            store,
            Job((Sheet("new", SMOOTH, 8, 8, price=2**70),), (drawing("x", 1, 1),), Rules()),
            FILES,
            now=NOW,
        )
    assert store.recorded() == before
