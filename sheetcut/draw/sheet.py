"""The sheet to scale: paper, rulers, cuts, readings and notes, from its start corner."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from sheetcut.draw import labels, leftovers, marks, readings, ruler, running
from sheetcut.draw.leaders import CROWDED
from sheetcut.draw.lettering import NOTE, box, width
from sheetcut.draw.measures import length_text
from sheetcut.draw.place import Box, Place, Taken, grown
from sheetcut.draw.primitives import Dots, Line, Point, Primitive, Shape, Text, extent, rectangle
from sheetcut.draw.texture import deckle, fibres, stipple
from sheetcut.draw.view import Rect, View
from sheetcut.draw.weights import DECKLE, FINE, LONG_CUT, MARGIN_DASHES, OUTLINE

RULER_OFF_MM = 0.9  # between the paper and the ruler
SWING_MM = 0.7  # of a deckle
LEFT_ROOM_MM = 24.0  # readings under the foot ruler may reach so far left of the start corner
RIGHT_ROOM_MM = 3.0
TOP_ROOM_MM = 8.0
CLEAR_MM = (2.0, 1.0)  # around the fibres, so that they are no part of a note; less if it must
START_WORDS = ("start", "corner")
MOST_KEPT = 32  # pictures: what is printed was mostly drawn for a file before


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawn sheet, its start corner at 0, 0.

    Attributes:
        box: left, top, right and foot of all ink.
        keys: what letters on small blanks stand for.
        has_grain: whether the fibres are drawn.
        clashes: how many words found no room and stand on others, or are left out.
    """

    items: tuple[Primitive, ...]
    box: Box
    keys: tuple[labels.Key, ...]
    has_grain: bool
    clashes: int


@lru_cache(maxsize=MOST_KEPT)
def sheet_picture(
    view: View,
    n: int,
    names: tuple[tuple[str, ...], ...],
    *,
    inches: bool,
    sparse: bool = False,
) -> Picture:
    """Return the sheet drawn at 1:n; names has the lines for each blank.

    Where very many words would stand on others, blanks come first, and tags and readings that
    find no room are left out: the steps have them all.

    Args:
        sparse: whether the rulers carry only as many readings as find room.
    """
    picture = _picture(view, n, names, Taken(), inches=inches, sparse=sparse)
    if picture.clashes < CROWDED:
        return picture
    legible = Taken(leaves_out=True)
    return replace(
        _picture(view, n, names, legible, inches=inches, sparse=sparse), clashes=picture.clashes
    )


def _picture(
    view: View,
    n: int,
    names: tuple[tuple[str, ...], ...],
    taken: Taken,
    *,
    inches: bool,
    sparse: bool,
) -> Picture:
    place = Place(n)
    reach = _reach(view, place)
    around = _around(view, place, reach, inches=inches, sparse=sparse)
    first = (
        labels.blank_notes(view, place, taken, names, inches=inches) if taken.leaves_out else None
    )
    tagged = marks.tags(view, place, taken)
    read = readings.inside_readings(view, place, taken, inches=inches)
    keepers = leftovers.keeper_notes(view, place, taken, inches=inches)
    notes = first or labels.blank_notes(view, place, taken, names, inches=inches)
    words = leftovers.scrap_notes(view, place, taken, inches=inches)
    grain = _grain(view, place, taken)
    items = [
        *_scraps(view, place, words),
        *ruler.foot_ruler(place, reach[1], view.usable.width, inches=inches),
        *ruler.left_ruler(place, -reach[0], view.usable.height, inches=inches),
        *labels.outlines(view, place),
        *keepers.items,
        *marks.cut_lines(view, place, reach),
        *_true_edges(view, place),
        *around,
        *tagged,
        *read,
        *notes.items,
        *grain,
    ]
    keys = notes.keys + keepers.keys
    return Picture(
        tuple(items), _ruled(around, view, place, reach), keys, bool(grain), taken.clashes
    )


