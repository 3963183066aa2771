"""Named sizes of paper with the standard they come from: labels, not measurements."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Literal

from sheetcut.units import Length, in_mm, inch, inch_text, mm

MEASURE_YOURS = "a name is not a measurement: measure yours"


@dataclass(frozen=True, slots=True)
class NamedSize:
    """A size that goes by a name.

    Attributes:
        name: as it is usually written.
        width, height: as its source gives them, short side first.
        standard: what defines it; "traditional" or "trade use" where nothing does.
        year: the edition of the standard, or None where there is none.
        unit: the unit its source counts in.
        is_traditional: whether sources differ, so that the name only fills in a first guess.
        note: what its user should know; empty for a plain standard size.
    """

    name: str
    width: Length
    height: Length
    standard: str
    year: int | None
    unit: Literal["mm", "in"] = "mm"
    is_traditional: bool = False
    note: str = ""

    @property
    def measures(self) -> str:
        """The size in its own unit, as "210 x 297 mm" or "22 x 30 in"."""
        if self.unit == "in":
            return f"{inch_text(self.width)} x {inch_text(self.height)} in"
        return f"{in_mm(self.width)} x {in_mm(self.height)} mm"

    @property
    def source(self) -> str:
        """The standard with its year."""
        return f"{self.standard}:{self.year}" if self.year else self.standard


def named_sizes() -> tuple[NamedSize, ...]:
    """Return every size that is known by name, standards first."""
    return SIZES


def named_size(text: str) -> NamedSize | None:
    """Return the size that goes by this name, or None if no one size does.

    A name that means two things ("B4") gives None: ``meanings`` tells them.

    >>> named_size("din a4").measures, named_size("half imperial").measures
    ('210 x 297 mm', '15 x 22 in')
    >>> named_size("B4") is None, named_size("JIS B4").measures
    (True, '257 x 364 mm')
    """
    return _by_key().get(_key(text))


def meanings(text: str) -> tuple[NamedSize, ...]:
    """Return the sizes among which a name alone does not choose, or none.

    >>> [size.name for size in meanings("b4")]
    ['ISO B4', 'JIS B4']
    """
    return _unclear().get(_key(text), ())


def all_names() -> tuple[str, ...]:
    """Return every spelling that is understood, in lower case, for offering near misses."""
    return (*_by_key(), *_unclear())


# Width x height in mm, from 0 up; every row is half the one before (checked by a test).
_ISO_A = (
    (841, 1189), (594, 841), (420, 594), (297, 420), (210, 297), (148, 210),
    (105, 148), (74, 105), (52, 74), (37, 52), (26, 37),
)  # fmt: skip
_ISO_B = (
    (1000, 1414), (707, 1000), (500, 707), (353, 500), (250, 353), (176, 250),
    (125, 176), (88, 125), (62, 88), (44, 62), (31, 44),
)  # fmt: skip
_ISO_C = (
    (917, 1297), (648, 917), (458, 648), (324, 458), (229, 324), (162, 229),
    (114, 162), (81, 114), (57, 81), (40, 57), (28, 40),
)  # fmt: skip
_ISO_RA = ((860, 1220), (610, 860), (430, 610), (305, 430), (215, 305))
_ISO_SRA = ((900, 1280), (640, 900), (450, 640), (320, 450), (225, 320))
_JIS_B = (
    (1030, 1456), (728, 1030), (515, 728), (364, 515), (257, 364), (182, 257),
    (128, 182), (91, 128), (64, 91), (45, 64), (32, 45),
)  # fmt: skip

_ASME = ("ASME Y14.1", 2020)
_PWG = ("IEEE-ISTO PWG 5101.1", 2013)

# Name, width and height in inches, standard with year, note.
_INCH_SIZES: tuple[tuple[str, str, str, tuple[str, int | None], str], ...] = (
    ("Letter", "8 1/2", "11", _PWG, "the same as ANSI A"),
    ("Legal", "8 1/2", "14", _PWG, ""),
    ("Ledger", "11", "17", _PWG, "the same as Tabloid and ANSI B"),
    ("Tabloid", "11", "17", _PWG, "the same as Ledger and ANSI B"),
    ("ANSI A", "8 1/2", "11", _ASME, ""),
    ("ANSI B", "11", "17", _ASME, ""),
    ("ANSI C", "17", "22", _ASME, ""),
    ("ANSI D", "22", "34", _ASME, ""),
    ("ANSI E", "34", "44", _ASME, ""),
    ("ANSI F", "28", "40", _ASME, 'PWG 5101.1 gives its "F" as 44 x 68 in'),
    ("Arch A", "9", "12", _PWG, ""),
    ("Arch B", "12", "18", _PWG, ""),
    ("Arch C", "18", "24", _PWG, ""),
    ("Arch D", "24", "36", _PWG, ""),
    ("Arch E", "36", "48", _PWG, ""),
    ("Arch E1", "30", "42", ("trade use", None), ""),
    ("Super B", "13", "19", ("trade use", None), "sold as the same sheet as A3+, 329 x 483 mm"),
)

# Name, width and height in inches as most quoted today, and how far other sources go.
_TRADITIONAL: tuple[tuple[str, str, str, str], ...] = (
    ("Emperor", "48", "72", "others give 40 x 60 and 48 x 68"),
    ("Antiquarian", "31", "53", "others give 29 x 52 and 31 x 52"),
    ("Grand Eagle", "28 3/4", "42", "others give 28 1/4 x 42"),
    ("Double Elephant", "26 3/4", "40", "others run from 26 x 40 to 29 x 41, and to 40 x 60"),
    ("Atlas", "26", "34", "others give 26 x 32 and 26 x 33"),
    ("Colombier", "23 1/2", "34 1/2", "others run from 23 x 33 3/4 to 24 x 34 1/4"),
    ("Imperial", "22", "30", "others run from 21 1/2 x 29 1/2 to 22 x 32; sold as 56 x 76 cm too"),
    ("Half Imperial", "15", "22", "as torn or cut from an Imperial sheet"),
    ("Quarter Imperial", "11", "15", "as torn or cut from an Imperial sheet"),
    ("Eighth Imperial", "7 1/2", "11", "as torn or cut from an Imperial sheet"),
    ("Elephant", "23", "28", "others run from 20 x 27 to 29 1/2 x 40"),
    ("Royal", "20", "25", "for drawing paper often 19 x 24; another gives 19 x 21"),
    ("Super Royal", "19", "27", "others give 22 x 27"),
    ("Medium", "17 1/2", "23", "others run from 17 x 22 to 19 x 24"),
    ("Demy", "17 1/2", "22 1/2", "others run from 15 x 20 to 17 x 22"),
    ("Large Post", "16 1/2", "21", "others give 15 1/2 x 20"),
    ("Crown", "15", "20", "sources agree, sheets may not"),
    ("Foolscap", "13 1/2", "17", "others give 14 x 17; office foolscap is 8 or 8 1/2 x 13"),
    ("Pott", "12 1/2", "15", "others give 12 1/4 x 15 1/2"),
)

_ALIASES = {
    "a3+": ("a3plus", "supera3", "a3+size"),
    "letter": ("usletter", "letterus"),
    "legal": ("uslegal",),
    "halfimperial": ("1/2imperial", "imperialhalf", "halfsheetimperial"),
    "quarterimperial": ("1/4imperial", "imperialquarter"),
    "eighthimperial": ("1/8imperial", "imperialeighth"),
}


def _all_sizes() -> Iterator[NamedSize]:
    for n, (width, height) in enumerate(_ISO_A):
        yield NamedSize(f"A{n}", mm(width), mm(height), "ISO 216", 2007)
    # Twice and four times A0 are German sizes, not in ISO 216.
    yield NamedSize("2A0", mm(1189), mm(1682), "DIN 476", None)
    yield NamedSize("4A0", mm(1682), mm(2378), "DIN 476", None)
    for n, (width, height) in enumerate(_ISO_B):
        yield NamedSize(f"ISO B{n}", mm(width), mm(height), "ISO 216", 2007)
    for n, (width, height) in enumerate(_ISO_C):
        yield NamedSize(f"C{n}", mm(width), mm(height), "ISO 269", 1985)
    for n, (width, height) in enumerate(_ISO_RA):
        yield NamedSize(f"RA{n}", mm(width), mm(height), "ISO 217", 2013)
    for n, (width, height) in enumerate(_ISO_SRA):
        yield NamedSize(f"SRA{n}", mm(width), mm(height), "ISO 217", 2013)
    for n, (width, height) in enumerate(_JIS_B):
        # The year of the edition is from memory; the sizes are the published ones.
        yield NamedSize(f"JIS B{n}", mm(width), mm(height), "JIS P 0138", 1998)
    for name, width_in, height_in, (standard, year), note in _INCH_SIZES:
        yield NamedSize(name, inch(width_in), inch(height_in), standard, year, "in", note=note)
    yield NamedSize(
        "A3+", mm(329), mm(483), "trade use", None, note="no standard stands behind it: measure"
    )
    for name, width_in, height_in, others in _TRADITIONAL:
        note = f"{MEASURE_YOURS} ({others})"
        yield NamedSize(
            name, inch(width_in), inch(height_in), "traditional", None, "in", True, note
        )


SIZES: tuple[NamedSize, ...] = tuple(_all_sizes())


@cache
def _by_key() -> dict[str, NamedSize]:
    known: dict[str, NamedSize] = {}
    for size in SIZES:
        key = _key(size.name)
        known[key] = size
        for alias in _ALIASES.get(key, ()):
            known[alias] = size
        prefix = {"ISO": "iso", "DIN": "din", "JIS": "jis"}.get(size.standard.split()[0])
        if prefix in {"iso", "din"}:
            bare = key.removeprefix("iso")
            known |= {f"iso{bare}": size, f"din{bare}": size, f"{bare}iso": size}
        if prefix == "jis":
            known[f"{key.removeprefix('jis')}jis"] = size
        if key.startswith("arch"):
            known[f"architectural{key.removeprefix('arch')}"] = size
    return known


@cache
def _unclear() -> dict[str, tuple[NamedSize, ...]]:
    known = _by_key()
    return {f"b{n}": (known[f"isob{n}"], known[f"jisb{n}"]) for n in range(len(_ISO_B))}


def _key(text: str) -> str:
    """Return a name without what people write in different ways: case, spaces, hyphens, dots."""
    return re.sub(r"[\s\-_.()]+", "", text.casefold())
