"""Workbooks: numbers, dates, formulas and what is wrong with some of them."""

import io
import random
import subprocess
import sys
import zipfile
from datetime import date, datetime

import pytest

from sheetcut.errors import ProblemsFound
from sheetcut.read.tables import tables_in


@pytest.fixture
def cells(make_workbook):
    """Return a function that writes one row and gives back its cells as they are read."""

    def read(*values, formats=None):
        (table,) = tables_in("orders.xlsx", make_workbook({"Orders": [list(values)]}, formats))
        return table.rows[0].cells

    return read


@pytest.mark.parametrize(
    ("value", "text"),
    [(297, "297"), (297.0, "297"), (29.7, "29.7"), (22.125, "22.125"), (True, "TRUE"),
     (False, "FALSE"), ("210 x 297", "210 x 297"), (0.1 + 0.2, "0.3"), (11 * 25.4, "279.4"),
     (1e-05, "0.00001"), (1e6, "1000000"), (" A4 ", " A4 ")],
)  # fmt: skip
def test_a_value_reads_as_a_spreadsheet_shows_it(cells, value, text):
    assert cells(value)[0].text == text


@pytest.mark.parametrize(
    ("value", "shown_as", "text"),
    [(29.7, '0.0" cm"', "29.7 cm"), (297, '0\\ "mm"', "297 mm"), (0.5, "0%", "50 %"),
     (15.2, '"£"#,##0.00', "15.2"), (11, 'General" in"', "11 in")],
)  # fmt: skip
def test_a_unit_in_the_number_format_counts(cells, value, shown_as, text):
    assert cells(value, formats={"A1": shown_as})[0].text == text


def test_dates_are_kept_as_days(cells):
    first, second = cells(date(2026, 8, 5), datetime(2026, 8, 5, 9, 30))
    assert (first.text, first.day) == ("2026-08-05", date(2026, 8, 5))
    assert (second.text, second.day) == ("2026-08-05 09:30:00", date(2026, 8, 5))


def test_a_formula_never_worked_out_is_a_fault(cells):
    one, two = cells("=1+1", 5)
    assert "never saved" in one.fault
    assert (two.text, two.fault) == ("5", "")


def test_a_formula_is_read_by_its_saved_value(make_workbook):
    """The library writes no results, so the saved result is put into the page by hand."""
    data = make_workbook({"Orders": [["=1+1", 5]]})
    data = changed(data, "xl/worksheets/sheet1.xml", b"<v></v>", b"<v>2</v>", b"<v />")
    (table,) = tables_in("orders.xlsx", data)
    assert [(cell.text, cell.fault) for cell in table.rows[0].cells] == [("2", ""), ("5", "")]


def test_an_error_value_is_a_fault(make_workbook):
    data = make_workbook({"Orders": [["#N/A", 5]]})
    (table,) = tables_in("orders.xlsx", data)
    assert "#N/A" in table.rows[0].cells[0].fault


def test_rows_keep_their_numbers_and_pages_their_order(make_workbook):
    data = make_workbook({"Notes": [["only a note"]], "Orders": [[], ["order"], [], [1]]})
    notes, orders = tables_in("orders.xlsx", data)
    assert notes.rows[0].cells[0].text == "only a note"
    assert [row.number for row in orders.rows] == [2, 4]


def test_hidden_pages_are_left_out(make_workbook):
    import openpyxl  # noqa: PLC0415

    book = openpyxl.load_workbook(io.BytesIO(make_workbook({"Old": [[1]], "New": [[2]]})))
    book["Old"].sheet_state = "hidden"
    packed = io.BytesIO()
    book.save(packed)
    (table,) = tables_in("orders.xlsx", packed.getvalue())
    assert table.rows[0].cells[0].text == "2"


def test_a_claimed_million_rows_are_not_believed(make_workbook):
    data = make_workbook({"Orders": [["order"], [1]]})
    data = changed(data, "xl/worksheets/sheet1.xml", b'ref="A1:A2"', b'ref="A1:XFD1048576"')
    (table,) = tables_in("orders.xlsx", data)
    assert len(table.rows) == 2


def packed(parts):
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return file.getvalue()


def changed(data, part, old, new, other=b""):
    """Return a workbook with some bytes of one part replaced, all else as it was."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    assert old in parts[part] or (other and other in parts[part])
    parts[part] = parts[part].replace(old if old in parts[part] else other, new)
    return packed(parts)


@pytest.mark.parametrize(
    ("parts", "found"),
    [
        ({"readme.txt": "hello"}, "a packed file, and not a workbook"),
        ({"xl/workbook.xml": "<workbook"}, "is damaged"),
        ({"xl/workbook.xml": "x" * 200_000_001}, "unpacks to more than 200 MB"),
        (
            {"xl/workbook.xml": '<!DOCTYPE a [<!ENTITY b "cc">]><workbook>&b;</workbook>'},
            "not as spreadsheets save it",
        ),
    ],
    ids=["no workbook", "damaged", "bomb", "entities"],
)
def test_what_is_no_workbook_is_said_in_words(parts, found):
    with pytest.raises(ProblemsFound) as problems:
        list(tables_in("orders.xlsx", packed(parts)))
    assert found in str(problems.value)


def test_a_workbook_without_its_styles_is_refused_and_nothing_else_is_printed(make_workbook, capfd):
    """The library printed "0 is out of range" into the midst of a plan."""
    data = make_workbook({"Orders": [["order"], [1]]})
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        styles = archive.read("xl/styles.xml")
    begin, end = styles.index(b"<cellStyleXfs"), styles.index(b"</cellStyleXfs>")
    bare = changed(data, "xl/styles.xml", styles[begin:end], b"<cellStyleXfs>")
    with pytest.raises(ProblemsFound, match="damaged"):
        list(tables_in("orders.xlsx", bare))
    assert capfd.readouterr() == ("", "")


def test_a_cut_off_workbook_is_damaged(make_workbook):
    data = make_workbook({"Orders": [["order"], [1]]})
    with pytest.raises(ProblemsFound, match="damaged"):
        list(tables_in("orders.xlsx", data[: len(data) // 2]))


def test_a_password_on_a_part_is_said_in_words(make_workbook):
    data = bytearray(make_workbook({"Orders": [["order"]]}))
    place = 0
    while (place := data.find(b"PK\x01\x02", place)) >= 0:
        data[place + 8] |= 1  # the flag of an encrypted entry, in the central directory
        place += 4
    with pytest.raises(ProblemsFound, match="has a password"):
        list(tables_in("orders.xlsx", bytes(data)))


def test_workbooks_with_changed_bytes_are_read_or_refused(make_workbook):
    data = make_workbook({"Orders": [["order", "size"], [1, "A4"], [2, date(2026, 8, 5)]]})
    chance = random.Random(7)
    for _ in range(40):
        spoiled = bytearray(data)
        for _ in range(chance.randint(1, 20)):
            spoiled[chance.randrange(4, len(data))] = chance.randrange(256)
        try:
            list(tables_in("orders.xlsx", bytes(spoiled)))
        except ProblemsFound as found:
            assert str(found).startswith("orders.xlsx")


def test_the_workbook_library_waits_for_a_workbook():
    code = "import sys, sheetcut.read; sys.exit('openpyxl' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
