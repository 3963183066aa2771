"""Weight of paper: the formulas, forwards and back."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcut.grammage import GRADES, grade, grammage_of, pounds_of, sheet_mass
from sheetcut.units import inch, mm

sides = st.integers(min_value=mm(50), max_value=mm(2000))


@given(
    pounds=st.integers(1, 1000), width=sides, height=sides, ream=st.sampled_from([480, 500, 516])
)
def test_pounds_come_back_exactly(pounds, width, height, ream):
    there = grammage_of(pounds, width=width, height=height, ream=ream)
    assert pounds_of(there, width=width, height=height, ream=ream) == pounds


@given(width=sides, height=sides, grammage=st.integers(1, 2000))
def test_halves_weigh_half(width, height, grammage):
    assert sheet_mass(2 * width, height, grammage) == 2 * sheet_mass(width, height, grammage)


def test_the_factor_is_1406_139_over_the_square_inches():
    """453.59237 g over 500 sheets and 0.00064516 m²: 1406.13901..."""
    one = grammage_of(1, width=inch(1), height=inch(1))
    assert one == Fraction("453.59237") / (500 * Fraction("0.00064516"))
    assert float(one) == pytest.approx(1406.139, abs=0.0005)


def test_a_ream_of_480_weighs_less_per_pound_of_paper():
    """Old British reams of 480: the same pounds are spread over fewer sheets."""
    imperial = grade("watercolour")
    of_500 = grammage_of(72, width=imperial.width, height=imperial.height)
    of_480 = grammage_of(72, width=imperial.width, height=imperial.height, ream=480)
    assert of_480 == of_500 * Fraction(500, 480)


def test_a_float_is_taken_by_its_digits():
    assert sheet_mass(mm(1000), mm(1000), 0.1) == Fraction(1, 10)


def test_grades_are_known_by_name():
    assert {one.name for one in GRADES} >= {"watercolour", "bond", "cover", "book"}
    with pytest.raises(KeyError):
        grade("vellum")
