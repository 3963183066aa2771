"""Whether the usable area of a sheet that is out of square is truly in it."""

from __future__ import annotations

import math
from collections.abc import Iterator

import shapely
from shapely import affinity

from sheetcut.check.case import LayoutCase, LayoutCheck, size
from sheetcut.errors import Fault
from sheetcut.job import Edge, Skew
from sheetcut.units import TICKS_PER_MM

ROUND: tuple[Edge, ...] = ("foot", "right", "top", "left")
HAIR = TICKS_PER_MM // 100  # polygons are held in floating point; a hundredth of a mm is nothing


def a_true_rectangle(case: LayoutCase) -> Iterator[Fault]:
    """The usable area fits into the sheet as it was measured, along the edge that is named."""
    skew = case.sheet.skew
    if skew is None:
        return
    polygon = _polygon(skew)
    width, height = case.layout.usable[2:]
    if polygon is None:
        yield case.fault("the sheet is out of square, and no sheet can measure as it is said to")
        return
    if skew.along in ("left", "right"):
        width, height = height, width
    low = getattr(case.sheet.edge_loss, skew.along)
    laid = _upright(polygon, ROUND.index(skew.along))
    room = _room(laid, low + HAIR, low + height - HAIR)
    if room < width - HAIR:
        yield case.fault(
            f"the usable area {size(*case.layout.usable[2:])} does not fit into the sheet, which "
            f"is out of square"
        )


TRUENESS_CHECKS: tuple[LayoutCheck, ...] = (a_true_rectangle,)


def _polygon(skew: Skew) -> shapely.Polygon | None:
    """Return the sheet, its lower left corner at 0, 0, by the cosine rule in its two triangles."""
    one = skew.measured
    try:
        first = _angle(one.foot, one.diagonal, one.right)
        second = first + _angle(one.left, one.diagonal, one.top)
    except ValueError:
        return None
    corners = [
        (0.0, 0.0),
        (float(one.foot), 0.0),
        (one.diagonal * math.cos(first), one.diagonal * math.sin(first)),
        (one.left * math.cos(second), one.left * math.sin(second)),
    ]
    polygon = shapely.Polygon(corners)
    return polygon if polygon.is_valid and polygon.area > 0 else None


def _angle(one: float, other: float, opposite: float) -> float:
    return math.acos((one**2 + other**2 - opposite**2) / (2 * one * other))


def _upright(polygon: shapely.Polygon, edge: int) -> shapely.Polygon:
    """Return the sheet turned so that one of its edges lies along the foot, from 0, 0."""
    (x0, y0), (x1, y1) = list(polygon.exterior.coords)[edge : edge + 2]
    moved = affinity.translate(polygon, -x0, -y0)
    return affinity.rotate(moved, -math.degrees(math.atan2(y1 - y0, x1 - x0)), origin=(0, 0))


def _room(polygon: shapely.Polygon, low: float, high: float) -> float:
    """Return how wide an upright rectangle may be between two heights."""
    left, _, right, _ = polygon.bounds
    lines = [shapely.LineString([(left - 1, y), (right + 1, y)]) for y in (low, high)]
    chords = [polygon.intersection(line) for line in lines]
    if any(chord.is_empty for chord in chords):
        return 0.0
    return float(
        min(chord.bounds[2] for chord in chords) - max(chord.bounds[0] for chord in chords)
    )