def sheet_box(view: View, n: int, *, inches: bool, sparse: bool = False) -> Box:
    """Return the box that a sheet's picture at 1:n will have, without drawing all of it."""
    place = Place(n)
    reach = _reach(view, place)
    around = _around(view, place, reach, inches=inches, sparse=sparse)
    return _ruled(around, view, place, reach)


def _reach(view: View, place: Place) -> tuple[float, float]:
    """Return how far left and below the start corner the rulers lie."""
    left, _, _, foot = place.box(view.measured)
    return -left + RULER_OFF_MM, foot + RULER_OFF_MM


def _around(
    view: View, place: Place, reach: tuple[float, float], *, inches: bool, sparse: bool
) -> list[Primitive]:
    """Return all that stands outside the usable area, but for the rulers."""
    return [
        *_paper_edges(view, place),
        *marks.flags(view, place, place.box(view.measured)[1], sparse=sparse),
        *_start_corner(reach),
        *_ruler_readings(view, place, reach, inches=inches, sparse=sparse),
    ]


def _ruled(around: list[Primitive], view: View, place: Place, reach: tuple[float, float]) -> Box:
    left, top, right, foot = _bounds([*around, *_true_edges(view, place)])
    over = marks.OVERSHOOT_MM + LONG_CUT / 2
    return (
        min(left, -reach[0] - ruler.DEPTH_MM - FINE),
        min(top, place.y(view.usable.top) - over),
        max(right, place.x(view.usable.right) + over),
        max(foot, reach[1] + ruler.DEPTH_MM + FINE),
    )


def _bounds(items: list[Primitive]) -> Box:
    boxes = []
    for item in items:
        match item:
            case Text():
                boxes.append(box(item))
            case Dots():
                boxes += [grown(extent(item.centres), item.radius_mm)] if item.centres else []
            case _:
                boxes.append(grown(extent(item.points), item.weight_mm / 2))
    lefts, tops, rights, feet = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(feet)


def _true_edges(view: View, place: Place) -> list[Primitive]:
    """Return the outline of the usable area; where a deckle stays on a blank it is no edge."""
    left, top, right, foot = place.box(view.usable)
    if not view.staying:
        return [rectangle(left, top, right - left, foot - top, weight_mm=OUTLINE)]
    return [
        Line(ends, FINE, MARGIN_DASHES) if edge in view.staying else Line(ends, OUTLINE)
        for edge, ends in _sides((left, top, right, foot)).items()
    ]


def _sides(box: Box) -> dict[str, tuple[Point, Point]]:
    left, top, right, foot = box
    return {
        "left": ((left, top), (left, foot)),
        "right": ((right, top), (right, foot)),
        "top": ((left, top), (right, top)),
        "foot": ((left, foot), (right, foot)),
    }


def _paper_edges(view: View, place: Place) -> Iterator[Primitive]:
    """Yield the edges of the sheet as it is bought, where they are cut off or torn."""
    for edge, (start, stop) in _sides(place.box(view.measured)).items():
        loss = getattr(view.loss, edge)
        if edge in view.deckles:
            yield deckle(start, stop, min(SWING_MM, max(0.3, place.long(loss) * 0.45)))
        elif loss:
            yield Line((start, stop), DECKLE)


def _scraps(view: View, place: Place, words: dict[Rect, list[Text]]) -> Iterator[Primitive]:
    for rect in view.scraps:
        yield stipple(place.box(rect), tuple(box(text) for text in words[rect]))
        yield from words[rect]


