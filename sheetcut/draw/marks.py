"""Cuts on the drawing: their lines, their numbers on flags and tags, readings inside a piece."""

from __future__ import annotations

from collections.abc import Iterator

from sheetcut.draw.lettering import NOTE, SIZE, box, width
from sheetcut.draw.measures import length_text
from sheetcut.draw.place import Box, Place, Taken, grown
from sheetcut.draw.primitives import Anchor, Dots, Line, Point, Primitive, Shape, Text, rectangle
from sheetcut.draw.view import SeenCut, SeenSquaring, View
from sheetcut.draw.weights import CUT, FINE, SQUARING_DASHES

INSIDE_HEIGHTS = (5.0, SIZE, NOTE)
OVERSHOOT_MM = 1.3  # a long cut is drawn past the sheet, as the ruler lies past it
POLE_MM = 3.0
FLAG_MM = 4.3
TAG_MM = 4.1
FROM_END_MM = 1.6
PAD_MM = 0.7
ORIGIN_MM = 0.75
ARROW_LONG_MM = 5.5
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
        items.append(Line(((x0, y0), (x1, y1)), CUT))
    return items


def _ends(cut: SeenCut, place: Place) -> tuple[Point, Point]:
    if cut.along == "x":
        x = place.x(cut.at)
        return (x, place.y(cut.start)), (x, place.y(cut.stop))
    y = place.y(cut.at)
    return (place.x(cut.start), y), (place.x(cut.stop), y)


def line_boxes(view: View, place: Place, but: SeenCut | None = None) -> list[Box]:
    """Return the room the cut lines and the sheet's own edges take, but for one of the cuts."""
    boxes = []
    for cut in view.cuts:
        if cut is not but:
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


def flags(view: View, place: Place, edge: tuple[float, float]) -> list[Primitive]:
    """Return a pennant for each squaring cut and each long cut, at the end the ruler goes to.

    Args:
        view, place: what is drawn, and where.
        edge: the y of the measured sheet's top and the x of its right side.
    """
    top, right = edge
    over: list[tuple[float, int]] = []
    side: list[tuple[float, int]] = []
    dashed: list[Primitive] = []
    for one in view.squaring:
        if one.edge in ("left", "right"):
            over.append((place.x(0 if one.edge == "left" else view.usable.right), one.number))
        else:
            side.append((place.y(0 if one.edge == "foot" else view.usable.top), one.number))
    for cut in view.cuts:
        if cut.cut.level == 1:
            (_, _), (x, y) = _ends(cut, place)
            (over if cut.along == "x" else side).append(
                (x if cut.along == "x" else y, cut.cut.number)
            )
    return dashed + list(_over(over, top)) + list(_beside(side, right))


def _over(flagged: list[tuple[float, int]], top: float) -> Iterator[Primitive]:
    ends: list[float] = []
    for x, number in sorted(flagged):
        wide = _wide(number)
        tier = next((n for n, end in enumerate(ends) if x > end + 0.8), len(ends))
        ends[tier : tier + 1] = [x + wide]
        peak = top - POLE_MM - tier * (FLAG_MM + 0.8) - FLAG_MM
        yield Line(((x, top), (x, peak)), FINE)
        yield from _pennant((x, peak), wide, number)


def _beside(flagged: list[tuple[float, int]], right: float) -> Iterator[Primitive]:
    lasts: list[float] = []
    for y, number in sorted(flagged):
        wide = _wide(number)
        tier = next((n for n, last in enumerate(lasts) if y - FLAG_MM > last + 0.4), len(lasts))
        lasts[tier : tier + 1] = [y]
        pole = right + 1.6 + tier * 7.0
        yield Line(((right, y), (pole, y)), FINE)
        yield Line(((pole, y), (pole, y - FLAG_MM)), FINE)
        yield from _pennant((pole, y - FLAG_MM), wide, number)


def _wide(number: int) -> float:
    return width(str(number), NOTE, "sans bold") + 3.4


def _pennant(peak: Point, wide: float, number: int) -> Iterator[Primitive]:
    x, y = peak
    corners = ((x, y), (x + wide, y + FLAG_MM / 2), (x, y + FLAG_MM))
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
    """Return the numbers of the cuts that end inside, each on a small tag on its line."""
    items: list[Primitive] = []
    for cut in view.cuts:
        if cut.cut.level > 1:
            lines = Taken(line_boxes(view, place, but=cut))
            items += _tag(cut, place, taken, lines)
    return items


