"""A drawing is lines, shapes, dots and words on a page, in millimetres from its top left corner.

Every writer (SVG today) needs to know these four and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

Point = tuple[float, float]
Fill = Literal["none", "paper", "black"]
Anchor = Literal["start", "middle", "end"]
Face = Literal["sans", "sans bold", "serif", "serif italic"]


@dataclass(frozen=True, slots=True)
class Page:
    """A size of paper that a printer takes."""

    name: str
    width_mm: float
    height_mm: float


A4 = Page("A4", 210, 297)  # ISO 216:2007
A3 = Page("A3", 297, 420)
LETTER = Page("Letter", 215.9, 279.4)  # ASME Y14.1: 8 1/2 x 11 in


@dataclass(frozen=True, slots=True)
class Line:
    """An open run of straight strokes.

    Attributes:
        weight_mm: how wide the pen is.
        dashes: lengths drawn and left out by turns; empty for a full line.
    """

    points: tuple[Point, ...]
    weight_mm: float
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed outline: a rectangle or any other polygon.

    Attributes:
        fill: nothing, the white of the paper (which hides what was drawn before), or black.
        weight_mm: how wide the pen is; 0 leaves the outline out.
    """

    points: tuple[Point, ...]
    fill: Fill = "none"
    weight_mm: float = 0.0
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Dots:
    """Equal circles: a stipple when black, an origin mark when left open."""

    centres: tuple[Point, ...]
    radius_mm: float
    fill: Fill = "black"
    weight_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering.

    Attributes:
        at: the point on the baseline that ``anchor`` speaks of.
        height_mm: of its capitals and figures, from the series of ISO 3098.
        angle: 90 reads from the right, as ISO 129-1 wants upright values.
        spacing_mm: added after every letter.
        role: what it is for, such as "cut-7"; empty for ordinary words.
    """

    text: str
    at: Point
    height_mm: float
    face: Face = "sans"
    anchor: Anchor = "start"
    angle: Literal[0, 90] = 0
    spacing_mm: float = 0.0
    role: str = ""


Primitive = Line | Shape | Dots | Text


@dataclass(frozen=True, slots=True)
class Drawing:
    """One page, its primitives in the order they are inked."""

    page: Page
    title: str
    items: tuple[Primitive, ...]


def rectangle(
    left: float,
    top: float,
    width: float,
    height: float,
    *,
    fill: Fill = "none",
    weight_mm: float = 0.0,
    dashes: tuple[float, ...] = (),
) -> Shape:
    """Return an upright rectangle given by its top left corner on the page."""
    right, foot = left + width, top + height
    corners = ((left, top), (right, top), (right, foot), (left, foot))
    return Shape(corners, fill, weight_mm, dashes)


def extent(points: Iterable[Point]) -> tuple[float, float, float, float]:
    """Return left, top, right and foot of what the points span."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def moved(item: Primitive, right: float, down: float) -> Primitive:
    """Return a primitive in another place on the page."""
    match item:
        case Text():
            return replace(item, at=(item.at[0] + right, item.at[1] + down))
        case Dots():
            centres = tuple((x + right, y + down) for x, y in item.centres)
            return replace(item, centres=centres)
    return replace(item, points=tuple((x + right, y + down) for x, y in item.points))
