"""A studio's folder as a whole: which files, in which order, and the demo's week."""

import hashlib
from datetime import date
from pathlib import Path

import pytest

from sheetcut.errors import ProblemsFound
from sheetcut.read import FileMissing, FileUnreadable, NoFolder, TwoFiles, read_studio
from sheetcut.units import Edges, mm

DEMO = Path(__file__).parents[2] / "demo"


def test_a_studio_is_read_from_its_three_files(make_studio):
    folder = make_studio(settings='name = "Tern Point"\ncurrency = "£"\n[paper.Rag]\npasses = 2\n')
    studio = read_studio(folder)
    assert [path.name for path in studio.files] == ["orders.csv", "drawer.csv", "studio.toml"]
    assert studio.folder == folder
    assert (studio.job.studio, studio.job.currency) == ("Tern Point", "£")
    assert studio.job.paper("Rag").passes == 2
    assert [piece.order for piece in studio.job.pieces] == ["D1", "P1", "C1"]
    assert [sheet.id for sheet in studio.job.sheets] == ["L", "heron 7", "S"]
    assert studio.notes == ()


def test_settings_are_not_needed(make_studio):
    studio = read_studio(make_studio())
    assert [path.name for path in studio.files] == ["orders.csv", "drawer.csv"]
    assert studio.job.studio == ""


def test_the_hash_is_over_the_bytes_of_the_files_in_order(make_studio):
    folder = make_studio(settings='name = "a"\n')
    names = ("orders.csv", "drawer.csv", "studio.toml")
    content = b"".join((folder / name).read_bytes() for name in names)
    assert read_studio(folder).input_hash == hashlib.sha256(content).hexdigest()


def test_nothing_is_written(make_studio):
    folder = make_studio(settings='name = "a"\n')
    before = {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.iterdir()}
    read_studio(folder)
    after = {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.iterdir()}
    assert after == before


def test_workbooks_and_csv_files_give_the_same_job(make_studio, make_workbook, tmp_path):
    from_csv = read_studio(make_studio()).job
    (tmp_path / "orders.csv").unlink()
    rows = [
        ["order", "piece", "client", "paper", "kind", "size", "margin", "left", "right", "top",
         "foot", "count", "turn", "due", "price"],
        ["D1", "Winch", "Ottery", "Rag", "drawing", "210 x 297", 15, None, None, None, None, 2,
         True, date(2026, 12, 3), 160.0],
        ["P1", "Beacon", None, "Rag", "print", "200 x 250", None, 25, 25, 25, 35, 3, "no", None,
         40],
        ["C1", "Certificate", None, "Laid", "card", "A6", None, None, None, None, None, 8, "alike"],
    ]  # fmt: skip
    book = make_workbook({"Orders": rows})
    job = read_studio(make_studio(book, orders_name="Orders.XLSX")).job
    assert job == from_csv


def test_a_workbook_s_problems_carry_their_cells(make_studio, make_workbook):
    rows = [["order", "paper", "size", "margin"], ["1", "Rag", date(2026, 8, 5), 5],
            ["2", "Rag", "A4", date(2026, 8, 5)], ["3", "Rag", "A4", "=1+1"]]  # fmt: skip
    with pytest.raises(ProblemsFound) as found:
        read_studio(make_studio(make_workbook({"Orders": rows}), orders_name="orders.xlsx"))
    size, margin, formula = found.value.problems
    assert (size.cell, margin.cell, formula.cell) == ("C2", "D3", "D4")
    assert "8/5 or 5/8 (a fraction?)" in size.message
    assert "8/5 or 5/8 (a fraction?)" in margin.message
    assert "never saved" in formula.message


