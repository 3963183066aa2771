"""What has no room where it belongs stands near by, and a thin line leads back to its place."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

import numpy as np
from numpy.typing import NDArray

from sheetcut.draw.place import EDGE, Box, Taken, grown
from sheetcut.draw.primitives import Dots, Line, Point, Primitive
from sheetcut.draw.weights import LEADER

NEAREST_MM, FURTHEST_MM, STEP_MM = 3.0, 40.0, 1.0
DIRECTIONS = 16
DOT_MM = 0.45
CLEAR_MM = 0.35
AT_TARGET_MM = 2.2

Boxes = NDArray[np.float64]
"""Boxes as rows: left, top, right, foot."""


def spot_near(
    target: Point, size: tuple[float, float], taken: Taken, lines: Taken, within: Box
) -> Box | None:
    """Return the nearest room for a box of some size, clear of words and best clear of lines."""
    around = grown((*target, *target), FURTHEST_MM + max(size))
    words, rules = _array(taken.near(around).boxes), _array(lines.near(around).boxes)
    spots = _spots(target, size)
    inside = _inside(within, spots)
    # What stands at the target itself, such as the cut's own tag, has to be crossed.
    crossed = words[~_meet(_array([grown((*target, *target), AT_TARGET_MM)]), words)[0]]
    free = inside & ~_meet(_array_grown(spots, CLEAR_MM), words).any(axis=1)
    clear = free & ~_meet(spots, rules).any(axis=1)
    for number in (*np.flatnonzero(clear), *np.flatnonzero(free & ~clear)):
        spot: Box = tuple(spots[number].tolist())
        if _leads_clear(spot, target, crossed):
            return spot
    return None


def _ring() -> Boxes:
    """Return where middles are tried about a target, the nearest first."""
    # Below and to the right first: there a blank is emptiest.
    turns = 2 * np.pi * np.arange(DIRECTIONS) / DIRECTIONS + np.pi / 4
    radii = np.arange(NEAREST_MM, FURTHEST_MM + STEP_MM / 2, STEP_MM)
    offsets = np.stack([np.outer(radii, np.cos(turns)), np.outer(radii, np.sin(turns))], axis=-1)
    return np.asarray(offsets.reshape(-1, 2))


OFFSETS = _ring()


def _spots(target: Point, size: tuple[float, float]) -> Boxes:
    half = np.array(size) / 2
    middles = OFFSETS + np.array(target)
    return np.asarray(np.concatenate([middles - half, middles + half], axis=1))


def _array(boxes: Sequence[Box]) -> Boxes:
    return np.array(boxes, dtype=float).reshape(-1, 4)


def _array_grown(boxes: Boxes, by: float) -> Boxes:
    return np.asarray(boxes + np.array([-by, -by, by, by]))


def _meet(ones: Boxes, others: Boxes) -> NDArray[np.bool_]:
    """Return for each of some boxes and each of others whether they share room."""
    one, other = ones[:, None, :], others[None, :, :]
    return np.asarray(
        (other[..., 0] < one[..., 2] - EDGE)
        & (one[..., 0] + EDGE < other[..., 2])
        & (other[..., 1] < one[..., 3] - EDGE)
        & (one[..., 1] + EDGE < other[..., 3])
    )


def _inside(outer: Box, spots: Boxes) -> NDArray[np.bool_]:
    left, top, right, foot = outer
    return np.asarray(
        (left <= spots[:, 0])
        & (top <= spots[:, 1])
        & (spots[:, 2] <= right)
        & (spots[:, 3] <= foot)
    )


def _leads_clear(spot: Box, target: Point, crossed: Boxes) -> bool:
    """Whether the line back to the target crosses no words."""
    start = _nearest(spot, target)
    steps = int(hypot(target[0] - start[0], target[1] - start[1]))
    if not steps or not len(crossed):
        return True
    parts = ((np.arange(steps) + 0.5) / steps)[:, None]
    points = np.array(start) + (np.array(target) - np.array(start)) * parts
    return not _meet(np.concatenate([points - 0.1, points + 0.1], axis=1), crossed).any()


def leader(spot: Box, target: Point) -> list[Primitive]:
    """Return the line from a box that was moved out to the dot where it belongs."""
    return [Line((_nearest(spot, target), target), LEADER), Dots((target,), DOT_MM)]


def _nearest(spot: Box, target: Point) -> Point:
    return min(max(target[0], spot[0]), spot[2]), min(max(target[1], spot[1]), spot[3])
