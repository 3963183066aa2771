"""Lettering: its heights, how much room it takes, and how it is made to fit.

Heights are those of capitals and figures, as ISO 3098 counts them; a font's type size is larger.
Widths are needed so that nothing overlaps; letters outside the table are taken wide enough.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from functools import lru_cache

from sheetcut.draw import widths
from sheetcut.draw.primitives import Face, Text

HEIGHTS = (1.8, 2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0)
"""ISO 3098-1:2015, heights of lettering in mm; ratio √2."""

SMALL_PRINT, NOTE, SIZE, HEADING, READING = HEIGHTS[:5]

CAPITAL = 0.729
"""Height of a capital over the type size: 1493 of 2048 units in all DejaVu 2.37 faces used."""

FIGURE, ASCENDER, ACCENT, DESCENDER, BASE = 0.742, 0.76, 0.93, 0.24, 0.014
"""How far letters reach up and down over the type size, same faces."""

LEADING = 1.84
"""Distance of baselines over the height of capitals, so that no letters touch."""

BLANK_LETTER, WIDE_LETTER, OTHER_LETTER = 0, 1030, 700
"""Thousandths for letters outside the table: combining marks, CJK and emoji, all others."""

FIGURES = frozenset("0123456789⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉⁄× ")
LEVEL_LETTERS = frozenset("–—‘’“”⁄×→←↑↓€•⁰⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉")
LOW_LETTERS = frozenset("gjpqyQ,;()[]{}|/çģķļņŗşţµ_…¸§¶þðÿý$£@")
ELLIPSIS = "…"

_HIDDEN = frozenset(
    "\u200b\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff"
)


def _table(groups: dict[int, str]) -> dict[str, int]:
    return {letter: width for width, letters in groups.items() for letter in letters}


_WIDTHS: dict[Face, dict[str, int]] = {
    "sans": _table(widths.SANS),
    "sans bold": _table(widths.SANS_BOLD),
    "serif": _table(widths.SERIF),
    "serif italic": _table(widths.SERIF_ITALIC),
}


def type_size(height_mm: float) -> float:
    """Return the size a font must be set in so that its capitals have this height."""
    return height_mm / CAPITAL


def clean(text: str) -> str:
    """Return text that can be lettered on one line and written as XML, whatever was typed.

    Line ends and tabs become spaces, marks that only steer direction go, and what no font and no
    XML can hold becomes a replacement character.

    >>> clean("Knot\\tboard\\x00")
    'Knot board\\ufffd'
    """
    spaced = "".join(" " if letter.isspace() else letter for letter in text)
    kept = (letter for letter in spaced if letter not in _HIDDEN)
    return " ".join("".join(_printable(letter) for letter in kept).split(" ")).strip()


def _printable(letter: str) -> str:
    if unicodedata.category(letter) in ("Cc", "Cs", "Cn", "Co") or letter in "\ufffe\uffff":
        return "\ufffd"
    return letter


def is_measured(text: str, face: Face) -> bool:
    """Whether every letter's width comes from the font, not from an estimate."""
    return all(letter in _WIDTHS[face] for letter in text)


@lru_cache(maxsize=20_000)
def width(text: str, height_mm: float, face: Face = "sans", spacing_mm: float = 0.0) -> float:
    """Return how far a line of lettering runs, in mm.

    >>> round(width("702", 7, "sans bold"), 2)
    18.03
    """
    table = _WIDTHS[face]
    total = sum(table.get(letter) or _estimate(letter) for letter in text)
    return total * type_size(height_mm) / 1000 + spacing_mm * len(text)


def _estimate(letter: str) -> int:
    if unicodedata.combining(letter) or unicodedata.category(letter) in ("Mn", "Me", "Cf"):
        return BLANK_LETTER
    if unicodedata.east_asian_width(letter) in ("W", "F") or ord(letter) > 0xFFFF:
        return WIDE_LETTER
    return OTHER_LETTER


def fitted(
    text: str, room_mm: float, heights: Sequence[float], face: Face = "sans"
) -> tuple[str, float]:
    """Return the text and the greatest of the heights that fits the room.

    Where none does, the text is shortened at the least height.
    """
    for height in heights:
        if width(text, height, face) <= room_mm:
            return text, height
    return shortened(text, room_mm, heights[-1], face), heights[-1]


def shortened(text: str, room_mm: float, height_mm: float, face: Face = "sans") -> str:
    """Return the text, or as much of it as fits the room, closed by an ellipsis.

    >>> shortened("Harbour at low water", 20, 2.5)
    'Harbour at…'
    """
    if width(text, height_mm, face) <= room_mm:
        return text
    for end in range(len(text) - 1, 0, -1):
        # A mark that sits on the letter before it must not be parted from it.
        if unicodedata.combining(text[end]):
            continue
        short = text[:end].rstrip(" ,;:-\u200d") + ELLIPSIS
        if width(short, height_mm, face) <= room_mm:
            return short
    return ""


def wrapped(text: str, room_mm: float, height_mm: float, face: Face = "sans") -> tuple[str, ...]:
    """Return the text in lines that fit the room; a word wider than that is shortened."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width(longer, height_mm, face) <= room_mm:
            lines[-1] = longer
        else:
            lines.append(shortened(word, room_mm, height_mm, face))
    return tuple(lines)


def balanced(text: str, room_mm: float, height_mm: float, face: Face = "sans") -> tuple[str, ...]:
    """Return the text in as few lines as fit the room, all about as long.

    >>> balanced("Knot Board, 4 of 60", 26, 2.5)
    ('Knot Board,', '4 of 60')
    """
    lines = wrapped(text, room_mm, height_mm, face)
    for part in (0.5, 0.6, 0.7, 0.8, 0.9):
        narrower = wrapped(text, room_mm * part, height_mm, face)
        if len(narrower) == len(lines) and " ".join(narrower) == " ".join(text.split()):
            return narrower
    return lines


def box(text: Text) -> tuple[float, float, float, float]:
    """Return left, top, right and foot of the ink of a line of lettering."""
    size = type_size(text.height_mm)
    run = width(text.text, text.height_mm, text.face, text.spacing_mm) - text.spacing_mm
    back = {"start": 0.0, "middle": run / 2, "end": run}[text.anchor]
    rise, drop = (size * reach for reach in _reach(text.text, text.face))
    x, y = text.at
    if text.angle:
        return x - rise, y - run + back, x + drop, y + back
    return x - back, y - rise, x - back + run, y + drop


@lru_cache(maxsize=20_000)
def _reach(text: str, face: Face) -> tuple[float, float]:
    """Return how far a line reaches up and down, over the type size."""
    if FIGURES.issuperset(text):
        return FIGURE, BASE
    hangs = any(_is_low(letter) for letter in text) or (face == "serif italic" and "f" in text)
    rises = any(_is_high(letter) for letter in text)
    return ACCENT if rises else ASCENDER, DESCENDER if hangs else BASE


def _is_low(letter: str) -> bool:
    return letter in LOW_LETTERS or (ord(letter) > 0x24F and letter not in LEVEL_LETTERS)


def _is_high(letter: str) -> bool:
    return (
        ord(letter) > 0xBF
        and letter not in LEVEL_LETTERS
        and (letter.isupper() or ord(letter) > 0x24F)
    )
