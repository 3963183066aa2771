"""Published problems small enough to read, with the optimum and where it is from.

Sizes are typed as in the literature, ``4x12*3`` for three of 4 x 12. The optimum as written
(pieces are not turned) is published for the demand sets; where only "exact model" is named it
was proved for this project with a plate-and-cut model and an integer solver, apart from this
program. Sources:

- OF1, OF2: Oliveira and Ferreira 1990 (10.1016/0377-2217(90)90361-E)
- 2: Christofides and Whitlock 1977 (10.1287/opre.25.1.30)
- CHL, Hchl: Cung, Hifi and Le Cun 2000 (10.1111/j.1475-3995.2000.tb00194.x)
- HH, A, STS: as BAB gives them
- gcut, ngcut: Beasley 1985 (10.1057/jors.1985.51, 10.1287/opre.33.1.49)
- class 1: Berkey and Wang 1987 (10.1057/jors.1987.70); its five sizes with costs: Pisinger and
  Sigurd 2005 (10.1016/j.disopt.2005.01.002)
- BAB: fewest sheets for the demand sets, Becker, Araujo and Buriol 2021
  (10.1016/j.procs.2021.11.060); Becker 2022, doctoral thesis, Porto Alegre
"""

from __future__ import annotations

import re
from dataclasses import dataclass

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
SET_2 = "21x22, 31x13, 9x35*3, 9x24*3, 30x7*2, 11x13*3, 10x14, 14x8*3, 12x8*3, 13x7*3"
CHL2 = "11x15*2, 27x9*3, 19x21, 28x31, 13x17*2, 15x29*3, 29x13*2, 31x12*2, 31x19*2, 23x16"
HCHL4S = "21x13*5, 36x17*4, 54x20*2, 24x27, 18x65*6, 15x21*2, 25x17*4, 45x21*3, 22x18*2, 16x23*3"
A3 = (
    "29x41, 31x43*2, 32x39, 27x38*4, 28x37*3, 29x36*2, 35x35*3, 26x34*4, 31x24*2, 22x33*2, "
    "31x22*3, 29x21*4, 19x27*2, 18x24*2, 17x25*2, 17x24*2, 25x17, 21x16*2, 19x15*3, 15x14"
)
A4 = (
    "31x43, 30x41*2, 29x39, 28x38*2, 27x37*3, 26x36*2, 25x35, 24x34, 33x23*2, 22x32*3, "
    "31x21*2, 29x18, 17x27*2, 15x24*2, 16x25, 15x24*2, 23x14*3, 21x12, 19x11*2, 9x17"
)
A5 = (
    "18x39*4, 13x49*2, 27x51, 65x31*3, 45x27*2, 69x21*4, 21x63*2, 54x41*2, 41x31, 37x22, "
    "29x54, 47x31*2, 18x31*3, 21x17, 19x53, 13x41*4, 37x12*5, 19x29*2, 67x17, 49x31*3"
)
CHL1_MORE = "31x43, 30x41*2, 29x39, 28x38*2, 27x37*3, 26x36*2, 25x35, 24x34, 33x23*2, 22x32*3"
CHL6 = (
    "28x39*4, 23x59*2, 37x51, 65x31*3, 45x27*2, 69x31*4, 41x63*2, 54x41*2, 41x31, 37x22, "
    "29x54, 47x35*2, 18x31*3, 21x27, 19x53, 23x41*4, 37x12*5, 19x29*2, 67x27*3, 49x31*3, "
    + CHL1_MORE
)
STS4 = (
    "14x16, 14x31*2, 15x17*3, 17x19*3, 18x19*2, 20x34*2, 20x39*3, 21x29*2, 25x25*2, 27x27*3, "
    "29x34*2, 30x25*2, 30x27*3, 33x30*2, 35x30*2, 37x27*4, 38x49*2, 40x25*2, 43x28*4, 44x34*4"
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

DEMAND = [  # name, sheet, pieces, fewest as written (BAB), fewest turned (exact model)
    ("2", (40, 70), SET_2, 2, 2),
    ("A3", (70, 80), A3, 7, 7),
    ("A4", (90, 70), A4, 5, 4),
    ("A5", (132, 100), A5, 4, None),
    ("CHL1", (132, 100), f"{A5}, {CHL1_MORE}", 6, None),
    ("CHL2", (62, 55), CHL2, 3, 3),
    ("CHL6", (130, 130), CHL6, 5, None),
    ("Hchl4s", (127, 98), HCHL4S, 2, None),
    ("STS4", (99, 99), STS4, 5, None),
]

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


@dataclass(frozen=True)
class Problem:
    """A published problem in one orientation.

    Attributes:
        sheets: width, height and, where costs decide, cost.
        least: the proved optimum, in sheets or cost.
    """

    name: str
    sheets: tuple[tuple[int, ...], ...]
    pieces: str
    turn: str
    least: int

    @property
    def file(self) -> str:
        """What its kept files are called."""
        words = re.findall(r"[a-z0-9]+", self.name.lower())
        return "-".join((*words, "turned" if self.turn == "yes" else "as-written"))


def problems() -> tuple[Problem, ...]:
    """Return all of them, each as written and, where that optimum is known, turned."""
    found = []
    for name, sheet, pieces, fixed, turned in (*FEWEST, *DEMAND):
        found.append(Problem(name, (sheet,), pieces, "no", fixed))
        if turned is not None:
            found.append(Problem(name, (sheet,), pieces, "yes", turned))
    for name, sheets, pieces, fixed, turned in COSTS:
        found.append(Problem(name, tuple(sheets), pieces, "no", fixed))
        found.append(Problem(name, tuple(sheets), pieces, "yes", turned))
    return tuple(found)
