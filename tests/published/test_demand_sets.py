"""Classical sets of pieces with their demands: the fewest sheets, any number of cut levels.

Source for pieces that may not turn: H. Becker, O. Araujo and L. S. Buriol, "Extending an
integer formulation for the guillotine 2D bin packing problem", LAGOS 2021, Procedia Computer
Science 195, 499-507. Values for turned pieces were proved for this project with an exact model
and an integer solver.
"""

import pytest

from sheetcut.nest import lay_out
from tests.nest.jobs import assert_sound, job_of, sizes, value_of

THREE = (
    "31x43*4, 30x41*2, 29x39*4, 28x38*4, 27x37*3, 26x36*4, 25x35*3, 24x34*4, 33x23*4, 22x32*3, "
    "31x21*3, 29x18*3, 17x27*2, 15x24*2, 16x25*4, 15x24, 23x14*4, 21x12*3, 19x11*4, 9x17"
)
SETS = [  # name, sheet, pieces, fewest as written, fewest turned (None: not known)
    (
        "2",
        (40, 70),
        "21x22, 31x13, 9x35*3, 9x24*3, 30x7*2, 11x13*3, 10x14, 14x8*3, 12x8*3, 13x7*3",
        2,
        2,
    ),
    ("3", (40, 70), THREE, 23, 18),
    ("A1", (50, 60), THREE, 23, 17),
    (
        "A2",
        (60, 60),
        "32x40, 29x42*2, 31x39, 27x38, 27x37*3, 24x36*4, 25x35*2, 28x34*2, 33x25*4, 23x31*4, "
        "31x24*3, 26x18*3, 18x29*4, 15x24*2, 16x25*4, 17x26*3, 23x14*4, 21x15*3, 19x16*2, 12x17",
        12,
        11,
    ),
    (
        "CHL2",
        (62, 55),
        "11x15*2, 27x9*3, 19x21, 28x31, 13x17*2, 15x29*3, 29x13*2, 31x12*2, 31x19*2, 23x16",
        3,
        3,
    ),
    (
        "CU1",
        (100, 125),
        "23x44*6, 20x56*9, 24x41*6, 38x57*3, 23x57*4, 58x49, 51x79, 43x35*3, 39x68*2, 21x65*2, "
        "24x80*3, 50x61*3, 45x59*2, 42x69, 54x68, 29x75*3, 24x39*7, 22x42*2, 56x53, 24x49, "
        "20x66*5, 45x53*4, 23x50*8, 34x75, 38x28*3",
        12,
        11,
    ),
    (
        "CW1",
        (125, 105),
        "42x41*3, 28x65, 28x63*2, 31x38*3, 69x24*2, 35x35*6, 47x55*2, 78x22, 33x30*8, 77x47, "
        "35x41*4, 55x34*2, 72x66, 37x64*3, 48x26*6, 51x21, 58x40*2, 44x22*6, 41x61*2, 59x36*2, "
        "25x30*4, 47x23, 56x65*2, 29x64, 78x58",
        9,
        None,
    ),
    (
        "STS2",
        (55, 85),
        "10x20*2, 11x21, 12x22*2, 12x40*2, 13x23*3, 14x24, 15x25*4, 15x26*3, 16x28*2, 17x14, "
        "18x27*2, 19x15*3, 20x30*2, 21x13*2, 22x25, 22x32*3, 23x14*4, 24x30*2, 24x34*4, 25x30*2, "
        "25x35*3, 26x36*4, 26x40*2, 27x37*3, 28x38*3, 29x19*5, 29x39*4, 30x10, 31x21*3, 31x43*4",
        12,
        None,
    ),
    (
        "W",
        (70, 40),
        "11x19*4, 12x21*3, 14x23*4, 17x9, 18x29*3, 21x31*3, 23x33*4, 24x15, 24x15*2, 25x16*4, "
        "27x17*2, 32x22*3, 34x24*4, 35x25*3, 36x26*4, 37x27*3, 38x28*4, 39x29*4, 41x30*2, 43x31*4",
        23,
        18,
    ),
]


@pytest.mark.parametrize(("turn", "column"), [("no", 0), ("yes", 1)])
@pytest.mark.parametrize(("name", "sheet", "pieces", "fixed", "turned"), SETS)
def test_the_fewest_sheets_are_reached_and_never_bounded_beyond(
    name, sheet, pieces, fixed, turned, turn, column
):
    """Within 4 000 rounds a plan is at most one sheet from the optimum, mostly at it."""
    fewest = (fixed, turned)[column]
    job = job_of(sizes(pieces), [sheet], turn)
    answer = lay_out(job, "rag", rounds=4_000)
    assert_sound(job, answer)
    if fewest is not None:
        assert answer.bound.value <= fewest
        assert fewest <= value_of(job, answer) <= fewest + 1


@pytest.mark.parametrize(
    ("name", "turn", "fewest"),
    [
        ("2", "no", 2),
        ("A1", "no", 23),
        ("A1", "yes", 17),
        ("A2", "no", 12),
        ("A2", "yes", 11),
        ("CHL2", "no", 3),
        ("W", "no", 23),
        ("STS2", "no", 12),
    ],
)
def test_these_are_proved(name, turn, fewest):
    sheet, pieces = next((one[1], one[2]) for one in SETS if one[0] == name)
    job = job_of(sizes(pieces), [sheet], turn)
    answer = lay_out(job, "rag", rounds=20_000)
    assert value_of(job, answer) == answer.bound.value == fewest
