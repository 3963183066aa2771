"""All sheets of a plan at a glance: small drawings at one scale, side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetcut.draw.lettering import LEADING, NOTE, SIZE, balanced, clean, shortened, width
from sheetcut.draw.primitives import Drawing, Page, Primitive, Text, moved, rectangle
from sheetcut.draw.texture import stipple
from sheetcut.draw.weights import CUT, KEEPER, OUTLINE
from sheetcut.layout import Layout, Placement, Plan
from sheetcut.units import TICKS_PER_MM

WIDTH_MM = 190.0
MARGIN_MM = 6.0
GAP_MM = 9.0
CAPTION_MM = 9.0
TALLEST_MM, WIDEST_MM = 60.0, 88.0
LABEL_PAD_MM = 1.6


@dataclass(frozen=True, slots=True)
class _Cell:
    """One small drawing, with its upper left corner at nothing."""

    width_mm: float
    height_mm: float
    items: tuple[Primitive, ...]


def glance(plan: Plan, entries: Sequence[tuple[str, Layout]], *, title: str = "") -> Drawing:
    """Return the usable areas of sheets at one scale, each with its name beneath.

    Args:
        entries: what is drawn, each with its name, in the order it should stand in.
        title: of the whole; also the drawing's title for readers of its file.
    """
    per_mm = _scale([layout for _, layout in entries])
    cells = [_cell(plan, layout, name, per_mm) for name, layout in entries]
    items: list[Primitive] = []
    top = MARGIN_MM
    if title:
        items.append(Text(clean(title), (MARGIN_MM, top + SIZE), SIZE, "serif"))
        top += SIZE + 5
    for row in _rows(cells):
        left = MARGIN_MM
        foot = top + max(cell.height_mm for cell in row)
        for cell in row:
            # Sheets of one row stand on one line, as on a shelf.
            down = foot - cell.height_mm
            items += [moved(item, left, down) for item in cell.items]
            left += cell.width_mm + GAP_MM
        top = foot + GAP_MM / 2
    return Drawing(Page("at a glance", WIDTH_MM, top), title or "All sheets", tuple(items))


def _scale(layouts: Sequence[Layout]) -> float:
    """Return how many mm one tick is drawn long, so that the largest sheet has its room."""
    widest = max(layout.usable[2] for layout in layouts)
    tallest = max(layout.usable[3] for layout in layouts)
    return min(WIDEST_MM / widest, TALLEST_MM / tallest, 1 / TICKS_PER_MM)


def _rows(cells: Sequence[_Cell]) -> Iterator[list[_Cell]]:
    row: list[_Cell] = []
    used = MARGIN_MM
    for cell in cells:
        if row and used + cell.width_mm > WIDTH_MM - MARGIN_MM:
            yield row
            row, used = [], MARGIN_MM
        row.append(cell)
        used += cell.width_mm + GAP_MM
    if row:
        yield row


def _cell(plan: Plan, layout: Layout, name: str, per_mm: float) -> _Cell:
    _, _, wide, high = (side * per_mm for side in layout.usable)
    caption = shortened(clean(name), WIDEST_MM, NOTE)
    items = [
        *(_leftover(layout, box, per_mm, high) for box in layout.leftovers),
        *(item for place in layout.placements for item in _blank(plan, place, per_mm, high)),
        rectangle(0, 0, wide, high, weight_mm=OUTLINE),
        Text(caption, (0, high + NOTE + 2.4), NOTE),
    ]
    return _Cell(max(wide, width(caption, NOTE)), high + CAPTION_MM, tuple(items))


def _leftover(
    layout: Layout, box: tuple[int, int, int, int], per_mm: float, high: float
) -> Primitive:
    left, foot, wide, tall = (side * per_mm for side in box)
    top = high - foot - tall
    kept = any((one.x, one.y, one.width, one.height) == box for one in layout.keepers)
    if kept:
        return rectangle(left, top, wide, tall, weight_mm=KEEPER, dashes=(1.0, 1.0))
    return stipple((left, top, left + wide, top + tall))


def _blank(plan: Plan, place: Placement, per_mm: float, high: float) -> Iterator[Primitive]:
    left, foot = place.x * per_mm, place.y * per_mm
    wide, tall = place.width * per_mm, place.height * per_mm
    top = high - foot - tall
    yield rectangle(left, top, wide, tall, fill="paper", weight_mm=CUT)
    piece = plan.job.pieces[place.piece]
    middle = left + wide / 2, top + tall / 2
    for words in (piece.label, piece.order):
        if lines := _lines(clean(words), wide, tall):
            yield from _across(lines, middle)
            return
        if tall > wide and len(_lines(clean(words), tall, wide)) == 1:
            x = middle[0] + NOTE / 2
            yield Text(clean(words), (x, middle[1]), NOTE, anchor="middle", angle=90)
            return


def _lines(words: str, wide: float, high: float) -> tuple[str, ...]:
    """Return the words in whole lines that a box holds, or nothing where it does not."""
    lines = balanced(words, wide - LABEL_PAD_MM, NOTE)
    whole = " ".join(lines) == " ".join(words.split())
    return lines if whole and len(lines) * NOTE * LEADING <= high - LABEL_PAD_MM / 2 else ()


def _across(lines: Sequence[str], middle: tuple[float, float]) -> Iterator[Primitive]:
    first = middle[1] + NOTE / 2 - (len(lines) - 1) * NOTE * LEADING / 2
    for number, line in enumerate(lines):
        yield Text(line, (middle[0], first + number * NOTE * LEADING), NOTE, anchor="middle")
