"""The mirrored sheet: a layout as it lies face down, for marking on the back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sheetcut.draw import heading
from sheetcut.draw.compose import MARGIN_MM
from sheetcut.draw.lettering import NOTE, SIZE, box, width, wrapped
from sheetcut.draw.names import Names
from sheetcut.draw.place import Box
from sheetcut.draw.primitives import (
    Anchor,
    Drawing,
    Line,
    Page,
    Primitive,
    Shape,
    Text,
    moved,
)
from sheetcut.draw.scale import COARSEST, scale_text, standard_scale
from sheetcut.draw.sheet import Picture, sheet_picture
from sheetcut.draw.steps import Step
from sheetcut.draw.view import View
from sheetcut.draw.weights import ENGRAVED_FINEST, RULE
from sheetcut.units import TICKS_PER_MM

TELLING = (
    "The sheet lies face down, turned over sideways like a page: the start corner is now at the "
    "lower right, and every reading from the left is one from the right."
)
LINE_MM = 5.4
ROW_MM = 7.4
HEAD_MM = 6.4
MOST_MARKS_MM = 66.0  # more of them would leave the sheet too little of the page
COLUMN_MM = 58.0
GAP_MM = 5.0
MOST_TRIED = 12  # scales; coarser ones have no more room for words
OTHER_SIDE = {"left": "right", "right": "left"}
OTHER_ANCHOR: dict[Anchor, Anchor] = {"start": "end", "end": "start", "middle": "middle"}


def mirrored(item: Primitive) -> Primitive:
    """Return a primitive seen from behind: places change sides, words stay readable."""
    if isinstance(item, Text):
        x, y = item.at
        if not item.angle:
            return replace(item, at=(-x, y), anchor=OTHER_ANCHOR[item.anchor])
        # Upright lettering keeps its top to the left, so its ink, not its baseline, changes sides.
        ink_left, _, ink_right, _ = box(item)
        return replace(item, at=(x - ink_left - ink_right, y))
    match item:
        case Line() | Shape():
            return replace(item, points=tuple((-x, y) for x, y in item.points))
    return replace(item, centres=tuple((-x, y) for x, y in item.centres))


def mirrored_sheet(
    view: View,
    steps: Sequence[Step],
    names: Names,
    words: heading.Heading,
    page: Page,
    *,
    inches: bool,
) -> tuple[Drawing, ...]:
    """Return the sheet from behind, as large as the page holds it, and the marks to make.

    Many marks have pages of their own, so that the sheet stays large.

    Args:
        view, steps, names: the layout as the pin-up sheet has it.
        words: of the title block; the scale is added to them.
        page: what it is drawn on.
    """
    left, right = MARGIN_MM, page.width_mm - MARGIN_MM
    top, foot = MARGIN_MM + heading.HEIGHT_MM, page.height_mm - MARGIN_MM - 3
    told = wrapped(TELLING, right - left, NOTE, "serif italic")
    columns = max(1, int((right - left + GAP_MM) / (COLUMN_MM + GAP_MM)))
    deep = -(-len(steps) // columns)
    marks_high = HEAD_MM + deep * ROW_MM if steps else 0.0
    is_apart = marks_high > MOST_MARKS_MM
    under = len(told) * LINE_MM + 3 + (0 if is_apart else marks_high + 4)
    n, picture = _largest(view, names, (right - left, foot - top - under), inches=inches)
    said = replace(words, paper=(*words.paper, scale_text(n)))
    ink = picture.box
    shift = ((left + right) / 2 + (ink[0] + ink[2]) / 2, top - ink[1])
    items: list[Primitive] = heading.heading(said, left, right, MARGIN_MM)
    items += [moved(mirrored(item), *shift) for item in picture.items]
    # Under the drawing, wherever that ends.
    y = top + ink[3] - ink[1] + 3
    for line in told:
        y += LINE_MM
        items.append(Text(line, (left, y), NOTE, "serif italic"))
    if not is_apart:
        items += _marks(steps, (left, y + 4, right, foot), columns)
        return (Drawing(page, words.title, tuple(items)),)
    each = columns * int((foot - top - HEAD_MM) / ROW_MM)
    first = Drawing(page, words.title, tuple(items))
    rest = [steps[k : k + each] for k in range(0, len(steps), each)]
    return (first, *(_marks_page(shown, words, page, columns) for shown in rest))


def _marks_page(steps: Sequence[Step], words: heading.Heading, page: Page, columns: int) -> Drawing:
    title = f"{words.title}: marks"
    left, right = MARGIN_MM, page.width_mm - MARGIN_MM
    items = heading.heading(replace(words, title=title), left, right, MARGIN_MM)
    top = MARGIN_MM + heading.HEIGHT_MM
    items += _marks(steps, (left, top, right, page.height_mm - MARGIN_MM), columns)
    return Drawing(page, title, tuple(items))


def _largest(
    view: View, names: Names, room: tuple[float, float], *, inches: bool
) -> tuple[int, Picture]:
    """Return the largest scale whose picture fits, at a standard scale where one is near."""
    pictures: dict[int, Picture] = {}

    def fits(n: int) -> bool:
        if n not in pictures:
            pictures[n] = sheet_picture(view, n, names, inches=inches)
        left, top, right, foot = pictures[n].box
        return right - left <= room[0] and foot - top <= room[1]

    def is_clear(n: int) -> bool:
        return fits(n) and not pictures[n].clashes

    measured = view.measured
    least = max(measured.width / room[0], measured.height / room[1]) / TICKS_PER_MM
    scales = range(max(1, int(least)), COARSEST + 1)
    largest = next((n for n in scales if fits(n)), COARSEST)
    if not is_clear(largest):
        largest = next((n for n in scales[:MOST_TRIED] if is_clear(n)), largest)
    n = standard_scale(largest, is_clear)
    return n, pictures[n]


def _marks(steps: Sequence[Step], room: Box, columns: int) -> Iterator[Primitive]:
    """Yield a line for each mark: number, reading, and from where, as seen from behind."""
    if not steps:
        return
    left, top, right, _ = room
    yield Text("Marks on the back", (left, top + SIZE), SIZE, "serif")
    yield Line(((left, top + 5.4), (right, top + 5.4)), RULE)
    wide = (right - left + GAP_MM) / columns
    deep = -(-len(steps) // columns)
    number = max(width(str(step.number), SIZE, "sans bold") for step in steps) + 2.4
    reading = max(width(step.reading, 5.0, "sans bold") for step in steps) + 2.4
    for n, step in enumerate(steps):
        x, y = left + n // deep * wide, top + 5.4 + (n % deep + 1) * ROW_MM
        yield Text(str(step.number), (x, y - 1.6), SIZE, "sans bold")
        yield Text(
            step.reading, (x + number, y - 1.6), 5.0, "sans bold", role=f"mark-{step.number}"
        )
        yield Text(_from_behind(step), (x + number + reading, y - 1.6), NOTE)
        yield Line(((x, y), (x + wide - GAP_MM, y)), ENGRAVED_FINEST)


def _from_behind(step: Step) -> str:
    words = step.whence if step.kind == "cut" else f"{step.what}, {step.whence}"
    return " ".join(_turned_over(word) for word in words.split(" "))


def _turned_over(word: str) -> str:
    bare = word.rstrip(",;")
    return OTHER_SIDE.get(bare, bare) + word[len(bare) :]
