"""Sheets out of square, with corners typed in: how wide a rectangle may be at what height."""

from dataclasses import replace
from math import isqrt

import pytest

from sheetcut.check.case import LayoutCase
from sheetcut.check.trueness import a_true_rectangle
from sheetcut.job import Sheet, Skew
from sheetcut.out_of_square import Measured
from sheetcut.units import Edges, mm
from tests.check.plans import PAPER, imperial_twins

PLAN = imperial_twins()


def messages(measured, along, usable, loss=Edges()):  # noqa: B008  a tuple
    sheet = Sheet("one", PAPER, mm(700), mm(700), edge_loss=loss, skew=Skew(measured, along))
    layout = replace(PLAN.papers[0].layouts[0], usable=(0, 0, *map(mm, usable)))
    case = LayoutCase(PLAN, PLAN.papers[0], layout, sheet, "here")
    return [fault.message for fault in a_true_rectangle(case)]


def measured(foot, right, top, left, diagonal):
    return Measured(*(mm(side) for side in (foot, top, left, right, diagonal)))


# 0, 0; 600, 0; 300, 400; 0, 400: the right side is 500 and leans by 3 in 4, and so is the diagonal.
HALF = measured(600, 500, 300, 400, 500)


@pytest.mark.parametrize(
    ("low", "width", "height", "fits"),
    [
        (0, 450, 200, True),  # 600 less three quarters of 200
        (0, "450.1", 200, False),
        (0, 450, "200.2", False),
        (50, 450, 150, True),  # as high up, with 50 lost at the foot
        (50, 450, 151, False),
        (0, 300, 400, True),
        (0, 300, 401, False),  # above the top
        (0, 600, 1, False),
        (0, 599, 1, True),
    ],
)
def test_a_rectangle_is_as_wide_as_the_sheet_at_its_far_side(low, width, height, fits):
    told = messages(HALF, "foot", (width, height), Edges(foot=mm(low)))
    assert bool(told) != fits
    if told:
        assert told[0].endswith("does not fit into the sheet, which is out of square")


@pytest.mark.parametrize("along", ["foot", "right", "top", "left"])
@pytest.mark.parametrize(("width", "fits"), [(450, True), ("450.1", False)])
def test_any_edge_may_be_the_one_it_lies_along(along, width, fits):
    """An edge of 600 with legs of 150 that stand 90 in and 120 up, so 420 at the other side.

    Both diagonals are the root of 510² + 120². 20 off the long edge and 80 on, it is
    600 - 2 x 3/4 x 100 = 450 wide.
    """
    sides = dict.fromkeys(("foot", "right", "top", "left"), 150)
    opposite = {"foot": "top", "top": "foot", "left": "right", "right": "left"}
    sides |= {along: 600, opposite[along]: 420}
    diagonal = isqrt(mm(510) ** 2 + mm(120) ** 2)
    sheet = replace(measured(**sides, diagonal=1), diagonal=diagonal)
    usable = (width, 80) if along in ("foot", "top") else (80, width)
    assert bool(messages(sheet, along, usable, Edges()._replace(**{along: mm(20)}))) != fits


def test_a_lean_to_the_left_counts_like_one_to_the_right():
    """0, 0; 300, 0; 300, 400; -300, 400: the left side leans out, so the foot is narrowest."""
    sheet = measured(300, 400, 600, 500, 500)
    assert messages(sheet, "foot", (300, 400)) == []
    assert messages(sheet, "foot", (301, 100))
    # along the top, 600 wide, as far down as it likes: the foot has 300
    assert messages(sheet, "top", (300, 400)) == []
    assert messages(sheet, "top", (450, 200)) == []
    assert messages(sheet, "top", (451, 200))


def test_a_hair_is_nothing():
    """A hundredth of a millimetre, as polygons are not exact: 450.005 is let through."""
    assert messages(HALF, "foot", ("450.005", 200)) == []


@pytest.mark.parametrize(
    "wrong",
    [
        measured(100, 100, 100, 100, 300),  # a diagonal longer than the way round
        measured(100, 100, 100, 300, 100),  # no corner is 300 and 100 from the ends of 100
    ],
)
def test_what_no_sheet_can_measure_is_told(wrong):
    (told,) = messages(wrong, "foot", (50, 50))
    assert "no sheet can measure as it is said to" in told


def test_a_sheet_that_is_not_out_of_square_is_not_looked_at():
    sheet = Sheet("one", PAPER, mm(700), mm(700))
    case = LayoutCase(PLAN, PLAN.papers[0], PLAN.papers[0].layouts[0], sheet, "here")
    assert not list(a_true_rectangle(case))
