"""Tables out of an .xlsx workbook; the only place that knows the workbook library."""

from __future__ import annotations

import io
import re
import warnings
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stdout
from datetime import datetime
from decimal import Decimal
from threading import Lock
from typing import Any

import openpyxl

from sheetcut.errors import ProblemsFound
from sheetcut.read.failures import spoiled
from sheetcut.read.tables import EMPTY, MOST_ROWS, Cell, Row, Table, too_many_rows
from sheetcut.units import plain

LARGEST_UNPACKED = 200_000_000
"""Bytes a workbook may unpack to: ten times the largest file that is read."""

MOST_COLUMNS = 256
_UNIT_IN_FORMAT = re.compile(r'["\\ ](mm|cm|in|inch)\b')


def pages_of(source: str, data: bytes) -> Iterator[Table]:
    """Yield a table for each page that is not hidden, in their order.

    Formulas are read by the value the spreadsheet last worked out for them.

    Raises:
        ProblemsFound: if the file cannot be read as a workbook.
    """
    try:
        has_formulas = _looked_through(source, data)
        yield from _pages(source, data, has_formulas)
    except (ProblemsFound, GeneratorExit):
        raise
    except Exception as error:
        # A damaged workbook makes the library fail in dozens of ways, none of them ours.
        raise spoiled(
            source,
            "the workbook is damaged",
            "open it in the spreadsheet and save it again as .xlsx, or as CSV (UTF-8)",
        ) from error


def _looked_through(source: str, data: bytes) -> bool:
    """Refuse what would harm when unpacked; return whether any page holds formulas."""
    with zipfile.ZipFile(io.BytesIO(data)) as parts:
        entries = parts.infolist()
        if sum(entry.file_size for entry in entries) > LARGEST_UNPACKED:
            raise spoiled(
                source,
                f"the workbook unpacks to more than {LARGEST_UNPACKED / 1e6:.0f} MB",
                "leave only the table in it, or save the table as CSV",
            )
        if any(entry.flag_bits & 1 for entry in entries):
            raise spoiled(source, "the workbook has a password", "save it without one")
        if not any(entry.filename.startswith("xl/") for entry in entries):
            raise spoiled(
                source,
                "this is a packed file, and not a workbook",
                "save the table from the spreadsheet as .xlsx or CSV",
            )
        has_formulas = False
        for entry in entries:
            if entry.filename.endswith((".xml", ".rels")):
                text = parts.read(entry)
                # Spreadsheets never declare entities; files made to exhaust memory do.
                if b"<!DOCTYPE" in text[:2_000] or b"<!ENTITY" in text[:2_000]:
                    raise spoiled(
                        source,
                        "the workbook is not as spreadsheets save it",
                        "open it in the spreadsheet and save it again",
                    )
                is_page = entry.filename.startswith("xl/worksheets/")
                has_formulas |= is_page and re.search(rb"<(?:\w+:)?f[ >/]", text) is not None
    return has_formulas


def _pages(source: str, data: bytes, has_formulas: bool) -> Iterator[Table]:
    book = _opened(data, data_only=True)
    typed = _opened(data, data_only=False) if has_formulas else None
    try:
        for page in book.worksheets:
            if page.sheet_state == "visible":
                formulas = _records(typed[page.title]) if typed else None
                with _quietly():
                    rows = tuple(_rows(source, _records(page), formulas))
                yield Table(source, rows)
    finally:
        for one in filter(None, (book, typed)):
            one.close()


def _opened(data: bytes, *, data_only: bool) -> Any:
    with _quietly():
        return openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=data_only)


_ONE_READER = Lock()
"""Standard output is kept from the library for the whole process, so one reads at a time."""


@contextmanager
def _quietly() -> Iterator[None]:
    # The library warns of features it leaves aside; none of them is in a cell's value. Of a
    # style that is not there it prints a line, which would stand in the midst of a plan.
    with _ONE_READER, warnings.catch_warnings(), redirect_stdout(io.StringIO()):
        warnings.simplefilter("ignore")
        yield


def _records(page: Any) -> Iterator[tuple[Any, ...]]:
    # The size a page claims can be a million rows of nothing, so it is measured by reading.
    page.reset_dimensions()
    records: Iterator[tuple[Any, ...]] = page.iter_rows()
    return records


def _rows(
    source: str, records: Iterator[tuple[Any, ...]], formulas: Iterator[tuple[Any, ...]] | None
) -> Iterator[Row]:
    filled = 0
    for number, record in enumerate(records, 1):
        typed = next(formulas, ()) if formulas is not None else ()
        cells = [_cell(found) for found in record[:MOST_COLUMNS]]
        for place, found in enumerate(typed):
            if found.data_type == "f" and place < len(cells) and record[place].value is None:
                cells[place] = Cell(fault="is a formula whose result was never saved")
        while cells and cells[-1].is_empty:
            cells.pop()
        if cells:
            filled += 1
            if filled > MOST_ROWS:
                raise too_many_rows(source)
            yield Row(number, tuple(cells))


def _cell(found: Any) -> Cell:
    value = found.value
    if value is None:
        return EMPTY
    if found.data_type == "e":
        return Cell(fault=f"shows {value}, an error of the spreadsheet")
    if isinstance(value, bool):
        return Cell("TRUE" if value else "FALSE")
    if isinstance(value, int | float):
        return Cell(_number_text(value, found.number_format or ""))
    if isinstance(value, datetime):
        is_day = value.time() == value.min.time()
        return Cell(value.date().isoformat() if is_day else str(value), day=value.date())
    return Cell(str(value))


def _number_text(value: float, shown_as: str) -> str:
    """Return a number as a spreadsheet shows it: 15 figures, and the unit its format adds."""
    exact = Decimal(f"{value:.15g}")
    shown_as = shown_as.partition(";")[0]
    if "%" in shown_as:
        return f"{plain(exact * 100):f} %"
    text = f"{exact:f}"
    unit = _UNIT_IN_FORMAT.search(shown_as)
    return f"{text} {unit[1]}" if unit else text
