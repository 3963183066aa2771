"""What stands above and below the drawing: whose sheet it is, and the caution line."""

from __future__ import annotations

from dataclasses import dataclass

from sheetcut.draw.lettering import (
    HEADING,
    NOTE,
    SIZE,
    SMALL_PRINT,
    clean,
    fitted,
    shortened,
    width,
    wrapped,
)
from sheetcut.draw.primitives import Line, Primitive, Text
from sheetcut.draw.weights import RULE

TRACKING_MM = 0.5
HEIGHT_MM = 19.0
CAUTION_HEIGHT_MM = 7.4

CAUTION = (
    "Sharp blade, light pressure, several passes. Safety ruler, fingers behind its guard and "
    "never in the blade's path; cut beside your body, not towards it. Retract the blade each time "
    "you put it down, let a falling knife fall; spent blades into a closed tin. Follow local rules "
    "and your own training."
)


@dataclass(frozen=True, slots=True)
class Heading:
    """The words of the title block."""

    studio: str
    title: str
    marks: tuple[str, ...]
    paper: tuple[str, ...]


def heading(words: Heading, left: float, right: float, top: float) -> list[Primitive]:
    """Return the title block with the rule under it; it is always HEIGHT_MM high."""
    marks = shortened(_joined(words.marks), (right - left) * 0.62, NOTE)
    studio = _tracked(clean(words.studio).upper(), right - left - width(marks, NOTE) - 6)
    paper = shortened(_joined(words.paper), right - left, NOTE)
    title, height = fitted(clean(words.title), right - left, (HEADING, SIZE), "serif")
    first, second, third = top + NOTE + 0.5, top + 7.4, top + 14.5
    items: list[Primitive] = [
        Text(studio, (left, first), NOTE, spacing_mm=TRACKING_MM),
        Text(marks, (right, first), NOTE, anchor="end"),
        Text(paper, (right, second), NOTE, anchor="end"),
        Text(title, (left, third), height, "serif"),
        Line(((left, top + 17.4), (right, top + 17.4)), RULE),
    ]
    return [item for item in items if not isinstance(item, Text) or item.text]


def _joined(parts: tuple[str, ...]) -> str:
    return " · ".join(part for part in map(clean, parts) if part)


def _tracked(text: str, room: float) -> str:
    while text and width(text, NOTE, "sans", TRACKING_MM) > room:
        text = text[:-2].rstrip() + "…" if len(text) > 2 else ""
    return text


def caution(left: float, right: float, top: float) -> list[Primitive]:
    """Return the caution line, in small print over two lines."""
    lines = wrapped(CAUTION, right - left, SMALL_PRINT)
    return [
        Text(line, (left, top + SMALL_PRINT + n * SMALL_PRINT * 1.75), SMALL_PRINT)
        for n, line in enumerate(lines)
    ]
