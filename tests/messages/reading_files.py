"""Every message that a file or folder as a whole can be answered with, or its headings."""

# ruff: noqa: E501 (a message stands on one line, as it is read)
from __future__ import annotations

import io
import os
import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from sheetcut.read import (
    Settings,
    orders_in,
    read_studio,
    settings_in,
    sheets_in,
    typed_sheet,
    write_blank_studio,
)
from sheetcut.read import workbook as workbooks
from sheetcut.read.settings_out import rewritten
from tests.messages.cases import Case, Says
from tests.messages.reading_cells import ORDER, SHEET, studio_of, table_text


def _files(name: str, says: Says | str, **files: str | bytes) -> Case:
    """Return a case of a studio whose files are sound but for those that are given."""
    return Case(name, lambda folder: read_studio(studio_of(folder, **files)), says)


def _workbook(name: str, says: Says | str, data: Callable[[], bytes]) -> Case:
    def provoke(folder: Path) -> object:
        studio_of(folder, orders_xlsx=data())
        (folder / "orders.csv").unlink()
        return read_studio(folder)

    return Case(name, provoke, says)


def _book(**cells: object) -> bytes:
    """Return a workbook of one order with these values in it."""
    book = openpyxl.Workbook()
    row = {**ORDER, **{name.replace("_", " "): value for name, value in cells.items()}}
    book.active.append(list(row))
    book.active.append(list(row.values()))
    return _saved(book)


def _saved(book: openpyxl.Workbook) -> bytes:
    packed = io.BytesIO()
    book.save(packed)
    return packed.getvalue()


def _packed(name: str, text: str) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as parts:
        parts.writestr(name, text)
    return file.getvalue()


def _with_password() -> bytes:
    data = bytearray(_book())
    place = 0
    while (place := data.find(b"PK\x01\x02", place)) >= 0:
        data[place + 8] |= 1  # the flag of an encrypted entry, in the central directory
        place += 4
    return bytes(data)


def _few_rows(data: bytes, **most: int) -> Callable[[Path], object]:
    """Return what reads a file while fewer rows or bytes are already too many."""

    def provoke(folder: Path) -> object:
        with pytest.MonkeyPatch.context() as patch:
            for name, value in most.items():
                patch.setattr(workbooks, name, value)
            studio_of(folder, orders_xlsx=data)
            (folder / "orders.csv").unlink()
            return read_studio(folder)

    return provoke


def _without(*names: str) -> Callable[[Path], object]:
    def provoke(folder: Path) -> object:
        studio_of(folder)
        for name in names:
            (folder / name).unlink()
        return read_studio(folder)

    return provoke


def _with_a_folder_for(name: str, read: Callable[[Path], object]) -> Callable[[Path], object]:
    def provoke(folder: Path) -> object:
        studio_of(folder)
        (folder / name).unlink()
        (folder / name).mkdir()
        return read(folder)

    return provoke


def _not_handed_over(what: str, read: Callable[[Path], object]) -> Callable[[Path], object]:
    """Return what reads a studio while the system refuses one thing; root is refused nothing."""

    def refuse(*_: object, **__: object) -> object:
        raise PermissionError(13, os.strerror(13))

    def provoke(folder: Path) -> object:
        studio_of(folder)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(Path, what, refuse)
            return read(folder)

    return provoke


def _both(folder: Path) -> object:
    studio_of(folder, orders_xlsx=_book())
    os.utime(folder / "orders.csv", (0, 0))
    return read_studio(folder)


def _instead(folder: Path) -> object:
    studio_of(folder, orders_ods=b"PK")
    (folder / "orders.csv").unlink()
    return read_studio(folder)


def _twice_begun(folder: Path) -> object:
    write_blank_studio(folder)
    return write_blank_studio(folder)


def _below_a_file(folder: Path) -> object:
    (folder / "note").write_text("a file")
    return write_blank_studio(folder / "note" / "studio")


def _alone(file: str, text: str, read: Callable[[Path], object]) -> Callable[[Path], object]:
    def provoke(folder: Path) -> object:
        (folder / file).write_text(text, encoding="utf-8")
        return read(folder / file)

    return provoke


