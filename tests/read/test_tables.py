"""CSV files of every encoding and separator, with the cells' addresses kept."""

import csv

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcut.errors import ProblemsFound
from sheetcut.read.tables import MOST_ROWS, address, decoded, tables_in

TEXT = "order,piece,size\n1,Café ½,210 x 297\n"


def rows(data, name="orders.csv"):
    (table,) = tables_in(name, data)
    return [(row.number, [cell.text for cell in row.cells]) for row in table.rows]


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"]
)
def test_every_encoding_gives_the_same_rows(encoding):
    found = rows(TEXT.encode(encoding))
    assert found == [(1, ["order", "piece", "size"]), (2, ["1", "Café ½", "210 x 297"])]


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_is_known_by_its_mark_and_without(encoding):
    mark = "\ufeff".encode(encoding)
    assert rows(mark + TEXT.encode(encoding)) == rows(TEXT.encode(encoding)) == rows(TEXT.encode())


def test_windows_text_is_read_with_a_note():
    text, note = decoded("orders.csv", "Café".encode("cp1252"))
    assert text == "Café"
    assert "Windows" in note
    assert decoded("orders.csv", "Café".encode())[1] == ""


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_every_separator_and_line_end_gives_the_same_rows(separator, end):
    text = TEXT.replace(",", separator).replace("\n", end)
    assert rows(text.encode()) == rows(TEXT.encode())


def test_decimal_commas_stand_between_semicolons():
    text = "order;size;price\n1;29,7 x 42,0 cm;15,20\n2;21,0 x 29,7 cm;9,50\n"
    assert rows(text.encode())[1] == (2, ["1", "29,7 x 42,0 cm", "15,20"])


def test_a_separator_line_of_a_spreadsheet_is_no_row():
    assert rows(b"sep=;\r\norder;size\r\n1;A4\r\n") == [(1, ["order", "size"]), (2, ["1", "A4"])]


def test_blank_rows_are_counted_and_left_out():
    text = "order,size\n\n,,\n1,A4\n  ,\n2,A5"
    assert [number for number, _ in rows(text.encode())] == [1, 4, 6]


def test_a_line_break_inside_a_cell_is_no_new_row():
    text = 'order,note,size\n1,"two\nlines, and a comma",A4\n2,,"11"" x 14"""\n'
    assert rows(text.encode())[1:] == [
        (2, ["1", "two\nlines, and a comma", "A4"]),
        (3, ["2", "", '11" x 14"']),
    ]


@pytest.mark.parametrize(
    ("column", "row", "found"), [(0, 1, "A1"), (25, 2, "Z2"), (26, 2, "AA2"), (6, 7, "G7")]
)
def test_cells_are_addressed_as_a_spreadsheet_does(column, row, found):
    assert address(column, row) == found


def test_addresses_agree_with_the_workbook_library():
    from openpyxl.utils import get_column_letter  # noqa: PLC0415

    assert all(address(n, 1) == f"{get_column_letter(n + 1)}1" for n in range(18_278))


@pytest.mark.parametrize(
    ("name", "data", "found"),
    [
        ("orders.csv", b"", "is empty"),
        ("orders.csv", b" \r\n ", "is empty"),
        ("orders.csv", b"PK\x03\x04rest", "a workbook or another packed file"),
        ("orders.csv", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "old kind (.xls), or one with a passw"),
        ("orders.xlsx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "old kind (.xls), or one with a pass"),
        ("orders.xlsx", b"order,size\n1,A4\n", "what is in it is not one"),
        ("orders.csv", b"\x89PNG\r\n\x1a\n\x00\x00\x00\x0dIHDR", "is not text"),
        ("orders.csv", b"order,si\x81ze\n", "is not text"),
        ("orders.csv", b"\xff\xfeo\x00r\x00d", "is not text"),
        ("orders.csv", b'order,size\n1,"A4\n2,A5\n', "does not close"),
        ("orders.csv", b'order,size\n1,"A4" tall\n2,A5\n', "does not close, or text follows"),
        ("orders.csv", b"1\n" * (MOST_ROWS + 1), "more than 100 000 rows"),
    ],
)
def test_what_is_no_table_is_said_in_words(name, data, found):
    with pytest.raises(ProblemsFound) as problems:
        rows(data, name)
    assert found in str(problems.value)
    assert str(problems.value).startswith(name)


def test_an_open_quotation_is_found_in_its_row():
    with pytest.raises(ProblemsFound) as problems:
        rows(b'order,size\n1,A4\n2,"A5\n3,A6\n')
    assert problems.value.problems[0].row == 3


def test_a_cell_of_ten_megabytes_is_read_and_leaves_the_csv_module_as_it_was():
    usual = csv.field_size_limit()
    found = rows(b"order,size\n1," + b"9" * 10_000_000 + b"\n")
    assert len(found[1][1][1]) == 10_000_000
    assert csv.field_size_limit() == usual


@given(st.binary(max_size=200), st.sampled_from(["orders.csv", "orders.xlsx"]))
def test_any_bytes_are_a_table_or_a_problem(data, name):
    for start in (b"", b"PK\x03\x04", b"order,size\n"):
        try:
            rows(start + data, name)
        except ProblemsFound as found:
            assert str(found).startswith(name)
