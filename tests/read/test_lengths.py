"""Lengths in every form people type them, and those that are refused."""

from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sheetcut.job import LONGEST
from sheetcut.read.lengths import read_length, read_typed
from sheetcut.read.refusal import Refused
from sheetcut.units import TICKS_PER_INCH, TICKS_PER_MM, in_mm, inch, inch_text, mm


@pytest.mark.parametrize(
    ("typed", "length"),
    [
        ("297", mm(297)), ("297 mm", mm(297)), ("297mm", mm(297)), ("297 mm.", mm(297)),
        ("297.", mm(297)), ("297.0", mm(297)), (" 297 ", mm(297)), ("0297", mm(297)),
        ("29.7cm", mm(297)), ("29,7 cm", mm(297)), ("29.70 CM", mm(297)), ("0.297 m", mm(297)),
        ("297 millimetres", mm(297)), ("29.7 centimeters", mm(297)), ("297 MM", mm(297)),
        ("11 in", inch(11)), ('11"', inch(11)), ("11 inches", inch(11)), ("11''", inch(11)),
        ("11″", inch(11)), ("11”", inch(11)), ("11 ins", inch(11)), ("11 in.", inch(11)),
        ("22 1/8 in", inch("22.125")), ("22-1/8 in", inch("22.125")),
        ("22 - 1/8 in", inch("22.125")), ("22 and 1/8 in", inch("22.125")),
        ("8½ in", inch("8.5")), ("8 ½ in", inch("8.5")), ("½ in", inch("0.5")),
        ("8 1⁄2 in", inch("8.5")), ("8¹⁄₂ in", inch("8.5")), ("1/16 in", inch("0.0625")),
        ("8⅛″", inch("8.125")), ("8 1 / 2 in", inch("8.5")),
        ("8\u00a0½\u2009in", inch("8.5")), ("297\u202fmm", mm(297)), ("\ufeff297 mm", mm(297)),
        ("２９７", mm(297)), ("297㎜", mm(297)), ("٢٩٧", mm(297)), ("297\u200bmm", mm(297)),
        ("12½", mm("12.5")), ("12,5", mm("12.5")), ("12,50 mm", mm("12.5")),
        ("0,125 in", inch("0.125")), (".5", mm("0.5")), (",5", mm("0.5")), ("0.001", mm("0.001")),
        ("0", 0), ("0 mm", 0), ("0.0", 0), ("10 m", LONGEST), ("22.125 in", inch("22.125")),
        ("2 ft 6 in", inch(30)), ("2' 6\"", inch(30)), ("2'6 1/2\"", inch("30.5")),
        ("2 ft", inch(24)), ("2 feet", inch(24)), ("2'", inch(24)), ("2 ft. 6", inch(30)),
    ],
)  # fmt: skip
def test_a_length_is_read_as_it_is_meant(typed, length):
    assert read_length(typed) == length


@pytest.mark.parametrize(
    ("typed", "length"),
    [("8-1/2", inch("8.5")), ("11", inch(11)), ("5/8", inch("0.625")), ("297 mm", mm(297))],
)
def test_a_bare_number_counts_the_given_unit(typed, length):
    assert read_length(typed, unit="in") == length


