"""The largest true rectangle in a sheet that is out of square, from five measurements of it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import isqrt
from typing import Literal, NamedTuple

from sheetcut.units import Edges, Length, round_up

Side = Literal["foot", "right", "top", "left"]
SIDES: tuple[Side, ...] = ("foot", "right", "top", "left")
"""Anticlockwise from the lower left corner, as the corners are."""

MOST_LEAN = Fraction(1, 10)
"""An edge that leans more has been measured wrongly; our judgement. Sheets a tenth as high as
wide, or wider, are left out with it: there a rectangle would do better to avoid a corner."""

HAIR: Length = 8
"""A micrometre: what square roots and a measurement's last figure may take from a whole step."""

FINER = 1 << 12
"""Corners are held to so fine a part of a tick: their places are square roots."""


class Point(NamedTuple):
    """A place, in ticks."""

    x: Fraction
    y: Fraction


@dataclass(frozen=True, slots=True)
class Measured:
    """A sheet by the lengths of its four edges and one diagonal.

    Attributes:
        foot, top: its widths.
        left, right: its heights.
        diagonal: from the lower left corner to the upper right one.
    """

    foot: Length
    top: Length
    left: Length
    right: Length
    diagonal: Length


@dataclass(frozen=True, slots=True)
class Squared:
    """What a sheet is once it is cut to a true rectangle.

    Attributes:
        along: the edge that the rectangle lies along; the others are cut square to it.
        width, height: of the rectangle and all that comes off at its sides.
        loss: what each edge loses where most comes off.
    """

    along: Side
    width: Length
    height: Length
    loss: Edges


def square_corner_diagonal(foot: Length, top: Length, left: Length, right: Length) -> Length | None:
    """Return the diagonal of a sheet whose lower left corner is square; None if there is none.

    >>> square_corner_diagonal(3, 3, 4, 4)
    5
    """
    far = _apex(Point(Fraction(foot), Fraction(0)), Point(Fraction(0), Fraction(left)), right, top)
    return None if far is None else isqrt(int(far.x * far.x + far.y * far.y))


def squared(sheet: Measured, loss: Edges, step: Length) -> Squared | None:
    """Return the largest true rectangle that lies along an edge of a sheet; None if there is none.

    A person squares a sheet to one of its edges, and no other rectangle of a nearly square
    sheet is larger but for what is small beside a small thing: each edge that leans takes its
    own length times its lean, and such a sum is least where one of the leans is nothing.

    Args:
        loss: what each edge loses besides, to a deckle or bruises.
        step: what comes off and what is left are whole steps of the ruler, save what comes off
            at right and top.
    """
    corners = _corners(sheet)
    if corners is None:
        return None
    lengths = (sheet.foot, sheet.right, sheet.top, sheet.left)
    losses = (loss.foot, loss.right, loss.top, loss.left)
    found = [
        one
        for n in range(4)
        if (one := _along(n, corners, lengths, losses, step)) is not None
    ]  # fmt: skip
    return max(found, key=_usable_area, default=None)


def _usable_area(one: Squared) -> int:
    return (one.width - one.loss.across) * (one.height - one.loss.up)


def _corners(sheet: Measured) -> tuple[Point, ...] | None:
    """Return the corners, anticlockwise from the lower left; None if no sheet measures so."""
    first, second = Point(Fraction(0), Fraction(0)), Point(Fraction(sheet.foot), Fraction(0))
    third = _apex(first, second, sheet.diagonal, sheet.right, above=True)
    if third is None:
        return None
    fourth = _apex(first, third, sheet.left, sheet.top, above=True)
    if fourth is None:
        return None
    corners = (first, second, third, fourth)
    turns = [_turn(*(corners[(n + k) % 4] for k in range(3))) for n in range(4)]
    return corners if all(turn > 0 for turn in turns) else None


def _apex(
    one: Point, other: Point, from_one: Length, from_other: Length, *, above: bool = False
) -> Point | None:
    """Return the point at two distances from two others: left of the way between, or right."""
    dx, dy = other.x - one.x, other.y - one.y
    base = dx * dx + dy * dy
    if not base:
        return None
    share = (base + from_one**2 - from_other**2) / (2 * base)
    square = Fraction(from_one**2) / base - share * share
    if square <= 0:
        return None
    rise = _root(square * base * base) / base
    if not above:
        rise = -rise
    return Point(one.x + share * dx - rise * dy, one.y + share * dy + rise * dx)


def _root(value: Fraction) -> Fraction:
    return Fraction(isqrt(int(value * FINER * FINER)), FINER)


def _turn(one: Point, two: Point, three: Point) -> Fraction:
    return (two.x - one.x) * (three.y - two.y) - (two.y - one.y) * (three.x - two.x)


