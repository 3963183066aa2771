"""Slips to cut out: a tag for every offcut that is kept, a label for every blank."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from sheetcut.draw import heading
from sheetcut.draw.compose import MARGIN_MM
from sheetcut.draw.lettering import (
    HEADING,
    NOTE,
    READING,
    SIZE,
    balanced,
    clean,
    fitted,
    shortened,
    width,
)
from sheetcut.draw.place import Box
from sheetcut.draw.primitives import Drawing, Line, Page, Primitive, Text, rectangle
from sheetcut.draw.texture import fibres
from sheetcut.draw.weights import ENGRAVED, FINE, MARGIN_DASHES
from sheetcut.layout import Axis

TAG_MM = (95.0, 48.0)
LABEL_MM = (63.0, 35.0)
PAD_MM = 4.0
PITCH_MM = 4.6
LABEL_PITCH_MM = 4.1
SHAPE_MM = (24.0, 24.0)


@dataclass(frozen=True, slots=True)
class Tag:
    """What is pencilled on an offcut that goes back into the drawer.

    Attributes:
        name: its tag, as "heron 7".
        size: width and height, as they are to be read.
        shape: the same, in any unit; its sides are drawn in this proportion.
        grain: which way the fibres run in that shape; None where not known or none.
        notes: paper, side, plan: a line each.
    """

    name: str
    size: str
    shape: tuple[float, float]
    grain: Axis | None
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Label:
    """What tells a blank from others: a slip in its folder, or a note on its back.

    Attributes:
        name: what the order line calls it.
        size: the finished size.
        notes: order and client, blank and margins, paper and sheet: a line each.
    """

    name: str
    size: str
    notes: tuple[str, ...]


def offcut_tags(tags: Sequence[Tag], words: heading.Heading, page: Page) -> tuple[Drawing, ...]:
    """Return pages of tags, or none where nothing is kept."""
    return _pages([lambda box, tag=tag: _tag(tag, box) for tag in tags], TAG_MM, words, page)  # type: ignore[misc]


def blank_labels(
    labels: Sequence[Label], words: heading.Heading, page: Page
) -> tuple[Drawing, ...]:
    """Return pages of labels, one for every blank."""
    return _pages(
        [lambda box, label=label: _label(label, box) for label in labels],  # type: ignore[misc]
        LABEL_MM,
        words,
        page,
    )


Slip = Callable[[Box], Iterator[Primitive]]


def _pages(
    slips: Sequence[Slip], least: tuple[float, float], words: heading.Heading, page: Page
) -> tuple[Drawing, ...]:
    """Return slips side by side, cut along the lines they share."""
    left, right = MARGIN_MM, page.width_mm - MARGIN_MM
    top = MARGIN_MM + heading.HEIGHT_MM + 3
    across = max(1, int((right - left) / least[0]))
    down = max(1, int((page.height_mm - MARGIN_MM - top) / least[1]))
    wide, high = (right - left) / across, least[1]
    each = across * down
    count = -(-len(slips) // each)
    pages = []
    for n in range(count):
        shown = slips[n * each : (n + 1) * each]
        title = words.title if count == 1 else f"{words.title}, page {n + 1} of {count}"
        items = heading.heading(replace(words, title=title), left, right, MARGIN_MM)
        rows = -(-len(shown) // across)
        columns = min(across, len(shown))
        items += _cutting_lines((left, top), (wide, high), columns, rows)
        for k, slip in enumerate(shown):
            x, y = left + k % across * wide, top + k // across * high
            items += slip((x, y, x + wide, y + high))
        pages.append(Drawing(page, title, tuple(items)))
    return tuple(pages)


def _cutting_lines(
    corner: tuple[float, float], size: tuple[float, float], columns: int, rows: int
) -> Iterator[Line]:
    left, top = corner
    right, foot = left + columns * size[0], top + rows * size[1]
    for n in range(columns + 1):
        x = left + n * size[0]
        yield Line(((x, top), (x, foot)), ENGRAVED, MARGIN_DASHES)
    for n in range(rows + 1):
        y = top + n * size[1]
        yield Line(((left, y), (right, y)), ENGRAVED, MARGIN_DASHES)


def _tag(tag: Tag, box: Box) -> Iterator[Primitive]:
    """Yield a tag: name and size large, the offcut's shape with its fibres at the right."""
    left, top, right, foot = box
    left, top, right = left + PAD_MM, top + PAD_MM, right - PAD_MM
    shape_left = right - SHAPE_MM[0]
    room = shape_left - left - 3
    name, height = fitted(clean(tag.name), room, (10.0, READING, HEADING, SIZE), "serif italic")
    y = top + height
    yield Text(name, (left, y), height, "serif italic")
    size, figures = fitted(tag.size, room, (READING, HEADING, SIZE, NOTE), "sans bold")
    y += 4.0 + figures
    yield Text(size, (left, y), figures, "sans bold")
    base = foot - PAD_MM - (len(tag.notes) - 1) * PITCH_MM
    for n, note in enumerate(tag.notes):
        limit = room if base + n * PITCH_MM < top + SHAPE_MM[1] + 6 else right - left
        line = shortened(clean(note), limit, NOTE)
        yield Text(line, (left, base + n * PITCH_MM), NOTE)
    yield from _shape(tag, (shape_left, top))


def _shape(tag: Tag, corner: tuple[float, float]) -> Iterator[Primitive]:
    per = min(SHAPE_MM[0] / tag.shape[0], SHAPE_MM[1] / tag.shape[1])
    wide, high = tag.shape[0] * per, tag.shape[1] * per
    left = corner[0] + SHAPE_MM[0] - wide
    top = corner[1]
    yield rectangle(left, top, wide, high, weight_mm=FINE)
    if tag.grain is None:
        return
    upright = tag.grain == "y"
    across, along = (min(5.0, wide * 0.6), min(14.0, high * 0.7))
    if not upright:
        across, along = (min(14.0, wide * 0.7), min(5.0, high * 0.6))
    x, y = left + (wide - across) / 2, top + (high - along) / 2
    yield from fibres((x, y, x + across, y + along), upright=upright)
    at = (left + wide, top + high + 1.4 + NOTE)
    yield Text("grain", at, NOTE, "serif italic", "end")


def _label(label: Label, box: Box) -> Iterator[Primitive]:
    """Yield a label: name and finished size first, the rest small."""
    left, top, right, foot = box
    left, top, room = left + PAD_MM - 1, top + PAD_MM - 0.6, right - left - 2 * PAD_MM + 2
    name = clean(label.name)
    lines: tuple[str, ...] = (name,)
    height = SIZE
    if width(name, SIZE, "serif italic") > room:
        height = NOTE
        lines = balanced(name, room, NOTE, "serif italic")[:2]
        shown = sum(len(line) for line in lines)
        if shown + len(lines) - 1 < len(name):
            lines = (lines[0], shortened(name[len(lines[0]) + 1 :], room, NOTE, "serif italic"))
    y = top
    for line in lines:
        y += height
        yield Text(line, (left, y), height, "serif italic")
        y += 1.7
    size, figures = fitted(label.size, room, (SIZE, NOTE), "sans bold")
    yield Text(size, (left, y + 1.0 + figures), figures, "sans bold")
    base = foot - PAD_MM + 1.6 - (len(label.notes) - 1) * LABEL_PITCH_MM
    for n, note in enumerate(label.notes):
        line = shortened(clean(note), room, NOTE)
        yield Text(line, (left, base + n * LABEL_PITCH_MM), NOTE)
