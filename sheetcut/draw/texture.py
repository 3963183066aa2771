"""What paper looks like to an engraver: deckles, stipple and fibres; nothing is left to chance."""

from __future__ import annotations

from math import ceil, pi, sin

from sheetcut.draw.place import Box, overlap
from sheetcut.draw.primitives import Dots, Line, Point
from sheetcut.draw.weights import DECKLE, FIBRE

STIPPLE_MM = 1.75  # between dots of a row
DOT_MM = 0.14
WAVE_STEP_MM = 0.8
FADE_MM = 2.5  # a deckle runs out to nothing at its ends, so that corners meet

WAVES = ((2.1, 0.5), (0.83, 0.3), (5.3, 0.45), (1.31, 0.22))
"""Wave lengths in mm that share no measure, and their parts of the whole."""


def deckle(start: Point, stop: Point, swing_mm: float) -> Line:
    """Return a torn-looking edge between two points, never further off than the swing."""
    (x0, y0), (x1, y1) = start, stop
    run = abs(x1 - x0) + abs(y1 - y0)
    steps = max(2, ceil(run / WAVE_STEP_MM))
    points = []
    for n in range(steps + 1):
        along = run * n / steps
        off = swing_mm * _wave(along + x0 * 0.37 + y1 * 0.73) * _fade(along, run)
        x, y = x0 + (x1 - x0) * n / steps, y0 + (y1 - y0) * n / steps
        points.append((x + off, y) if x0 == x1 else (x, y + off))
    return Line(tuple(points), DECKLE)


def _wave(along: float) -> float:
    total = sum(part for _, part in WAVES)
    return sum(part * sin(2 * pi * along / length) for length, part in WAVES) / total


def _fade(along: float, run: float) -> float:
    return min(1.0, along / FADE_MM, (run - along) / FADE_MM)


def stipple(box: Box, spared: tuple[Box, ...] = ()) -> Dots:
    """Return dots in staggered rows that fill a box, leaving out the boxes spared for words."""
    left, top, right, foot = box
    columns = max(1, round((right - left) / STIPPLE_MM))
    rows = max(1, round((foot - top) / (STIPPLE_MM * 0.75)))
    across, down = (right - left) / columns, (foot - top) / rows
    dots = []
    for row in range(rows):
        y = top + down * (row + 0.5)
        for column in range(columns):
            x = left + across * (column + (0.25 if row % 2 else 0.75))
            if not any(overlap((x, y, x, y), _open(spare)) for spare in spared):
                dots.append((x, y))
    return Dots(tuple(dots), DOT_MM)


def _open(box: Box) -> Box:
    pad = 0.5
    return box[0] - pad, box[1] - pad, box[2] + pad, box[3] + pad


def fibres(box: Box, *, upright: bool) -> tuple[Line, ...]:
    """Return three fibres that lie in a box, along its height or along its width."""
    left, top, right, foot = box
    return tuple(_fibre(n, left, top, right, foot, upright=upright) for n in range(3))


def _fibre(n: int, left: float, top: float, right: float, foot: float, *, upright: bool) -> Line:
    steps = 14
    lead, lag = (0.0, 0.1, 0.03)[n], (0.12, 0.0, 0.07)[n]
    points = []
    for step in range(steps + 1):
        part = lead + (1 - lead - lag) * step / steps
        bend = 0.12 * sin(2 * pi * (part * 0.9 + n * 0.05))
        across = (n + 0.5) / 3 + bend
        if upright:
            points.append((left + (right - left) * across, top + (foot - top) * part))
        else:
            points.append((left + (right - left) * part, top + (foot - top) * across))
    return Line(tuple(points), FIBRE)
