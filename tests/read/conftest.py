"""Studio folders for the reading tests, small enough to check by hand."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

ORDERS = [
    "order,client,piece,paper,kind,size,margin,left,right,top,foot,"
    "count,turn,deckle,due,price,note",
    "D1,Ottery,Winch,Rag,drawing,210 x 297,15,,,,,2,yes,,2026-12-03,160,",
    "P1,,Beacon,Rag,print,200 x 250,,25,25,25,35,3,no,,,40,",
    "C1,,Certificate,Laid,card,A6,,,,,,8,alike,,,,",
]
DRAWER = [
    "sheet,paper,size,edge loss,left,right,top,foot,"
    "deckle,side,grain,on hand,price,packs,kind,note",
    "L,Rag,610 x 914,,,,,,,one,along height,4,11.40,10 for 114.00,full,",
    "heron 7,Rag,300 x 610,,,,,,,one,along width,1,3.74,,offcut,",
    "S,Laid,SRA3,,5,5,17,5,,both,along height,any,0.48,,full,",
]


@pytest.fixture
def make_studio(tmp_path):
    """Return a function that writes a studio folder; what is not given is as above."""

    def write(
        orders: bytes | str | None = None,
        drawer: bytes | str | None = None,
        settings: bytes | str | None = None,
        *,
        orders_name: str = "orders.csv",
        drawer_name: str = "drawer.csv",
    ) -> Path:
        put(tmp_path / orders_name, "\n".join(ORDERS) if orders is None else orders)
        put(tmp_path / drawer_name, "\n".join(DRAWER) if drawer is None else drawer)
        if settings is not None:
            put(tmp_path / "studio.toml", settings)
        return tmp_path

    return write


@pytest.fixture
def with_cell():
    """Return a function that gives the usual table with one cell changed."""

    def change(table: str, row: int, heading: str, value: str) -> str:
        lines = list(csv.reader(ORDERS if table == "orders" else DRAWER))
        lines[row - 1][lines[0].index(heading)] = value
        text = io.StringIO()
        csv.writer(text).writerows(lines)
        return text.getvalue()

    return change


@pytest.fixture
def make_workbook():
    """Return a function that gives the bytes of a workbook, a list of rows for each page."""

    def write(pages: dict[str, list[list[object]]], formats: dict[str, str] | None = None) -> bytes:
        import openpyxl  # noqa: PLC0415

        book = openpyxl.Workbook()
        book.remove(book.active)
        for title, rows in pages.items():
            page = book.create_sheet(title)
            for row in rows:
                page.append(row)
            for place, shown_as in (formats or {}).items():
                page[place].number_format = shown_as
        packed = io.BytesIO()
        book.save(packed)
        return packed.getvalue()

    return write


def put(path: Path, content: bytes | str) -> None:
    """Write a file as bytes, so that nothing is translated on the way."""
    path.write_bytes(content.encode() if isinstance(content, str) else content)
