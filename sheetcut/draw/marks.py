"""Cuts on the drawing: their lines, and their numbers on flags and tags."""

from __future__ import annotations

from collections.abc import Iterator

from sheetcut.draw.leaders import leader, spot_near
from sheetcut.draw.lettering import NOTE, width
from sheetcut.draw.place import Box, Place, Taken, grown
from sheetcut.draw.primitives import Line, Point, Primitive, Shape, Text, rectangle
from sheetcut.draw.view import SeenCut, View
from sheetcut.draw.weights import CUT, FINE, LONG_CUT

OVERSHOOT_MM = 1.3  # a long cut is drawn past the sheet, as the ruler lies past it
MOST_TIERS = 6  # of pennants over each other, where not all find room
POLE_MM = 3.0
FLAG_MM = 4.3
TAG_MM = 4.1
FROM_END_MM = 1.6
NEAR_END_MM = 0.5
STEP_MM = 0.6


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


def flags(view: View, place: Place, top: float, *, sparse: bool = False) -> list[Primitive]:
    """Return a pennant for each upright squaring cut and long cut, over the sheet's top.

    Args:
        sparse: whether those are left out that would stand over very many others.
    """
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
    return list(_over(flagged, top, MOST_TIERS if sparse else len(flagged)))


def _over(flagged: list[tuple[float, int]], top: float, most: int) -> Iterator[Primitive]:
    ends: list[float] = []
    for x, number in sorted(flagged):
        wide = _wide(number)
        tier = next((n for n, end in enumerate(ends) if x > end + 0.8), len(ends))
        if tier >= most:
            continue
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
    lines = Taken(line_boxes(view, place))
    within = place.box(view.usable)
    for n, cut in enumerate(view.cuts):
        if cut.along == "y" or cut.cut.level > 1:
            items += _tag(cut, place, taken, others(lines, n, cut, place), within)
    return items


def others(lines: Taken, n: int, cut: SeenCut, place: Place) -> Taken:
    """Return the room of the lines near a cut, but for its own."""
    near, own = lines.near(grown(place.box(cut.hand), 3)), lines.boxes[n]
    if own in near.boxes:
        near.boxes.remove(own)
    return near


def _tag_width(number: int) -> float:
    return width(str(number), NOTE, "sans bold") + 1.9


def _tag(cut: SeenCut, place: Place, taken: Taken, lines: Taken, within: Box) -> list[Primitive]:
    wide = _tag_width(cut.cut.number)
    spots = list(along_cut(cut, place, wide, TAG_MM, from_start=False))
    free = [spot for spot in spots if taken.is_free(grown(spot, 0.2))]
    clear = next((spot for spot in free if lines.is_free(spot)), None)
    on_line = clear or (free[0] if free else None)
    if on_line:
        return _tag_at(on_line, cut.cut.number, taken)
    if taken.leaves_out:
        return []
    target = point_on(cut, place, 0.8)
    spot = spot_near(target, (wide, TAG_MM), taken, lines, within)
    if spot is None:
        taken.clashes += 1
        spot = spots[0]
    return [*leader(spot, target), *_tag_at(spot, cut.cut.number, taken)]


def point_on(cut: SeenCut, place: Place, part: float) -> Point:
    """Return a point of a cut, a part of the way along it."""
    (x0, y0), (x1, y1) = _ends(cut, place)
    return x0 + (x1 - x0) * part, y0 + (y1 - y0) * part


def _tag_at(spot: Box, number: int, taken: Taken) -> list[Primitive]:
    taken.add(spot)
    left, top, right, foot = spot
    at = ((left + right) / 2, (top + foot + NOTE) / 2)
    frame = rectangle(left, top, right - left, foot - top, fill="paper", weight_mm=FINE)
    return [frame, Text(str(number), at, NOTE, "sans bold", "middle", role=f"flag-{number}")]


def along_cut(
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
