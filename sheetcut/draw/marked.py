"""The marking-out page: every mark that can be made on the whole sheet before the first cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sheetcut.draw import heading
from sheetcut.draw.compose import MARGIN_MM
from sheetcut.draw.lettering import NOTE, READING, SIZE, wrapped
from sheetcut.draw.primitives import Drawing, Line, Page, Primitive, Text
from sheetcut.draw.weights import ENGRAVED_FINEST, RULE

TELLING = (
    "When the start edges are true, make these marks with the ruler lying still along its edge. "
    "A cut then joins its marks, and what it is measured from no longer matters."
)
COLUMNS_MM = (0.0, 13.0, 46.0, 77.0)
ROW_MM = 12.6
HEAD_MM = 7.0
LINE_MM = 5.4


@dataclass(frozen=True, slots=True)
class MarkedCut:
    """The marks of one cut in words.

    Attributes:
        reading: what the ruler shows at each of its marks.
        whence: the edge it is laid to: "from the left".
        places: how far along that edge's neighbour the marks stand: "at 0, 372 and 744 up".
        why_not: why it cannot be marked beforehand; empty where it can.
    """

    number: int
    reading: str
    whence: str
    places: str
    why_not: str = ""


def marked_pages(
    cuts: Sequence[MarkedCut], words: heading.Heading, page: Page
) -> tuple[Drawing, ...]:
    """Return the table of marks, on as many pages as it takes."""
    top = MARGIN_MM + heading.HEIGHT_MM
    told = wrapped(TELLING, page.width_mm - 2 * MARGIN_MM, NOTE, "serif italic")
    first = top + len(told) * LINE_MM + 4
    each = int((page.height_mm - MARGIN_MM - first - HEAD_MM) / ROW_MM)
    parts = [cuts[n : n + each] for n in range(0, len(cuts), each)]
    found = []
    for number, part in enumerate(parts, start=1):
        title = words.title + (f", page {number} of {len(parts)}" if len(parts) > 1 else "")
        items = heading.heading(
            replace(words, title=title), MARGIN_MM, page.width_mm - MARGIN_MM, MARGIN_MM
        )
        for line, text in enumerate(told, start=1):
            items.append(Text(text, (MARGIN_MM, top + line * LINE_MM - 1), NOTE, "serif italic"))
        items += _table(part, first, page.width_mm - MARGIN_MM)
        found.append(Drawing(page, title, tuple(items)))
    return tuple(found)


def _table(cuts: Sequence[MarkedCut], top: float, right: float) -> Iterator[Primitive]:
    columns = [MARGIN_MM + column for column in COLUMNS_MM]
    for left, head in zip(columns, ("cut", "ruler shows", "laid", "marks"), strict=True):
        yield Text(head, (left, top + NOTE + 1), NOTE, "serif italic")
    y = top + HEAD_MM
    yield Line(((MARGIN_MM, y), (right, y)), RULE)
    for cut in cuts:
        y += ROW_MM
        yield Text(str(cut.number), (columns[0], y - 2.8), SIZE, "sans bold")
        role = f"mark-{cut.number}"
        yield Text(cut.reading, (columns[1], y - 2.8), READING, "sans bold", role=role)
        yield Text(cut.whence, (columns[2], y - 2.8), SIZE)
        if cut.why_not:
            words = f"not before the first cut: {cut.why_not}"
            yield Text(words, (columns[3], y - 2.8), NOTE, "serif italic")
        else:
            yield Text(cut.places, (columns[3], y - 2.8), SIZE)
        yield Line(((MARGIN_MM, y), (right, y)), ENGRAVED_FINEST)