def _tag(cut: SeenCut, place: Place, taken: Taken, lines: Taken) -> list[Primitive]:
    number = str(cut.cut.number)
    wide = width(number, NOTE, "sans bold") + 1.9
    spots = list(_along_cut(cut, place, wide, TAG_MM, from_start=False))
    free = [spot for spot in spots if taken.is_free(grown(spot, 0.2))]
    clear = [spot for spot in free if lines.is_free(spot)]
    left, top, right, foot = (clear or free or spots)[0]
    taken.add((left, top, right, foot))
    at = ((left + right) / 2, (top + foot + NOTE) / 2)
    frame = rectangle(left, top, right - left, foot - top, fill="paper", weight_mm=FINE)
    return [frame, Text(number, at, NOTE, "sans bold", "middle", role=f"flag-{number}")]


def _along_cut(
    cut: SeenCut, place: Place, wide: float, high: float, *, from_start: bool
) -> Iterator[Box]:
    """Yield boxes astride a cut, from one end to the other; just beside it where it is short."""
    (x0, y0), (x1, y1) = _ends(cut, place)
    run = abs(x1 - x0) + abs(y1 - y0)
    size = wide if cut.along == "y" else high
    free = run - size - 2 * FROM_END_MM
    steps = max(0, int(free / 1.0))
    for n in range(steps + 1):
        shift = min(FROM_END_MM, max(0.0, (run - size) / 2)) + n * 1.0
        lead = shift if from_start else run - shift - size
        if cut.along == "y":
            yield x0 + lead, y0 - high / 2, x0 + lead + wide, y0 + high / 2
        else:
            yield x0 - wide / 2, y0 - lead - high, x0 + wide / 2, y0 - lead


def inside_readings(view: View, place: Place, taken: Taken, *, inches: bool) -> list[Primitive]:
    """Return the readings that do not stand at a ruler, each on its own line."""
    items: list[Primitive] = []
    arrows: set[tuple[Point, Point]] = set()
    for cut in view.cuts:
        if cut.is_fresh:
            arrow = _arrow_ends(cut, place)
            if arrow not in arrows:
                arrows.add(arrow)
                items += _arrow(arrow, taken)
    for cut in view.cuts:
        if not cut.at_ruler:
            items += _inside(cut, view, place, taken, inches=inches)
    return items


def _inside(
    cut: SeenCut, view: View, place: Place, taken: Taken, *, inches: bool
) -> list[Primitive]:
    text = length_text(cut.cut.reading, inches=inches)
    lines = Taken(line_boxes(view, place, but=cut))
    room = grown(place.box(cut.hand), 0.0)
    spots = [
        (spot, height)
        for height in INSIDE_HEIGHTS
        for spot in _reading_spots(cut, place, text, height)
        if taken.is_free(spot)
    ]
    clear = [one for one in spots if lines.is_free(one[0]) and _within(one[0], room)]
    last = next(iter(_reading_spots(cut, place, text, NOTE)))
    spot, height = (clear or spots or [(last, NOTE)])[0]
    taken.add(spot)
    left, top, right, foot = spot
    at = ((left + right) / 2, (top + foot + height) / 2)
    anchor: Anchor = "middle"
    hide = rectangle(left, top, right - left, foot - top, fill="paper")
    return [hide, Text(text, at, height, "sans bold", anchor, role=f"cut-{cut.cut.number}")]


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


def squaring_lines(view: View, place: Place) -> list[Primitive]:
    """Return the squaring cuts, dashed, along the edges they make true."""
    return [Line(_edge_line(one, view, place), FINE, SQUARING_DASHES) for one in view.squaring]


def _edge_line(one: SeenSquaring, view: View, place: Place) -> tuple[Point, Point]:
    left, top, right, foot = place.box(view.usable)
    past = OVERSHOOT_MM * 2
    if one.edge in ("left", "right"):
        x = left if one.edge == "left" else right
        return (x, foot + past), (x, top - past)
    y = foot if one.edge == "foot" else top
    return (left - past, y), (right + past, y)


def take_texts(items: list[Primitive], taken: Taken) -> None:
    """Take the room of all words among the items."""
    for item in items:
        if isinstance(item, Text):
            taken.add(grown(box(item), 0.4))
