"""Readings at the rulers: running dimensions from one start, never on top of each other.

Source:
    ISO 129-1:2018 for running dimensions that rise from a common origin, each value once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil

from sheetcut.draw.lettering import NOTE, READING, SIZE, width
from sheetcut.draw.primitives import Line, Primitive, Shape, Text
from sheetcut.draw.weights import FINE

ARROW_MM = 2.9  # a triangle between ruler and value
GAP_MM = 1.0
BESIDE_MM = 2.2  # between values in one row
ABOVE_MM = 1.4  # between values in one column
ROW_MM = 1.9
ELBOW_MM = 4.5
ELBOW_DOWN_MM = 2.6
FAR_OFF_MM = 6.0  # further from its mark than this, smaller figures are tried first

HEIGHTS = (READING, 5.0, SIZE, NOTE)
MOST_ROWS = 3


@dataclass(frozen=True, slots=True)
class Reading:
    """A value and where it belongs along its ruler, in mm on the page."""

    text: str
    at: float
    role: str


@dataclass(frozen=True, slots=True)
class Standing:
    """Readings with their places.

    Attributes:
        height_mm: of the figures.
        centres: where each value stands along the ruler, in the order of the readings.
        rows: for each, how many rows away from the ruler.
    """

    height_mm: float
    readings: tuple[Reading, ...]
    centres: tuple[float, ...]
    rows: tuple[int, ...]


def in_rows(readings: Sequence[Reading], low: float, high: float) -> Standing:
    """Return values under a ruler: in one row, moved apart a little, or in two or three rows."""
    ordered = tuple(sorted(readings, key=lambda reading: reading.at))
    straight = (0,) * len(ordered)
    for height in HEIGHTS:
        for most in range(1, MOST_ROWS + 1 if height < READING else MOST_ROWS):
            rows = _rows(ordered, height, most, (low, high))
            if rows is not None:
                return Standing(height, ordered, _clamped(ordered, height, low, high), rows)
            centres = _apart(ordered, height, (low, high))
            shifts = (abs(one.at - centre) for one, centre in zip(ordered, centres, strict=True))
            if most == 1 and max(shifts, default=0) <= FAR_OFF_MM + 1:
                return Standing(height, ordered, centres, straight)
    return Standing(NOTE, ordered, _apart(ordered, NOTE, (low, high)), straight)


def _apart(
    ordered: tuple[Reading, ...], height: float, room: tuple[float, float]
) -> tuple[float, ...]:
    halves = [width(one.text, height, "sans bold") / 2 for one in ordered]
    gaps = [one + other + BESIDE_MM for one, other in pairwise(halves)]
    if not ordered:
        return ()
    return spread([one.at for one in ordered], gaps, room[0] + halves[0], room[1] - halves[-1])


def _rows(
    ordered: tuple[Reading, ...], height: float, most: int, room: tuple[float, float]
) -> tuple[int, ...] | None:
    spans = []
    for one, centre in zip(ordered, _clamped(ordered, height, *room), strict=True):
        half = (width(one.text, height, "sans bold") + BESIDE_MM) / 2
        spans.append((centre - half, centre + half))
    rows: list[int] = []
    for n, (left, right) in enumerate(spans):
        free = (row for row in range(most) if _stands(n, row, rows, spans, ordered))
        row = next(free, None)
        if row is None or right - left > room[1] - room[0]:
            return None
        rows.append(row)
    return tuple(rows)


def _stands(
    n: int,
    row: int,
    rows: list[int],
    spans: list[tuple[float, float]],
    ordered: tuple[Reading, ...],
) -> bool:
    left, right = spans[n]
    for other, its_row in enumerate(rows):
        its_left, its_right = spans[other]
        if row == its_row and left < its_right and its_left < right:
            return False
        # The line that leads down to a lower row must not run through a value above it.
        if row > its_row and its_left < ordered[n].at < its_right:
            return False
        if row < its_row and left < ordered[other].at < right:
            return False
    return True


def _clamped(
    ordered: tuple[Reading, ...], height: float, low: float, high: float
) -> tuple[float, ...]:
    centres = []
    for one in ordered:
        half = width(one.text, height, "sans bold") / 2
        centres.append(min(max(one.at, low + half), high - half))
    return tuple(centres)


def sparse(
    readings: Sequence[Reading], pitch_mm: float, room_mm: float
) -> tuple[list[Reading], list[Reading]]:
    """Return the readings that find room along a ruler, the farthest among them, and the others.

    Args:
        pitch_mm: what one value takes of the room.

    >>> kept, others = sparse([Reading(str(n), n, "") for n in range(5)], 4, 12)
    >>> [one.text for one in kept], [one.text for one in others]
    (['4', '2', '0'], ['3', '1'])
    """
    ordered = sorted(readings, key=lambda reading: reading.at, reverse=True)
    every = max(1, ceil(len(ordered) * pitch_mm / max(room_mm, pitch_mm)))
    others = [one for n, one in enumerate(ordered) if n % every]
    return ordered[::every], others


def unlabelled(readings: Sequence[Reading]) -> Standing:
    """Return readings that have a triangle at the ruler and their value with the steps only."""
    bare = tuple(replace(one, text="") for one in readings)
    return Standing(NOTE, bare, tuple(one.at for one in bare), (0,) * len(bare))


def in_column(readings: Sequence[Reading], low: float, high: float) -> Standing:
    """Return values left of a ruler, moved apart where their marks are too close."""
    ordered = tuple(sorted(readings, key=lambda reading: reading.at))
    marks = [one.at for one in ordered]
    for height in HEIGHTS:
        gaps = [height + ABOVE_MM] * (len(ordered) - 1)
        centres = spread(marks, gaps, low + height / 2, high - height / 2)
        furthest = max((abs(a - b) for a, b in zip(marks, centres, strict=True)), default=0)
        fits = not centres or centres[-1] - centres[0] <= high - low - height
        if height == HEIGHTS[-1] or (fits and furthest <= FAR_OFF_MM):
            break
    return Standing(height, ordered, centres, (0,) * len(ordered))


def spread(
    marks: Sequence[float], gaps: Sequence[float], low: float, high: float
) -> tuple[float, ...]:
    """Return places nearest the marks that keep at least these gaps between neighbours.

    Neighbours that are too close share out the shift, so that none moves far.

    >>> spread([0, 1, 10], [3, 3], -5, 15)
    (-1.0, 2.0, 10.0)
    """
    offsets = [0.0]
    for gap in gaps:
        offsets.append(offsets[-1] + gap)
    groups: list[list[float]] = []
    for mark, offset in zip(marks, offsets, strict=False):
        groups.append([mark - offset])
        while len(groups) > 1 and _mean(groups[-2]) >= _mean(groups[-1]):
            last = groups.pop()
            groups[-1] += last
    bases = [_mean(group) for group in groups for _ in group]
    if bases:
        bases = [max(base, low) for base in bases]
        bases = [min(base, high - offsets[len(bases) - 1]) for base in bases]
    return tuple(float(base + offset) for base, offset in zip(bases, offsets, strict=False))


def _mean(values: list[float]) -> float:
    return sum(values) / len(values)


def under(standing: Standing, ruler_foot: float) -> list[Primitive]:
    """Return the values under a ruler, each with its triangle and, further down, its line."""
    items: list[Primitive] = []
    height = standing.height_mm
    arrow = min(ARROW_MM, height * 0.6)
    furthest = max(
        (abs(a.at - b) for a, b in zip(standing.readings, standing.centres, strict=True)), default=0
    )
    elbow = ELBOW_DOWN_MM if furthest > 2 and not any(standing.rows) else 0.0
    for one, centre, row in zip(standing.readings, standing.centres, standing.rows, strict=True):
        tip, top = ruler_foot + 0.3, ruler_foot + 0.3 + arrow
        half = arrow * 0.55
        items.append(Shape(((one.at, tip), (one.at + half, top), (one.at - half, top)), "black"))
        if not one.text:
            continue
        head = top + GAP_MM + row * (height + ROW_MM) + elbow
        if row or elbow:
            items.append(Line(((one.at, top), (centre, head - 0.5)), FINE))
        at = (centre, head + height)
        items.append(Text(one.text, at, height, "sans bold", "middle", role=one.role))
    return items


def beside(standing: Standing, ruler_left: float) -> list[Primitive]:
    """Return the values left of a ruler, each with its triangle and, where moved, an elbow."""
    items: list[Primitive] = []
    height = standing.height_mm
    arrow = min(ARROW_MM, height * 0.6)
    moved_off = any(
        abs(one.at - centre) > 0.3
        for one, centre in zip(standing.readings, standing.centres, strict=True)
    )
    for one, centre in zip(standing.readings, standing.centres, strict=True):
        tip, back = ruler_left - 0.3, ruler_left - 0.3 - arrow
        half = arrow * 0.55
        items.append(Shape(((tip, one.at), (back, one.at - half), (back, one.at + half)), "black"))
        if not one.text:
            continue
        right = back - GAP_MM
        if moved_off:
            right -= ELBOW_MM
            elbow = ((back, one.at), (right + 0.9, centre))
            items.append(Line(elbow, FINE))
        at = (right, centre + height / 2)
        items.append(Text(one.text, at, height, "sans bold", "end", role=one.role))
    return items
