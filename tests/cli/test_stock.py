"""Drawer and orders from the shell: shown, brought in, corrected, written out, refused."""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from pathlib import Path
from zipfile import ZipFile

import pytest

from sheetcut.cli.typing_in import ORDER_HELP, SHEET_HELP
from sheetcut.drawer.tables import DRAWER_HEADINGS, ORDER_HEADINGS, SELDOM_HEADINGS
from sheetcut.kept_tables import DRAWER, ORDERS
from tests.cli.shell import FILES, ROOT, here, shell, write_studio

OFFER = "sheetcut orders import"


def drawer_of(studio: Path) -> dict[str, dict]:
    """Return the rows of the drawer by name, as its document has them."""
    document = json.loads(here("drawer", studio, "--json").stdout)
    assert (document["form"], document["unit"]) == ("sheetcut drawer 1", "mm")
    return {row["id"]: row for row in document["sheets"]}


def orders_of(studio: Path) -> dict[str, dict]:
    """Return the open order lines by name, as their document has them."""
    document = json.loads(here("orders", studio, "--json").stdout)
    assert (document["form"], document["unit"]) == ("sheetcut orders 1", "mm")
    return {row["order"]: row for row in document["orders"]}


def test_every_heading_can_be_typed():
    """A value that can stand in a table can be typed for a command, and the other way round."""
    assert {"sheet", *SHEET_HELP} == {*DRAWER_HEADINGS, *SELDOM_HEADINGS} == set(DRAWER.fields)
    assert {"order", *ORDER_HELP} == set(ORDER_HEADINGS) == set(ORDERS.fields)


def test_bringing_in_is_shown_first_and_leaves_no_trace(unkept):
    done = shell("drawer", "import", unkept)
    assert done.returncode == 0, done.stderr
    assert "sheet heron 7: added (1 of 268 mm x 540 mm, Slatehouse Smooth)" in done.stdout
    assert "order C03: added" in done.stdout
    assert f"sheetcut drawer import --yes {unkept}" in done.stderr
    assert {path.name for path in unkept.iterdir()} == set(FILES)


def test_the_first_time_both_tables_come_in_whichever_is_named(unkept):
    before = {name: (unkept / name).read_bytes() for name in FILES}
    done = shell("orders", "import", "--yes", cwd=unkept)
    assert done.returncode == 0, done.stderr
    assert (unkept / "studio.sqlite").exists()
    assert len(drawer_of(unkept)) == 7  # rows of the demo's drawer
    assert len(orders_of(unkept)) == 25  # and of its orders
    assert before == {name: (unkept / name).read_bytes() for name in FILES}
    assert "nothing differs" in here("drawer", "import", unkept, "--yes").stderr


def test_without_a_store_the_files_are_shown_and_that_is_said(unkept):
    done = here("drawer", unkept)
    assert done.returncode == 0
    lines = [line.split() for line in done.stdout.splitlines()]
    row = "HP-DE Slatehouse Smooth 686 x 1016 mm 1 29.80 along height both"
    assert row.split() in lines
    assert f"sheetcut drawer import --yes {unkept}" in done.stderr
    assert "D02    Brannock Trust  Four buoys, set " in here("orders", unkept).stdout


def test_a_newer_file_is_told_by_every_command_until_it_is_brought_in(kept):
    path = kept / "orders.csv"
    path.write_bytes(path.read_bytes() + b"X1,,,Marram Rag,drawing,100 x 100,,,,,,1,,,,,\n")
    told = f"your orders.csv is newer than what was brought in; bring it in? {OFFER} {kept}"
    for command in (("drawer",), ("orders",), ("work",), ("history",), ("plan", "--seconds", "0")):
        assert told in here(*command, kept).stderr, command
    assert "X1" not in orders_of(kept)
    shown = here("orders", "import", kept)
    assert shown.stdout == "order X1: added (1 of 100 mm x 100 mm, Marram Rag)\n"
    assert told not in shown.stderr
    assert here("orders", "import", kept, "--yes").returncode == 0
    assert orders_of(kept)["X1"]["count"] == 1
    assert "newer" not in here("drawer", kept).stderr


