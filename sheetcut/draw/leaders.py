"""What has no room where it belongs stands near by, and a thin line leads back to its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

import numpy as np
from numpy.typing import NDArray

from sheetcut.draw.place import EDGE, Box, Boxes, Taken, grown
from sheetcut.draw.primitives import Dots, Line, Point, Primitive
from sheetcut.draw.weights import LEADER

NEAREST_MM, FURTHEST_MM, STEP_MM = 3.0, 40.0, 1.0
DIRECTIONS = 16
DOT_MM = 0.45
CLEAR_MM = 0.35
AT_TARGET_MM = 2.2
AT_ONCE = 4 * DIRECTIONS  # spots looked at before those further off
LEADS_WIDE_MM = 0.1  # to each side
CROWDED = 100  # words without room on one drawing, after which none is looked for any more


def spot_near(
    target: Point, size: tuple[float, float], taken: Taken, lines: Taken, within: Box
) -> Box | None:
    """Return the nearest room for a box of some size, clear of words and best clear of lines.

    On a drawing so crowded that many words stand on others already, there is none.
    """
    if taken.clashes >= CROWDED:
        return None
    around = grown((*target, *target), FURTHEST_MM + max(size))
    words, rules = taken.rows_near(around), lines.rows_near(around)
    # What stands at the target itself, such as the cut's own tag, has to be crossed.
    crossed = words[~_meet(_array([grown((*target, *target), AT_TARGET_MM)]), words)[0]]
    spots = _spots(target, size)
    on_lines = []
    for start in range(0, len(spots), AT_ONCE):
        some = _free(spots[start : start + AT_ONCE], words, within)
        struck = _meet(some, _reaching(rules, some)).any(axis=1)
        for spot in _leading_clear(some[~struck], target, crossed):
            return spot
        on_lines.append(some[struck])
    return next(_leading_clear(np.concatenate(on_lines), target, crossed), None)


def _free(spots: Boxes, words: Boxes, within: Box) -> Boxes:
    """Return the spots that lie within a box and are clear of words."""
    inside = spots[_inside(within, spots)]
    wide = _array_grown(inside, CLEAR_MM)
    return np.asarray(inside[~_meet(wide, _reaching(words, wide)).any(axis=1)])


def _reaching(boxes: Boxes, spots: Boxes) -> Boxes:
    """Return the boxes that reach into the rectangle about all spots, the only ones to meet any."""
    if not len(spots):
        return boxes[:0]
    around = np.concatenate([spots[:, :2].min(axis=0), spots[:, 2:].max(axis=0)])
    return np.asarray(boxes[_meet(around[None], boxes)[0]])


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
    left, top, right, foot = ones.T[:, :, None]
    lefts, tops, rights, feet = np.ascontiguousarray(others.T)
    return np.asarray(
        (lefts < right - EDGE) & (left + EDGE < rights) & (tops < foot - EDGE) & (top + EDGE < feet)
    )


def _inside(outer: Box, spots: Boxes) -> NDArray[np.bool_]:
    left, top, right, foot = outer
    return np.asarray(
        (left <= spots[:, 0])
        & (top <= spots[:, 1])
        & (spots[:, 2] <= right)
        & (spots[:, 3] <= foot)
    )


def _leading_clear(spots: Boxes, target: Point, crossed: Boxes) -> Iterator[Box]:
    """Yield the spots whose line back to the target crosses no words, in their order."""
    if not len(spots):
        return
    end = np.array(target)
    starts = np.minimum(np.maximum(end, spots[:, :2]), spots[:, 2:])
    about = np.concatenate([np.minimum(starts, end), np.maximum(starts, end)], axis=1)
    # A hair wider than the line, so that rounding leaves out no words.
    met = _meet(_array_grown(about, 2 * LEADS_WIDE_MM), crossed)
    for spot, near in zip(spots, met, strict=True):
        box: Box = tuple(spot.tolist())
        if _leads_clear(box, target, crossed[near]):
            yield box


def _leads_clear(spot: Box, target: Point, crossed: Boxes) -> bool:
    """Whether the line back to the target crosses no words."""
    if not len(crossed):
        return True
    start = _nearest(spot, target)
    steps = int(hypot(target[0] - start[0], target[1] - start[1]))
    if not steps:
        return True
    parts = ((np.arange(steps) + 0.5) / steps)[:, None]
    points = np.array(start) + (np.array(target) - np.array(start)) * parts
    on_way = np.concatenate([points - LEADS_WIDE_MM, points + LEADS_WIDE_MM], axis=1)
    return not _meet(on_way, crossed).any()


def leader(spot: Box, target: Point) -> list[Primitive]:
    """Return the line from a box that was moved out to the dot where it belongs."""
    return [Line((_nearest(spot, target), target), LEADER), Dots((target,), DOT_MM)]


def _nearest(spot: Box, target: Point) -> Point:
    return min(max(target[0], spot[0]), spot[2]), min(max(target[1], spot[1]), spot[3])
