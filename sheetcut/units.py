"""The one unit of length, exact in and out of millimetres and inches."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

Length = int
"""A distance in ticks; one tick is 1/8 µm.

Chosen so that both trades come out whole: 0.001 mm is 8 ticks and 1/64 inch
is 3 175. A 3 m sheet is 24 million ticks, so its area is still exact even
where a float must carry it (2**53 is about 9.0e15).
"""

Area = int
"""An area in square ticks."""

Cents = int
"""Money in hundredths of the studio's currency."""

Number = int | float | str | Decimal | Fraction

TICKS_PER_MM = 8_000
TICKS_PER_INCH = 203_200  # 25.4 mm, exactly: the international inch


class Edges(NamedTuple):
    """One length for each edge of a rectangle, always in this order."""

    left: Length = 0
    right: Length = 0
    top: Length = 0
    foot: Length = 0

    def turned(self) -> Edges:
        """Return the edges after a quarter turn anticlockwise: the top then lies left.

        >>> Edges(left=1, right=2, top=3, foot=4).turned()
        Edges(left=3, right=4, top=2, foot=1)
        """
        return Edges(left=self.top, right=self.foot, top=self.right, foot=self.left)

    @property
    def across(self) -> Length:
        """Left and right together."""
        return self.left + self.right

    @property
    def up(self) -> Length:
        """Top and foot together."""
        return self.top + self.foot


def mm(value: Number) -> Length:
    """Return a length given in millimetres.

    A float is taken by the digits it is written with, so ``mm(0.1)`` is exact.

    Raises:
        ValueError: if the length is not a whole number of ticks (1/8 µm).

    >>> mm(297), mm("0.5"), mm(0.1)
    (2376000, 4000, 800)
    """
    return _ticks(value, TICKS_PER_MM, "mm")


def inch(value: Number) -> Length:
    """Return a length given in inches; ``"22 1/8"`` is read as twenty-two and an eighth.

    Raises:
        ValueError: if the length is not a whole number of ticks (1/8 µm).

    >>> inch("22 1/8") == inch(22.125) == mm("561.975")
    True
    """
    if isinstance(value, str) and " " in value.strip():
        whole, _, part = value.strip().partition(" ")
        return _ticks(Fraction(whole) + Fraction(part.strip()), TICKS_PER_INCH, "in")
    return _ticks(value, TICKS_PER_INCH, "in")


def _ticks(value: Number, per_unit: int, unit: str) -> Length:
    exact = Fraction(repr(value) if isinstance(value, float) else value) * per_unit
    if exact.denominator != 1:
        raise ValueError(f"{value} {unit} is finer than 1/8 µm, the finest length held here")
    return exact.numerator


def in_mm(length: Length) -> Decimal:
    """Return a length in millimetres, exactly, without needless zeros.

    >>> in_mm(2376000), in_mm(12500)
    (Decimal('297'), Decimal('1.5625'))
    """
    return plain(Decimal(length) / TICKS_PER_MM)


def in_inch(length: Length) -> Fraction:
    """Return a length in inches, exactly.

    >>> in_inch(mm(25.4))
    Fraction(1, 1)
    """
    return Fraction(length, TICKS_PER_INCH)


def in_mm2(area: Area) -> Decimal:
    """Return an area in square millimetres, exactly.

    >>> in_mm2(mm(841) * mm(1189))
    Decimal('999949')
    """
    return plain(Decimal(area) / TICKS_PER_MM**2)


def plain(number: Decimal) -> Decimal:
    """Return the same number without an exponent and without needless zeros.

    >>> plain(Decimal("1.50")), plain(Decimal("3E+2"))
    (Decimal('1.5'), Decimal('300'))
    """
    whole = number.to_integral_value()
    return whole.quantize(Decimal(1)) if number == whole else number.normalize()


def inch_text(length: Length, *, finest: int = 64) -> str:
    """Return a length as a ruler marked in inches shows it.

    Raises:
        ValueError: if it falls between the marks of 1/finest inch.

    >>> inch_text(inch("22 1/8")), inch_text(inch(11)), inch_text(inch(0.75))
    ('22 1/8', '11', '3/4')
    """
    value = in_inch(length)
    if finest % value.denominator:
        raise ValueError(f"{in_mm(length)} mm falls between the marks of a 1/{finest} in ruler")
    whole, part = divmod(value.numerator, value.denominator)
    fraction = f"{part}/{value.denominator}" if part else ""
    return " ".join(word for word in (str(whole) if whole else "", fraction) if word) or "0"


def round_up(length: Length, step: Length) -> Length:
    """Return the smallest whole number of steps that is not less than the length.

    >>> round_up(279, 10), round_up(280, 10)
    (280, 280)
    """
    return -(-length // step) * step
