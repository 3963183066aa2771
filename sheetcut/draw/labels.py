"""Pencil notes on blanks, keepers and scrap: as large as their paper allows, never over others."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetcut.draw.lettering import (
    LEADING,
    NOTE,
    SIZE,
    box,
    clean,
    shortened,
    width,
    wrapped,
)
from sheetcut.draw.measures import finished_text, size_text
from sheetcut.draw.place import Box, Place, Taken, grown
from sheetcut.draw.primitives import Face, Primitive, Text, rectangle
from sheetcut.draw.view import Rect, SeenBlank, View
from sheetcut.draw.weights import BORDER_DASHES, KEEPER, MARGIN, MARGIN_DASHES

INSET_MM = 1.7
LEAST_LETTERS = 8  # a label cut shorter than this says less than a letter with a key
LEAST_WIDTH_MM = {7.0: 90.0, 5.0: 52.0, SIZE: 26.0, NOTE: 0.0}
"""How wide a blank is drawn at least for lettering of a height: large notes on large paper."""

HEIGHTS = (7.0, 5.0, SIZE, NOTE)
MOST_LINES = 5


@dataclass(frozen=True, slots=True)
class Key:
    """What a letter on small blanks stands for: names and finished size."""

    letter: str
    words: str


@dataclass(frozen=True, slots=True)
class Written:
    """The notes of a drawing, and the key where blanks are too small for theirs."""

    items: tuple[Primitive, ...]
    keys: tuple[Key, ...]


def outlines(view: View, place: Place) -> list[Primitive]:
    """Return the fine dashed lines inside blanks: margins, and a print's borders."""
    items: list[Primitive] = []
    for blank in view.blanks:
        if blank.finished != blank.edge:
            items.append(_dashed(place.box(blank.finished), MARGIN_DASHES))
        if blank.image != blank.finished:
            dashes = BORDER_DASHES if blank.finished != blank.edge else MARGIN_DASHES
            items.append(_dashed(place.box(blank.image), dashes))
    return items


def _dashed(at: Box, dashes: tuple[float, ...]) -> Primitive:
    left, top, right, foot = at
    return rectangle(left, top, right - left, foot - top, weight_mm=MARGIN, dashes=dashes)


def blank_notes(
    view: View, place: Place, taken: Taken, names: Sequence[tuple[str, ...]]
) -> Written:
    """Return a note on every blank: names, finished size, and "turned" where it is.

    Args:
        view, place: what is drawn, and where.
        taken: the room that readings and flags stand in; the notes' own is added.
        names: for each blank, the lines that name it.
    """
    items: list[Primitive] = []
    letters: dict[str, str] = {}
    for blank, lines in zip(view.blanks, names, strict=True):
        note = _note(blank, lines, place, taken)
        if note is None:
            words = "; ".join(lines) + f", {_size_line(blank)}"
            letter = letters.setdefault(words, _letter(len(letters)))
            note = _lettered(blank, letter, place, taken)
        items += note
    keys = tuple(Key(letter, words) for words, letter in letters.items())
    return Written(tuple(items), keys)


