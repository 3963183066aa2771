"""The two rulers, drawn like an engraved steel rule lying along the start edges."""

from __future__ import annotations

from dataclasses import dataclass

from sheetcut.draw.lettering import NOTE, width
from sheetcut.draw.place import Place
from sheetcut.draw.primitives import Line, Primitive, Text, rectangle
from sheetcut.draw.weights import ENGRAVED, ENGRAVED_FINEST, FINE
from sheetcut.units import TICKS_PER_INCH, TICKS_PER_MM, Length

DEPTH_MM = 8.2

CLEAR_MM = 0.78  # marks closer than this run together on an office printer (our measure)

MM_STEPS = (1, 5, 10, 50, 100, 500, 1000)
INCH_SIXTEENTHS = (1, 2, 4, 8, 16, 16 * 5, 16 * 10)
MARK_MM = (1.3, 1.9, 2.5, 3.4, 4.2, 4.2)
"""Lengths of the marks, finest first, of those that can be drawn."""


@dataclass(frozen=True, slots=True)
class Graduation:
    """How a ruler is marked at one scale: all steps in ticks, finest first.

    Attributes:
        steps: each a whole number of the ones before.
        numbered: the step that carries figures.
        per_figure: what one stands for in the figures.
    """

    steps: tuple[Length, ...]
    numbered: Length
    per_figure: Length

    def mark_mm(self, at: Length) -> float:
        """Return how long the mark at a distance from the start is."""
        rank = max(n for n, step in enumerate(self.steps) if at % step == 0)
        return MARK_MM[min(rank, len(MARK_MM) - 1)]


def graduation(n: int, *, inches: bool) -> Graduation:
    """Return the marks that can be told apart at 1:n."""
    unit = TICKS_PER_INCH // 16 if inches else TICKS_PER_MM
    all_steps = tuple(unit * step for step in (INCH_SIXTEENTHS if inches else MM_STEPS))
    steps = tuple(step for step in all_steps if step / TICKS_PER_MM / n >= CLEAR_MM)
    per_figure = TICKS_PER_INCH if inches else TICKS_PER_MM
    round_steps = [TICKS_PER_INCH * k for k in (1, 2, 5, 10)]
    if not inches:
        round_steps = [TICKS_PER_MM * k for k in (10, 20, 50, 100, 200, 500)]
    room = 6.0 if inches else 9.0
    numbered = next((s for s in round_steps if s / TICKS_PER_MM / n >= room), round_steps[-1])
    return Graduation(steps, numbered, per_figure)


def foot_ruler(place: Place, top: float, length: Length, *, inches: bool) -> list[Primitive]:
    """Return the ruler under the sheet; its marks stand at its upper edge."""
    marks = graduation(place.n, inches=inches)
    left, right = place.x(0), place.x(length)
    items: list[Primitive] = [rectangle(left, top, right - left, DEPTH_MM, weight_mm=FINE)]
    for at in range(0, length + 1, marks.steps[0]):
        x, long = place.x(at), marks.mark_mm(at)
        items.append(Line(((x, top), (x, top + long)), _pen(at, marks)))
        figure = _figure(at, marks)
        if (
            figure
            and left + 1 < x - width(figure, NOTE) / 2
            and x + width(figure, NOTE) / 2 < right
        ):
            items.append(Text(figure, (x, top + DEPTH_MM - 1.1), NOTE, anchor="middle"))
    return items


def left_ruler(place: Place, right: float, length: Length, *, inches: bool) -> list[Primitive]:
    """Return the ruler left of the sheet; its marks stand at its right edge."""
    marks = graduation(place.n, inches=inches)
    foot, top = place.y(0), place.y(length)
    frame = rectangle(right - DEPTH_MM, top, DEPTH_MM, foot - top, weight_mm=FINE)
    items: list[Primitive] = [frame]
    for at in range(0, length + 1, marks.steps[0]):
        y, long = place.y(at), marks.mark_mm(at)
        items.append(Line(((right - long, y), (right, y)), _pen(at, marks)))
        figure = _figure(at, marks)
        half = width(figure, NOTE) / 2
        if figure and y + half < foot - 1 and y - half > top:
            where = (right - DEPTH_MM + 1.1 + NOTE, y)
            items.append(Text(figure, (where[0], where[1] + half), NOTE, angle=90))
    return items


def _pen(at: Length, marks: Graduation) -> float:
    is_coarse = len(marks.steps) < 2 or at % marks.steps[1] == 0
    return ENGRAVED if is_coarse else ENGRAVED_FINEST


def _figure(at: Length, marks: Graduation) -> str:
    if at == 0 or at % marks.numbered:
        return ""
    return str(at // marks.per_figure)
