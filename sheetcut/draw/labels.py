"""Pencil notes on blanks: as large as their paper allows, never over anything else."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from sheetcut.draw.leaders import leader, spot_near
from sheetcut.draw.lettering import (
    LEADING,
    NOTE,
    SIZE,
    balanced,
    box,
    shortened,
    width,
)
from sheetcut.draw.measures import finished_text
from sheetcut.draw.place import Box, Place, Taken, grown
from sheetcut.draw.primitives import Face, Primitive, Text, rectangle
from sheetcut.draw.view import SeenBlank, View
from sheetcut.draw.weights import BORDER_DASHES, MARGIN, MARGIN_DASHES

INSET_MM = 1.7
HIDE_MM = 0.4
AROUND_MM = 40.0
LEAST_LETTERS = 8  # a label cut shorter than this says less than a letter with a key
LARGEST: tuple[tuple[float, float, float], ...] = (
    (5.0, 7.0, 100.0),
    (SIZE, 5.0, 56.0),
    (SIZE, SIZE, 40.0),
    (NOTE, SIZE, 26.0),
    (NOTE, NOTE, 0.0),
)
"""Heights of names and of the size, and how wide a blank is drawn at least to carry them."""

MOST_LINES = 5


@dataclass(frozen=True, slots=True)
class Key:
    """What a letter on small blanks, or a mark on small keepers, stands for."""

    letter: str
    names: str
    size: str


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
    view: View,
    place: Place,
    taken: Taken,
    names: Sequence[tuple[str, ...]],
    *,
    inches: bool,
) -> Written:
    """Return a note on every blank: names, finished size, and "turned" where it is.

    Args:
        view, place: what is drawn, and where.
        taken: the room that readings and flags stand in; the notes' own is added.
        names: for each blank, the lines that name it.
    """
    ranks = _common_ranks(view, place, taken, names, inches=inches)
    items: list[Primitive] = []
    lettered: list[tuple[SeenBlank, str]] = []
    letters: dict[tuple[str, str], str] = {}
    for blank, lines in zip(view.blanks, names, strict=True):
        note = _note(blank, lines, place, taken, ranks[_alike(blank)], inches=inches)
        if note is None:
            turned = ", turned" if blank.placement.turned else ""
            words = "; ".join(lines), finished_text(blank.piece, inches=inches) + turned
            lettered.append((blank, letters.setdefault(words, _letter(len(letters)))))
        else:
            items += _hides(note)
            items += note.texts
            for text in note.texts:
                taken.add(grown(box(text), 0.3))
    items += _lettered(lettered, place, taken)
    keys = tuple(Key(letter, *words) for words, letter in letters.items())
    return Written(tuple(items), keys)


def _hides(note: _Note) -> Iterator[Primitive]:
    """Yield white under the lines of a note that stands on margins, so that no dash strikes it."""
    if note.is_cramped:
        for text in note.texts:
            left, top, right, foot = grown(box(text), HIDE_MM)
            yield rectangle(left, top, right - left, foot - top, fill="paper")


def _alike(blank: SeenBlank) -> tuple[int, int]:
    return blank.edge.width, blank.edge.height


def _common_ranks(
    view: View,
    place: Place,
    taken: Taken,
    names: Sequence[tuple[str, ...]],
    *,
    inches: bool,
) -> dict[tuple[int, int], int]:
    """Return for each size of blank the lettering that all blanks of it can carry."""
    ranks: dict[tuple[int, int], int] = {}
    for blank, lines in zip(view.blanks, names, strict=True):
        note = _note(blank, lines, place, taken, 0, inches=inches)
        rank = note.rank if note else 0
        ranks[_alike(blank)] = max(rank, ranks.get(_alike(blank), 0))
    return ranks


def _letter(n: int) -> str:
    """Return A to Z, then AA, AB and so on; figures would be taken for cuts."""
    return (_letter(n // 26 - 1) if n >= 26 else "") + chr(ord("A") + n % 26)


@dataclass(frozen=True, slots=True)
class _Note:
    """A note in its place, which lettering of ``LARGEST`` it took, and if it stands on margins."""

    texts: tuple[Text, ...]
    rank: int
    is_cramped: bool


def _note(
    blank: SeenBlank,
    names: tuple[str, ...],
    place: Place,
    taken: Taken,
    least_rank: int,
    *,
    inches: bool,
) -> _Note | None:
    """Return a note as large as goes: whole lines first, then folded, then over the margin."""
    near = taken.near(place.box(blank.edge))
    wide = place.long(blank.edge.width)
    for cramped in (False, True):
        room = _room(blank, place, cramped=cramped)
        for fold in (_whole, _folded, *_SHORTER):
            for rank, (name_height, size_height, least) in enumerate(LARGEST):
                if rank < least_rank or wide < least or (cramped and size_height > NOTE):
                    continue
                lines = fold(names, name_height, room[2] - room[0])
                for sizes in _size_lines(blank, size_height, room[2] - room[0], inches=inches):
                    block = _block((*lines, *sizes), room, near) if lines else None
                    if block:
                        return _Note(tuple(block), rank, cramped)
    return None


def _room(blank: SeenBlank, place: Place, *, cramped: bool) -> Box:
    """Return where a note may stand: inside the image or finished size, or on all the blank."""
    if cramped:
        left, top, right, foot = place.box(blank.edge)
        return left + 1.2, top + 1.2, right - 1.0, foot - 1.4
    left, top, right, foot = place.box(blank.image)
    return left + INSET_MM, top + INSET_MM, right - INSET_MM, foot - INSET_MM


@dataclass(frozen=True, slots=True)
class _Set:
    """A line of a note with the look it is to have."""

    text: str
    height_mm: float
    face: Face


Lines = tuple[_Set, ...]


def _named(names: Sequence[str], height: float) -> Lines:
    return tuple(_Set(name, height, "serif italic") for name in names)


def _whole(names: tuple[str, ...], height: float, room: float) -> Lines:
    fits = all(width(name, height, "serif italic") <= room for name in names)
    return _named(names, height) if fits else ()


def _folded(names: tuple[str, ...], height: float, room: float) -> Lines:
    lines = [line for name in names for line in balanced(name, room, height, "serif italic")]
    is_whole = "".join("".join(names).split()) == "".join("".join(lines).split())
    return _named(lines, height) if is_whole and len(lines) < MOST_LINES else ()


def _short(names: tuple[str, ...], height: float, room: float, *, part: float) -> Lines:
    if height > NOTE:
        return ()
    lines = [shortened(name, room * part, height, "serif italic") for name in names]
    says = all(
        len(line) >= min(LEAST_LETTERS, len(name)) for line, name in zip(lines, names, strict=True)
    )
    return _named(lines, height) if says else ()


_SHORTER: tuple[Callable[[tuple[str, ...], float, float], Lines], ...] = tuple(
    partial(_short, part=part) for part in (1.0, 0.75, 0.55)
)
"""Names cut to the room, or to less of it where a reading stands in the way."""


def _size_lines(blank: SeenBlank, height: float, room: float, *, inches: bool) -> Iterator[Lines]:
    """Yield ways to write the finished size, best first, that are not wider than the room."""
    size = finished_text(blank.piece, inches=inches)
    turned = ("turned",) if blank.placement.turned else ()
    ways: list[tuple[str, ...]] = [(", ".join((size, *turned)),)]
    if turned and height <= SIZE:
        ways.append((size, *turned))
    if height == NOTE:
        first, _, rest = size.partition(" × ")
        ways.append((f"{first} ×", rest, *turned))
    for way in ways:
        if all(width(line, height) <= room for line in way):
            yield tuple(_Set(line, height, "sans") for line in way)


def _block(lines: Lines, room: Box, taken: Taken) -> list[Text] | None:
    """Return the lines at the lower left of the room, or a little above what stands there."""
    left, top, _, foot = room
    tall = sum(line.height_mm * LEADING for line in lines) - lines[0].height_mm * 0.7
    drop = 0.0
    while tall + drop <= foot - top:
        block: list[Text] = []
        y = foot - drop
        for line in reversed(lines):
            block.append(Text(line.text, (left, y), line.height_mm, line.face))
            y -= line.height_mm * LEADING
        if all(taken.is_free(box(text)) for text in block):
            return block[::-1]
        drop += 0.8
    return None


def _lettered(
    blanks: Sequence[tuple[SeenBlank, str]], place: Place, taken: Taken
) -> list[Primitive]:
    """Return a letter on each blank, all alike high, at the lower left or where else it goes."""
    for height in (5.0, SIZE, NOTE):
        spots = [_letter_spot(blank, letter, height, place, taken) for blank, letter in blanks]
        if height == NOTE or all(spots):
            break
    items: list[Primitive] = []
    for spot in spots if blanks else ():
        if spot:
            taken.add(box(spot))
    for (blank, letter), spot in zip(blanks, spots if blanks else (), strict=True):
        if spot is None and taken.leaves_out:
            continue
        text = spot or _letter_near(blank, letter, place, taken, items)
        taken.add(box(text))
        items.append(text)
    return items


def _letter_near(
    blank: SeenBlank, letter: str, place: Place, taken: Taken, items: list[Primitive]
) -> Text:
    """Return a letter beside its blank, after adding the line that leads from it."""
    left, top, right, foot = place.box(blank.edge)
    middle = ((left + right) / 2, (top + foot) / 2)
    size = (width(letter, NOTE, "serif") + 0.8, NOTE * 1.1 + 0.8)
    around = grown((left, top, right, foot), AROUND_MM)
    spot = spot_near(middle, size, taken, Taken(), around)
    if spot is None:
        taken.clashes += 1
        return Text(letter, (middle[0], middle[1] + NOTE / 2), NOTE, "serif", "middle")
    items.extend(leader(spot, middle))
    return Text(letter, ((spot[0] + spot[2]) / 2, spot[3] - 0.5), NOTE, "serif", "middle")


def _letter_spot(
    blank: SeenBlank, letter: str, height: float, place: Place, taken: Taken
) -> Text | None:
    left, top, right, foot = place.box(blank.edge)
    near = taken.near((left, top, right, foot))
    run = width(letter, height, "serif")
    y = foot - 1.5
    while y - height > top + 0.5:
        for x in (left + 1.5, (left + right - run) / 2, right - 1.5 - run):
            text = Text(letter, (x, y), height, "serif")
            ink = box(text)
            if ink[0] > left and ink[2] < right and near.is_free(grown(ink, 0.5)):
                return text
        y -= 0.8
    return None
