"""Tables into an .xlsx workbook, with every label a label and never a formula."""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Any

import openpyxl
from openpyxl.cell import WriteOnlyCell
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.styles import Font

_COUNTS = ("count", "on hand", "gives", "plain grid", "number", "of", "sheets", "certificate")
_MONEY = ("price", "cost", "paper each")
NUMBERS = {**dict.fromkeys(_COUNTS, r"\d{1,9}"), **dict.fromkeys(_MONEY, r"\d{1,9}\.\d\d")}
"""Columns that a spreadsheet may count with, and how their numbers are written."""

_DAYS = ("due",)
_WIDEST = 40  # characters; a longer note runs on beside its cell


def workbook_bytes(title: str, table: Sequence[Sequence[str]]) -> bytes:
    """Return a table as a workbook of one page, headings first.

    Counts, prices and days are numbers and days there too; everything else is text, whatever
    it begins with. What is read back from it is what was written.
    """
    book = openpyxl.Workbook(write_only=True)
    page = book.create_sheet(title)
    page.freeze_panes = "A2"
    headings, *rows = table
    for place, _ in enumerate(headings):
        widest = max(len(row[place]) for row in table)
        letter = openpyxl.utils.get_column_letter(place + 1)
        page.column_dimensions[letter].width = min(_WIDEST, widest + 2)
    page.append([_label(page, text, bold=True) for text in headings])
    for row in rows:
        page.append(
            [_cell(page, heading, text) for heading, text in zip(headings, row, strict=True)]
        )
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _cell(page: Any, heading: str, text: str) -> Any:
    if not text:
        return None
    form = NUMBERS.get(heading)
    if form and re.fullmatch(form, text):
        cell = WriteOnlyCell(page, Decimal(text))
        cell.number_format = "0.00" if "." in text else "0"
        return cell
    if heading in _DAYS:
        cell = WriteOnlyCell(page, date.fromisoformat(text))
        cell.number_format = "yyyy-mm-dd"
        return cell
    return _label(page, text)


def _label(page: Any, text: str, *, bold: bool = False) -> Any:
    cell = WriteOnlyCell(page, ILLEGAL_CHARACTERS_RE.sub("", text))
    # The library takes a text that begins with = for a formula, and #N/A for a mistake.
    cell.data_type = "s"
    if bold:
        cell.font = Font(bold=True)
    return cell
