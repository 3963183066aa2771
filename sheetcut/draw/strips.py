"""Marking strips: the readings of both start edges at true size, to be laid on the paper itself.

A strip longer than the page goes on over several lengths that meet at round readings. Each joint
carries a register mark on both lengths; laid on one another, the marks must hide each other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from sheetcut.draw import heading, running
from sheetcut.draw.compose import MARGIN_MM
from sheetcut.draw.lettering import NOTE, SIZE, SMALL_PRINT, width
from sheetcut.draw.measures import length_text
from sheetcut.draw.primitives import (
    Anchor,
    Dots,
    Drawing,
    Line,
    Page,
    Primitive,
    Shape,
    Text,
    rectangle,
)
from sheetcut.draw.ruler import MARK_MM
from sheetcut.draw.view import View
from sheetcut.draw.weights import CUT, ENGRAVED, ENGRAVED_FINEST, FINE, MARGIN_DASHES
from sheetcut.units import TICKS_PER_INCH, TICKS_PER_MM, Length

STRIP_MM = 20.0
PITCH_MM = 22.0
LEAD_MM = 6.0  # left of a length's first mark: room for its register mark
FIGURES_MM = 5.6
ARROW_MM = 2.6
READING_OFF_MM = 8.9
READING_MM = 5.0
REGISTER_MM = 1.6
CHECK_MM = 100.0
CHECK_INCHES = 4
FOOT_MM = 14.0
BESIDE_MM = 1.8

LENGTHS_MM = (350, 300, 250, 240, 200, 150, 100)
LENGTHS_INCH = (16, 15, 12, 10, 8, 6, 4)

Side = Literal["foot", "left"]


@dataclass(frozen=True, slots=True)
class Tick:
    """A reading on a start edge.

    Attributes:
        at: how far from the start corner.
        number: of the cut.
        is_long: whether the cut runs across the whole sheet, so that the far edge takes it too.
    """

    at: Length
    number: int
    is_long: bool


@dataclass(frozen=True, slots=True)
class Stretch:
    """One length of a strip: from one reading to another along a start edge."""

    side: Side
    start: Length
    stop: Length
    whole: Length
    ticks: tuple[Tick, ...]


def marking_strips(
    view: View, words: heading.Heading, page: Page, *, inches: bool
) -> tuple[Drawing, ...]:
    """Return the strips of one layout, as many pages of them as they need, lying wide.

    Args:
        view: the layout as it lies, start corner at the lower left.
        words: of the title block; its title is the page's.
        page: upright or wide; it is turned to lie wide.
    """
    wide = Page(page.name, *sorted((page.width_mm, page.height_mm), reverse=True))
    room = wide.width_mm - 2 * MARGIN_MM - 2 * LEAD_MM
    stretches = [
        *_stretches("foot", view.usable.width, _ticks(view, "foot"), room, inches=inches),
        *_stretches("left", view.usable.height, _ticks(view, "left"), room, inches=inches),
    ]
    top = MARGIN_MM + heading.HEIGHT_MM + 3  # no page at all where nothing can be marked
    each = max(1, int((wide.height_mm - MARGIN_MM - FOOT_MM - top) / PITCH_MM))
    count = -(-len(stretches) // each)
    pages = []
    for n in range(count):
        shown = stretches[n * each : (n + 1) * each]
        title = words.title if count == 1 else f"{words.title}, page {n + 1} of {count}"
        said = heading.Heading(words.studio, title, words.marks, words.paper)
        items: list[Primitive] = heading.heading(
            said, MARGIN_MM, wide.width_mm - MARGIN_MM, MARGIN_MM
        )
        for k, stretch in enumerate(shown):
            items += _strip(stretch, top + k * PITCH_MM, inches=inches)
        items += check_line(wide, inches=inches)
        pages.append(Drawing(wide, title, tuple(items)))
    return tuple(pages)


def _ticks(view: View, side: Side) -> list[Tick]:
    along = "x" if side == "foot" else "y"
    found = {
        cut.at: Tick(cut.at, cut.cut.number, cut.cut.level == 1)
        for cut in reversed(view.cuts)
        if cut.at_ruler and cut.along == along
    }
    far = "right" if side == "foot" else "top"
    found |= {
        one.reading: Tick(one.reading, one.number, True) for one in view.squaring if one.edge == far
    }
    return [found[at] for at in sorted(found)]


def _stretches(
    side: Side, whole: Length, ticks: Sequence[Tick], room_mm: float, *, inches: bool
) -> Iterator[Stretch]:
    """Yield the lengths of one edge; each ends at a round reading, and the last at the edge's end.

    A reading at a joint stands on both lengths; past the last reading there is nothing to mark.
    """
    unit = TICKS_PER_INCH if inches else TICKS_PER_MM
    longest = next(
        one * unit
        for one in (LENGTHS_INCH if inches else LENGTHS_MM)
        if one * unit <= room_mm * TICKS_PER_MM
    )
    last = max((tick.at for tick in ticks), default=0)
    for start in range(0, last, longest):
        stop = min(start + longest, whole)
        if whole - start <= room_mm * TICKS_PER_MM:
            stop = whole
        shown = tuple(tick for tick in ticks if start <= tick.at <= stop)
        yield Stretch(side, start, stop, whole, shown)
        if stop == whole:
            return


@dataclass(frozen=True, slots=True)
class _Bed:
    """Where one length lies on the page.

    Attributes:
        edge: the height of the edge that is laid on the sheet's: its top; for the left, its foot.
        inward: 1 where the strip lies under that edge, -1 where it lies over it.
    """

    stretch: Stretch
    top: float
    edge: float
    inward: Literal[1, -1]
    inches: bool

    def x(self, at: Length) -> float:
        """Return the page's x of a distance from the start corner."""
        return MARGIN_MM + LEAD_MM + (at - self.stretch.start) / TICKS_PER_MM

    @property
    def goes_on(self) -> bool:
        """Whether another length follows."""
        return self.stretch.stop < self.stretch.whole

    def base(self, off: float, height: float) -> float:
        """Return the baseline of lettering that begins so far off the edge."""
        return self.edge + off + height if self.inward > 0 else self.edge - off


