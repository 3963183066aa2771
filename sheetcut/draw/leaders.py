"""What has no room where it belongs stands near by, and a thin line leads back to its place."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, hypot, pi, sin

from sheetcut.draw.place import Box, Taken, grown, overlap
from sheetcut.draw.primitives import Dots, Line, Point, Primitive
from sheetcut.draw.weights import LEADER

NEAREST_MM, FURTHEST_MM, STEP_MM = 3.0, 40.0, 1.0
DIRECTIONS = 16
DOT_MM = 0.45
CLEAR_MM = 0.35
AT_TARGET_MM = 2.2


def spot_near(
    target: Point, size: tuple[float, float], taken: Taken, lines: Taken, within: Box
) -> Box | None:
    """Return the nearest room for a box of some size, clear of words and best clear of lines."""
    reach = FURTHEST_MM + max(size)
    around = grown((*target, *target), reach)
    taken, lines = taken.near(around), lines.near(around)
    return next(_free(target, size, taken, lines, within), None) or next(
        _free(target, size, taken, Taken(), within), None
    )


def _free(
    target: Point, size: tuple[float, float], taken: Taken, lines: Taken, within: Box
) -> Iterator[Box]:
    wide, high = size
    # What stands at the target itself, such as the cut's own tag, has to be crossed.
    at_target = grown((*target, *target), AT_TARGET_MM)
    crossed = Taken(other for other in taken.boxes if not overlap(other, at_target))
    radius = NEAREST_MM
    while radius <= FURTHEST_MM:
        for n in range(DIRECTIONS):
            # Below and to the right first: there a blank is emptiest.
            turn = 2 * pi * (n / DIRECTIONS) + pi / 4
            x, y = target[0] + radius * cos(turn), target[1] + radius * sin(turn)
            spot = (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
            if (
                _holds(within, spot)
                and taken.is_free(grown(spot, CLEAR_MM))
                and lines.is_free(spot)
                and _leads_clear(spot, target, crossed)
            ):
                yield spot
        radius += STEP_MM


def _holds(outer: Box, inner: Box) -> bool:
    return (
        outer[0] <= inner[0]
        and outer[1] <= inner[1]
        and inner[2] <= outer[2]
        and inner[3] <= outer[3]
    )


def _leads_clear(spot: Box, target: Point, crossed: Taken) -> bool:
    """Whether the line back to the target crosses no words."""
    start = _nearest(spot, target)
    steps = int(hypot(target[0] - start[0], target[1] - start[1]))
    for n in range(steps):
        part = (n + 0.5) / steps
        x = start[0] + (target[0] - start[0]) * part
        y = start[1] + (target[1] - start[1]) * part
        if not crossed.is_free((x - 0.1, y - 0.1, x + 0.1, y + 0.1)):
            return False
    return True


def leader(spot: Box, target: Point) -> list[Primitive]:
    """Return the line from a box that was moved out to the dot where it belongs."""
    return [Line((_nearest(spot, target), target), LEADER), Dots((target,), DOT_MM)]


def _nearest(spot: Box, target: Point) -> Point:
    return min(max(target[0], spot[0]), spot[2]), min(max(target[1], spot[1]), spot[3])
