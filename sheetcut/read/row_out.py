"""An order line as a row of a table that somebody keeps, in the order of its own headings."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from sheetcut.read.folder import bytes_of
from sheetcut.read.headings import ORDER_MEANINGS, headed
from sheetcut.read.tables import decoded, tables_in


@dataclass(frozen=True, slots=True)
class RowOut:
    """A row to be put below the others by hand.

    Attributes:
        text: as it is pasted: with tabs into a workbook, else with the table's own separator.
        left_over: by heading, the values that the table has no column for.
    """

    text: str
    left_over: Mapping[str, str]


def order_row_out(path: Path, cells: Mapping[str, str]) -> RowOut:
    """Return an order line as a row of the table in a file, which is only read.

    Args:
        cells: the values by the headings of an orders' table, "width" and "height" besides
            for a table that has those instead of sizes.

    Raises:
        FileUnreadable, ProblemsFound: as for a studio.
    """
    data = bytes_of(path)
    columns = headed(path.name, tables_in(path.name, data), ORDER_MEANINGS).columns
    row = [""] * columns.width
    for field, place in columns.places.items():
        row[place] = cells.get(field, "")
    sides = ("width", "height") if "size" in columns.places else ("size",)
    left_over = {
        field: text
        for field, text in cells.items()
        if text and field not in columns.places and field not in sides
    }
    return RowOut(_written(row, path, data), left_over)


def _written(row: list[str], path: Path, data: bytes) -> str:
    if path.suffix.casefold() == ".xlsx":
        return "\t".join(row)
    text, _ = decoded(path.name, data)
    first = text.partition("\n")[0]
    out = io.StringIO()
    separator = max(",;\t", key=first.count)
    csv.writer(out, delimiter=separator, lineterminator="").writerow(row)
    return out.getvalue()
