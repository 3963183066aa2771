"""The most valuable selection of pieces from one sheet, each so many times at most: optima.

Sizes are typed as in the literature with the most of each and its value, ``8x4*2=66``; without
a value it is the area. Sources:

- cgcut (chris): Christofides and Whitlock 1977 (10.1287/opre.25.1.30); ngcut: Beasley 1985
  (10.1287/opre.33.1.49); gcut, each piece once: Beasley 1985 (10.1057/jors.1985.51)
- wang: Wang 1983 (10.1287/opre.31.3.573); OF: Oliveira and Ferreira 1990
  (10.1016/0377-2217(90)90361-E); CW, CU: Fayard, Hifi and Zissimopoulos 1998
  (10.1057/palgrave.jors.2600638); okp: Fekete and Schepers 1997; CHL, A: as FMT gives them
- the optima as written of all but ngcut, wang1 and wang2: Furini, Malaguti and Thomopulos 2016
  (FMT, 10.1287/ijoc.2016.0710), found again by an independent exact run in Becker 2022, doctoral
  thesis, Porto Alegre
- the optima of ngcut, wang1 and wang2 and all with turning: proved for this project with a
  plate-and-cut model and an integer solver, apart from this program; Beasley 1985 is credited
  with the same twelve numbers for ngcut as written, of cuts of any kind
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace

from sheetcut.job import Job, Paper, Sheet
from sheetcut.nest.task import Task, stocks_of, task_of
from tests.nest.jobs import job_of, sizes
from tests.published.problems import CHL5, GCUT1, OF1, OF2
from tests.published.test_unbounded_values import GCUT2, GCUT5, GCUT6

PAPER = "rag"

CGCUT1 = "8x4*2=66, 3x7=35, 8x2*3=24, 3x4*5=17, 3x3*2=11, 3x2*2=8, 2x1"
CGCUT3 = (
    "31x43*4=500, 30x41*2=480, 29x39*4=460, 28x38*4=440, 27x37*3=420, 26x36*4=410, 25x35*3=400, "
    "24x34*4=380, 33x23*4=360, 22x32*3=340, 31x21*3=320, 29x18*3=300, 17x27*2=280, 15x24*2=240, "
    "16x25*4=260, 15x24=240, 23x14*4=220, 21x12*3=180, 19x11*4=160, 9x17=140"
)
WANG = (
    "31x43, 30x41, 29x39, 28x38, 27x37, 26x36, 25x35*2, 24x34*2, 33x23*3, 22x32*2, 31x21*3, "
    "29x18*3, 17x27*2, 16x25*4, 15x24*2, 15x24, 23x14*4, 21x12*3, 19x11*4, 9x17"
)
WANG20 = (
    "11x19*4, 12x21*3, 14x23*4, 17x9, 18x29*3, 21x31*3, 23x33*3, 24x15, 24x15*2, 25x16*4, "
    "27x17*2, 32x22*2, 34x24*2, 35x25*2, 36x26, 37x27, 38x28, 39x29, 41x30, 43x31"
)
CHL2 = (
    "11x15*2=108, 27x9*3=148, 19x21=291, 28x31=512, 13x17*2=159, 15x29*3=348, 29x13*2=256, "
    "31x12*2=260, 31x19*2=353, 23x16=206"
)
CW1 = (
    "42x41*3=283, 28x65=256, 28x63*2=221, 31x38*3=704, 69x24*2=648, 35x35*6=298, 47x55*2=442, "
    "78x22=640, 33x30*8=534, 77x47=406, 35x41*4=469, 55x34*2=186, 72x66=291, 37x64*3=665, "
    "48x26*6=399, 51x21=456, 58x40*2=201, 44x22*6=424, 41x61*2=414, 59x36*2=629, 25x30*4=362, "
    "47x23=376, 56x65*2=414, 29x64=693, 78x58=456"
)
CU1 = (
    "23x44*6, 20x56*9, 24x41*6, 38x57*3, 23x57*4, 58x49, 51x79, 43x35*3, 39x68*2, 21x65*2, "
    "24x80*3, 50x61*3, 45x59*2, 42x69, 54x68, 29x75*3, 24x39*7, 22x42*2, 56x53, 24x49, 20x66*5, "
    "45x53*4, 23x50*8, 34x75, 38x28*3"
)
OKP5 = (
    "8x81*3=953, 5x76*4=389, 42x19*4=1668, 6x80*4=676, 41x48=3580, 6x86*5=1416, 58x20*5=3166, "
    "99x3*5=537, 9x52*5=1176, 100x14*4=3434, 7x53*5=676, 24x54=1408, 23x77=2362, 42x32*5=4031, "
    "17x30*5=1152, 11x90*4=2255, 26x65*2=3570, 11x84*3=1913, 100x11=1552, 29x81=4559, "
    "10x64*2=713, 25x48=1279, 17x93*4=3989, 77x31=4850, 3x71*5=299, 89x9*4=1577, 1x6*5=12, "
    "12x99*2=2116, 21x26*5=1214"
)
GCUT9 = "310x426, 673x468, 426x463, 325x498, 555x540, 292x455, 343x341, 362x491, 305x688, 459x607"
NGCUT = [  # sheet, pieces, best as written, best turned; 1 to 12
    ((10, 10), "3x7*2=35, 8x2*2=40, 10x2=27, 5x4*3=23, 2x9*2=43", 164, 193),
    (
        (10, 10),
        "1x10*3=28, 5x3*2=40, 9x3*3=63, 6x1*3=13, 3x8*3=31, 4x1=10, 7x3*2=44",
        230,
        250,
    ),
    (
        (10, 10),
        "3x2*2=7, 7x2*3=20, 4x5*2=60, 4x1*2=9, 1x10=14, 8x4=79, 4x2*2=11, 3x7*3=52, 6x2*3=13, "
        "9x1*2=21",
        247,
        259,
    ),
    ((15, 10), "15x2*2=34, 7x3=27, 9x1=14, 8x3=71, 12x2*2=61", 268, 268),
    (
        (15, 10),
        "10x3*2=34, 9x3=48, 12x2*3=72, 11x3=91, 12x3*3=37, 11x1*3=15, 2x10=36",
        358,
        370,
    ),
    (
        (15, 10),
        "2x9=50, 10x2*3=29, 2x4=11, 2x8*2=30, 3x8=46, 4x1=7, 6x4*3=32, 10x3=74, 11x2=48, 4x5=32",
        289,
        298,
    ),
    ((20, 20), "1x9*3=26, 16x3=113, 18x3=127, 20x2=104, 3x1*2=4", 430, 430),
    (
        (20, 20),
        "15x3=110, 6x6*3=93, 13x1*2=38, 8x7*2=144, 18x5*3=185, 12x4=78, 8x3=25",
        834,
        886,
    ),
    (
        (20, 20),
        "14x2=45, 1x5=10, 20x4*2=139, 12x3*3=92, 11x8*2=145, 11x6*2=123, 7x9=166, 17x5=252, "
        "7x14*2=161, 1x7*3=12",
        924,
        924,
    ),
    ((30, 30), "1x30*3=75, 25x7=279, 27x9*3=409, 30x2*3=65, 26x7*3=235", 1452, 1452),
    (
        (30, 30),
        "3x23*3=118, 29x5=244, 21x2*3=81, 17x11*3=371, 14x7*2=254, 8x5*2=78, 21x8=293",
        1688,
        1786,
    ),
    (
        (30, 30),
        "16x6=132, 24x1*3=29, 6x28*3=351, 8x23*3=275, 5x1*3=10, 6x26*2=259, 2x30*2=110, "
        "9x11*3=240, 4x30=265, 16x13=507",
        1865,
        1932,
    ),
]


@dataclass(frozen=True, slots=True)
class Wanted:
    """Pieces of one size: how many at most, and what one is worth."""

    width: int
    height: int
    most: int
    value: int


@dataclass(frozen=True)
class Selection:
    """A published problem: one sheet, pieces worth having, each so many times at most.

    Attributes:
        turn: "yes" or "no", as an order line has it.
        best: the proved optimum.
    """

    name: str
    sheet: tuple[int, int]
    pieces: tuple[Wanted, ...]
    turn: str
    best: int

    @property
    def values(self) -> list[int]:
        """What one of each kind is worth, in the order of the task's blanks."""
        return [piece.value for piece in self.pieces]

    def job(self) -> Job:
        """Return an order of all pieces, an order line for each kind."""
        rows = [(piece.width, piece.height, piece.most) for piece in self.pieces]
        return job_of(rows, [self.sheet], self.turn)

    def task(self) -> Task:
        """Return the job as the engine sees it.

        Each line is a kind of its own, for two of one size may differ in value (Hchl2).
        """
        job = self.job()
        stocks = stocks_of(job, PAPER)
        turns = {line: piece.turn for line, piece in enumerate(job.pieces)}
        each = [
            task_of(job, PAPER, stocks, turns, {line: piece.count})
            for line, piece in enumerate(job.pieces)
        ]
        return replace(each[0], blanks=tuple(one.blanks[0] for one in each), turns=turns)

    def bought(self) -> Job:
        """Return a job whose least cost is the value of all pieces less that of the best selection.

        The sheet is at hand once and costs nothing; each piece can be had from a sheet of just
        its own size that costs what it is worth. That is so only if no other pieces that come
        out of that sheet are worth more, as where values are areas.
        """
        job = self.job()
        sheet = replace(job.sheets[0], kind="offcut", on_hand=1, price=None)
        own = {(one.width, one.height): one.value for one in self.pieces}
        more = [
            Sheet(f"own {i}", PAPER, w, h, price=value, grain="none")
            for i, ((w, h), value) in enumerate(own.items())
        ]
        return replace(job, sheets=(sheet, *more), papers=(Paper(PAPER, aim="least cost"),))

    @property
    def total(self) -> int:
        """What all pieces are worth together."""
        return sum(piece.value * piece.most for piece in self.pieces)


