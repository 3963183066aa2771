"""Cuts on the drawing: their lines, their numbers on flags and tags, readings inside a piece."""

from __future__ import annotations

from collections.abc import Iterator

from sheetcut.draw.leaders import leader, spot_near
from sheetcut.draw.lettering import NOTE, SIZE, width
from sheetcut.draw.measures import length_text
from sheetcut.draw.place import Box, Place, Taken, grown
from sheetcut.draw.primitives import Dots, Line, Point, Primitive, Shape, Text, rectangle
from sheetcut.draw.view import SeenCut, View
from sheetcut.draw.weights import CUT, FINE, LONG_CUT

INSIDE_HEIGHTS = (5.0, SIZE, NOTE)
OVERSHOOT_MM = 1.3  # a long cut is drawn past the sheet, as the ruler lies past it
POLE_MM = 3.0
FLAG_MM = 4.3
TAG_MM = 4.1
FROM_END_MM = 1.6
NEAR_END_MM = 0.5
STEP_MM = 0.6
PAD_MM = 0.7
ORIGIN_MM = 0.8
ARROW_LONG_MM = 7.0
ARROW_IN_MM = 1.35


def cut_lines(view: View, place: Place, reach: tuple[float, float]) -> list[Primitive]:
    """Return the line of every cut; reach is how far the rulers lie from the usable area."""
    items: list[Primitive] = []
    for cut in view.cuts:
        (x0, y0), (x1, y1) = _ends(cut, place)
        if cut.at_ruler:
            start = (x0, place.y(0) + reach[1]) if cut.along == "x" else (place.x(0) - reach[0], y0)
            items.append(Line(((x0, y0), start), FINE))
        if cut.cut.level == 1:
            past = OVERSHOOT_MM
            x0, x1 = (x0, x1) if cut.along == "x" else (x0 - past, x1 + past)
            y0, y1 = (y0 + past, y1 - past) if cut.along == "x" else (y0, y1)
        items.append(Line(((x0, y0), (x1, y1)), LONG_CUT if cut.cut.level == 1 else CUT))
    return items


def _ends(cut: SeenCut, place: Place) -> tuple[Point, Point]:
    if cut.along == "x":
        x = place.x(cut.at)
        return (x, place.y(cut.start)), (x, place.y(cut.stop))
    y = place.y(cut.at)
    return (place.x(cut.start), y), (place.x(cut.stop), y)


def line_boxes(view: View, place: Place) -> list[Box]:
    """Return the room the cut lines take, in their order, and after them the sheet's edges."""
    boxes = []
    for cut in view.cuts:
        (x0, y0), (x1, y1) = _ends(cut, place)
        boxes.append(grown((min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)), CUT / 2))
    left, top, right, foot = place.box(view.usable)
    boxes += [
        grown((left, top, right, top), CUT / 2),
        grown((left, foot, right, foot), CUT / 2),
        grown((left, top, left, foot), CUT / 2),
        grown((right, top, right, foot), CUT / 2),
    ]
    return boxes


def flags(view: View, place: Place, top: float) -> list[Primitive]:
    """Return a pennant for each upright squaring cut and long cut, over the sheet's top."""
    flagged = [
        (place.x(0 if one.edge == "left" else view.usable.right), one.number)
        for one in view.squaring
        if one.edge in ("left", "right")
    ]
    flagged += [
        (place.x(cut.at), cut.cut.number)
        for cut in view.cuts
        if cut.along == "x" and cut.cut.level == 1
    ]
    return list(_over(flagged, top))


def _over(flagged: list[tuple[float, int]], top: float) -> Iterator[Primitive]:
    ends: list[float] = []
    for x, number in sorted(flagged):
        wide = _wide(number)
        tier = next((n for n, end in enumerate(ends) if x > end + 0.8), len(ends))
        ends[tier : tier + 1] = [x + wide]
        peak = top - POLE_MM - tier * (FLAG_MM + 0.8) - FLAG_MM
        yield Line(((x, top), (x, peak)), FINE)
        yield from _pennant((x, peak), wide, number)


def _wide(number: int) -> float:
    return width(str(number), NOTE, "sans bold") + 3.4


def _pennant(peak: Point, wide: float, number: int) -> Iterator[Primitive]:
    x, y = peak
    corners = (
        (x, y),
        (x + wide, y),
        (x + wide - 1.3, y + FLAG_MM / 2),
        (x + wide, y + FLAG_MM),
        (x, y + FLAG_MM),
    )
    yield Shape(corners, "paper", FINE)
    at = (x + (wide - 1.0) / 2, y + (FLAG_MM + NOTE) / 2)
    yield Text(str(number), at, NOTE, "sans bold", "middle", role=f"flag-{number}")


def tags(view: View, place: Place, taken: Taken) -> list[Primitive]:
    """Return the numbers of all other cuts, each on a small tag at the end the ruler goes to."""
    items: list[Primitive] = []
    for one in view.squaring:
        if one.edge in ("top", "foot"):
            right = place.x(view.usable.right) - FROM_END_MM
            y = place.y(0) - TAG_MM - 0.6 if one.edge == "foot" else place.y(view.usable.top) + 0.6
            wide = _tag_width(one.number)
            items += _tag_at((right - wide, y, right, y + TAG_MM), one.number, taken)
    lines = line_boxes(view, place)
    within = place.box(view.usable)
    for n, cut in enumerate(view.cuts):
        if cut.along == "y" or cut.cut.level > 1:
            items += _tag(cut, place, taken, _others(lines, n, cut, place), within)
    return items


