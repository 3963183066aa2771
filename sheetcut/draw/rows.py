"""Steps as rows that flow through columns: number, thumbnail, reading, words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetcut.draw.lettering import NOTE, READING, SIZE, shortened, width, wrapped
from sheetcut.draw.place import Box
from sheetcut.draw.primitives import Face, Line, Primitive, Text, moved, rectangle
from sheetcut.draw.steps import Step
from sheetcut.draw.view import View
from sheetcut.draw.weights import (
    ENGRAVED_FINEST,
    FINE,
    MEASURED_EDGE,
    MEASURED_EDGE_SMALL,
    SQUARING_DASHES,
    THUMBNAIL_CUT,
)

LEAST_WORDS_MM = width("from the foot", NOTE)
THINNEST_MM = 1.8  # of a thumbnail
PITCH_MM = 4.0  # of lines in a row


@dataclass(frozen=True, slots=True)
class Style:
    """How large rows are set.

    Attributes:
        reading_mm, number_mm: heights of the figures.
        thumb: room for a thumbnail, width and height.
        pad_mm: above and below.
        is_line: whether all of a step stands on one line.
        least_mm: no column is narrower.
        handicap: by how much finer a scale must be to prefer this style to the largest.
    """

    reading_mm: float
    number_mm: float
    thumb: tuple[float, float]
    pad_mm: float
    is_line: bool
    least_mm: float
    handicap: float


LARGE = Style(READING, SIZE, (10.0, 13.0), 1.3, False, 37.0, 1.0)
MEDIUM = Style(5.0, SIZE, (8.5, 10.5), 1.5, False, 35.0, 1.18)
SMALL = Style(SIZE, NOTE, (5.0, 4.4), 0.65, True, 43.0, 1.6)
TINY = Style(NOTE, NOTE, (0.0, 0.0), 0.7, True, 40.0, 2.3)
STYLES = (LARGE, MEDIUM, SMALL, TINY)
READABLE = (LARGE, MEDIUM, SMALL)


@dataclass(frozen=True, slots=True)
class Row:
    """A row set at 0, 0, and how much height it takes."""

    items: tuple[Primitive, ...]
    height_mm: float


def rows_of(
    steps: Sequence[Step], view: View, style: Style, width_mm: float
) -> tuple[Row, ...] | None:
    """Return a row for every step, all as wide as their column; None where readings are wider."""
    widest = max((width(step.reading, style.reading_mm, "sans bold") for step in steps), default=0)
    column = _Column(steps, view, style, width_mm, widest)
    words_room = column.room if style.is_line else width_mm - column.text_left
    if column.text_left + widest > width_mm or words_room < LEAST_WORDS_MM:
        return None
    return tuple(column.line(step) if style.is_line else column.row(step) for step in steps)


def paragraph(text: str, width_mm: float, *, first_mm: float = 0.0) -> Row:
    """Return a note in italics, broken into lines."""
    lines = wrapped(text, width_mm, NOTE, "serif italic")
    items = tuple(
        Text(line, (0, first_mm + NOTE + n * PITCH_MM * 1.05), NOTE, "serif italic")
        for n, line in enumerate(lines)
    )
    return Row(items, first_mm + len(lines) * PITCH_MM * 1.05 + 0.8)


def flow(
    steps: Sequence[Step], view: View, style: Style, frames: Sequence[Box]
) -> list[Primitive] | None:
    """Return steps set into frames one after the other, or None where they do not all fit."""
    least = style.reading_mm + 2 * style.pad_mm
    if len(steps) > sum(max(0, int((foot - top) / least)) for _, top, _, foot in frames):
        return None  # not even without words
    set_to: dict[float, tuple[Row, ...] | None] = {}
    items: list[Primitive] = []
    done = 0
    for left, top, right, foot in frames:
        wide = round(right - left, 6)
        if wide not in set_to:
            set_to[wide] = rows_of(steps, view, style, wide)
        rows, y = set_to[wide], top
        if rows is None:
            continue
        while done < len(rows) and y + rows[done].height_mm <= foot + 1e-6:
            items += [moved(item, left, y) for item in rows[done].items]
            y += rows[done].height_mm
            items.append(Line(((left, y), (right, y)), ENGRAVED_FINEST))
            done += 1
    return items if done == len(steps) else None


class _Column:
    """The measures that all rows of one column share, so that their figures line up."""

    def __init__(
        self, steps: Sequence[Step], view: View, style: Style, width_mm: float, widest: float
    ) -> None:
        self.style = style
        self.width_mm = width_mm
        digits = max((len(str(step.number)) for step in steps), default=1)
        number = width("8" * digits, style.number_mm, "sans bold")
        self.thumb_left = number + 1.2
        self.text_left = self.thumb_left + style.thumb[0] + (2.2 if style.thumb[0] else 0.6)
        self.words_left = self.text_left + widest + 2.4
        self.room = width_mm - self.words_left
        rect = view.measured
        self.per_tick = min(style.thumb[0] / rect.width, style.thumb[1] / rect.height)

    def row(self, step: Step) -> Row:
        """Return a row of several lines."""
        style = self.style
        base = style.pad_mm + style.reading_mm
        items: list[Primitive] = [
            Text(
                str(step.number), (0, style.pad_mm + style.number_mm), style.number_mm, "sans bold"
            ),
            Text(
                step.reading,
                (self.text_left, base),
                style.reading_mm,
                "sans bold",
                role=_role(step),
            ),
        ]
        one_line = f"{step.what} {step.whence}"
        beside = self.room >= max(width(step.what, NOTE), width(step.whence, NOTE))
        if beside:
            words = list(self._beside(step, base))
            items += words
            y = max(base, words[-1].at[1])
            notes_room = self.width_mm - self.text_left
        else:
            notes_room = self.width_mm - self.text_left
            lines = [one_line] if width(one_line, NOTE) <= notes_room else [step.what, step.whence]
            y = base + 0.7
            for line in lines:
                y += PITCH_MM
                items.append(Text(shortened(line, notes_room, NOTE), (self.text_left, y), NOTE))
        for note in step.notes:
            for line in wrapped(note, notes_room, NOTE, "serif italic"):
                y += PITCH_MM + (0.4 if y == base else 0.0)
                items.append(Text(line, (self.text_left, y), NOTE, "serif italic"))
        tall = max(y + 0.9, style.pad_mm + style.thumb[1]) + style.pad_mm
        items += self._thumbnail(step, (tall) / 2)
        return Row(tuple(items), tall)

    def _beside(self, step: Step, base: float) -> Iterator[Text]:
        lines = [step.what, step.whence]
        if step.hand_text and self.room >= width(f"{step.what} {step.whence}", NOTE):
            lines = [f"{step.what} {step.whence}", f"in hand {step.hand_text}"]
        upper = base - self.style.reading_mm + NOTE - 0.2
        for n, line in enumerate(lines):
            face: Face = "serif italic" if line.startswith("in hand") else "sans"
            yield Text(line, (self.words_left, upper + n * PITCH_MM * 1.05), NOTE, face)

    def line(self, step: Step) -> Row:
        """Return a row of one line."""
        style = self.style
        tall = max(style.reading_mm, style.thumb[1], NOTE * 1.4) + 2 * style.pad_mm
        base = (tall + style.reading_mm) / 2
        level = (tall + NOTE) / 2
        items: list[Primitive] = [
            Text(str(step.number), (0, level), style.number_mm, "sans bold"),
            Text(
                step.reading,
                (self.text_left, base),
                style.reading_mm,
                "sans bold",
                role=_role(step),
            ),
        ]
        words = [f"{step.what} {step.whence}", *step.notes]
        ways = ["; ".join(words[:n]) for n in range(len(words), 0, -1)]
        ways.append(step.whence if step.kind == "cut" else step.what)
        fits = (way for way in ways if width(way, NOTE) <= self.room)
        kept = next(fits, shortened(ways[-1], self.room, NOTE))
        if kept:
            items.append(Text(kept, (self.words_left, level), NOTE))
        items += self._thumbnail(step, tall / 2)
        return Row(tuple(items), tall)

    def _thumbnail(self, step: Step, middle: float) -> Iterator[Primitive]:
        """Yield the piece in hand as it lies, its measured edge bold, the cut across it."""
        if not self.style.thumb[0]:
            return
        is_small = self.style.is_line
        scale = self.per_tick
        if is_small:  # one scale for all would leave strips too thin to see
            scale = min(
                self.style.thumb[0] / step.hand.width, self.style.thumb[1] / step.hand.height
            )
        wide = max(step.hand.width * scale, THINNEST_MM)
        high = max(step.hand.height * scale, THINNEST_MM)
        left = self.thumb_left + (self.style.thumb[0] - wide) / 2
        top = middle - high / 2
        right, foot = left + wide, top + high
        yield rectangle(left, top, wide, high, weight_mm=FINE)
        bold = MEASURED_EDGE_SMALL if is_small else MEASURED_EDGE
        if step.edge == "left":
            yield Line(((left, top), (left, foot)), bold)
        if step.edge == "foot":
            yield Line(((left, foot), (right, foot)), bold)
        past = 0.5 if is_small else 1.0
        pen, dashes = (FINE, SQUARING_DASHES) if step.kind == "squaring" else (THUMBNAIL_CUT, ())
        if step.along == "x":
            x = left + wide * (step.at - step.hand.x) / step.hand.width
            x = min(max(x, left + 0.7), right - 0.7) if step.kind == "squaring" else x
            yield Line(((x, top - past), (x, foot + past)), pen, dashes)
        else:
            y = foot - high * (step.at - step.hand.y) / step.hand.height
            y = min(max(y, top + 0.7), foot - 0.7) if step.kind == "squaring" else y
            yield Line(((left - past, y), (right + past, y)), pen, dashes)


def _role(step: Step) -> str:
    return f"step-{step.number}"