def _letter(n: int) -> str:
    """Return A to Z, then AA, AB and so on; figures would be taken for cuts."""
    return (_letter(n // 26 - 1) if n >= 26 else "") + chr(ord("A") + n % 26)


def _size_line(blank: SeenBlank) -> str:
    turned = ", turned" if blank.placement.turned else ""
    return finished_text(blank.piece) + turned


def _note(
    blank: SeenBlank, names: tuple[str, ...], place: Place, taken: Taken
) -> list[Primitive] | None:
    for height in HEIGHTS:
        for cramped in (False, True):
            room = _room(blank, place, cramped=cramped)
            if place.long(blank.edge.width) < LEAST_WIDTH_MM[height]:
                continue
            for lines in _settings(names, blank, room[2] - room[0], height):
                block = _block(lines, room, height, taken)
                if block is not None:
                    for text in block:
                        taken.add(grown(box(text), 0.3))
                    return list(block)
    return None


def _room(blank: SeenBlank, place: Place, *, cramped: bool) -> Box:
    """Return where a note may stand: inside the image or finished size, or anywhere on the blank."""
    if cramped:
        left, top, right, foot = place.box(blank.edge)
        return left + 1.2, top + 1.2, right - 1.0, foot - 1.4
    left, top, right, foot = place.box(blank.image)
    return left + INSET_MM, top + INSET_MM, right - INSET_MM, foot - INSET_MM


Lines = tuple[tuple[str, Face], ...]


def _settings(
    names: tuple[str, ...], blank: SeenBlank, room: float, height: float
) -> Iterator[Lines]:
    """Yield ways to break a note into lines at one height, best first."""
    size = finished_text(blank.piece)
    ways: list[tuple[str, ...]] = [(_size_line(blank),)]
    if blank.placement.turned:
        ways.append((size, "turned"))
    if height == NOTE:
        whole, _, rest = size.partition(" × ")
        ways.append((f"{whole} ×", rest, *(("turned",) if blank.placement.turned else ())))
    for sizes in ways:
        if any(width(line, height, "sans") > room for line in sizes):
            continue
        tail: Lines = tuple((line, "sans") for line in sizes)
        if all(width(name, height, "serif italic") <= room for name in names):
            yield tuple((name, "serif italic") for name in names) + tail  # type: ignore[misc]
        folded = [line for name in names for line in wrapped(name, room, height, "serif italic")]
        if len(folded) + len(sizes) <= MOST_LINES and "…" not in "".join(folded):
            yield tuple((line, "serif italic") for line in folded) + tail  # type: ignore[misc]
        if height == NOTE:
            short = [shortened(name, room, height, "serif italic") for name in names]
            if all(
                len(line) >= min(LEAST_LETTERS, len(name))
                for line, name in zip(short, names, strict=True)
            ):
                yield tuple((line, "serif italic") for line in short) + tail  # type: ignore[misc]


def _block(lines: Lines, room: Box, height: float, taken: Taken) -> tuple[Text, ...] | None:
    """Return the lines at the lower left of the room, or a little above what stands there."""
    left, top, _, foot = room
    pitch = height * LEADING
    tall = pitch * (len(lines) - 1) + height * 1.1
    drop = 0.0
    while tall + drop <= foot - top:
        block = tuple(
            Text(line, (left, foot - drop - pitch * (len(lines) - 1 - n)), height, face)
            for n, (line, face) in enumerate(lines)
        )
        if all(taken.is_free(box(text)) for text in block):
            return block
        drop += 0.8
    return None


def _lettered(blank: SeenBlank, letter: str, place: Place, taken: Taken) -> list[Primitive]:
    left, top, right, foot = place.box(blank.edge)
    centre = ((left + right) / 2, (top + foot) / 2)
    for height in (5.0, SIZE, NOTE):
        for x in (centre[0], left + (right - left) * 0.3, left + (right - left) * 0.72):
            for part in (0.5, 0.65, 0.8, 0.35, 0.2):
                y = top + (foot - top) * part + height / 2
                text = Text(letter, (x, y), height, "serif", "middle")
                ink = box(text)
                if ink[0] > left and ink[2] < right and taken.is_free(ink):
                    taken.add(grown(ink, 0.2))
                    return [text]
    text = Text(letter, (centre[0], centre[1] + NOTE / 2), NOTE, "serif", "middle")
    taken.add(box(text))
    return [text]


def keeper_notes(view: View, place: Place, taken: Taken, *, inches: bool) -> Written:
    """Return keepers, outlined inside their edges, with their tags and sizes."""
    items: list[Primitive] = []
    keys: list[Key] = []
    for rect, names in view.keepers:
        left, top, right, foot = place.box(rect)
        pad = min(1.2, (right - left) / 6, (foot - top) / 6)
        items.append(
            rectangle(
                left + pad,
                top + pad,
                right - left - 2 * pad,
                foot - top - 2 * pad,
                weight_mm=KEEPER,
            )
        )
        tag = clean(", ".join(names))
        size = size_text(rect.width, rect.height, inches=inches)
        texts = _in_box(
            ((tag, "serif italic"), (f"keep {size}", "sans")),
            grown((left, top, right, foot), -pad - 1),
            taken,
        ) or _in_box(
            ((tag, "serif italic"), (size, "sans")),
            grown((left, top, right, foot), -pad - 0.6),
            taken,
        )
        if not texts:
            texts = _in_box((("keep", "sans"),), grown((left, top, right, foot), -pad - 0.4), taken)
            keys.append(Key("keep", f"{tag}, {size}"))
        items += texts
    return Written(tuple(items), tuple(keys))


def scrap_notes(view: View, place: Place, taken: Taken, *, inches: bool) -> dict[Rect, list[Text]]:
    """Return for each scrap the word, with its size where there is room."""
    notes = {}
    for rect in view.scraps:
        room = grown(place.box(rect), -0.9)
        size = size_text(rect.width, rect.height, inches=inches)
        lines: list[Lines] = [
            ((f"scrap {size}", "serif italic"),),
            (("scrap", "serif italic"), (size, "serif italic")),
            (("scrap", "serif italic"),),
        ]
        notes[rect] = next(
            (texts for one in lines if (texts := _in_box(one, room, taken, NOTE))), []
        )
    return notes


def _in_box(lines: Lines, room: Box, taken: Taken, most: float = SIZE) -> list[Text]:
    """Return lines in the middle of a box, upright or read from the right; none if too large."""
    left, top, right, foot = room
    for height in (SIZE, NOTE):
        if height > most:
            continue
        long = max(width(line, height, face) for line, face in lines)
        pitch = height * LEADING
        tall = pitch * (len(lines) - 1) + height * 1.3
        if long <= right - left and tall <= foot - top:
            texts = _free_block(lines, room, height, tall, taken, upright=False)
        elif long <= foot - top and tall <= right - left:
            texts = _free_block(lines, room, height, tall, taken, upright=True)
        else:
            continue
        if texts:
            for text in texts:
                taken.add(grown(box(text), 0.3))
            return texts
    return []


def _free_block(  # noqa: PLR0913  (a block of lines has these six)
    lines: Lines, room: Box, height: float, tall: float, taken: Taken, *, upright: bool
) -> list[Text]:
    left, top, right, foot = room
    pitch = height * LEADING
    for part in (0.5, 0.3, 0.7, 0.15, 0.85, 0.0, 1.0):
        texts = []
        for n, (line, face) in enumerate(lines):
            half = max(width(one, height, its) for one, its in lines) / 2
            if upright:
                y = top + half + (foot - top - 2 * half) * part
                x = (left + right - tall) / 2 + height * 1.04 + pitch * n
                texts.append(Text(line, (x, y), height, face, "middle", 90))
            else:
                x = left + half + (right - left - 2 * half) * part
                y = (top + foot - tall) / 2 + height * 1.04 + pitch * n
                texts.append(Text(line, (x, y), height, face, "middle"))
        if all(taken.is_free(box(text)) for text in texts):
            return texts
    return []
