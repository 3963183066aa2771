"""The cuts made again, one after the other, on polygons: what lies on the table at the end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from shapely.ops import split

from sheetcut.check.case import LayoutCase, LayoutCheck, in_words, named, place, size
from sheetcut.errors import Fault
from sheetcut.job import reading_step
from sheetcut.layout import Axis, Cut, Rectangle
from sheetcut.units import Length, in_mm

SOME_INTERIOR = "T********"  # in the nine relations: the two interiors meet


@dataclass(frozen=True, slots=True)
class OnTable:
    """A piece of paper on the table.

    Attributes:
        left, foot, right, top: which cut made that edge; 0 for an edge of the usable area.
        level: how many changes of direction made it.
        along: the direction of the last of them; None while the usable area is whole.
    """

    shape: shapely.Polygon
    left: int = 0
    foot: int = 0
    right: int = 0
    top: int = 0
    level: int = 0
    along: Axis | None = None

    @property
    def rectangle(self) -> Rectangle:
        """x, y, width and height in ticks, which polygons of this size hold exactly."""
        left, foot, right, top = map(round, self.shape.bounds)
        return left, foot, right - left, top - foot

    def ends(self, axis: Axis) -> tuple[Length, Length]:
        """From where to where it reaches along an axis."""
        x, y, width, height = self.rectangle
        return (x, x + width) if axis == "x" else (y, y + height)


def cuts_give_the_blanks(case: LayoutCase) -> Iterator[Fault]:
    """Made in order, each cut parts one piece, and at the end every blank is one of them."""
    table = [OnTable(shapely.box(0, 0, *case.layout.usable[2:]))]
    for cut in case.layout.cuts:
        parted, trouble = _parted(cut, table)
        if parted is None:
            yield case.fault(f"{_called(cut)} {trouble}; what comes after it was not looked at")
            return
        yield from _reading_faults(case, cut, table[parted])
        table[parted : parted + 1] = _halves(cut, table[parted])
    yield from _end_faults(case, table)


def settings_line_up(case: LayoutCase) -> Iterator[Fault]:
    """Cuts of one ruler setting follow each other, in one line and with one reading."""
    last: Cut | None = None
    for cut in case.layout.cuts:
        same = last is not None and cut.setting == last.setting
        following = (last.setting if last else 0) + 1
        if not same and cut.setting != following:
            yield case.fault(
                f"{_called(cut)} has the ruler setting {cut.setting}; the next one is {following}"
            )
        if last is not None and same and _ruler(cut) != _ruler(last):
            yield case.fault(
                f"{_called(cut)} and {_called(last)} share ruler setting {cut.setting} "
                f"and do not line up with one reading"
            )
        last = cut


def whole_readings(case: LayoutCase) -> Iterator[Fault]:
    """Every reading is a whole number of steps of the ruler."""
    step = reading_step(case.plan.job, case.paper.paper)
    for cut in case.layout.cuts:
        if cut.reading % step:
            yield case.fault(
                f"{_called(cut)} has the reading {in_words(cut.reading)}, which falls between "
                f"the marks of a ruler read to {in_words(step)}"
            )


KNIFE_CHECKS: tuple[LayoutCheck, ...] = (cuts_give_the_blanks, settings_line_up, whole_readings)


def _called(cut: Cut) -> str:
    return f"cut {cut.number} at {cut.along} {in_mm(cut.at):f} mm"


def _ruler(cut: Cut) -> tuple[Axis, Length, Length]:
    return cut.along, cut.at, cut.reading


def _line(cut: Cut) -> shapely.LineString:
    if cut.along == "x":
        return shapely.LineString([(cut.at, cut.start), (cut.at, cut.stop)])
    return shapely.LineString([(cut.start, cut.at), (cut.stop, cut.at)])


def _parted(cut: Cut, table: list[OnTable]) -> tuple[int | None, str]:
    """Return which piece a cut parts from edge to edge; or None, and why there is none."""
    line = _line(cut)
    shapes = np.array([piece.shape for piece in table])
    near = np.flatnonzero(shapely.intersects(shapes, line))
    through = near[shapely.relate_pattern(shapes[near], line, SOME_INTERIOR)]
    if len(through) == 0:
        return None, "runs through no piece on the table"
    if len(through) > 1:
        return None, f"runs through {len(through)} pieces on the table at once"
    piece = table[through[0]]
    start, stop = piece.ends("y" if cut.along == "x" else "x")
    if not (piece.shape.covers(line) and (cut.start, cut.stop) == (start, stop)):
        return None, (
            f"runs from {in_mm(cut.start):f} to {in_mm(cut.stop):f} mm and not edge to edge; "
            f"the piece in hand reaches from {in_mm(start):f} to {in_mm(stop):f} mm"
        )
    return int(through[0]), ""


def _halves(cut: Cut, piece: OnTable) -> tuple[OnTable, OnTable]:
    """Return the two pieces a cut makes, the one nearer to the lower left corner first."""
    one, other = sorted(split(piece.shape, _line(cut)).geoms, key=lambda half: half.bounds)
    level = piece.level + (cut.along != piece.along)
    sides = piece.left, piece.foot, piece.right, piece.top
    left, foot, right, top = sides
    if cut.along == "x":
        return (
            OnTable(one, left, foot, cut.number, top, level, cut.along),
            OnTable(other, cut.number, foot, right, top, level, cut.along),
        )
    return (
        OnTable(one, left, foot, right, cut.number, level, cut.along),
        OnTable(other, left, cut.number, right, top, level, cut.along),
    )


def _reading_faults(case: LayoutCase, cut: Cut, piece: OnTable) -> Iterator[Fault]:
    """Yield what a cut says of itself and the piece in hand does not bear out."""
    near, far = piece.ends(cut.along)
    facing = case.layout.start[0 if cut.along == "x" else 1]
    maker = {"left": piece.left, "right": piece.right, "foot": piece.foot, "top": piece.top}[facing]
    reading = cut.at - near if facing in ("left", "foot") else far - cut.at
    edge: Literal["start"] | int = maker or "start"
    if cut.edge != edge:
        yield case.fault(
            f"{_called(cut)} is measured from {_edge(cut.edge)}; the piece in hand has "
            f"{_edge(edge)} on that side"
        )
    if cut.reading != reading:
        yield case.fault(
            f"{_called(cut)} has the reading {in_words(cut.reading)}; from {_edge(edge)} "
            f"it is {in_words(reading)}"
        )
    level = piece.level + (cut.along != piece.along)
    if cut.level != level:
        yield case.fault(f"{_called(cut)} is given as level {cut.level}; it is level {level}")


def _edge(edge: Literal["start"] | int) -> str:
    return "the start edge" if edge == "start" else f"the edge made by cut {edge}"


def _end_faults(case: LayoutCase, table: list[OnTable]) -> Iterator[Fault]:
    """Yield blanks that are not one piece on the table, and leftovers that are not as said."""
    left = {piece.rectangle for piece in table if piece.shape.area == piece.shape.envelope.area}
    for placement in case.layout.placements:
        blank = placement.x, placement.y, placement.width, placement.height
        if blank in left:
            left.remove(blank)
        else:
            yield case.fault(
                f"{named(case.piece(placement), placement)}, {size(*blank[2:])}, is none of the "
                "pieces that are left when all cuts are made"
            )
    for x, y, width, height in case.layout.leftovers:
        if (x, y, width, height) in left:
            left.remove((x, y, width, height))
        else:
            yield case.fault(
                f"the leftover {size(width, height)} at {place(x, y)} is none of the pieces "
                "that are left when all cuts are made"
            )
    for x, y, width, height in sorted(left):
        yield case.fault(
            f"a piece of {size(width, height)} at {place(x, y)} is left when all cuts are made, "
            "and is neither a blank nor a leftover"
        )
