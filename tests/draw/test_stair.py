"""The margin stair: every tread says what it gives, with its last margin where there is room."""

import pytest

from sheetcut.draw.primitives import Text
from sheetcut.draw.stair import Stair, Tread, stairs
from sheetcut.units import inch, mm


def words(*treads, step=None):
    drawn = stairs([Stair("s", treads)], title="t", step=step or mm(1))
    texts = [one for one in drawn.items if isinstance(one, Text)]
    assert all(0 <= one.at[0] <= drawn.page.width_mm for one in texts)
    assert all(0 <= one.at[1] <= drawn.page.height_mm for one in texts)
    return [one.text for one in texts]


def test_both_edges_of_every_step_are_told():
    """The ladder of A4 on 670 x 1000: 9 to 6 mm, 8 to 19, 6 at 20 alone, 5 to 40, then 4."""
    told = words(
        Tread(9, 0, mm(6)), Tread(8, mm(7), mm(19)), Tread(6, mm(20), mm(20)),
        Tread(5, mm(21), mm(40)), Tread(4, mm(41), mm(62)), Tread(2, mm(63), mm(100)),
    )  # fmt: skip
    assert told[-5:] == ["9 up to 6 mm", "8 up to 19 mm", "6", "5 up to 40 mm", "4 from 41 mm"]
    assert "2" not in told


@pytest.mark.parametrize("last", [0, 49])
def test_a_tread_of_a_millimetre_is_numbered_at_either_end(last):
    treads = (
        (Tread(7, 0, 0), Tread(3, mm(1), mm(80)))
        if not last
        else (Tread(9, 0, mm(48)), Tread(7, mm(49), mm(80)))
    )
    assert "7" in words(*treads)


def test_margins_of_an_inch_ruler_are_told_in_millimetres():
    told = words(Tread(4, 0, inch("1/2")), Tread(1, inch("9/16"), inch(9)), step=inch("1/16"))
    assert "4 up to 12.7 mm" in told


def test_a_sheet_that_gives_none_says_so():
    assert "gives none" in words()
