"""Rows and cells of a table, from a CSV file or a workbook, with the cells' own addresses."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from math import ceil

from sheetcut.errors import ProblemsFound
from sheetcut.read.failures import spoiled

LARGEST_FILE = 20_000_000
"""Bytes. Our judgement: a hundred thousand order lines take less than half of it."""

MOST_ROWS = 100_000
SEPARATORS = ",;\t"


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in one cell.

    Attributes:
        text: as typed, or as a spreadsheet would show it; empty for an empty cell.
        day: where the spreadsheet holds a date.
        fault: why its value cannot be had, such as a formula that was never worked out.
    """

    text: str = ""
    day: date | None = None
    fault: str = ""

    @property
    def is_empty(self) -> bool:
        """Whether nothing stands in it."""
        return not self.fault and not self.text.strip()


EMPTY = Cell()


@dataclass(frozen=True, slots=True)
class Row:
    """One row that is not blank, with its number as a spreadsheet counts it."""

    number: int
    cells: tuple[Cell, ...]

    def cell(self, column: int) -> Cell:
        """Return a cell; beyond the end of a short row it is empty."""
        return self.cells[column] if column < len(self.cells) else EMPTY


@dataclass(frozen=True, slots=True)
class Table:
    """The rows of one file, or of one page of a workbook.

    Attributes:
        source: the file's name as the user typed it.
        notes: what the user should know of how it was read.
    """

    source: str
    rows: tuple[Row, ...]
    notes: tuple[str, ...] = ()


def address(column: int, row: int) -> str:
    """Return a cell's address as a spreadsheet writes it; columns count from 0.

    >>> address(6, 7), address(26, 1), address(701, 2), address(702, 2)
    ('G7', 'AA1', 'ZZ2', 'AAA2')
    """
    letters = ""
    column += 1
    while column:
        column, letter = divmod(column - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return f"{letters}{row}"


def tables_in(source: str, data: bytes) -> Iterator[Table]:
    """Yield the tables of one file: one of a CSV file, one for each page of a workbook.

    Raises:
        ProblemsFound: if the file is empty, or not what its name says.
    """
    if not data.strip():
        raise spoiled(source, "the file is empty", "write headings and rows into it")
    is_workbook = source.lower().endswith(".xlsx")
    if data.startswith(b"\xd0\xcf\x11\xe0"):
        raise spoiled(
            source,
            "this is a workbook of the old kind (.xls), or one with a password",
            "save it without a password as .xlsx",
        )
    if data.startswith(b"PK") != is_workbook:
        raise _misnamed(source, is_workbook)
    if is_workbook:
        # Only here, so that who keeps CSV files never waits for the workbook library.
        from sheetcut.read.workbook import pages_of  # noqa: PLC0415

        yield from pages_of(source, data)
    else:
        yield _csv_table(source, data)


def too_large(source: str, size: int) -> ProblemsFound:
    """Return the error for a file that is larger than any studio's table."""
    return spoiled(
        source,
        f"the file has {ceil(size / 1e6)} MB, and {LARGEST_FILE / 1e6:.0f} MB is the most",
        "leave only the table in it, without pictures or old rows",
    )


def too_many_rows(source: str) -> ProblemsFound:
    """Return the error for a table longer than can be meant."""
    return spoiled(
        source,
        f"there are more than {MOST_ROWS:,} rows".replace(",", " "),
        "move rows that are done to another file",
    )


def decoded(source: str, data: bytes) -> tuple[str, str]:
    """Return a file's text, and a note where its encoding had to be guessed.

    Raises:
        ProblemsFound: if the bytes are no text.
    """
    is_wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
    encodings = ["utf-16"] if is_wide else [*_bare_utf16(data), "utf-8-sig", "cp1252"]
    for encoding in encodings:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" in text:
            break
        guessed = encoding == "cp1252"
        return text, f"{source} is not in UTF-8 and was read as Windows text" if guessed else ""
    raise spoiled(
        source, "the file is not text", "save it from the spreadsheet as CSV (UTF-8) or as .xlsx"
    )


def _bare_utf16(data: bytes) -> list[str]:
    # Plain Latin text in UTF-16 has a zero in every second byte; nothing else does.
    head = data[:200]
    for encoding, start in (("utf-16-le", 1), ("utf-16-be", 0)):
        if head[start::2].count(0) > len(head) // 3:
            return [encoding]
    return []


def _misnamed(source: str, is_workbook: bool) -> ProblemsFound:
    stem = source.rpartition(".")[0]
    if is_workbook:
        return spoiled(
            source,
            "the name says workbook, and what is in it is not one",
            f"save it again as .xlsx, or name it {stem}.csv if it is plain text",
        )
    return spoiled(
        source,
        "the name says CSV, and what is in it is a workbook or another packed file",
        f"name it {stem}.xlsx, or save it again as CSV",
    )


def _csv_table(source: str, data: bytes) -> Table:
    text, note = decoded(source, data)
    separator = _separator(text)
    told = re.match(r"sep=(.)\r?\n", text)
    if told:  # spreadsheets write this line and never show it
        separator, text = told[1], text[told.end() :]
    rows = tuple(_rows(source, text, separator))
    return Table(source, rows, (note,) if note else ())


def _separator(text: str) -> str:
    """Return what parts the cells: the mark of which most lines have the same number.

    Decimal commas may outnumber the semicolons between them, but not as evenly.
    """
    head = re.sub(r'"[^"]*"', "", text[:20_000])
    lines = [line for line in head.splitlines() if line.strip()][:10]
    return max(SEPARATORS, key=lambda mark: _evenness([line.count(mark) for line in lines]))


def _evenness(counts: list[int]) -> tuple[int, int]:
    return max(((counts.count(count), count) for count in counts if count), default=(0, 0))


def _rows(source: str, text: str, separator: str) -> Iterator[Row]:
    number = 0
    with _cells_of_any_length():
        records = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
        try:
            for number, record in enumerate(records, 1):
                row = Row(number, tuple(map(Cell, record)))
                if not all(cell.is_empty for cell in row.cells):
                    if number > MOST_ROWS:
                        raise too_many_rows(source)
                    yield row
        except csv.Error:
            raise spoiled(
                source,
                'a quotation mark (") does not close, or text follows it',
                "close it, or write it twice inside a quoted cell",
                row=number + 1,
            ) from None


@contextmanager
def _cells_of_any_length() -> Iterator[None]:
    # The csv module stops at 131 072 characters; a cell that long gets its own message.
    usual = csv.field_size_limit(LARGEST_FILE)
    try:
        yield
    finally:
        csv.field_size_limit(usual)