def _others(lines: list[Box], n: int, cut: SeenCut, place: Place) -> Taken:
    """Return the room of the lines near a cut, but for its own."""
    return Taken(lines[:n] + lines[n + 1 :]).near(grown(place.box(cut.hand), 3))


def _tag_width(number: int) -> float:
    return width(str(number), NOTE, "sans bold") + 1.9


def _tag(cut: SeenCut, place: Place, taken: Taken, lines: Taken, within: Box) -> list[Primitive]:
    wide = _tag_width(cut.cut.number)
    spots = list(_along_cut(cut, place, wide, TAG_MM, from_start=False))
    free = [spot for spot in spots if taken.is_free(grown(spot, 0.2))]
    clear = next((spot for spot in free if lines.is_free(spot)), None)
    on_line = clear or (free[0] if free else None)
    if on_line:
        return _tag_at(on_line, cut.cut.number, taken)
    target = _point_on(cut, place, 0.8)
    spot = spot_near(target, (wide, TAG_MM), taken, lines, within)
    if spot is None:
        taken.clashes += 1
        spot = spots[0]
    return [*leader(spot, target), *_tag_at(spot, cut.cut.number, taken)]


def _point_on(cut: SeenCut, place: Place, part: float) -> Point:
    (x0, y0), (x1, y1) = _ends(cut, place)
    return x0 + (x1 - x0) * part, y0 + (y1 - y0) * part


def _tag_at(spot: Box, number: int, taken: Taken) -> list[Primitive]:
    taken.add(spot)
    left, top, right, foot = spot
    at = ((left + right) / 2, (top + foot + NOTE) / 2)
    frame = rectangle(left, top, right - left, foot - top, fill="paper", weight_mm=FINE)
    return [frame, Text(str(number), at, NOTE, "sans bold", "middle", role=f"flag-{number}")]


def _along_cut(
    cut: SeenCut, place: Place, wide: float, high: float, *, from_start: bool
) -> Iterator[Box]:
    """Yield boxes astride a cut, from one end of it to the other."""
    (x0, y0), (x1, y1) = _ends(cut, place)
    run = abs(x1 - x0) + abs(y1 - y0)
    size = wide if cut.along == "y" else high
    first = min(FROM_END_MM, max(0.0, (run - size) / 2))
    for n in range(max(0, int((run - size - first - NEAR_END_MM) / STEP_MM)) + 1):
        shift = first + n * STEP_MM
        lead = shift if from_start else run - shift - size
        if cut.along == "y":
            yield x0 + lead, y0 - high / 2, x0 + lead + wide, y0 + high / 2
        else:
            yield x0 - wide / 2, y0 - lead - high, x0 + wide / 2, y0 - lead


def inside_readings(view: View, place: Place, taken: Taken, *, inches: bool) -> list[Primitive]:
    """Return the readings that do not stand at a ruler, each on its own line, all alike high."""
    items: list[Primitive] = []
    lines = line_boxes(view, place)
    arrows = dict.fromkeys(_arrow_ends(cut, place) for cut in view.cuts if cut.is_fresh)
    for ends in arrows:
        items += _arrow(ends, taken)
    inside = [
        (cut, length_text(cut.cut.reading, inches=inches), _others(lines, n, cut, place))
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
    everywhere = Taken(lines)
    for number, (cut, text, _) in enumerate(inside):
        if number not in found:
            items += _moved_out(cut, text, place, taken, everywhere, place.box(view.usable))
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
        if near.is_free(spot) and lines.is_free(spot) and _within(spot, hand):
            taken.add(spot)
            return spot
    return None


def _moved_out(
    cut: SeenCut, text: str, place: Place, taken: Taken, lines: Taken, within: Box
) -> list[Primitive]:
    """Return a reading whose cut is too short for it, with a line that leads to the cut."""
    size = (width(text, NOTE, "sans bold") + 2 * PAD_MM, NOTE + 2 * PAD_MM)
    target = _point_on(cut, place, 0.3)
    on_line = (
        spot
        for spot in _reading_spots(cut, place, text, NOTE)
        if taken.is_free(spot) and _within(spot, within)
    )
    spot = next(on_line, None)
    led: list[Primitive] = []
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


def _within(one: Box, room: Box) -> bool:
    return one[0] >= room[0] and one[1] >= room[1] and one[2] <= room[2] and one[3] <= room[3]


def _reading_spots(cut: SeenCut, place: Place, text: str, height: float) -> Iterator[Box]:
    wide = width(text, height, "sans bold") + 2 * PAD_MM
    high = height + 2 * PAD_MM
    yield from _along_cut(cut, place, wide, high, from_start=cut.along == "y")
    for left, top, right, foot in _along_cut(cut, place, wide, high, from_start=cut.along == "y"):
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