def _grain(view: View, place: Place, taken: Taken) -> list[Primitive]:
    """Return three fibre strokes with their word in the widest open corner, if there is one."""
    if view.grain is None:
        return []
    upright = view.grain == "y"
    wide, high = (5.0, 13.0) if upright else (14.0, 4.5)
    word = width("grain", NOTE, "serif italic")
    room = (max(wide, word), high + 1.6 + NOTE + 0.8)
    rooms = [blank.image for blank in view.blanks] + [rect for rect, _ in view.keepers]
    rooms.sort(key=lambda one: -one.width * one.height)
    spots = [
        spot
        for rect in rooms
        for spot in _corners(place.box(rect), room)
        if _holds(place.box(rect), spot)
    ]
    for clear in CLEAR_MM:
        for spot in spots:
            if taken.is_free(grown(spot, clear)):
                taken.add(spot)
                return list(_fibres(spot, (wide, high), upright=upright))
    return []


def _fibres(spot: Box, size: tuple[float, float], *, upright: bool) -> Iterator[Primitive]:
    middle = (spot[0] + spot[2]) / 2
    foot = spot[1] + size[1]
    drawn = (middle - size[0] / 2, spot[1], middle + size[0] / 2, foot)
    yield from fibres(drawn, upright=upright)
    yield Text("grain", (middle, foot + 1.6 + NOTE), NOTE, "serif italic", "middle")


def _corners(within: Box, room: tuple[float, float]) -> Iterator[Box]:
    """Yield where the fibres may stand: the upper right, then the upper left, then lower down."""
    left, top, right, foot = within
    for y in (top + 3.0, (top + foot - room[1]) / 2):
        for x in (right - 2.5 - room[0], left + 2.5):
            yield x, y, x + room[0], y + room[1]


def _holds(outer: Box, inner: Box) -> bool:
    return (
        outer[0] + 2 <= inner[0]
        and outer[1] <= inner[1]
        and inner[2] <= outer[2]
        and inner[3] + 2 <= outer[3]
    )


def _start_corner(reach: tuple[float, float]) -> Iterator[Primitive]:
    """Yield the black corner between the rulers, where every reading begins, and its words."""
    x, y = -reach[0], reach[1]
    yield Shape(((0, 0), (-4.8, 1.7), (-1.7, 4.8)), "black")
    for n, word in enumerate(START_WORDS):
        at = (min(x, -4.8) - 0.6, y + 1.4 + NOTE + n * NOTE * 1.6)
        yield Text(word, at, NOTE, "serif italic", "end")


def _ruler_readings(
    view: View, place: Place, reach: tuple[float, float], *, inches: bool, sparse: bool
) -> list[Primitive]:
    low = []
    high = []
    for cut in view.cuts:
        if cut.at_ruler:
            text = length_text(cut.cut.reading, inches=inches)
            role = f"cut-{cut.cut.number}"
            if cut.along == "x":
                low.append(running.Reading(text, place.x(cut.at), role))
            else:
                high.append(running.Reading(text, place.y(cut.at), role))
    for one in view.squaring:
        text, role = length_text(one.reading, inches=inches), f"squaring-{one.number}"
        if one.edge == "right":
            low.append(running.Reading(text, place.x(one.reading), role))
        if one.edge == "top":
            high.append(running.Reading(text, place.y(one.reading), role))
    right, top = place.x(view.usable.right), place.y(view.usable.top)
    under, beside = reach[1] + ruler.DEPTH_MM, -reach[0] - ruler.DEPTH_MM
    items: list[Primitive] = []
    if sparse:
        widest = max((width(one.text, NOTE, "sans bold") for one in low), default=0.0)
        room = right + RIGHT_ROOM_MM + LEFT_ROOM_MM, reach[1] - top + TOP_ROOM_MM
        low, bare_low = running.sparse(low, widest + running.BESIDE_MM, room[0])
        high, bare_high = running.sparse(high, NOTE + running.ABOVE_MM, room[1])
        items += running.under(running.unlabelled(bare_low), under)
        items += running.beside(running.unlabelled(bare_high), beside)
    row = running.in_rows(low, -LEFT_ROOM_MM, right + RIGHT_ROOM_MM)
    column = running.in_column(high, top - TOP_ROOM_MM, reach[1])
    return [*items, *running.under(row, under), *running.beside(column, beside)]