def _strip(stretch: Stretch, top: float, *, inches: bool) -> Iterator[Primitive]:
    """Yield one length.

    Turned a quarter anticlockwise, a strip for the left edge lies left of the sheet.
    """
    bed = _Bed(stretch, top, top, 1, inches)
    if stretch.side == "left":
        bed = _Bed(stretch, top, top + STRIP_MM, -1, inches)
    left, right = bed.x(stretch.start), bed.x(stretch.stop)
    from_x = left - (LEAD_MM if stretch.start else 0)
    to_x = right + (LEAD_MM if bed.goes_on else 0)
    yield rectangle(from_x, top, to_x - from_x, STRIP_MM, weight_mm=ENGRAVED, dashes=MARGIN_DASHES)
    yield Line(((from_x, bed.edge), (to_x, bed.edge)), FINE)
    yield from _marks(bed)
    yield from _readings(bed)
    if stretch.start:
        yield from _register(bed, stretch.start, "end")
    else:
        yield Line(((left, top), (left, top + STRIP_MM)), FINE)
        deep = bed.edge + 3.4 * bed.inward
        yield Shape(((left, bed.edge), (left + 3.4, bed.edge), (left, deep)), "black")
    if bed.goes_on:
        yield from _register(bed, stretch.stop, "start")
    else:
        yield Line(((right, top), (right, top + STRIP_MM)), FINE)
    yield from _name(bed)


def _name(bed: _Bed) -> Iterator[Text]:
    """Yield the strip's own words on the side away from the paper, in the first gap that is free.

    Without one they are left out: the other lengths have them.
    """
    words = "along the foot" if bed.stretch.side == "foot" else "up the left"
    if bed.stretch.start == 0:
        words = f"start corner here; {words}"
    wide = width(words, NOTE, "serif italic")
    x = bed.x(bed.stretch.start) + 1.4
    for one in _standing(bed):
        if x + wide + 1 <= one.centre - one.wide / 2:
            break
        x = one.centre + one.wide / 2 + 2.5
    if x + wide <= bed.x(bed.stretch.stop) - 1:
        yield Text(words, (x, bed.base(STRIP_MM - 1.4 - NOTE, NOTE)), NOTE, "serif italic")


