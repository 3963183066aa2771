"""Readings that stand inside the sheet, and the arrows from the fresh edges they are taken from."""

from __future__ import annotations

from collections.abc import Iterator

from sheetcut.draw.leaders import leader, spot_near
from sheetcut.draw.lettering import NOTE, SIZE, width
from sheetcut.draw.marks import along_cut, line_boxes, others, point_on
from sheetcut.draw.measures import length_text
from sheetcut.draw.place import Box, Place, Taken, grown, lies_in
from sheetcut.draw.primitives import Dots, Line, Point, Primitive, Shape, Text, rectangle
from sheetcut.draw.view import SeenCut, View
from sheetcut.draw.weights import FINE

INSIDE_HEIGHTS = (5.0, SIZE, NOTE)
PAD_MM = 0.7
ORIGIN_MM = 0.8
ARROW_LONG_MM = 7.0
ARROW_IN_MM = 1.35


def inside_readings(view: View, place: Place, taken: Taken, *, inches: bool) -> list[Primitive]:
    """Return the readings that do not stand at a ruler, each on its own line, all alike high."""
    items: list[Primitive] = []
    lines = Taken(line_boxes(view, place))
    arrows = dict.fromkeys(_arrow_ends(cut, place) for cut in view.cuts if cut.is_fresh)
    for ends in arrows:
        items += _arrow(ends, taken)
    inside = [
        (cut, length_text(cut.cut.reading, inches=inches), others(lines, n, cut, place))
        for n, cut in enumerate(view.cuts)
        if not cut.at_ruler
    ]
    tries = [_spots_for(inside, place, taken, height) for height in INSIDE_HEIGHTS]
    most = max(len(found) for found in tries)
    height, found = next(
        (height, found)
        for height, found in zip(INSIDE_HEIGHTS, tries, strict=True)
        if len(found) == most
    )
    for number, spot in found.items():
        taken.add(spot)
        items += _reading_at(spot, inside[number][1], height, f"cut-{inside[number][0].cut.number}")
    for number, (cut, text, _) in enumerate(inside):
        if number not in found:
            items += _moved_out(cut, text, place, taken, lines, place.box(view.usable))
    return items


Inside = list[tuple[SeenCut, str, Taken]]


def _spots_for(inside: Inside, place: Place, taken: Taken, height: float) -> dict[int, Box]:
    """Return where readings of one height stand clear, by their place in the list."""
    tried = Taken(taken.boxes)
    found = {}
    for number, (cut, text, lines) in enumerate(inside):
        spot = _clear_spot(cut, text, lines, place, tried, height)
        if spot:
            found[number] = spot
    return found


def _clear_spot(
    cut: SeenCut, text: str, lines: Taken, place: Place, taken: Taken, height: float
) -> Box | None:
    hand = place.box(cut.hand)
    near = taken.near(hand)
    for spot in _reading_spots(cut, place, text, height):
        if near.is_free(spot) and lines.is_free(spot) and lies_in(spot, hand):
            taken.add(spot)
            return spot
    return None


def _moved_out(
    cut: SeenCut, text: str, place: Place, taken: Taken, lines: Taken, within: Box
) -> list[Primitive]:
    """Return a reading whose cut is too short for it, with a line that leads to the cut."""
    size = (width(text, NOTE, "sans bold") + 2 * PAD_MM, NOTE + 2 * PAD_MM)
    target = point_on(cut, place, 0.3)
    on_line = (
        spot
        for spot in _reading_spots(cut, place, text, NOTE)
        if taken.is_free(spot) and lies_in(spot, within)
    )
    spot = next(on_line, None)
    led: list[Primitive] = []
    if spot is None and taken.leaves_out:
        return []
    if spot is None:
        spot = spot_near(target, size, taken, lines, within)
        if spot is None:
            taken.clashes += 1
            spot = next(_reading_spots(cut, place, text, NOTE))
        led = leader(spot, target)
    taken.add(spot)
    return [*led, *_reading_at(spot, text, NOTE, f"cut-{cut.cut.number}")]


def _reading_at(spot: Box, text: str, height: float, role: str) -> list[Primitive]:
    left, top, right, foot = spot
    at = ((left + right) / 2, (top + foot + height) / 2)
    hide = rectangle(left, top, right - left, foot - top, fill="paper")
    return [hide, Text(text, at, height, "sans bold", "middle", role=role)]


def _reading_spots(cut: SeenCut, place: Place, text: str, height: float) -> Iterator[Box]:
    wide = width(text, height, "sans bold") + 2 * PAD_MM
    high = height + 2 * PAD_MM
    yield from along_cut(cut, place, wide, high, from_start=cut.along == "y")
    for left, top, right, foot in along_cut(cut, place, wide, high, from_start=cut.along == "y"):
        for off in ((foot - top) / 2 + 0.3, -(foot - top) / 2 - 0.3):
            if cut.along == "y":
                yield left, top - off, right, foot - off
            else:
                sideways = (right - left) / 2 + 0.3
                sideways = sideways if off > 0 else -sideways
                yield left + sideways, top, right + sideways, foot


def _arrow_ends(cut: SeenCut, place: Place) -> tuple[Point, Point]:
    left, top, right, foot = place.box(cut.hand)
    if cut.along == "y":
        x = left + min(ARROW_IN_MM, (right - left) / 4)
        return (x, foot), (x, foot - min(ARROW_LONG_MM, (foot - place.y(cut.at)) * 0.6))
    y = top + min(ARROW_IN_MM, (foot - top) / 4)
    return (left, y), (left + min(ARROW_LONG_MM, (place.x(cut.at) - left) * 0.6), y)


def _arrow(ends: tuple[Point, Point], taken: Taken) -> list[Primitive]:
    """Return a ring on the fresh edge and a short arrow away from it (ISO 129-1 origin mark)."""
    (x0, y0), (x1, y1) = ends
    taken.add(grown((min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)), ORIGIN_MM + 0.1))
    if x0 == x1:
        head = ((x1, y1), (x1 - 0.6, y1 + 2), (x1 + 0.6, y1 + 2))
    else:
        head = ((x1, y1), (x1 - 2, y1 - 0.6), (x1 - 2, y1 + 0.6))
    return [
        Line(((x0, y0), (x1, y1)), FINE),
        Shape(head, "black"),
        Dots(((x0, y0),), ORIGIN_MM, "paper", FINE),
    ]
