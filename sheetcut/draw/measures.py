"""Lengths, areas and money in the words of the drawing."""

from __future__ import annotations

import re
from fractions import Fraction

from sheetcut.job import Job, Piece, reading_step
from sheetcut.units import (
    TICKS_PER_INCH,
    TICKS_PER_MM,
    Area,
    Cents,
    Length,
    in_inch,
    in_mm,
    in_mm2,
    inch_text,
)

FINEST_INCH = 64

_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


def is_read_in_inches(job: Job, paper: str) -> bool:
    """Whether a paper is cut with an inch ruler.

    A step of 1/64 in is 3 175 ticks, and no step in millimetres is a whole number of these.
    """
    return reading_step(job, paper) % (TICKS_PER_INCH // FINEST_INCH) == 0


def length_text(length: Length, *, inches: bool = False) -> str:
    """Return a length as its ruler shows it, with a small fraction for inches.

    A length that falls between the marks of an inch ruler is given in millimetres, and says so.

    >>> length_text(8_000 * 234), length_text(203_200 * 177 // 8, inches=True)
    ('234', '22¹⁄₈')
    """
    if not inches:
        exact = in_mm(length)
        return f"{exact:.1f}".removesuffix(".0") if exact % 1 else f"{exact}"
    if FINEST_INCH % in_inch(length).denominator:
        return f"{length_text(length)} mm"
    return small_fraction(inch_text(length, finest=FINEST_INCH))


def small_fraction(text: str) -> str:
    """Return "22 1/8" with its fraction set small.

    >>> small_fraction("22 1/8"), small_fraction("3/4"), small_fraction("11")
    ('22¹⁄₈', '³⁄₄', '11')
    """
    whole, over, under = re.fullmatch(r"(?:(\d+)(?: |$))?(?:(\d+)/(\d+))?", text).groups("")  # type: ignore[union-attr]
    return whole + (f"{over.translate(_RAISED)}⁄{under.translate(_LOWERED)}" if over else "")


def small_fractions(words: str) -> str:
    """Return words with every fraction in them set small.

    >>> small_fractions("slide the sheet at 15 1/8 and 3/4")
    'slide the sheet at 15¹⁄₈ and ³⁄₄'
    """
    return re.sub(r"(?:\d+ )?\d+/\d+", lambda found: small_fraction(found[0]), words)


def size_text(width: Length, height: Length, *, inches: bool = False) -> str:
    """Return a size, width first.

    >>> size_text(8_000 * 148, 8_000 * 210)
    '148 × 210'
    """
    return f"{length_text(width, inches=inches)} × {length_text(height, inches=inches)}"


def finished_text(piece: Piece, *, inches: bool) -> str:
    """Return a piece's finished size in the unit it was ordered in.

    The unit is named where it is not that of the drawing's other figures.
    """
    its_own = piece.unit == "in"
    unit = "" if its_own == inches else " in" if its_own else " mm"
    return size_text(piece.width, piece.height, inches=its_own) + unit


def rounded_text(length: float, *, inches: bool) -> str:
    """Return a length that is not whole, such as a diagonal, to the nearest mm or 1/16 in."""
    step = TICKS_PER_INCH // 16 if inches else TICKS_PER_MM
    return length_text(round(length / step) * step, inches=inches)


def area_text(area: Area) -> str:
    """Return an area for somebody who thinks in sheets of paper.

    >>> area_text(8_000**2 * 83_700), area_text(0)
    ('837 cm²', '0 cm²')
    """
    return f"{round(in_mm2(area) / 100)} cm²"


def percent_text(share: Area, whole: Area) -> str:
    """Return a share in per cent, to a tenth.

    >>> percent_text(1, 3)
    '33.3 %'
    """
    return f"{float(Fraction(share, whole) * 100):.1f} %"


def money_text(cents: Cents, currency: str) -> str:
    """Return an amount of money.

    >>> money_text(1520, "£"), money_text(5, "EUR")
    ('£15.20', 'EUR 0.05')
    """
    gap = " " if currency and currency[-1].isalnum() else ""
    return f"{currency}{gap}{cents // 100}.{cents % 100:02d}"
