"""Small published problems whose optimum is known.

Sources, as typed beside each: Christofides and Whitlock 1977 (10.1287/opre.25.1.30), Oliveira
and Ferreira 1990, Cung, Hifi and Le Cun 2000, Herz 1972 by way of Becker, Araujo and Buriol
2021 (10.1016/j.procs.2021.11.060), Becker 2022 (thesis, Porto Alegre), Pisinger and Sigurd 2005
(10.1016/j.disopt.2005.01.002), Beasley 1985 (10.1287/opre.33.1.49). Values for turned pieces
and costs were proved for this project with an exact model and an integer solver.
"""

import pytest

from sheetcut.nest import lay_out
from tests.nest.jobs import assert_sound, job_of, sizes, value_of

OF1 = "29x5, 9x39*4, 55x9, 31x15, 11x16*2, 23x21*3, 29x14*4, 16x19*3, 9x36*2, 22x4*2"
OF2 = "22x18*2, 40x10, 13x27*3, 23x18*2, 29x8*4, 16x4, 47x9, 19x19*4, 13x16*2, 36x16*4"
CHL5 = "14x2, 1x5, 20x4*2, 12x3*3, 11x8*2, 11x6*2, 7x9, 17x5, 7x14*2, 1x7*3"
HH = "21x13*5, 36x17*4, 54x20*2, 24x27, 18x65*6"
GCUT1 = "167x184, 114x118, 167x152, 83x140, 70x86, 143x166, 120x160, 66x148, 87x141, 69x165"
NGCUT6 = "2x9, 10x2*3, 2x4, 2x8*2, 3x8, 4x1, 6x4*3, 10x3, 11x2, 4x5"
CLASS_1_1 = (
    "5x9, 4x2, 10x6, 5x7, 6x3, 10x7, 1x5, 3x5, 6x9, 2x4, 6x7, 7x2, 8x3*3, 4x10, 4x5, 10x3, 7x8, 8x7"
)
CLASS_1_6 = (
    "2x7, 8x2, 3x9, 9x5, 2x8, 10x10, 6x8, 6x9, 8x7, 5x6, 1x6, 7x9*2, 3x10*2, 6x7, 3x7, "
    "5x10, 3x5, 10x1"
)

FEWEST = [  # name, sheet, pieces, fewest as written, fewest turned
    ("OF1", (70, 40), OF1, 4, 3),
    ("OF2", (70, 40), OF2, 4, 4),
    ("CHL5", (20, 20), CHL5, 3, 3),
    ("Hchl8s", (49, 20), CHL5, 2, 1),  # turned: 974 of 980 units of area are used
    ("HH", (127, 98), HH, 2, 2),
    ("first sheet that fits is not enough", (12, 12), "4x12*3, 7x12*2, 8x6", 3, 3),
    ("class 1, first of 20", (10, 10), CLASS_1_1, 8, 7),
    ("class 1, sixth of 20", (10, 10), CLASS_1_6, 9, 9),
    ("gcut1, one of each", (250, 250), GCUT1, 5, 4),
    ("ngcut6, all of them", (15, 10), NGCUT6, 3, 2),
]

HARD_TO_FIND = {("Hchl8s", "yes")}  # 974 of 980: the search alone may end at two sheets


@pytest.mark.parametrize(("turn", "column"), [("no", 0), ("yes", 1)])
@pytest.mark.parametrize(("name", "sheet", "pieces", "fixed", "turned"), FEWEST)
def test_fewest_sheets(name, sheet, pieces, fixed, turned, turn, column):
    fewest = (fixed, turned)[column]
    job = job_of(sizes(pieces), [sheet], turn)
    answer = lay_out(job, "rag")
    assert_sound(job, answer)
    assert answer.bound.value <= fewest
    if (name, turn) in HARD_TO_FIND:
        assert value_of(job, answer) <= fewest + 1
    else:
        assert value_of(job, answer) == fewest


COSTS = [  # name, sheets with cost, pieces, least as written, least turned
    (
        "class 1, first of 20, five sizes",
        [(10, 10, 100), (9, 9, 77), (7, 7, 38), (7, 5, 22), (5, 5, 10)],
        CLASS_1_1,
        689,
        633,
    ),
    (
        "class 1, sixth of 20, five sizes",
        [(10, 10, 100), (7, 6, 30), (5, 8, 28), (6, 9, 44), (8, 7, 47)],
        CLASS_1_6,
        754,
        693,
    ),
]


@pytest.mark.parametrize(("turn", "column"), [("no", 0), ("yes", 1)])
@pytest.mark.parametrize(("name", "sheets", "pieces", "fixed", "turned"), COSTS)
def test_least_cost(name, sheets, pieces, fixed, turned, turn, column):
    least = (fixed, turned)[column]
    job = job_of(sizes(pieces), sheets, turn)
    answer = lay_out(job, "rag")
    assert_sound(job, answer)
    assert answer.bound.measure == "cost"
    assert answer.bound.value <= least
    assert value_of(job, answer) == least


ONE_SHEET = [  # 20 x 20; source Clautiaux, Carlier and Moukrim 2007 and Becker 2022
    ("E00N10", "1x13, 4x5, 5x7, 7x7, 7x8, 2x13, 8x4, 1x11, 4x14, 17x6", False, False),
    (
        "E00N15",
        "2x6, 1x17, 11x2, 4x3, 1x13, 10x4, 1x5, 13x5, 7x4, 11x3, 4x14, 5x3, 1x2, 8x2, 16x4",
        False,
        True,
    ),
    ("E07N10", "11x5, 7x7, 1x9, 5x13, 1x6, 12x2, 1x13, 1x10, 3x14, 11x9", False, True),
    (
        "c1-p1",
        "2x12, 7x12, 8x6, 3x6, 3x5, 5x5, 3x12, 3x7, 5x7, 2x6, 3x2, 4x2, 3x4, 4x4, 9x2, 11x2",
        True,
        True,
    ),
]


@pytest.mark.parametrize(("turn", "column"), [("no", 0), ("yes", 1)])
@pytest.mark.parametrize(("name", "pieces", "fixed", "turned"), ONE_SHEET)
def test_one_sheet_is_never_denied_or_promised_falsely(name, pieces, fixed, turned, turn, column):
    fits = (fixed, turned)[column]
    job = job_of(sizes(pieces), [(20, 20)], turn)
    answer = lay_out(job, "rag", rounds=600)
    assert_sound(job, answer)
    if fits:
        assert answer.bound.value == 1
    else:
        assert value_of(job, answer) >= 2