@dataclass(frozen=True, slots=True)
class _Lean:
    """An edge as it rises: x = at + slope * y. The top lies so with x and y exchanged."""

    at: Fraction
    slope: Fraction

    def __call__(self, y: Fraction) -> Fraction:
        return self.at + self.slope * y

    def inside(self, loss: Length, sign: int) -> _Lean:
        """Return the line that runs beside it, a loss further in."""
        # A right triangle: the loss across the edge, and what it takes along the foot.
        stretch = _root(1 + self.slope * self.slope)
        return _Lean(self.at + sign * loss * stretch, self.slope)


def _lean(low: Point, high: Point) -> _Lean | None:
    if high.y <= low.y:
        return None
    slope = (high.x - low.x) / (high.y - low.y)
    return _Lean(low.x - slope * low.y, slope) if abs(slope) < MOST_LEAN else None


def _along(
    n: int,
    corners: tuple[Point, ...],
    lengths: tuple[Length, ...],
    losses: tuple[Length, ...],
    step: Length,
) -> Squared | None:
    """Return the largest rectangle along edge n, which is laid at the foot for it.

    The edges that follow anticlockwise then lie at the right, at the top and at the left.
    """
    laid = [_laid(point, corners[n], corners[(n + 1) % 4], lengths[n]) for point in corners]
    one, two, three, four = laid[n:] + laid[:n]
    low, right_loss, top_loss, left_loss = (losses[(n + k) % 4] for k in range(4))
    left, right = _lean(one, four), _lean(two, three)
    top = _lean(Point(four.y, four.x), Point(three.y, three.x))
    if left is None or right is None or top is None:
        return None
    inner = left.inside(left_loss, 1), right.inside(right_loss, -1), top.inside(top_loss, -1)
    box = _largest(*inner, Fraction(low))
    if box is None:
        return None
    x0, x1, y1 = box
    ends = Fraction(low), y1
    deepest = {
        SIDES[n]: Fraction(low),
        SIDES[(n + 1) % 4]: max(right(y) - x1 for y in ends),
        SIDES[(n + 2) % 4]: max(top(x) - y1 for x in (x0, x1)),
        SIDES[(n + 3) % 4]: max(x0 - left(y) for y in ends),
    }
    sides = (x1 - x0, y1 - low)
    width, height = sides if n % 2 == 0 else sides[::-1]
    return _in_steps(SIDES[n], width, height, deepest, step)


def _laid(point: Point, origin: Point, end: Point, length: Length) -> Point:
    """Return a point as it lies when the edge from origin to end lies along the foot."""
    dx, dy = (end.x - origin.x) / length, (end.y - origin.y) / length
    x, y = point.x - origin.x, point.y - origin.y
    return Point(x * dx + y * dy, y * dx - x * dy)


def _largest(
    left: _Lean, right: _Lean, top: _Lean, low: Fraction
) -> tuple[Fraction, Fraction, Fraction] | None:
    """Return left, right and top of the largest rectangle that stands on the foot.

    It is as wide as it can be for its height. As it grows it loses width at sides that lean
    in, and it may grow until a corner meets the top, or until it loses more than it gains.
    """
    x0 = left if left.slope > 0 else _Lean(left(low), Fraction(0))
    x1 = right if right.slope < 0 else _Lean(right(low), Fraction(0))
    highest = min((top.at + top.slope * x.at) / (1 - top.slope * x.slope) for x in (x0, x1))
    narrowing = x0.slope - x1.slope
    if narrowing:
        highest = min(highest, ((x1.at - x0.at) / narrowing + low) / 2)
    if highest <= low or x1(highest) <= x0(highest):
        return None
    return x0(highest), x1(highest), highest


def _in_steps(
    along: Side, width: Fraction, height: Fraction, deepest: dict[Side, Fraction], step: Length
) -> Squared | None:
    """Return a rectangle whose sides, and what comes off at left and foot, are whole steps."""
    left, across, right = _steps(width, deepest["left"], deepest["right"], step, along == "left")
    foot, up, top = _steps(height, deepest["foot"], deepest["top"], step, along == "foot")
    if across <= 0 or up <= 0:
        return None
    return Squared(along, left + across + right, foot + up + top, Edges(left, right, top, foot))


def _steps(
    side: Fraction, near: Fraction, far: Fraction, step: Length, is_along: bool
) -> tuple[Length, Length, Length]:
    """Return what comes off near the start corner, what is left, and what comes off beyond."""
    first = int(near) if is_along else round_up(-(-max(near - HAIR, Fraction(0)) // 1), step)
    room = side - (first - near)
    kept = int((room + HAIR) // step) * step
    return first, kept, max(0, int(-(-(far + room - kept) // 1)))
