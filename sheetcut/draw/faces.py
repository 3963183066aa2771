"""The letters of the PDF: which font each face is set in, and which letters it has.

The fonts come from packages, so that a page looks the same on every machine. Their letters are
near those the room was measured for; what is wider is set narrower, and nothing runs over.
"""

# mypy: disable-error-code="import-untyped"

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import groupby

import fontpkg
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from sheetcut.draw.primitives import Face

FALLBACK = ("arimo", 400, "normal")
"""Has Greek, Cyrillic and Hebrew, which the other fonts have only in part."""

FONTS: dict[Face, tuple[tuple[str, int, str], ...]] = {
    "sans": (("ibm-plex-sans-condensed", 400, "normal"), FALLBACK),
    "sans bold": (("ibm-plex-sans-condensed", 700, "normal"), FALLBACK),
    "serif": (("ibm-plex-serif", 400, "normal"), FALLBACK),
    "serif italic": (("ibm-plex-serif", 400, "italic"), FALLBACK),
}
"""For each face its font, and where that lacks a letter, the next: family, weight, style."""

BAR = "⁄"
GAPPED = frozenset({"sans", "sans bold"})
"""Faces whose own fraction bar has a gap in the middle; from afar it reads as two strokes."""

STAND_IN = "?"
UNITS = 1000  # reportlab counts widths in thousandths of the type size


@dataclass(frozen=True, slots=True)
class Font:
    """A font ready to be embedded.

    Attributes:
        name: what the PDF writer knows it by.
        capital: height of a capital over the type size.
        widths: of every letter it has, in thousandths of the type size.
    """

    name: str
    capital: float
    widths: dict[str, float]


@dataclass(frozen=True, slots=True)
class Run:
    """Letters in one font, and how far they run at a capital height of 1."""

    font: Font
    letters: str

    @property
    def width(self) -> float:
        """How far the letters run, over the height of a capital."""
        total = sum(self.font.widths[letter] for letter in self.letters)
        return total / UNITS / self.font.capital


@dataclass(frozen=True, slots=True)
class Lettered:
    """A line as it will be set: its runs, and the letters that no font has."""

    runs: tuple[Run, ...]
    missing: tuple[str, ...]


@cache
def lettered(text: str, face: Face) -> Lettered:
    """Return a line in visual order, each letter in the first font that has it."""
    missing: list[str] = []
    chosen = list(_chosen(in_visual_order(unicodedata.normalize("NFC", text)), face, missing))
    runs = (
        Run(font, "".join(letter for _, letter in pairs))
        for font, pairs in ((pairs[0][0], pairs) for pairs in _grouped(chosen))
    )
    return Lettered(tuple(runs), tuple(dict.fromkeys(missing)))


def _grouped(chosen: list[tuple[Font, str]]) -> Iterator[list[tuple[Font, str]]]:
    for _, pairs in groupby(chosen, key=lambda pair: pair[0].name):
        yield list(pairs)


def _chosen(text: str, face: Face, missing: list[str]) -> Iterator[tuple[Font, str]]:
    first = _font(*FONTS[face][0])
    for letter in text:
        from_next = letter == BAR and face in GAPPED
        fonts = (_font(*one) for one in FONTS[face][from_next:])
        font = next((font for font in fonts if letter in font.widths), None)
        if font is not None:
            yield font, letter
            continue
        missing.append(letter)
        # A mark that sits on another letter has no place of its own for a stand-in.
        if unicodedata.category(letter) not in ("Mn", "Me", "Cf"):
            yield first, STAND_IN


@cache
def _font(family: str, weight: int, style: str) -> Font:
    """Return a font, made known to the PDF writer the first time it is asked for."""
    name = f"{family}-{weight}-{style}"
    made = TTFont(name, str(fontpkg.path(family, weight, style)))
    pdfmetrics.registerFont(made)
    face = made.face
    widths = {chr(code): face.getCharWidth(code) for code in face.charToGlyph}
    return Font(name, face.capHeight / UNITS, widths)


def in_visual_order(text: str) -> str:
    """Return a line with what reads from the right turned round, for a writer that knows no such.

    A short form of the Unicode bidirectional algorithm (UAX 9): runs from the first to the last
    letter of a right-to-left script are turned round, but for the numbers and the left-to-right
    words in them. Enough for a label; embedded directions are gone by then.

    >>> in_visual_order("Pier 7")
    'Pier 7'
    >>> in_visual_order("אב 12 גד") == "דג 12 בא"
    True
    """
    kinds = [unicodedata.bidirectional(letter) for letter in text]
    strong = [kind for kind in kinds if kind in ("L", "R", "AL")]
    if not any(kind in ("R", "AL") for kind in strong):
        return text
    if strong[0] == "L":
        return "".join(
            _turned_round(part) if is_right else part for is_right, part in _directions(text, kinds)
        )
    return _turned_round(text)


def _directions(text: str, kinds: list[str]) -> Iterator[tuple[bool, str]]:
    """Yield parts of a left-to-right line: from one right-to-left letter to the last in a row."""
    start = 0
    n = 0
    while n < len(text):
        if kinds[n] not in ("R", "AL"):
            n += 1
            continue
        last = n
        for k in range(n, len(text)):
            if kinds[k] == "L":
                break
            if kinds[k] in ("R", "AL", "NSM"):
                last = k
        yield False, text[start:n]
        yield True, text[n : last + 1]
        start = n = last + 1
    yield False, text[start:]


def _turned_round(text: str) -> str:
    """Return a right-to-left run in visual order; numbers and foreign words in it stay as read."""
    parts: list[str] = []
    for letter in text:
        kind = unicodedata.bidirectional(letter)
        is_forward = kind in ("L", "EN", "AN")
        sits_on = kind == "NSM" and bool(parts)
        if sits_on or (is_forward and parts and _goes_forward(parts[-1][-1])):
            parts[-1] += letter
        else:
            parts.append(MIRRORED.get(letter, letter))
    return "".join(reversed(_rejoined(parts)))


def _goes_forward(letter: str) -> bool:
    return unicodedata.bidirectional(letter) in ("L", "EN", "AN")


def _rejoined(parts: list[str]) -> list[str]:
    """Return parts with words and numbers that only spaces or signs part joined again."""
    joined: list[str] = []
    for part in parts:
        between = joined[-1] if joined else ""
        is_sign = bool(between) and unicodedata.bidirectional(between[-1]) in ("ES", "CS", "WS")
        before = joined[-2] if len(joined) > 1 else ""
        if is_sign and before and _goes_forward(before[-1]) and _goes_forward(part[0]):
            joined[-2:] = [before + between + part]
        else:
            joined.append(part)
    return joined


MIRRORED = dict(zip("()[]{}<>«»", ")(][}{><»«", strict=True))
