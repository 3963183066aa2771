"""How finished work is sent: its weight, flat or rolled, the tube, and which limits it keeps."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, pi, sqrt
from typing import Literal

from sheetcut.grammage import sheet_mass
from sheetcut.units import TICKS_PER_MM, Length, mm

Shape = Literal["flat", "roll"]
Measured = Literal["length", "width", "thickness", "length and twice the diameter", "weight"]
"""What is measured against a limit: the weight in grams, all else as a length."""

CHECK_TARIFF = "check the current tariff"

DENSITY = 750
"""kg/m³ by which thickness is guessed from grammage: hot-pressed cotton is 700 to 800 (from
memory). Weight does not fix thickness: measure ten sheets and divide.
"""

ROLLED_FROM = mm(420), mm(594)
"""A3 goes flat, A2 and larger rolled: common practice; ISO 216:2007 for the size."""

TUBE_WALL = mm(3)
"""An eighth of an inch.

Source:
    US National Park Service, Conserve O Gram 13/5 (2024).
"""

LONGER_TUBE = mm(40)  # common practice: 30 to 50 mm more than the roll


@dataclass(frozen=True, slots=True)
class PostLimit:
    """One line of a carrier's table; the user may change every figure.

    Attributes:
        long, short, thick: the largest sides; for a roll ``thick`` is its diameter and
            ``short`` is not looked at.
        grams: the largest weight.
        girth: for a roll, the most that length and twice the diameter may come to.
    """

    name: str
    shape: Shape
    long: Length
    short: Length
    thick: Length
    grams: int
    girth: Length | None = None
    note: str = CHECK_TARIFF

    def __post_init__(self) -> None:
        if min(self.long, self.short, self.thick, self.grams) < 0:
            raise ValueError(f"{self.name}: limits are 0 or more")


POST_LIMITS: tuple[PostLimit, ...] = (
    PostLimit("large letter", "flat", mm(353), mm(250), mm(25), 750),
    PostLimit("small parcel", "flat", mm(450), mm(350), mm(160), 2000),
    PostLimit("small parcel, rolled", "roll", mm(450), 0, mm(80), 2000),
    # Length and twice the diameter at most 1040, so no diameter is more than half of that.
    PostLimit("tube", "roll", mm(900), 0, mm(520), 2000, girth=mm(1040)),
)
"""Limits to begin with, the cheapest first: they change, so check the current tariff.

Source:
    British postal size tables as copied by ukplc.co.uk, boxtopia.co.uk and mailingbag.com.