@pytest.mark.parametrize(
    ("typed", "found", "remedy"),
    [
        # figures in groups, commas and points
        ("1,000 mm", "can mean 1 mm or 1 m", "write 1 mm or 1000 mm"),
        ("1.000 mm", "can mean 1 mm or 1 m", "write 1 mm or 1000 mm"),
        ("1,250", "can mean 1.25 mm or 1250 mm", "write 1.25 mm or 1250 mm"),
        ("22,125 in", "three figures after its comma", "write 22.125 in"),
        ("1.000,5", "in groups", "1000.5 mm"),
        ("1,000.5 mm", "in groups", "1000.5 mm"),
        ("1 000 mm", "in groups", "1000 mm"),
        ("1\u202f000 mm", "in groups", "1000 mm"),
        # fractions
        ("81/2", "can mean 8 1/2 mm or 40.5 mm", "write 8 1/2 mm or 40.5 mm"),
        ("221/8 in", "can mean 22 1/8 in or 27.625 in", "write 22 1/8 in"),
        ("3/2 in", "fraction of one or more", "8 1/2 in"),
        ("8 2/2 in", "fraction of one or more", "8 1/2 in"),
        ("1/0 in", "divides by zero", "1/2 in"),
        ("5/8", "without a unit", "write 5/8 in, or 5/8 mm"),
        ("1/3 in", "finer than can be held", "8.467 mm"),
        # letters
        ("21O", "a letter stands among the figures", "210 mm"),
        ("2l0 mm", "a letter stands among the figures", "210 mm"),
        ("297 px", "a unit that is not known", "297 mm"),
        ("about 30", "is not a length", "210 mm"),
        ("twelve", "is not a length", "210 mm"),
        ("nan", "is not a length", "210 mm"),
        ("inf", "is not a length", "210 mm"),
        ("0x1F", "is a size", "210 mm"),
        ("297²", "is not a length", "210 mm"),
        # what spreadsheets do
        ("=1+1", "a formula left as text", "its result"),
        ("05-Aug", "is a date", "as in 5/8 in"),
        ("Aug-05", "is a date", "as in 5/8 in"),
        ("5. Aug", "is a date", "as in 5/8 in"),
        ("2026-08-05", "is a date", "as in 5/8 in"),
        ("2026-08-05 00:00:00", "is a date", "as in 5/8 in"),
        ("08/05/2026", "is a date", "as in 5/8 in"),
        ("1e3", "shortens a number", "1000 mm"),
        ("2.97E+02", "shortens a number", "1000 mm"),
        ("#REF!", "is not a length", "210 mm"),
        # out of range
        ("-5", "less than nothing", "210 mm"),
        ("−5 mm", "less than nothing", "210 mm"),
        ("10.001 m", "longer than 10 m", "760 mm"),
        ("99999999999999999999", "longer than 10 m", "760 mm"),
        ("0.00001", "finer than can be held", "0.001 mm"),
        # several, none, endless, unseen
        ("297 x 420", "is a size", "210 mm"),
        ("30/30/30/40", "several lengths", "left, right, top and foot"),
        ("30, 30, 30, 40 mm", "several lengths", "left, right, top and foot"),
        ("", "is missing", "210 mm"),
        ("   ", "is missing", "210 mm"),
        ("9" * 5000, "goes on for 5000 characters", "210 mm"),
        ("210\x07", "cannot be seen (U+0007)", "type it again"),
        ("21\x000", "cannot be seen (U+0000)", "type it again"),
        ("2 ft 6 mm", "does not go on as inches", "2 ft 6 in"),
    ],
)  # fmt: skip
def test_what_is_no_length_is_refused_with_what_to_write(typed, found, remedy):
    with pytest.raises(Refused) as refused:
        read_length(typed)
    assert found in refused.value.message
    assert remedy in refused.value.remedy


def test_a_refusal_repeats_only_the_start_of_an_endless_cell():
    with pytest.raises(Refused) as refused:
        read_length("x" * 10_000_000)
    assert len(str(refused.value)) < 200


def test_the_unit_that_was_typed_is_kept():
    units = [read_typed(text).unit for text in ("297", "297 mm", "29.7 cm", '11"', "2 ft", "1 m")]
    assert units == [None, "mm", "cm", "in", "in", "cm"]


@given(ticks=st.integers(0, LONGEST))
def test_a_length_written_in_millimetres_is_read_back(ticks):
    assert read_length(f"{in_mm(ticks)} mm") == ticks
    assert read_length(str(in_mm(ticks))) == ticks


@given(sixty_fourths=st.integers(0, 64 * 390))
def test_a_length_written_in_inches_is_read_back(sixty_fourths):
    length = sixty_fourths * TICKS_PER_INCH // 64
    text = inch_text(length)
    assert read_length(f"{text} in") == length
    assert read_length(f'{text.replace(" ", "-")}"') == length
    assert read_length(text, unit="in") == length


@given(tenths=st.integers(1, 99_999))
def test_a_decimal_comma_is_a_decimal_point(tenths):
    text = f"{tenths // 10},{tenths % 10} mm"
    assert read_length(text) == Fraction(tenths, 10) * TICKS_PER_MM


_pieces = st.sampled_from(
    ["1", "8", "000", "1/2", "½", " ", ",", ".", "-", "in", "mm", '"', "'", "x", "/", "ft", "e",
     "O", "⁄", "²", "Aug", "=", "\u00a0", "\x00", "²⁄₃", "٣"]
)  # fmt: skip


@given(st.one_of(st.text(max_size=30), st.lists(_pieces, max_size=9).map("".join)))
@example("1/2/3").via("three fractions")
@example("' ft").via("a unit alone")
def test_any_text_is_a_length_or_refused(text):
    for unit in ("mm", "in"):
        try:
            length = read_length(text, unit=unit)
        except Refused as refused:
            assert refused.message
            assert refused.remedy
            assert str(refused).isprintable()
        else:
            assert isinstance(length, int)
            assert 0 <= length <= LONGEST
