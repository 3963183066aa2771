"""Marks that can be made on the whole sheet before the first cut, all from the start edges."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from sheetcut.job import Edge
from sheetcut.layout import Axis, Cut, Layout, Placement, Squaring
from sheetcut.units import TICKS_PER_MM, Edges, Length

LONGEST_WITH_TWO: Length = 500 * TICKS_PER_MM
"""A longer cut gets a third mark in its middle: it proves the other two.

Source:
    "Cutting paper with a scalpel 2", limetreesstudio, 2013.
"""

FLIPPED: dict[Edge, Edge] = {"left": "right", "right": "left", "top": "top", "foot": "foot"}


@dataclass(frozen=True, slots=True)
class Mark:
    """The marks of one cut, as they are measured on the whole sheet.

    Attributes:
        number: of the cut.
        along: the axis ``at`` is measured along, from the start edge across it.
        at: what the ruler shows at each of its marks.
        ends: where its two end marks stand, measured from the other start edge.
        middle: where a third one stands; None where the cut is short.
        edge, reading: how its step measures it instead, from the piece in hand.
        why_not: why it cannot be marked beforehand; empty where it can.
    """

    number: int
    along: Axis
    at: Length
    ends: tuple[Length, Length]
    middle: Length | None
    edge: Literal["start"] | int
    reading: Length
    why_not: str = ""


def marks(
    layout: Layout, *, step: Length = TICKS_PER_MM, ruler: Length | None = None
) -> tuple[Mark, ...]:
    """Return the marks of every cut, in the order of cutting.

    They can be made once the start edges are true. Marks stand at each cut's own ends, never
    beyond them, where they would lie in a blank. A cut that its step measures from a fresh
    edge is marked from the start edge too, so nothing creeps.

    Args:
        step: what the ruler is read to.
        ruler: the longest ruler, if known; what it does not reach cannot be marked.
    """
    return tuple(_mark(layout, cut, step, ruler) for cut in layout.cuts)


def _mark(layout: Layout, cut: Cut, step: Length, ruler: Length | None) -> Mark:
    across: Axis = "y" if cut.along == "x" else "x"
    at = from_start(layout, cut.along, cut.at)
    one, other = (from_start(layout, across, end) for end in (cut.start, cut.stop))
    ends = min(one, other), max(one, other)
    middle = None
    if ends[1] - ends[0] > LONGEST_WITH_TWO:
        middle = (ends[0] + ends[1]) // 2 // step * step
    why_not = ""
    if ruler is not None and at > ruler:
        why_not = "farther from the start edge than the ruler reaches"
    elif at % step:
        why_not = "between two marks of the ruler, from the start edge"
    return Mark(cut.number, cut.along, at, ends, middle, cut.edge, cut.reading, why_not)


def from_start(layout: Layout, along: Axis, at: Length) -> Length:
    """Return how far a place in the usable area is from the start edge across an axis."""
    if along == "x":
        return at if layout.start[0] == "left" else layout.usable[2] - at
    return at if layout.start[1] == "foot" else layout.usable[3] - at


def mirrored(layout: Layout) -> Layout:
    """Return a layout as it lies when the sheet is turned over, right for left.

    For marking on the back: the start corner changes sides with everything else, so the
    marks keep their readings.
    """
    x, y, width, height = layout.usable
    return replace(
        layout,
        start=("right" if layout.start[0] == "left" else "left", layout.start[1]),
        usable=(layout.width - x - width, y, width, height),
        squaring=tuple(
            Squaring(one.number, FLIPPED[one.edge], one.reading) for one in layout.squaring
        ),
        placements=tuple(_turned_over(one, width) for one in layout.placements),
        cuts=tuple(_cut_turned_over(cut, width) for cut in layout.cuts),
        keepers=tuple(
            replace(keeper, x=width - keeper.x - keeper.width) for keeper in layout.keepers
        ),
        leftovers=tuple(
            (width - left - wide, foot, wide, high) for left, foot, wide, high in layout.leftovers
        ),
    )


def _turned_over(one: Placement, width: Length) -> Placement:
    left, right, top, foot = one.leave_on
    return replace(
        one, x=width - one.x - one.width, leave_on=Edges(left=right, right=left, top=top, foot=foot)
    )


def _cut_turned_over(cut: Cut, width: Length) -> Cut:
    if cut.along == "x":
        return replace(cut, at=width - cut.at)
    return replace(cut, start=width - cut.stop, stop=width - cut.start)
