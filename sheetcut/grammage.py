"""Weight of paper: pounds per ream to and from g/m², and what a sheet weighs."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from sheetcut.units import TICKS_PER_MM, Length, Number, inch

GRAMS_PER_POUND = Fraction("453.59237")  # the international avoirdupois pound, exactly
REAM = 500
"""Sheets in the ream that pounds are counted by; 480 and 516 have been in use too."""

_TICKS2_PER_M2 = (1_000 * TICKS_PER_MM) ** 2


@dataclass(frozen=True, slots=True)
class Grade:
    """A kind of paper whose pounds are counted on one basic size.

    Attributes:
        name: as the trade calls it.
        width, height: the basic size.
    """

    name: str
    width: Length
    height: Length


GRADES: tuple[Grade, ...] = (
    Grade("watercolour", inch(22), inch(30)),
    Grade("bond", inch(17), inch(22)),
    Grade("cover", inch(20), inch(26)),
    Grade("book", inch(25), inch(38)),
    Grade("newsprint", inch(24), inch(36)),
    Grade("index", inch("25 1/2"), inch("30 1/2")),
    Grade("bristol", inch("22 1/2"), inch("28 1/2")),
)
"""Basic sizes of the American trade.

Source:
    PrintWiki, "Grammage"; "Techniques in cutting paper", ch. VI (bookbinding.com). Watercolour
    pounds are counted on the very sheet that is sold, most often 22 x 30 in.
"""


def grade(name: str) -> Grade:
    """Return a grade by its name.

    Raises:
        KeyError: if no grade goes by that name.
    """
    return {one.name: one for one in GRADES}[name]


def grammage_of(pounds: Number, *, width: Length, height: Length, ream: int = REAM) -> Fraction:
    """Return the g/m² of a paper of which a ream of the given sheets weighs so many pounds.

    >>> round(float(grammage_of(300, width=inch(22), height=inch(30))), 1)
    639.2
    """
    grams = _fraction(pounds) * GRAMS_PER_POUND / ream
    return grams * _TICKS2_PER_M2 / (width * height)


def pounds_of(grammage: Number, *, width: Length, height: Length, ream: int = REAM) -> Fraction:
    """Return what a ream of such sheets weighs in pounds.

    >>> round(float(pounds_of(640, width=inch("29 3/4"), height=inch(41))), 1)
    555.2
    """
    return sheet_mass(width, height, grammage) * ream / GRAMS_PER_POUND


def sheet_mass(width: Length, height: Length, grammage: Number) -> Fraction:
    """Return the mass of one sheet in grams (ISO 536: mass per area times area).

    >>> from sheetcut.units import mm
    >>> float(sheet_mass(mm(560), mm(760), 640))
    272.384
    """
    return _fraction(grammage) * width * height / _TICKS2_PER_M2


USUAL_DENSITY = 750
"""Of heavy cotton paper, in kg/m³: 700 to 800 where it is hot-pressed. From memory of the trade."""

PASS_DEPTH_MM = Fraction(1, 4)
"""What one light pass of a knife parts. Our judgement: sources agree on several light passes and
give no count; this makes two for 300 g/m² and four for 640 g/m²."""


def usual_passes(grammage: int) -> int:
    """Return how many light passes of a knife a paper usually needs; our estimate.

    >>> usual_passes(160), usual_passes(300), usual_passes(640)
    (1, 2, 4)
    """
    thickness_mm = Fraction(grammage, USUAL_DENSITY)
    return max(1, -(-thickness_mm // PASS_DEPTH_MM))


def _fraction(value: Number) -> Fraction:
    # A float is taken by the digits it is written with, as units.mm does.
    return Fraction(repr(value) if isinstance(value, float) else value)
