"""Sizes typed as two lengths or by name."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcut.job import LONGEST
from sheetcut.read.dimensions import read_size
from sheetcut.read.refusal import Refused
from sheetcut.sizes import SIZES
from sheetcut.units import in_mm, inch, mm


@pytest.mark.parametrize(
    "typed",
    ["297x420", "297 x 420", "297 × 420", "297 X 420", "297*420", "297 by 420", "297 mm x 420 mm",
     "297 x 420 mm", "29.7 x 42 cm", "29,7 cm x 42,0 cm", "29.7 cm x 420 mm", "A3", "a3 portrait",
     "297 х 420", "297\u00a0×\u00a0420", "ISO A3", "297mm by 420mm",
     "297 x 420 upright", "A3 297 x 420", "A3 (297 x 420)", "297 x 420 (A3)", "A3: 297 x 420 mm"],
)  # fmt: skip
def test_two_lengths_are_read_in_every_form(typed):
    size = read_size(typed)
    assert (size.width, size.height) == (mm(297), mm(420))


@pytest.mark.parametrize(
    "typed",
    ["11 x 14 in", '11 x 14"', '11" x 14"', "11 in x 14 in", "11 × 14 inches", "11x14in",
     "11″ × 14″", "279.4 x 355.6", "27,94 x 35,56 cm", "11 X 14 IN."],
)  # fmt: skip
def test_a_unit_after_the_second_length_is_for_both(typed):
    size = read_size(typed)
    assert (size.width, size.height) == (inch(11), inch(14))


def test_small_sizes_are_read_where_their_unit_is_plain():
    assert read_size("40 x 50 mm").width == mm(40)
    assert read_size("8 x 10", unit="in").width == inch(8)
    assert read_size("A10").width == mm(26)
    assert read_size("50 x 85").width == mm(50)


def test_fractions_of_inches_stand_on_both_sides():
    size = read_size("22 1/8 x 30½ in")
    assert (size.width, size.height) == (inch("22.125"), inch("30.5"))
    assert size.unit == "in"
    assert read_size("22-1/8 x 30-1/2", unit="in") == size


def test_the_unit_is_that_of_the_text():
    assert read_size("297 x 420").unit == "mm"
    assert read_size("56,5 cm x 76 cm").unit == "cm"
    assert read_size("22 x 30", unit="in").unit == "in"
    assert read_size("Letter").unit == "in"
    assert read_size("A4", unit="in").unit == "mm"
    assert read_size("56 cm x 760 mm").unit == "mm"
    assert read_size("22 in x 760 mm").unit == "mm"


@pytest.mark.parametrize("word", ["landscape", "across", "lying", "wide", "sideways"])
def test_a_named_size_may_lie(word):
    for typed in (f"A4 {word}", f"A4, {word}", f"A4 ({word})"):
        size = read_size(typed)
        assert (size.width, size.height, size.name) == (mm(297), mm(210), "A4")


def test_a_measured_size_keeps_its_label_and_needs_no_warning():
    size = read_size("Imperial 560 x 760")
    assert (size.width, size.height, size.name, size.note) == (mm(560), mm(760), "Imperial", "")


def test_a_traditional_name_fills_in_a_size_and_says_so():
    for name in ("Imperial", "Royal", "Elephant", "½ Imperial"):
        assert "a name is not a measurement: measure yours" in read_size(name).note
    assert "20 x 27 to 29 1/2 x 40" in read_size("Elephant").note
    assert read_size("A4").note == ""
    assert read_size("Letter").note == ""


@pytest.mark.parametrize(
    ("typed", "found", "remedy"),
    [
        ("B4", "can mean ISO B4 (250 x 353 mm) or JIS B4 (257 x 364 mm)", '"ISO B4" or "JIS B4"'),
        ("b5 landscape", "can mean ISO B5", '"JIS B5"'),
        ("297", "two lengths are wanted", "an x between"),
        ("297 420", "two lengths are wanted", "an x between"),
        ("297, 420", "two lengths are wanted", "an x between"),
        ("297-420", "two lengths are wanted", "an x between"),
        ("297 x 420 x 2", "has 3 lengths", "write two"),
        ("297 x", "two lengths are wanted", "297 x 420"),
        ("x", "is not a size", "297 x 420"),
        ("0 x 420", "a side of nothing", "297 x 420"),
        ("297 x 0 mm", "a side of nothing", "297 x 420"),
        ("-5 x 420", '"-5" is less than nothing', "210 mm"),
        ("11 in x 14", "after the first length only", "11 in x 14 in"),
        ("56 cm x 760", "after the first length only", "or a unit after each"),
        ("8 x 10", "may be inches or cm", "8 x 10 in"),
        ("22 x 30", "may be inches or cm", "8 x 10 in"),
        ("40 x 50", "may be inches or cm", "8 x 10 in"),
        ("8½ x 11", "a fraction and no unit", "8 1/2 x 11 in"),
        ("1,000 x 700", "can mean 1 mm or 1 m", "1000 mm"),
        ("297 x 42O", "a letter stands among the figures", "420 mm"),
        ("297 x 11 m", "longer than 10 m", "760 mm"),
        ("A11", "is not a size", "did you mean"),
        ("Half imperail", "is not a size", "Half Imperial (15 x 22 in)"),
        ("Quarto", "is not a size", "A3"),
        ("2 x A4", "joins a name and a number", "under count"),
        ("420 x 297 portrait", "its lengths say otherwise", "leave the word out"),
        ("landscape", "is not a size", "A3"),
        ("05-Aug", "is a date", "text"),
        ("=A1", "a formula left as text", "result"),
        ("", "is missing", "A3"),
        ("297 x 4\x0820", "cannot be seen (U+0008)", "again"),
        ("9" * 10_000_000, "goes on for 10000000 characters", "A3"),
    ],
)  # fmt: skip
def test_what_is_no_size_is_refused_with_what_to_write(typed, found, remedy):
    with pytest.raises(Refused) as refused:
        read_size(typed)
    assert found in refused.value.message
    assert remedy in refused.value.remedy
    assert len(str(refused.value)) < 300


@pytest.mark.parametrize("size", SIZES, ids=lambda size: size.name)
def test_every_named_size_is_read_by_its_name(size):
    found = read_size(size.name)
    assert (found.width, found.height, found.name) == (size.width, size.height, size.name)
    turned = read_size(f"{size.name} landscape")
    assert (turned.width, turned.height) == (size.height, size.width)


@given(st.integers(1, LONGEST), st.integers(1, LONGEST))
def test_a_written_size_is_read_back(width, height):
    for text in (f"{in_mm(width)} x {in_mm(height)} mm", f"{in_mm(width)} mm × {in_mm(height)} mm"):
        size = read_size(text)
        assert (size.width, size.height) == (width, height)


_pieces = st.sampled_from(
    ["297", "A4", "B4", "Imperial", " x ", "x", " by ", "mm", '"', "½", "1/8", "-", "(", ")", " ",
     ",", "landscape", "0", "in", "*", "\u200b", "ft"]
)  # fmt: skip


@given(st.one_of(st.text(max_size=40), st.lists(_pieces, max_size=8).map("".join)))
def test_any_text_is_a_size_or_refused(text):
    for unit in ("mm", "in"):
        try:
            size = read_size(text, unit=unit)
        except Refused as refused:
            assert str(refused).isprintable()
        else:
            assert 0 < size.width <= LONGEST
            assert 0 < size.height <= LONGEST