def test_all_problems_of_all_files_come_at_once_in_order(make_studio):
    orders = "order,paper,size,count,margin\n1,Rag,A4,two,\n2,Rag,297,0,-1\n"
    drawer = "sheet,paper,size,price\na,Rag,A2,x\nb,Rag,0 x 5,y\n"
    with pytest.raises(ProblemsFound) as found:
        read_studio(make_studio(orders, drawer, 'ruller = 5\nunit = "pt"\n'))
    assert [(problem.source, problem.row, problem.cell) for problem in found.value.problems] == [
        ("orders.csv", 2, "D2"),
        ("orders.csv", 3, "C3"), ("orders.csv", 3, "D3"), ("orders.csv", 3, "E3"),
        ("drawer.csv", 2, "D2"),
        ("drawer.csv", 3, "C3"), ("drawer.csv", 3, "D3"),
        ("studio.toml", 1, None), ("studio.toml", 2, None),
    ]  # fmt: skip


def test_orders_are_not_blamed_for_a_drawer_that_cannot_be_read(make_studio):
    with pytest.raises(ProblemsFound) as found:
        read_studio(make_studio(None, b"\x00\x01"))
    assert [problem.source for problem in found.value.problems] == ["drawer.csv"]
    with pytest.raises(ProblemsFound) as found:
        read_studio(make_studio(None, "sheet,paper,size\na,Rag,B4\nb,Laid,A3\n"))
    assert [problem.cell for problem in found.value.problems] == ["C2"]


def test_a_cell_is_told_as_a_spreadsheet_does(make_studio, with_cell):
    """Where, what was found, and what to write."""
    with pytest.raises(ProblemsFound) as found:
        read_studio(make_studio(with_cell("orders", 2, "margin", "1,000 mm")))
    assert str(found.value) == (
        'orders.csv, row 2, margin (G2): "1,000 mm" can mean 1 mm or 1 m; write 1 mm or 1000 mm'
    )


def test_a_folder_that_is_not_there(tmp_path):
    with pytest.raises(NoFolder, match="is not there"):
        read_studio(tmp_path / "nowhere")
    (tmp_path / "file").write_text("")
    with pytest.raises(NoFolder, match="is not a folder"):
        read_studio(tmp_path / "file")


def test_a_table_that_is_not_there(make_studio):
    folder = make_studio()
    (folder / "drawer.csv").rename(folder / "drawer.ods")
    with pytest.raises(FileMissing) as missing:
        read_studio(folder)
    assert (missing.value.stem, missing.value.instead) == ("drawer", "drawer.ods")
    (folder / "orders.csv").unlink()
    with pytest.raises(FileMissing, match=r"no orders\.csv and no orders\.xlsx"):
        read_studio(folder)


def test_a_table_that_is_there_twice(make_studio):
    folder = make_studio()
    make_studio(b"PK", orders_name="orders.xlsx")
    with pytest.raises(TwoFiles, match="keep one") as two:
        read_studio(folder)
    assert two.value.names == ("orders.csv", "orders.xlsx")


def test_a_file_that_cannot_be_opened(make_studio):
    folder = make_studio()
    (folder / "orders.csv").unlink()
    (folder / "orders.csv").mkdir()
    with pytest.raises(FileUnreadable, match="not a file"):
        read_studio(folder)
    (folder / "orders.csv").rmdir()
    (folder / "orders.csv").symlink_to(folder / "nowhere.csv")
    with pytest.raises(FileUnreadable):
        read_studio(folder)


def test_a_paper_in_the_settings_that_no_sheet_is_of(make_studio):
    studio = read_studio(
        make_studio(settings="[paper.Lade]\npasses = 1\n[paper.rag]\npasses = 2\n")
    )
    assert studio.notes == (
        'studio.toml: the paper "Lade" has no sheet in the drawer; did you mean "Laid"?',
    )
    assert studio.job.paper("Rag").passes == 2


# The demo studio's week: totals worked out by hand from its table of orders.


@pytest.fixture(scope="module")
def demo():
    return read_studio(DEMO)


