"""The mirrored sheet: a layout as it lies face down, for marking on the back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

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
from sheetcut.draw.sheet import Picture, sheet_box, sheet_picture
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
    for sparse in (False, True):
        scales = _Scales(view, names, room, inches, sparse)
        n = scales.largest()
        if n is not None:
            return n, scales.picture(n)
    return COARSEST, scales.picture(COARSEST)


@dataclass(slots=True)
class _Scales:
    """The scales that a sheet may be drawn at in a room, with the pictures drawn so far.

    Attributes:
        sparse: whether the rulers carry only as many readings as find room.
    """

    view: View
    names: Names
    room: tuple[float, float]
    inches: bool
    sparse: bool
    drawn: dict[int, Picture] = field(default_factory=dict)

    def largest(self) -> int | None:
        """Return the scale to draw at, or None if none fits."""
        wide, high = self.room
        measured = self.view.measured
        least = max(measured.width / wide, measured.height / high) / TICKS_PER_MM
        scales = range(max(1, int(least)), COARSEST + 1)
        largest = next((n for n in scales if self._fits(n)), None)
        if largest is None:
            return None
        if not self._is_clear(largest):
            largest = next((n for n in scales[:MOST_TRIED] if self._is_clear(n)), largest)
        return standard_scale(largest, self._is_clear)

    def picture(self, n: int) -> Picture:
        """Return the sheet drawn at 1:n."""
        if n not in self.drawn:
            self.drawn[n] = sheet_picture(
                self.view, n, self.names, inches=self.inches, sparse=self.sparse
            )
        return self.drawn[n]

    def _fits(self, n: int) -> bool:
        found = sheet_box(self.view, n, inches=self.inches, sparse=self.sparse)
        left, top, right, foot = found
        return right - left <= self.room[0] and foot - top <= self.room[1]

    def _is_clear(self, n: int) -> bool:
        return self._fits(n) and not self.picture(n).clashes


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