HEADED = "order,piece,paper,size,count\n"
PARTED = "order,paper,width,height\n"
CASES = [
    # the folder
    Case(
        "no folder",
        lambda folder: read_studio(folder / "nowhere"),
        "FOLDER/nowhere: this folder is not there; give the folder that holds orders and drawer, or make one with: sheetcut start FOLDER",
    ),
    Case(
        "no folder for settings",
        lambda folder: settings_in(folder / "nowhere"),
        "FOLDER/nowhere: this folder is not there; give the folder that holds orders and drawer, or make one with: sheetcut start FOLDER",
    ),
    Case(
        "no orders",
        _without("orders.csv"),
        "FOLDER: there is no orders.csv and no orders.xlsx; put one there, or begin with: sheetcut start FOLDER",
    ),
    Case(
        "orders of another program",
        _instead,
        "FOLDER: there is no orders.csv and no orders.xlsx; open orders.ods and save it as orders.xlsx or orders.csv",
    ),
    Case(
        "orders twice",
        _both,
        "FOLDER: orders.csv and orders.xlsx are both there, and only one can hold; keep one and move the other away (orders.xlsx was changed last)",
    ),
    Case(
        "a folder called orders.csv",
        _with_a_folder_for("orders.csv", read_studio),
        "FOLDER/orders.csv: the file cannot be read (it is not a file); close it in other programs, and see that it is a file you may read",
    ),
    Case(
        "folder not handed over",
        _not_handed_over("iterdir", read_studio),
        "FOLDER: the folder cannot be looked into (Permission denied); see that it is one you may open",
    ),
    Case(
        "file not handed over",
        _not_handed_over("read_bytes", read_studio),
        "FOLDER/orders.csv: the file cannot be read (Permission denied); close it in other programs, and see that it is a file you may read",
    ),
    Case(
        "settings not looked at",
        _not_handed_over("exists", settings_in),
        "FOLDER: the folder cannot be looked into (Permission denied); see that it is one you may open",
    ),
    Case(
        "begun twice",
        _twice_begun,
        "FOLDER: orders.csv, drawer.csv, studio.toml are already there and nothing was written; name another folder",
    ),
    Case(
        "begun below a file",
        _below_a_file,
        "FOLDER/note/studio: nothing was written (Not a directory); name a folder you may write into",
    ),
    # files as a whole
    _files(
        "empty",
        Says("orders.csv", "the file is empty", "write headings and rows into it"),
        orders_csv="",
    ),
    _files(
        "large on the disk",
        Says(
            "orders.csv",
            "the file has 21 MB, and 20 MB is the most",
            "leave only the table in it, without pictures or old rows",
        ),
        orders_csv=b"x" * 20_000_001,
    ),
    _files(
        "old workbook",
        Says(
            "orders.csv",
            "this is a workbook of the old kind (.xls), or one with a password",
            "save it without a password as .xlsx",
        ),
        orders_csv=b"\xd0\xcf\x11\xe0 old",
    ),
    _files(
        "workbook called csv",
        Says(
            "orders.csv",
            "the name says CSV, and what is in it is a workbook or another packed file",
            "name it orders.xlsx, or save it again as CSV",
        ),
        orders_csv=_book(),
    ),
    _files(
        "binary",
        Says(
            "orders.csv",
            "the file is not text",
            "save it from the spreadsheet as CSV (UTF-8) or as .xlsx",
        ),
        orders_csv=b"order\x00,size",
    ),
    _files(
        "quotation mark",
        Says(
            "orders.csv, row 2",
            'a quotation mark (") does not close, or text follows it',
            "close it, or write it twice inside a quoted cell",
        ),
        orders_csv='order,size\nD1,"A4" large\n',
    ),
    _files(
        "rows without end",
        Says(
            "orders.csv",
            "there are more than 100 000 rows",
            "move rows that are done to another file",
        ),
        orders_csv="order,size\n" + "D1,A4\n" * 100_000,
    ),
    _files(
        "large settings",
        Says(
            "studio.toml",
            "the file has 1.0 MB, far too much for settings",
            "leave only the settings in it",
        ),
        studio_toml="# " + "x" * 1_000_000,
    ),
    _workbook(
        "csv called workbook",
        Says(
            "orders.xlsx",
            "the name says workbook, and what is in it is not one",
            "save it again as .xlsx, or name it orders.csv if it is plain text",
        ),
        lambda: b"order,size\nD1,A4\n",
    ),
    _workbook(
        "packed file",
        Says(
            "orders.xlsx",
            "this is a packed file, and not a workbook",
            "save the table from the spreadsheet as .xlsx or CSV",
        ),
        lambda: _packed("readme.txt", "hello"),
    ),
    _workbook(
        "password",
        Says("orders.xlsx", "the workbook has a password", "save it without one"),
        _with_password,
    ),
    _workbook(
        "entities",
        Says(
            "orders.xlsx",
            "the workbook is not as spreadsheets save it",
            "open it in the spreadsheet and save it again",
        ),
        lambda: _packed("xl/workbook.xml", "<!DOCTYPE a><b/>"),
    ),
    _workbook(
        "damaged",
        Says(
            "orders.xlsx",
            "the workbook is damaged",
            "open it in the spreadsheet and save it again as .xlsx, or as CSV (UTF-8)",
        ),
        lambda: _book()[:2000],
    ),
    Case(
        "unpacks too large",
        _few_rows(_packed("xl/a", "x" * 3_000_000), LARGEST_UNPACKED=2_000_000),
        Says(
            "orders.xlsx",
            "the workbook unpacks to more than 2 MB",
            "leave only the table in it, or save the table as CSV",
        ),
    ),
    Case(
        "workbook without end",
        _few_rows(_book(), MOST_ROWS=1),
        Says(
            "orders.xlsx",
            "there are more than 100 000 rows",
            "move rows that are done to another file",
        ),
    ),
    # headings
    _files(
        "blank",
        Says("orders.csv", "there are no rows in it", "write headings and rows into it"),
        orders_csv=",,\n,,\n",
    ),
    _files(
        "no headings",
        Says(
            "orders.csv, row 1",
            'the headings are not there; it begins with "Winch", "A4"',
            "let the first row read: order, client, piece, paper, kind, size, margin, left, right, top, foot, count, turn, deckle, due, price, note",
        ),
        orders_csv="Winch,A4\nBeacon,A5\n",
    ),
    _files(
        "exchanged",
        Says(
            "orders.csv, row 1",
            "its headings are those of the drawer",
            "give the file its right name, and put the orders here",
        ),
        orders_csv=table_text(SHEET),
    ),
    _files(
        "no size",
        Says("orders.csv, row 1, size", "no column has this heading", "add a column for it"),
        orders_csv="order,paper,count\nD1,Rag,2\n",
    ),
    _files(
        "no paper in the drawer",
        Says("drawer.csv, row 1, paper", "no column has this heading", "add a column for it"),
        drawer_csv="sheet,size\nL,610 x 914\n",
    ),
    _files(
        "no paper in the orders",
        Says("orders.csv, row 1, paper", "no column has this heading", "add a column for it"),
        orders_csv="order,size\nD1,A4\n",
        drawer_csv="sheet,paper,size\nL,Rag,610 x 914\nM,Laid,610 x 914\n",
    ),
    _files(
        "heading twice",
        Says(
            "orders.csv, row 1, count (D1)",
            '"qty" means the same as "count" in C1',
            "keep one of the two columns",
        ),
        orders_csv="order,size,count,qty\nD1,A4,2,2\n",
    ),
    _files(
        "heading misspelt",
        Says(
            "orders.csv, row 1, C1",
            '"papre" is not a heading known here',
            'did you mean "paper"? write that, or take the column out',
        ),
        orders_csv="order,size,papre\nD1,A4,Rag\n",
    ),
    # rows, beside the cells of reading_cells
    _files(
        "name twice",
        Says(
            "orders.csv, row 3, order (A3)",
            '"D1" stands in row 2 too',
            "give each row its own name",
        ),
        orders_csv=table_text(ORDER, ORDER),
    ),
    _files(
        "no heading above",
        Says(
            "orders.csv, row 2, F2",
            '"more" stands under no heading',
            "give its column a heading, or put a cell that holds the separator (as 29,7) in quotation marks",
        ),
        orders_csv=HEADED + "D1,Winch,Rag,A4,2,more\n",
    ),
    _files(
        "no width",
        Says(
            "orders.csv, row 2, width (C2)", "no width is given", "write one, as in 297 mm or 11 in"
        ),
        orders_csv=PARTED + "D1,Rag,,297\n",
    ),
    _files(
        "width of nothing",
        Says(
            "orders.csv, row 2, width (C2)",
            "the width is nothing",
            "write a length, as in 297 mm or 11 in",
        ),
        orders_csv=PARTED + "D1,Rag,0,297\n",
    ),
    _files(
        "few millimetres",
        Says(
            "orders.csv, row 2, width (C2)",
            '"8 x 10" is very small in mm, so it may be inches or cm',
            "write the unit after it, as in 8 x 10 in, 56 x 76 cm or 50 x 40 mm",
        ),
        orders_csv=PARTED + "D1,Rag,8,10\n",
    ),
    _files(
        "which paper",
        Says("orders.csv, row 2, paper (C2)", "no paper is named", 'write one of "Rag", "Laid"'),
        orders_csv=HEADED + "D1,Winch,,A4,2\n",
        drawer_csv="sheet,paper,size\nL,Rag,610 x 914\nM,Laid,610 x 914\n",
    ),
    _workbook(
        "a date for a margin",
        Says(
            "orders.xlsx, row 2, margin (G2)",
            '"2026-08-05" is a date: a spreadsheet may have turned 8/5 or 5/8 (a fraction?) into it',
            "set the cell to text and type the length again, as in 5/8 in or 0.625 in",
        ),
        lambda: _book(margin=date(2026, 8, 5)),
    ),
    _workbook(
        "a date for a size",
        Says(
            "orders.xlsx, row 2, size (F2)",
            '"2026-08-05" is a date: a spreadsheet may have turned 8/5 or 5/8 (a fraction?) into it',
            "set the cell to text and type the length again, as in 5/8 in or 0.625 in",
        ),
        lambda: _book(size=date(2026, 8, 5)),
    ),
    _workbook(
        "formula",
        Says(
            "orders.xlsx, row 2, count (L2)",
            "the cell is a formula whose result was never saved",
            "write the value itself",
        ),
        lambda: _book(count="=1+1"),
    ),
    _workbook(
        "spreadsheet's error",
        Says(
            "orders.xlsx, row 2, count (L2)",
            "the cell shows #N/A, an error of the spreadsheet",
            "write the value itself",
        ),
        lambda: _book(count="#N/A"),
    ),
    # one file by itself, and what is typed
    Case(
        "settings alone",
        _alone("studio.toml", "rulr = 5", lambda p: settings_in(p.parent)),
        Says("studio.toml, row 1", '"rulr" is not a setting', 'did you mean "ruler"?'),
    ),
    Case(
        "drawer alone",
        _alone("d.csv", "sheet,paper,size\nL,Rag,big\n", lambda p: sheets_in(p, Settings())),
        Says(
            "d.csv, row 2, size (C2)",
            '"big" is not a size',
            "write two lengths or a name, as in 297 x 420 mm, 11 x 14 in or A3",
        ),
    ),
    Case(
        "orders alone",
        _alone("o.csv", "order,size\nD1,big\n", lambda p: orders_in(p, Settings(), ())),
        Says("o.csv, row 1, paper", "no column has this heading", "add a column for it"),
    ),
    Case(
        "typed sheet",
        lambda _: typed_sheet({"size": "big"}, Settings(), (), where="drawer add"),
        Says(
            "drawer add, paper",
            "no paper is named",
            "write the paper's name, as the orders have it",
        ),
    ),
    Case(
        "settings that cannot be changed alone",
        lambda _: rewritten(
            "studio.toml", b"[[parcel]]\ngrams = 5", {("parcel", "tube", "grams"): 5}
        ),
        "studio.toml, parcel, tube, grams: this cannot be changed without touching the lines round it; change it in the file",
    ),
]