def test_the_demo_has_no_problems_and_no_notes(demo):
    assert demo.notes == ()
    assert (demo.job.studio, demo.job.currency) == ("Tern Point Drawing Room", "£")
    assert len(demo.job.pieces) == 25
    assert len(demo.job.sheets) == 7


def test_the_demo_s_blanks_are_those_of_the_table(demo):
    """A3+15 twice, A4+15 four times, A5+12 nine times, and so on; 18 drawings, 21 prints."""
    totals = {}
    for piece in demo.job.pieces:
        blank = (piece.paper, piece.asked_width // mm(1), piece.asked_height // mm(1))
        totals[blank] = totals.get(blank, 0) + piece.count
    smooth, rag, laid = "Slatehouse Smooth", "Marram Rag", "Gullwing Laid"
    assert totals == {
        (smooth, 327, 450): 2, (smooth, 240, 327): 4, (smooth, 172, 234): 9,
        (smooth, 330, 330): 1, (smooth, 230, 530): 1, (smooth, 580, 810): 1,
        (rag, 360, 470): 4, (rag, 250, 310): 7, (rag, 200, 260): 7, (rag, 210, 460): 3,
        (laid, 105, 148): 18,
    }  # fmt: skip
    for kind, count in (("drawing", 18), ("print", 21), ("card", 18)):
        assert sum(piece.count for piece in demo.job.pieces if piece.kind == kind) == count


def test_the_demo_s_drawings_cover_1_671052_square_metres(demo):
    area = sum(piece.count * piece.asked_area for piece in demo.job.pieces_of("Slatehouse Smooth"))
    assert area == 1_671_052 * mm(1) ** 2


def test_the_demo_s_prints_carry_their_borders(demo):
    slack_water = next(piece for piece in demo.job.pieces if piece.order == "P01")
    assert slack_water.border == Edges(mm(30), mm(30), mm(30), mm(40))
    assert slack_water.margin == Edges()
    assert all(piece.turn == "yes" for piece in demo.job.pieces)


def test_the_demo_s_days_run_from_monday_30_november(demo):
    due = {piece.order: piece.due for piece in demo.job.pieces}
    assert due["D01"] == date(2026, 12, 3)  # day 4
    assert due["D10"] == date(2026, 12, 11)  # day 12
    assert due["P01"] is None


def test_the_demo_s_drawer_is_that_of_the_table(demo):
    usable = {
        sheet.id: (sheet.usable_width // mm(1), sheet.usable_height // mm(1), sheet.on_hand,
                   sheet.price, sheet.kind, sheet.grain, sheet.title)
        for sheet in demo.job.sheets
    }  # fmt: skip
    assert usable == {
        "HP-IMP": (544, 744, 3, 1520, "full", "along height", "Imperial"),
        "HP-DE": (670, 1000, 1, 2980, "full", "along height", "Double elephant"),
        "heron 7": (268, 540, 1, 517, "offcut", "along height", "heron 7"),
        "RAG-L": (610, 914, 4, 1140, "full", "along height", "Marram large"),
        "RAG-A2": (420, 594, 1, 510, "full", "along height", "Marram A2"),
        "plover 3": (300, 610, 1, 374, "offcut", "along width", "plover 3"),
        "CERT": (310, 428, 10, 48, "full", "along height", "Certificate sheet"),
    }


def test_the_demo_s_value_of_work_is_that_of_the_table(demo):
    """290 + 340 + 160 + 210 + 320 + 290 + 240 + 255 + 160 + 880 + 170 = 3315."""
    assert sum(piece.count * (piece.price or 0) for piece in demo.job.pieces) == 331_500


def test_a_file_too_large_to_read_does_not_hide_the_others(make_studio):
    with pytest.raises(ProblemsFound) as found:
        read_studio(make_studio("order,paper,size\n1,Rag,297\n", b"x" * 20_000_001))
    assert [(problem.source, problem.cell) for problem in found.value.problems] == [
        ("orders.csv", "C2"),
        ("drawer.csv", None),
    ]