def _marks(bed: _Bed) -> Iterator[Primitive]:
    """Yield the marks of a ruler at true size, with figures."""
    step = TICKS_PER_INCH // 16 if bed.inches else TICKS_PER_MM
    steps = (1, 2, 4, 8, 16) if bed.inches else (1, 5, 10, 50)
    unit = TICKS_PER_INCH if bed.inches else TICKS_PER_MM
    figure = unit if bed.inches else 10 * unit
    stretch = bed.stretch
    leaders = [sorted((one.mark, one.centre)) for one in _standing(bed)]
    for at in range(-(-stretch.start // step) * step, stretch.stop + 1, step):
        rank = max(n for n, every in enumerate(steps) if at // step % every == 0)
        pen = ENGRAVED if rank else ENGRAVED_FINEST
        x, deep = bed.x(at), bed.edge + bed.inward * MARK_MM[rank] * 1.15
        yield Line(((x, bed.edge), (x, deep)), pen)
        text = str(at // unit)
        half = width(text, SMALL_PRINT) / 2 + 0.9
        is_figure = at % figure == 0 and stretch.start < at < stretch.stop
        if is_figure and all(x + half < low or high < x - half for low, high in leaders):
            yield Text(text, (x, bed.base(FIGURES_MM, SMALL_PRINT)), SMALL_PRINT, anchor="middle")


@dataclass(frozen=True, slots=True)
class _Standing:
    """A reading on its strip: where its mark is, and where its figures stand."""

    tick: Tick
    text: str
    flag: str
    mark: float
    centre: float
    wide: float


def _standing(bed: _Bed) -> tuple[_Standing, ...]:
    """Return the readings of one length, moved apart where their marks are too close."""
    ticks = bed.stretch.ticks
    if not ticks:
        return ()
    texts = [length_text(tick.at, inches=bed.inches) for tick in ticks]
    flags = [f"{'long ' if tick.is_long else ''}cut {tick.number}" for tick in ticks]
    wide = [
        max(width(text, READING_MM, "sans bold"), width(flag, NOTE))
        for text, flag in zip(texts, flags, strict=True)
    ]
    gaps = [(one + other) / 2 + BESIDE_MM for one, other in pairwise(wide)]
    marks = [bed.x(tick.at) for tick in ticks]
    off = REGISTER_MM + 1.4
    low = bed.x(bed.stretch.start) + wide[0] / 2 + (off if bed.stretch.start else 0)
    high = bed.x(bed.stretch.stop) - wide[-1] / 2 - (off if bed.goes_on else 0)
    centres = running.spread(marks, gaps, low, high)
    rows = zip(ticks, texts, flags, marks, centres, wide, strict=True)
    return tuple(_Standing(*row) for row in rows)


def _readings(bed: _Bed) -> Iterator[Primitive]:
    """Yield an arrow at every reading, its figures and the number of its cut."""
    back = bed.edge + bed.inward * ARROW_MM
    bend = bed.edge + bed.inward * (READING_OFF_MM - 2.4)
    stop = bed.edge + bed.inward * (READING_OFF_MM - 0.7)
    for one in _standing(bed):
        yield Shape(((one.mark, bed.edge), (one.mark + 1.3, back), (one.mark - 1.3, back)), "black")
        yield Line(((one.mark, back), (one.mark, bend), (one.centre, stop)), CUT)
        at = (one.centre, bed.base(READING_OFF_MM, READING_MM))
        role = f"strip-{one.tick.number}"
        yield Text(one.text, at, READING_MM, "sans bold", "middle", role=role)
        beyond = bed.base(READING_OFF_MM + READING_MM + 1.2, NOTE)
        yield Text(one.flag, (one.centre, beyond), NOTE, anchor="middle")


def _register(bed: _Bed, at: Length, outside: Anchor) -> Iterator[Primitive]:
    """Yield the mark of a joint: a line and a circle with a cross, to be laid on its twin."""
    x, y = bed.x(at), bed.top + STRIP_MM / 2
    yield Line(((x, bed.top), (x, bed.top + STRIP_MM)), FINE)
    yield Dots(((x, y),), REGISTER_MM, "none", FINE)
    yield Line(((x - REGISTER_MM - 0.8, y), (x + REGISTER_MM + 0.8, y)), FINE)
    beside = x - 0.6 if outside == "end" else x + 0.6
    base = bed.base(STRIP_MM - 1.4 - SMALL_PRINT, SMALL_PRINT)
    yield Text(length_text(at, inches=bed.inches), (beside, base), SMALL_PRINT, anchor=outside)


def check_line(page: Page, *, inches: bool) -> Iterator[Primitive]:
    """Yield the line that tells whether the printer kept to true size, and what strips are for."""
    y = page.height_mm - MARGIN_MM - 2.5
    left = MARGIN_MM
    yield from _measure(left, y, CHECK_MM, "100 mm")
    right = left + CHECK_MM
    if inches:
        long = CHECK_INCHES * TICKS_PER_INCH / TICKS_PER_MM
        yield from _measure(left, y - 6.5, long, f"{CHECK_INCHES} in")
        right = left + long
    lines = (
        "Measure this line first; if it is off, print again at actual size (100 %).",
        "Cut out, join mark on mark, lay along the start edge; long cuts along the far edge too.",
    )
    for n, line in enumerate(lines):
        yield Text(line, (right + 6, y - 3.2 + n * 4.4), NOTE, "serif italic")


def _measure(left: float, y: float, long: float, text: str) -> Iterator[Primitive]:
    yield Line(((left, y), (left + long, y)), CUT)
    for x in (left, left + long):
        yield Line(((x, y - 1.8), (x, y + 1.8)), FINE)
    middle = left + long / 2
    yield Text(text, (middle, y - 1.2), SIZE, anchor="middle")
