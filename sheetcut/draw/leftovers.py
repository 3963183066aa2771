"""Keepers with their tags, and scrap with its one word, upright or read from the right."""

from __future__ import annotations

from sheetcut.draw.labels import Key, Written
from sheetcut.draw.lettering import LEADING, NOTE, SIZE, box, clean, width
from sheetcut.draw.measures import size_text
from sheetcut.draw.place import Box, Place, Taken, grown
from sheetcut.draw.primitives import Face, Primitive, Text, rectangle
from sheetcut.draw.view import Rect, View
from sheetcut.draw.weights import KEEPER


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
        room = grown((left, top, right, foot), -pad - 0.7)
        ways: list[Words] = [
            ((tag, "serif italic"), (f"keep {size}", "sans")),
            ((tag, "serif italic"), (size, "sans")),
        ]
        texts = next((made for way in ways if (made := _in_box(way, room, taken))), [])
        if not texts:
            mark = f"k{len(keys) + 1}"
            keys.append(Key(mark, tag, f"keep {size}"))
            texts = _in_box(((mark, "sans"),), room, taken)
        items += texts
    return Written(tuple(items), tuple(keys))


def scrap_notes(view: View, place: Place, taken: Taken, *, inches: bool) -> dict[Rect, list[Text]]:
    """Return for each scrap the word, with its size where there is room."""
    notes = {}
    for rect in view.scraps:
        room = grown(place.box(rect), -0.9)
        size = size_text(rect.width, rect.height, inches=inches)
        lines: list[Words] = [
            ((f"scrap {size}", "serif italic"),),
            (("scrap", "serif italic"), (size, "serif italic")),
            (("scrap", "serif italic"),),
        ]
        made = (_in_box(one, room, taken, NOTE) for one in lines)
        notes[rect] = next((texts for texts in made if texts), [])
    return notes


Words = tuple[tuple[str, Face], ...]


def _in_box(lines: Words, room: Box, taken: Taken, most: float = SIZE) -> list[Text]:
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


def _free_block(
    lines: Words, room: Box, height: float, tall: float, taken: Taken, *, upright: bool
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
