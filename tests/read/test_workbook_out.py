"""Workbooks that are written read back as what was written, label by label."""

import io

import openpyxl
import pytest

from sheetcut.read.tables import tables_in
from sheetcut.read.workbook_out import workbook_bytes

HEADINGS = ("order", "piece", "count", "price", "due")


def read_back(data: bytes) -> list[list[str]]:
    """Return the texts of the cells, as reading finds them."""
    (table,) = tables_in("x.xlsx", data)
    return [[row.cell(place).text for place in range(len(HEADINGS))] for row in table.rows]


@pytest.mark.parametrize(
    "label",
    [
        "=1+1",
        "+44",
        "-",
        "@x",
        "#N/A",
        "#REF!",
        "TRUE",
        "007",
        "1/2",
        "2026-12-03",
        "é ½ <&>",
        "\t=1+1",
        "＝1",
    ],
)
def test_a_label_stays_a_label(label):
    data = workbook_bytes("orders", [HEADINGS, (label, label, "1", "", "")])
    assert read_back(data) == [list(HEADINGS), [label, label, "1", "", ""]]
    cell = openpyxl.load_workbook(io.BytesIO(data)).active["A2"]
    assert (cell.value, cell.data_type) == (label, "s")


def test_counts_prices_and_days_can_be_counted_with():
    data = workbook_bytes("orders", [HEADINGS, ("1", "", "12", "290.00", "2026-12-03")])
    page = openpyxl.load_workbook(io.BytesIO(data)).active
    assert [type(cell.value).__name__ for cell in page[2][2:]] == ["int", "int", "datetime"]
    assert page["D2"].number_format == "0.00"
    assert read_back(data)[1] == ["1", "", "12", "290", "2026-12-03"]


def test_a_character_that_no_workbook_holds_is_left_out():
    assert read_back(workbook_bytes("orders", [HEADINGS, ("a\x07b", "", "", "", "")]))[1][0] == "ab"
