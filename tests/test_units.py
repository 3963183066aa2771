"""Lengths in and out of ticks, and what is finer than a tick or a ruler's marks."""

from decimal import Decimal
from fractions import Fraction

import pytest

from sheetcut.units import Edges, in_mm, in_mm2, inch, inch_text, mm, plain


def test_edges_lose_nothing_until_somebody_says_so():
    assert Edges() == (0, 0, 0, 0)


def test_opposite_edges_are_added_up():
    """8 mm left, 5 right, 3 at the top, 2 at the foot: 13 across, 5 up."""
    edges = Edges(left=8, right=5, top=3, foot=2)
    assert (edges.across, edges.up) == (13, 5)
    assert (edges.turned().across, edges.turned().up) == (5, 13)


@pytest.mark.parametrize("length", [mm(1) + 1, 1, 12345])
def test_every_tick_is_told_exactly_in_millimetres(length):
    """A tick is 1/8 µm, so 0.000125 mm."""
    assert in_mm(length) == length * Decimal("0.000125")
    assert mm(in_mm(length)) == length


@pytest.mark.parametrize(
    ("unit", "value"),
    [
        (mm, "0.0001"),  # 0.8 of a tick
        (mm, Fraction(1, 3)),
        (inch, Fraction(1, 128)),  # 203 200 / 128 = 1587.5 ticks
        (inch, "1/3"),
    ],
)
def test_what_is_finer_than_a_tick_is_refused(unit, value):
    with pytest.raises(ValueError, match="finer than 1/8 µm"):
        unit(value)


def test_a_length_between_the_marks_of_a_ruler_is_not_told_as_if_it_were_on_one():
    """1/64 in lies between the marks of 1/32; 1 mm is 5/127 in, between any."""
    assert inch_text(inch("1/32"), finest=32) == "1/32"
    with pytest.raises(ValueError, match="1/32 in ruler"):
        inch_text(inch("1/64"), finest=32)
    with pytest.raises(ValueError, match="1 mm falls between the marks"):
        inch_text(mm(1))


def test_no_length_is_told_as_nought_inches():
    assert inch_text(0) == "0"


def test_an_area_is_told_without_an_exponent():
    """1 m² is 1 000 000 mm², which a Decimal left alone may write as 1E+6."""
    assert str(in_mm2(mm(1000) ** 2)) == "1000000"
    assert str(plain(Decimal("1E+6"))) == "1000000"
