"""The summary page: what each paper takes and costs, and where every sheet of it went."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sheetcut.draw import heading
from sheetcut.draw.account import USES, Use, Went, segment, where_it_went
from sheetcut.draw.compose import MARGIN_MM
from sheetcut.draw.lettering import HEADING, NOTE, SIZE, clean, shortened, width, wrapped
from sheetcut.draw.place import Box
from sheetcut.draw.primitives import Drawing, Line, Page, Primitive, Text, moved
from sheetcut.draw.weights import ENGRAVED_FINEST, RULE
from sheetcut.layout import Waste
from sheetcut.units import Cents

LINE_MM = 4.4
BAR_TALL_MM = 3.4
TERM_MM = 44.0
BLOCK_GAP_MM = 6.0


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One drawing in the summary: its title, how it is cut and where its paper went.

    Attributes:
        figures: cuts and scrap, as "9 cuts, 18.6 % scrap".
        money: what these sheets cost, or nothing where that is not known.
    """

    title: str
    figures: str
    orders: str
    money: str
    waste: Waste
    price: Cents | None


@dataclass(frozen=True, slots=True)
class PaperBlock:
    """One paper in the summary.

    Attributes:
        money: its cost, or nothing.
        said: sentences: what is taken, how good the plan is, notes.
    """

    paper: str
    money: str
    said: tuple[str, ...]
    sheets: tuple[SheetLine, ...]


@dataclass(frozen=True, slots=True)
class _Set:
    """Something set at 0, 0, and how much height it takes."""

    items: tuple[Primitive, ...]
    height_mm: float


def summary_pages(
    blocks: Sequence[PaperBlock],
    closing: Sequence[tuple[str, str]],
    words: heading.Heading,
    page: Page,
) -> tuple[Drawing, ...]:
    """Return the summary on as many pages as it needs; no sheet is parted from its bar.

    Args:
        blocks: a paper each.
        closing: what holds for all papers, a word and what it says: "To buy", "nothing".
        words: of the title block.
    """
    wide = page.width_mm - 2 * MARGIN_MM
    parts = [part for block in blocks for part in _block(block, wide)]
    parts += [_legend(), *_closing(closing, wide)]
    top, foot = MARGIN_MM + heading.HEIGHT_MM + 2, page.height_mm - MARGIN_MM
    pages: list[list[Primitive]] = [[]]
    y = top
    for n, part in enumerate(parts):
        # A heading goes over with the first sheet under it.
        follows = parts[n + 1].height_mm if part.height_mm and n + 1 < len(parts) else 0.0
        together = part.height_mm + (follows if _is_head(part) else 0.0)
        if y + together > foot and pages[-1]:
            pages.append([])
            y = top
        pages[-1] += [moved(item, MARGIN_MM, y) for item in part.items]
        y += part.height_mm
    drawn = []
    for n, items in enumerate(pages):
        title = words.title if len(pages) == 1 else f"{words.title}, page {n + 1} of {len(pages)}"
        head = heading.heading(
            replace(words, title=title), MARGIN_MM, page.width_mm - MARGIN_MM, MARGIN_MM
        )
        drawn.append(Drawing(page, title, (*head, *items)))
    return tuple(drawn)


def _is_head(part: _Set) -> bool:
    return any(isinstance(item, Text) and item.height_mm == HEADING for item in part.items)


def _block(block: PaperBlock, wide: float) -> Iterator[_Set]:
    """Yield a paper's heading with its sentences, then its sheets."""
    base = 3.0 + HEADING
    money = width(block.money, HEADING, "serif")
    name = shortened(clean(block.paper), wide - money - 6, HEADING, "serif")
    items: list[Primitive] = [Text(name, (0, base), HEADING, "serif")]
    if block.money:
        items.append(Text(block.money, (wide, base), HEADING, "serif", "end"))
    items.append(Line(((0, base + 2.4), (wide, base + 2.4)), RULE))
    y = base + 3.2
    for sentence in block.said:
        for line in wrapped(clean(sentence), wide, NOTE, "serif italic"):
            y += LINE_MM
            items.append(Text(line, (0, y), NOTE, "serif italic"))
    yield _Set(tuple(items), y + 2.0)
    for n, sheet in enumerate(block.sheets):
        is_last = n == len(block.sheets) - 1
        yield _sheet(sheet, wide, BLOCK_GAP_MM if is_last else 0.0)


def _sheet(sheet: SheetLine, wide: float, after: float) -> _Set:
    """Return a sheet: title and money, its orders and figures, and the bar of where it went."""
    base = 1.6 + SIZE
    money = width(sheet.money, NOTE, "sans bold")
    title = shortened(clean(sheet.title), wide - money - 6, SIZE, "serif")
    items: list[Primitive] = [Text(title, (0, base), SIZE, "serif")]
    if sheet.money:
        items.append(Text(sheet.money, (wide, base), NOTE, "sans bold", "end"))
    y = base + 0.8
    items.append(Text(sheet.figures, (wide, y + LINE_MM), NOTE, anchor="end"))
    room = wide - width(sheet.figures, NOTE) - 6
    for line in wrapped(clean(sheet.orders), room, NOTE, "serif italic") or ("",):
        y += LINE_MM
        if line:
            items.append(Text(line, (0, y), NOTE, "serif italic"))
    went = where_it_went(sheet.waste, sheet.price)
    items += _bar(went, (0, y + 1.8, wide, y + 1.8 + BAR_TALL_MM))
    y += 1.8 + BAR_TALL_MM + 1.8
    items.append(Line(((0, y), (wide, y)), ENGRAVED_FINEST))
    return _Set(tuple(items), y + after)


def _bar(went: Sequence[Went], box: Box) -> Iterator[Primitive]:
    """Yield the parts of a sheet side by side, each as wide as its share."""
    left, top, right, foot = box
    whole = sum(part.area for part in went)
    x = left
    for part in went:
        if part.area:
            wide = (right - left) * part.area / whole
            yield from segment(part.use, (x, top, x + wide, foot))
            x += wide


def _legend() -> _Set:
    """Return what the parts of the bars are, each beside a piece of it."""
    items: list[Primitive] = []
    x = 0.0
    for use in USES:
        finished, margins, keepers, scrap = (int(one == use) for one in USES)
        whole = Waste(finished, margins, keepers, scrap, edges=0, extra=0)
        went = tuple(part for part in where_it_went(whole, None) if part.area)
        items += _bar(went, (x, 2.0, x + 9, 2.0 + BAR_TALL_MM))
        items.append(Text(LEGEND[use], (x + 11, 2.0 + BAR_TALL_MM - 0.5), NOTE))
        x += 11 + width(LEGEND[use], NOTE) + 7
    return _Set(tuple(items), 2.0 + BAR_TALL_MM + 4.0)


LEGEND: dict[Use, str] = {
    "finished": "finished pieces",
    "margins": "margins",
    "keepers": "keepers, back to the drawer",
    "scrap": "scrap",
}


def _closing(closing: Sequence[tuple[str, str]], wide: float) -> Iterator[_Set]:
    """Yield what holds for all papers, each under its word."""
    for word, said in closing:
        each = [wrapped(clean(one), wide - TERM_MM, NOTE) for one in said.split("; ")]
        lines = [line for one in each for line in one]
        items: list[Primitive] = [Text(clean(word), (0, NOTE), NOTE, "sans bold")]
        items += [Text(line, (TERM_MM, NOTE + n * LINE_MM), NOTE) for n, line in enumerate(lines)]
        yield _Set(tuple(items), max(1, len(lines)) * LINE_MM + 1.6)
