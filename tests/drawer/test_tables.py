"""Drawer and orders as tables: what the reading of files makes of them is what was written."""

import csv
import io
from dataclasses import replace

import pytest

from sheetcut.drawer import FILE_NAME, SourceFile, Store, differences, take_in
from sheetcut.drawer.tables import csv_bytes, drawer_rows, order_cells, order_rows, sheet_cells
from sheetcut.job import Job, Pack, Piece, Sheet
from sheetcut.read import read_studio
from sheetcut.units import Edges, inch, mm
from tests.conftest import ROOT
from tests.drawer.studio import NOW, SMOOTH, begun, demo_drawing_paper, exported

DEMO = ROOT / "demo"
PARTS = {"sheets": "drawer.csv", "orders": "orders.csv", "settings": "studio.toml"}


def test_the_headings_are_those_people_write(store):
    drawer, orders = (data.decode("utf-8-sig") for data in exported(store))
    assert drawer.splitlines()[:2] == [
        "sheet,name,paper,size,edge loss,left,right,top,foot,deckle,side,grain,on hand,price,"
        "packs,kind,note",
        f"HP-IMP,,{SMOOTH},560 x 760 mm,8 mm,,,,,none,both,along height,3,15.20,5 for 76.00,full,",
    ]
    assert orders.splitlines()[:2] == [
        "order,client,piece,paper,kind,size,margin,left,right,top,foot,count,turn,deckle,due,"
        "if room,price,note",
        f"D01,,D01,{SMOOTH},drawing,297 x 420 mm,15 mm,,,,,1,yes,none,,,,",
    ]


def test_it_opens_as_it_is_in_a_spreadsheet(store):
    assert exported(store)[0].startswith(b"\xef\xbb\xbf")


