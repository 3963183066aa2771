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
from sheetcut.draw.scripts import in_visual_order, joined

FALLBACKS = (("arimo", 400, "normal"), ("noto-sans-arabic", 400, "normal"))
"""Have Greek, Cyrillic and Hebrew, and Arabic, which the other fonts lack at least in part."""

FONTS: dict[Face, tuple[tuple[str, int, str], ...]] = {
    "sans": (("ibm-plex-sans-condensed", 400, "normal"), *FALLBACKS),
    "sans bold": (("ibm-plex-sans-condensed", 700, "normal"), *FALLBACKS),
    "serif": (("ibm-plex-serif", 400, "normal"), *FALLBACKS),
    "serif italic": (("ibm-plex-serif", 400, "italic"), *FALLBACKS),
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
    ordered = in_visual_order(joined(unicodedata.normalize("NFC", text)))
    chosen = list(_chosen(ordered, face, missing))
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
