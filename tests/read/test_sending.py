"""Printer, scanner, packing and the carrier's limits out of studio.toml."""

import pytest

from sheetcut.read.studio import read_settings
from sheetcut.units import in_mm, mm


def settings(text):
    return read_settings("studio.toml", text.encode())


def test_what_is_not_said_is_not_known():
    read, problems = settings("")
    assert problems == []
    assert (read.apparatus.tail, read.apparatus.bed, read.sending.limits) == (None, None, ())


def test_printer_and_scanner_are_read():
    """A strip may be nothing; a bed in inches is one of 8.5 x 11.7 in."""
    read, problems = settings(
        '[printer]\nsides = 0\nlead = "5 mm"\ntail = 17\n[scanner]\nbed = "8.5 x 11.7 in"\n'
    )
    assert problems == []
    strips = (read.apparatus.sides, read.apparatus.lead, read.apparatus.tail)
    assert strips == (0, mm(5), mm(17))
    assert [round(float(in_mm(side)), 2) for side in read.apparatus.bed] == [215.9, 297.18]


def test_limits_are_read_longer_side_first():
    read, problems = settings(
        '[packing]\nwall = 3\n[parcel."large letter"]\nflat = "250 x 353"\nthick = 25\n'
        "grams = 750\n[parcel.tube]\nrolled = 900\ngirth = 1040\ngrams = 2000\n"
    )
    assert problems == []
    letter, tube = read.sending.limits
    assert (letter.name, letter.flat, letter.thick) == ("large letter", (mm(353), mm(250)), mm(25))
    assert (tube.rolled, tube.girth, tube.grams, tube.flat) == (mm(900), mm(1040), 2000, None)


@pytest.mark.parametrize(
    ("text", "row", "found"),
    [
        ("[printer]\nhead = 3\n", 2, "is not a setting"),
        ("printer = 17\n", 1, "printer is"),
        ('[printer]\ntail = "1,000 mm"\n', 2, "can mean"),
        ("[scanner]\nbed = 3\n", 2, "3"),
        ("parcel = 3\n", 1, "parcel is"),
        ("[parcel]\ntube = 3\n", 2, "is"),
        ("[parcel.tube]\nrolled = 900\n", 1, "how large and how heavy"),
        ('[parcel.tube]\nrolled = 900\nflat = "3 x 4"\ngrams = 3\n', 1, "how large"),
        ("[parcel.tube]\nrolled = 900\ngrams = 0\n", 3, "not a number of grams"),
    ],
)
def test_what_cannot_be_is_refused_where_it_stands(text, row, found):
    _, problems = settings(text)
    assert len(problems) == 1
    assert problems[0].row == row
    assert found in str(problems[0])