def test_a_file_brought_in_again_never_takes_back_what_was_done_here(kept):
    here("drawer", "receive", "RAG-L", 3, "--in", kept)
    path = kept / "drawer.csv"
    path.write_bytes(path.read_bytes().replace(b"Marram large", b"Large rag"))
    done = here("drawer", "import", kept, "--yes")
    assert "name" in done.stdout or "title" in done.stdout
    assert drawer_of(kept)["RAG-L"]["name"] == "Large rag"
    assert drawer_of(kept)["RAG-L"]["on_hand"] == 7  # 4 in the file, and 3 that arrived


def test_a_sheet_is_added_corrected_and_taken_out(kept):
    done = here(
        "drawer", "add", "HP-Q", "--paper", "slatehouse smooth", "--size", "22 1/8 x 30 in",
        "--edge-loss", "1/4 in", "--grain", "long", "--on-hand", "6", "--price", "£15,20",
        "--packs", "5 for 70.00", "--in", kept,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    row = drawer_of(kept)["HP-Q"]
    assert (row["width"], row["height"], row["unit"]) == (561.975, 762, "in")  # 25.4 mm each
    assert (row["paper"], row["grain"], row["on_hand"], row["price"]) == (
        "Slatehouse Smooth", "along height", 6, 15.20,
    )  # fmt: skip
    here("drawer", "correct", "HP-Q", "--on-hand", "any", "--left", "10 mm", "--in", kept)
    row = drawer_of(kept)["HP-Q"]
    assert (row["on_hand"], row["edge_loss"]) == (None, [10, 6.35, 6.35, 6.35])
    here("drawer", "correct", "HP-Q", "--edge-loss", "0", "--sheet", "HP-R", "--in", kept)
    rows = drawer_of(kept)
    assert "HP-Q" not in rows
    assert (rows["HP-R"]["edge_loss"], rows["HP-R"]["price"]) == ([0, 0, 0, 0], 15.20)
    here("drawer", "remove", "HP-R", "--in", kept)
    assert "HP-R" not in drawer_of(kept)


def test_an_offcut_is_given_a_tag_and_is_called_by_it_without_quotation_marks(kept):
    done = here(
        "drawer", "add", "--kind", "offcut", "--paper", "Marram Rag", "--size", "300 x 200",
        "--on-hand", 1, "--in", kept,
    )  # fmt: skip
    assert done.stdout == "Added to the drawer: 1 x avocet 1, Marram Rag, 300 x 200 mm\n"
    assert here("drawer", "remove", "avocet", "1", "--in", kept).returncode == 0
    assert "avocet 1" not in drawer_of(kept)


def test_arrivals_and_surprises_have_rows_of_their_own(kept):
    here("drawer", "receive", "HP-IMP", 5, "--paid", "76", "--batch", "B 7", "--in", kept)
    here("drawer", "receive", "HP-IMP", 1, "--measured", "559 x 760", "--in", kept)
    here("drawer", "found", "HP-IMP", "--number", 2, "--left", "20", "--in", kept)
    rows = drawer_of(kept)
    assert rows["HP-IMP"]["on_hand"] == 3 + 5 - 2
    assert (rows["HP-IMP (2)"]["width"], rows["HP-IMP (2)"]["on_hand"]) == (559, 1)
    assert rows["HP-IMP (3)"]["edge_loss"] == [20, 8, 8, 8]
    told = here("history", kept).stdout
    assert "Arrived: 5 x HP-IMP, batch B 7, 76.00 paid" in told
    figures = json.loads(here("history", kept, "--figures", "--json").stdout)
    assert figures["form"] == "sheetcut figures 1"
    (smooth,) = [one for one in figures["figures"] if one["paper"] == "Slatehouse Smooth"]
    assert (smooth["bought"], smooth["spent"]) == (6, 76.00)
    assert smooth["bought_area"] == 5 * 560 * 760 + 559 * 760


def test_a_sheet_out_of_square_is_corrected_by_what_was_measured(kept):
    done = here(
        "drawer", "correct", "HP-DE", "--top-width", "683", "--diagonal", "1225", "--in", kept
    )
    assert done.returncode == 0, done.stderr
    before = drawer_of(kept)["HP-DE"]
    assert before["skew"]["top"] == 683
    here("drawer", "correct", "HP-DE", "--note", "leans", "--in", kept)
    assert drawer_of(kept)["HP-DE"] == {**before, "note": "leans"}
    here("drawer", "found", "HP-DE", "--size", "680 x 1010", "--in", kept)
    assert drawer_of(kept)["HP-DE"]["skew"] is None
    assert drawer_of(kept)["HP-DE"]["width"] == 680


def test_low_stock_is_shown(kept):
    assert "low:" not in here("drawer", kept).stdout
    here("drawer", "low", "HP-DE", "--at", 1, "--in", kept)
    assert "low: HP-DE, 1 on hand; time to buy at 1\n" in here("drawer", kept).stdout
    assert drawer_of(kept)["HP-DE"]["is_low"] is True
    here("drawer", "low", "HP-DE", "--in", kept)
    assert "low:" not in here("drawer", kept).stdout


def test_an_order_is_added_corrected_and_taken_out(kept):
    done = here(
        "orders", "add", "P12", "--piece", "Slack Water", "--paper", "marram rag", "--kind",
        "print", "--size", "300 x 400", "--count", 2, "--due", "3 Dec 2026", "--in", kept,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    row = orders_of(kept)["P12"]
    # The demo's usual borders of a print: 25, 25, 25 and 35 mm round the image.
    assert (row["width"], row["height"], row["border"]) == (350, 460, [25, 25, 25, 35])
    assert (row["due"], row["count"], row["to_cut"]) == ("2026-12-03", 2, 2)
    here("orders", "correct", "P12", "--foot", "45", "--in", kept)
    row = orders_of(kept)["P12"]
    assert (row["width"], row["height"], row["border"]) == (350, 470, [25, 25, 25, 45])
    here("orders", "correct", "P12", "--margin", "30", "--turn", "no", "--due", "", "--in", kept)
    row = orders_of(kept)["P12"]
    assert (row["width"], row["height"], row["border"]) == (360, 460, [30, 30, 30, 30])
    assert (row["turn"], row["due"], row["piece"]) == ("no", None, "Slack Water")
    here("orders", "remove", "P12", "--in", kept)
    assert "P12" not in orders_of(kept)


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
@pytest.mark.parametrize("table", ["drawer", "orders"])
def test_what_is_written_out_changes_nothing_when_brought_in(kept, tmp_path, table, ending):
    here("orders", "add", "=1+1", "--piece", "-@x, \"é\"", "--paper", "Marram Rag", "--size",
         "8 1/2 x 11 in", "--due", "2026-12-24", "--price", "85", "--in", kept)  # fmt: skip
    here(
        "drawer", "correct", "HP-DE", "--top-width", "683", "--watermark", "top left", "--in", kept
    )
    here("drawer", "correct", "CERT", "--note", "#N/A", "--name", "+44", "--in", kept)
    before = drawer_of(kept), orders_of(kept)
    out = tmp_path / f"out.{ending}"
    done = here(table, "export", kept, "-o", out)
    assert (done.returncode, done.stdout) == (0, f"{out}\n"), done.stderr
    done = here(table, "import", kept, "--from", out, "--yes")
    assert (done.returncode, done.stdout) == (0, ""), done.stdout
    assert "nothing differs" in done.stderr
    assert (drawer_of(kept), orders_of(kept)) == before
    shutil.move(out, kept / f"{table}.{ending}")
    if ending == "xlsx":
        (kept / f"{table}.csv").unlink()
    assert here(table, "import", kept).stdout == ""


def test_no_label_is_a_formula_in_a_spreadsheet(kept, tmp_path):
    here("orders", "add", "=1+1", "--paper", "Marram Rag", "--size", "100 x 100", "--in", kept)
    here("orders", "export", kept, "-o", tmp_path / "o.xlsx")
    here("orders", "export", kept, "-o", tmp_path / "o.csv")
    with ZipFile(tmp_path / "o.xlsx") as parts:
        page = parts.read("xl/worksheets/sheet1.xml").decode()
    assert "<f>" not in page
    assert "<t>=1+1</t>" in page
    text = (tmp_path / "o.csv").read_text(encoding="utf-8-sig")
    assert not any(cell.startswith("=") for line in text.splitlines() for cell in line.split(","))
    assert (tmp_path / "o.csv").read_bytes().startswith(b"\xef\xbb\xbf")


def test_an_edited_export_changes_what_was_edited_and_undo_takes_it_back(kept, tmp_path):
    out = tmp_path / "drawer.csv"
    here("drawer", "export", kept, "-o", out)
    text = out.read_text(encoding="utf-8-sig")
    lines = [line for line in text.splitlines() if "plover 3" not in line]
    out.write_text("\n".join(lines).replace("5.10", "5.40"), encoding="utf-8")
    shown = here("drawer", "import", kept, "--from", out)
    assert shown.stdout.splitlines() == [
        "sheet RAG-A2: price 5.10 -> 5.40",
        "sheet plover 3: removed (1 of 300 mm x 610 mm, Marram Rag)",
    ]
    assert "plover 3" in drawer_of(kept)
    here("drawer", "import", kept, "--from", out, "--yes")
    assert "plover 3" not in drawer_of(kept)
    here("undo", kept)
    assert "plover 3" in drawer_of(kept)


REFUSALS = [
    ("drawer add N --paper Rag --size 300x --in .", 'drawer add, size: "300x" is no size'),
    ("drawer add N --size 300x400 --in .", "drawer add, paper: no paper is named"),
    ("drawer add --paper Rag --size 300x400", "drawer add: no name is given; write one"),
    ("drawer add HP-DE --paper Rag --size 300x400", 'the sheet "HP-DE" is there already'),
    ("drawer add N --paper Rag --size 30x40", "may be inches or cm"),
    ("drawer correct HP-D --price 3", 'there is no sheet "HP-D"; did you mean "HP-DE"?'),
    ("drawer correct HP-DE --price 3x", 'drawer correct, price: "3x" is not a price'),
    ("drawer correct HP-DE --left 700", "leave nothing of the width"),
    ("drawer correct HP-DE", "nothing to correct is given"),
    ("drawer correct HP-DE --grain lengthwise", "the grain is"),
    ("drawer remove heron 8", 'there is no sheet "heron 8"; did you mean "heron 7"?'),
    ("drawer receive HP-DE 2 --paid ten", '--paid: "ten" is not a price'),
    ("drawer receive HP-DE 2 --measured A4x", '--measured: "A4x" is not a size'),
    ("drawer found HP-DE --number 2 --left 9", "HP-DE: 2 of 1 on hand"),
    ("drawer found HP-DE", "nothing is given"),
    ("drawer export -o out.ods", "out.ods: the name says neither .csv nor .xlsx"),
    ("drawer export -o drawer.csv", "drawer.csv: it is there already and stays as it is"),
    ("drawer export -o nowhere/x.csv", "nowhere/x.csv: it cannot be written (No such file"),
    ("drawer receive CERT 1 --batch a\x07", '--batch: "a<U+0007>" holds a character'),
    ("drawer receive CERT 1 --batch a\udcff", "holds a character that cannot be seen"),
    ("drawer import --from orders.csv", "orders.csv, row 1: its headings are those of the orders"),
    ("orders import --from drawer.csv", "drawer.csv, row 1: its headings are those of the drawer"),
    ("orders add D99 --paper Rag --size A4", 'orders add, paper: "Rag" is not in the drawer'),
    ("orders add D99 --paper HP-DE --size A4", '"HP-DE" is a sheet, not a paper'),
    ("orders correct D01 --due 05/06/2027", "can be 5 June 2027 or 6 May 2027"),
    ("orders correct D01 --count 0", "0 pieces are wanted"),
    ("orders correct D01 --turn perhaps", 'the turn rule is "perhaps"'),
    ("orders correct D0 --count 2", 'there is no order "D0"'),
    ("orders remove D77", 'there is no order "D77"'),
    ("orders correct D01 --order D02", 'the order "D02" is there already'),
    ("work move D01 drawn", "no blank of it is at a stage before drawn"),
    ("spoiled D01", "only what was cut can be spoiled"),
    ("cut nowhere", "nowhere: it is not there; see that the name is right"),
    ("redo", "nothing was taken back"),
    ("drawer show nowhere", "nowhere: this folder is not there"),
    ("drawer shwo", "did you mean show?"),
]  # fmt: skip


def test_all_that_is_refused_says_what_and_changes_nothing(kept, monkeypatch):
    monkeypatch.chdir(kept)
    before = drawer_of(kept), orders_of(kept), here("history", kept).stdout
    for words, told in REFUSALS:
        done = here(*words.split())
        assert done.returncode == 2, words
        assert told in done.stderr, (words, done.stderr)
        assert not done.stdout, words
    assert (drawer_of(kept), orders_of(kept), here("history", kept).stdout) == before


def test_what_is_kept_is_asked_for_where_nothing_is(unkept):
    for words in ("undo", "history", "work", "drawer remove x --in", "orders export -o x.csv"):
        done = here(*words.split(), unkept)
        assert done.returncode == 2, words
        assert "make it with: sheetcut drawer import" in done.stderr, words
    assert not (unkept / "studio.sqlite").exists()
    elsewhere = here("drawer", "import", unkept, "--from", unkept / "drawer.csv")
    assert (elsewhere.returncode, elsewhere.stdout) == (2, "")


def test_a_file_that_is_no_store_is_refused(unkept):
    (unkept / "studio.sqlite").write_bytes(b"a shopping list" * 100)
    done = here("drawer", unkept)
    assert done.returncode == 2
    assert "this is not a file that sheetcut keeps stock in" in done.stderr


def test_a_spoiled_spreadsheet_keeps_all_out(kept):
    path = kept / "drawer.csv"
    path.write_bytes(path.read_bytes().replace(b"610 x 914", b"61O x 914"))
    done = here("drawer", "import", kept, "--yes")
    assert done.returncode == 2
    assert "drawer.csv, row 5, size (D5)" in done.stderr
    # What is kept is worked with all the same.
    assert here("plan", kept, "--seconds", 0).returncode == 0


def test_two_commands_at_once_lose_nothing(kept):
    runs = [
        subprocess.Popen(
            [sys.executable, "-m", "sheetcut.cli", "drawer", "receive", name, "1", "--in", kept],
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for name in ("CERT", "CERT", "RAG-L", "CERT")
    ]
    for run in runs:
        _, err = run.communicate(timeout=60)
        assert run.returncode == 0, err
    rows = drawer_of(kept)
    assert (rows["CERT"]["on_hand"], rows["RAG-L"]["on_hand"]) == (10 + 3, 4 + 1)


@contextmanager
def ordinary_user():
    """Nothing is read-only to the superuser, so step down from it for a while."""
    if os.geteuid():
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.mark.skipif(os.name == "nt", reason="folders are not made read-only like this on Windows")
def test_a_read_only_folder_is_shown_and_not_changed(studio_kept):
    with tempfile.TemporaryDirectory(prefix="sheetcut-") as made:
        folder = Path(made) / "studio"
        shutil.copytree(studio_kept, folder, ignore=shutil.ignore_patterns("out", "mirror"))
        Path(made).chmod(0o755)
        (folder / "studio.sqlite").chmod(0o444)
        folder.chmod(0o555)
        try:
            with ordinary_user():
                assert here("drawer", folder).returncode == 0
                for words in ("drawer low CERT --at 2 --in", "undo", "drawer receive CERT 1 --in"):
                    done = here(*words.split(), folder)
                    assert done.returncode == 2, words
                    assert "it cannot be written here; allow writing in its folder" in done.stderr
                    assert "Nothing was changed" in done.stderr
        finally:
            folder.chmod(0o755)
        assert drawer_of(folder)["CERT"]["on_hand"] == 10


@pytest.mark.skipif(os.name == "nt", reason="folders are not made read-only like this on Windows")
def test_a_store_cannot_begin_in_a_read_only_folder(studio_kept):
    with tempfile.TemporaryDirectory(prefix="sheetcut-") as made:
        folder = write_studio(Path(made) / "studio")
        Path(made).chmod(0o755)
        folder.chmod(0o555)
        try:
            with ordinary_user():
                done = here("drawer", "import", folder, "--yes")
        finally:
            folder.chmod(0o755)
        assert done.returncode == 2
        assert "it cannot be written here" in done.stderr
        assert {path.name for path in folder.iterdir()} == set(FILES)


def test_help_says_what_each_command_is_for():
    for group in ("drawer", "orders", "work"):
        text = here(group, "-h").stdout
        assert "show" in text
    for words in (
        "drawer add", "drawer receive", "orders correct", "drawer import", "cut", "spoiled",
        "hold", "release", "undo", "redo", "history", "work move",
    ):  # fmt: skip
        done = here(*words.split(), "-h")
        assert done.returncode == 0
        assert "Usage: sheetcut" in done.stdout