ODD_SHEETS = (
    Sheet("a", SMOOTH, inch("22 1/8"), inch(30), None, 5, unit="in"),
    Sheet("b", SMOOTH, mm(565), mm("760.5"), 0, unit="cm", packs=(Pack(5, 7600), Pack(1, 9))),
    Sheet("c", SMOOTH, inch(22), mm(762) + 1, 1, unit="in", deckles=("left", "top")),
    Sheet("d", SMOOTH, mm("0.001"), 1, 1, kind="offcut", side="one", grain="none"),
    Sheet("e", SMOOTH, mm(100), mm(100), 1, edge_loss=Edges(mm(1), 0, mm("0.5"), 1),
          deckles=("left", "right", "top", "foot"), note='comma, "quote"; 8 ½ é'),
    Sheet("g", SMOOTH, mm(560), mm(760), 1, deckles=("left", "top"), leave=("left",),
          keep=("top",), watermark="foot right"),
    Sheet("f", SMOOTH, inch("8.05"), inch(10), 1, edge_loss=Edges(*[inch(1) // 64] * 4), unit="in"),
)  # fmt: skip
ODD_ORDERS = (
    Piece("1", "print", SMOOTH, mm(360), mm(470), kind="print",
          border=Edges(mm(30), mm(30), mm(30), mm(40)), price=100, count=3),
    Piece("2", "no margin, though the studio has a usual one", SMOOTH, mm(10), mm(10)),
    Piece("3", "inches", SMOOTH, inch("8 1/2"), inch(11), margin=Edges(*[inch("3/16")] * 4),
          unit="in", turn="grain across", deckles=("foot",)),
    Piece("4", "card", SMOOTH, mm(105), mm(148), kind="card", turn="alike", client="é, \"x\""),
    Piece("5", "test strip", SMOOTH, mm(80), mm(300), count=6, if_room=True),
)  # fmt: skip


def files_of(store: Store, folder, settings: bytes):
    """Write a studio's files as exported, and return what is read from them."""
    with store.reading() as rows:
        (folder / "drawer.csv").write_bytes(csv_bytes(drawer_rows(rows)))
        (folder / "orders.csv").write_bytes(csv_bytes(order_rows(rows)))
    (folder / "studio.toml").write_bytes(settings)
    return read_studio(folder).job


def sources(folder):
    return {part: SourceFile.of(folder / name) for part, name in PARTS.items()}


def test_importing_what_was_exported_changes_nothing(folder):
    """Every form the drawer can hold, read back through the same reader as the artist's files."""
    settings = (DEMO / "studio.toml").read_bytes()
    job = Job(ODD_SHEETS, ODD_ORDERS)
    with begun(folder, job) as store:
        back = files_of(store, folder, settings)
        # Finer than an inch's marks, so it is written in millimetres; the length is the same.
        odd = replace(job.sheets[2], unit="mm")
        assert back.sheets == (*job.sheets[:2], odd, *job.sheets[3:])
        assert back.pieces == job.pieces


def test_the_demo_studio_goes_round(folder):
    studio = read_studio(DEMO)
    with Store.open(folder, create=True) as store:
        files = {part: SourceFile.of(DEMO / name) for part, name in PARTS.items()}
        take_in(store, studio.job, files, now=NOW)
        assert store.recorded() == studio.job
        assert store.job() == studio.job
        back = files_of(store, folder, (DEMO / "studio.toml").read_bytes())
        assert back == studio.job
        assert differences(store, back, sources(folder)) == ()
        assert take_in(store, back, sources(folder), now=NOW) == ()
        assert len(store.history()) == 1
    assert (folder / FILE_NAME).exists()


@pytest.mark.parametrize(
    "text", ["=1+1", "+44 20", "-", "@x", "\t=1", "\r=1", "＝1+1", " spaced ", "line\nbreak", '"']
)
def test_cells_hold_what_was_typed(text):
    cells = sheet_cells(Sheet(text, text, 1, 1, note=text))
    row = next(csv.reader(io.StringIO(csv_bytes([cells]).decode("utf-8-sig"), newline="")))
    # What a spreadsheet would work out has a space before it, which reading takes off again.
    written = f" {text}" if text[0] in "=+-@\t\r＝" else text
    assert (row[0], row[2], row[-1]) == (written, written, written)
    assert " ".join(written.split()) == " ".join(text.split())
    assert order_cells(Piece(text, text, text, 1, 1))[0] == text


def test_a_print_is_written_by_its_image():
    cells = order_cells(ODD_ORDERS[0])
    assert cells[4:11] == ("print", "300 x 400 mm", "", "30 mm", "30 mm", "30 mm", "40 mm")


def test_the_drawing_paper_reads_back_from_its_own_export(folder):
    with begun(folder, demo_drawing_paper()) as store:
        back = files_of(store, folder, b"")
    assert back.sheets == demo_drawing_paper().sheets
    assert back.pieces == demo_drawing_paper().pieces


def test_a_sheet_out_of_square_is_written_as_it_was_measured(folder):
    """Its size, its losses and the three measurements besides, not the true rectangle in it."""
    (folder / "orders.csv").write_text("order,paper,size\n")
    (folder / "drawer.csv").write_text(
        "sheet,paper,size,edge loss,right,deckle,leave,watermark,top width,right height,diagonal\n"
        "a,Rag,560 x 760,3.5,12,all,left,foot right,563,758.5,943.2\n"
        "b,Rag,22 x 30 in,1/4 in,,none,,,22 1/16,,\n"
        "c,Rag,560 x 760,,,,,,,,\n"
    )
    job = read_studio(folder).job
    assert job.sheets[0].skew is not None
    assert job.sheets[1].skew is not None
    with begun(folder, job) as store:
        assert store.job() == job
        with store.reading() as rows:
            table = drawer_rows(rows)
        (folder / "drawer.csv").write_bytes(csv_bytes(table))
        assert read_studio(folder).job == job
        assert differences(store, read_studio(folder).job, {"sheets": None}) == ()
    first = dict(zip(table[0], table[1], strict=True))
    assert (first["size"], first["left"], first["right"]) == ("560 x 760 mm", "3.5 mm", "12 mm")
    assert (first["top width"], first["diagonal"]) == ("563 mm", "943.2 mm")