def selection(
    name: str, sheet: tuple[int, int], pieces: Iterable[Wanted], turn: str, best: int
) -> Selection:
    """Return a problem with pieces alike in size and value taken together."""
    most: Counter[tuple[int, int, int]] = Counter()
    for one in pieces:
        sides = (one.width, one.height)
        if turn == "yes":
            sides = (max(sides), min(sides))
        most[*sides, one.value] += one.most
    kinds = tuple(Wanted(w, h, n, value) for (w, h, value), n in most.items())
    return Selection(name, sheet, kinds, turn, best)


def wanted(text: str) -> list[Wanted]:
    """Return pieces as they are typed above.

    >>> wanted("8x4*2=66, 2x1")
    [Wanted(width=8, height=4, most=2, value=66), Wanted(width=2, height=1, most=1, value=2)]
    """
    found = []
    for word in text.split(","):
        size, _, value = word.partition("=")
        ((width, height, most),) = sizes(size)
        found.append(Wanted(width, height, most, int(value or width * height)))
    return found


def by_area(text: str) -> str:
    """Return pieces as typed, each worth its area.

    >>> by_area("8x4*2=66, 2x1")
    '8x4*2, 2x1'
    """
    return ", ".join(word.partition("=")[0].strip() for word in text.split(","))


TYPED = [  # name, sheet, pieces, best as written, best turned (None: not known)
    ("cgcut1", (15, 10), CGCUT1, 244, 260),
    ("cgcut3", (40, 70), CGCUT3, 1860, 1920),
    ("wang1", (33, 69), WANG, 2277, 2277),
    ("wang2", (39, 70), WANG, 2694, 2716),
    ("wang20", (70, 40), WANG20, 2721, 2771),
    ("OF1", (70, 40), OF1, 2737, 2757),
    ("OF2", (70, 40), OF2, 2690, 2769),
    ("CHL2", (62, 55), CHL2, 2326, None),
    ("CHL2s", (62, 55), by_area(CHL2), 3279, None),
    ("CHL5", (20, 20), CHL5, 390, None),
    ("A1", (50, 60), CGCUT3, 2020, None),
    ("A1s", (50, 60), by_area(CGCUT3), 2950, None),
    ("CW1", (125, 105), CW1, 6402, None),
    ("CU1", (100, 125), CU1, 12330, None),
    ("okp5", (100, 100), OKP5, 27923, None),
    ("gcut1", (250, 250), GCUT1, 48368, None),
    ("gcut2", (250, 250), GCUT2, 59307, None),
    ("gcut5", (500, 500), GCUT5, 195582, None),
    ("gcut6", (500, 500), GCUT6, 236305, None),
    ("gcut9", (1000, 1000), GCUT9, 919476, None),
    *((f"ngcut{i}", *one) for i, one in enumerate(NGCUT, start=1)),
]


def typed() -> list[Selection]:
    """Return the problems above, as written and, where that optimum is known, turned."""
    return [
        selection(name, sheet, wanted(pieces), turn, best)
        for name, sheet, pieces, *both in TYPED
        for turn, best in zip(("no", "yes"), both, strict=True)
        if best is not None
    ]