"""


@dataclass(frozen=True, slots=True)
class Enclosed:
    """Sheets of one size and paper that go into a parcel.

    Attributes:
        thickness: of one, as measured; None guesses it from the grammage.
        may_roll: not so for chalk or pastel.
    """

    width: Length
    height: Length
    grammage: int
    count: int = 1
    thickness: Length | None = None
    may_roll: bool = True

    @property
    def grams(self) -> Fraction:
        """What all of them weigh."""
        return self.count * sheet_mass(self.width, self.height, self.grammage)

    @property
    def thick(self) -> Length:
        """How thick all of them are together."""
        one = self.thickness
        return self.count * (guessed_thickness(self.grammage) if one is None else one)

    @property
    def core(self) -> Length | None:
        """The least diameter it may be rolled to; None where it should not be rolled.

        From common practice: 75 mm for 300 g/m², 100 mm from 400 g/m², never 640 g/m².
        """
        if not self.may_roll or self.grammage >= 640:
            return None
        return mm(100) if self.grammage >= 400 else mm(75)


@dataclass(frozen=True, slots=True)
class Packing:
    """What the packing adds.

    Attributes:
        wall: of a flat mailer, at each edge, sleeve included.
        boards: how thick boards and mailer are together.
        grams: of mailer or tube, boards, sleeve.
    """

    wall: Length = 4 * TICKS_PER_MM
    boards: Length = 6 * TICKS_PER_MM
    grams: int = 120


@dataclass(frozen=True, slots=True)
class Parcel:
    """A parcel as it is handed over.

    Attributes:
        long, short, thick: its outer sides; of a roll length, and twice its diameter.
        roll: the outside of the rolled paper; None where it goes flat.
        allowed: the limits it keeps, the cheapest first.
        note: why it goes this way, and what to see to.
    """

    shape: Shape
    long: Length
    short: Length
    thick: Length
    grams: int
    allowed: tuple[PostLimit, ...]
    roll: Length | None = None
    note: str = ""


def parcel(
    enclosed: Iterable[Enclosed],
    *,
    packing: Packing | None = None,
    limits: Iterable[PostLimit] = POST_LIMITS,
    shape: Shape | None = None,
) -> Parcel:
    """Return how some sheets are sent together.

    Args:
        shape: flat or rolled where somebody has decided; None goes by size and paper.

    Raises:
        ValueError: if there is nothing to send.
    """
    sheets = tuple(enclosed)
    if not sheets:
        raise ValueError("a parcel needs something to send")
    packing = packing or Packing()
    grams = ceil(sum(one.grams for one in sheets) + packing.grams)
    long = max(max(one.width, one.height) for one in sheets)
    short = max(min(one.width, one.height) for one in sheets)
    cores = [one.core for one in sheets]
    large = short >= ROLLED_FROM[0] or long >= ROLLED_FROM[1]
    may_roll = None not in cores
    if shape is None:
        shape = "roll" if large and may_roll else "flat"
    if shape == "flat":
        wide = long + 2 * packing.wall, short + 2 * packing.wall
        thick = sum(one.thick for one in sheets) + packing.boards
        note = "too stiff or too delicate to roll" if large and not may_roll else ""
        return Parcel(
            "flat", *wide, thick, grams, _allowed("flat", (*wide, thick), grams, limits), note=note
        )
    core = max((core for core in cores if core is not None), default=mm(100))
    roll = roll_diameter(long, sum(one.thick for one in sheets), core)
    outside = roll + 2 * TUBE_WALL
    size = short + LONGER_TUBE, outside, outside
    note = "" if may_roll else "should not be rolled"
    allowed = _allowed("roll", size, grams, limits)
    return Parcel("roll", *size, grams, allowed, roll, note)


def guessed_thickness(grammage: int) -> Length:
    """Return how thick a paper of this weight may be, for want of a measurement.

    >>> from sheetcut.units import in_mm
    >>> round(in_mm(guessed_thickness(640)), 2)
    Decimal('0.85')
    """
    return round(Fraction(grammage * TICKS_PER_MM, DENSITY))


def roll_diameter(length: Length, thickness: Length, core: Length) -> Length:
    """Return the outside of paper rolled onto a core, never less than it is.

    A turn's paper lies in a ring: pi / 4 (D² - d²) = thickness x length. Several sheets rolled
    together count by their thickness in all.

    >>> from sheetcut.units import in_mm, mm
    >>> round(in_mm(roll_diameter(mm(594), mm("0.5"), mm(75))), 1)
    Decimal('77.5')
    """
    return ceil(sqrt(core**2 + 4 * thickness * length / pi))


def keeps(limit: PostLimit, shape: Shape, size: tuple[Length, Length, Length], grams: int) -> bool:
    """Whether a parcel keeps a limit.

    Args:
        size: outer sides, longest first; of a roll its length and twice its diameter.
    """
    return limit.shape == shape and not any(over > 0 for over in _over(limit, size, grams).values())


def beyond(limit: PostLimit, sent: Parcel) -> dict[Measured, int]:
    """Return by how much a parcel of its shape is beyond a limit; empty where it keeps it."""
    size = sent.long, sent.short, sent.thick
    return {what: over for what, over in _over(limit, size, sent.grams).items() if over > 0}


def _over(limit: PostLimit, size: tuple[Length, Length, Length], grams: int) -> dict[Measured, int]:
    long, short, thick = size
    over: dict[Measured, int] = {"length": long - limit.long, "thickness": thick - limit.thick}
    if limit.shape == "flat":
        over["width"] = short - limit.short
    elif limit.girth is not None:
        over["length and twice the diameter"] = long + 2 * thick - limit.girth
    over["weight"] = grams - limit.grams
    return over


def _allowed(
    shape: Shape,
    size: tuple[Length, Length, Length],
    grams: int,
    limits: Iterable[PostLimit],
) -> tuple[PostLimit, ...]:
    return tuple(limit for limit in limits if keeps(limit, shape, size, grams))
