"""Sizes of two sides, typed as two lengths or as a name."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from difflib import get_close_matches

from sheetcut.job import Unit
from sheetcut.read.characters import plain_text
from sheetcut.read.lengths import Typed, date_instead, is_date, read_typed, refuse_at_sight
from sheetcut.read.refusal import Refused, quoted
from sheetcut.sizes import NamedSize, all_names, meanings, named_size
from sheetcut.units import TICKS_PER_MM, Length

EXAMPLE = "297 x 420 mm, 11 x 14 in or A3"

_UPRIGHT = ("portrait", "upright", "tall")
_LYING = ("landscape", "across", "lying", "wide", "sideways")
_WAY = re.compile(rf"[\s,(]*\b({'|'.join(_UPRIGHT + _LYING)})\)?$")
_NAME_FIRST = re.compile(r"[\s,:(]+(?=\d)")
_NAME_LAST = re.compile(r"(?P<sides>\d[^()]*?) ?\((?P<name>[^()]+)\)")
_BETWEEN = re.compile(r"\s*(?:x|\*|\bby\b)\s*")


LEAST_BARE = 64 * TICKS_PER_MM
"""Our judgement: frames up to 40 x 60 in are asked for by bare numbers; few pieces are so small."""


@dataclass(frozen=True, slots=True)
class Size:
    """A width and a height, as somebody typed them.

    Attributes:
        unit: the unit they were typed in; mm where the two differ.
        name: the name they were typed by, or None.
        note: what the user should know of that name; empty for a size that was measured.
    """

    width: Length
    height: Length
    unit: Unit
    name: str | None = None
    note: str = ""


def read_size(text: str, *, unit: Unit = "mm", least_bare: Length = LEAST_BARE) -> Size:
    """Return the size typed as two lengths, as a name, or as a name with two lengths.

    A unit after the second length alone is for both. "A4 landscape" lies on its long side.
    Bare numbers are refused where they would make millimetres so few that inches or
    centimetres are likely meant: both sides below ``least_bare``.

    Raises:
        Refused: if the text is no size, or can mean two.

    >>> read_size("11 x 14 in") == read_size('11" × 14"')
    True
    >>> size = read_size("A4 across")
    >>> size.width > size.height, size.name
    (True, 'A4')
    """
    refuse_at_sight(text, "a size", EXAMPLE)
    shown = text.strip()
    plain = plain_text(shown).lower()
    way = _WAY.search(plain)
    bare = plain[: way.start()] if way else plain
    if not bare:
        raise _no_size(shown, plain)
    size = _named(bare, shown, unit) or _typed_sides(bare, shown, unit)
    if unit == "mm" and not re.search(r"[a-z\"']", bare.replace("x", "").replace("by", "")):
        refuse_few(shown, size.width, size.height, least_bare)
    return _laid(size, way[1], shown) if way else size


def refuse_few(shown: str, width: Length, height: Length, least: Length) -> None:
    """Refuse bare numbers that make hardly any millimetres.

    Raises:
        Refused: if both sides are below the least.
    """
    if max(width, height) < least:
        raise Refused(
            f"{quoted(shown)} is very small in mm, so it may be inches or cm",
            "write the unit after it, as in 8 x 10 in, 56 x 76 cm or 50 x 40 mm",
        )


def _named(plain: str, shown: str, unit: Unit) -> Size | None:
    """Return a size by its name, or by the lengths that stand after the name."""
    known = named_size(plain)
    if known:
        return _size_of(known)
    among = meanings(plain)
    if among:
        raise _two_sizes(among, shown)
    return _measured(plain, shown, unit)


def _measured(plain: str, shown: str, unit: Unit) -> Size | None:
    """Return "Imperial 560 x 760" or "560 x 760 (Imperial)": what was measured holds."""
    for gap in _NAME_FIRST.finditer(plain):
        name, sides = plain[: gap.start()], plain[gap.end() :].rstrip(" )")
        if _is_name(name):
            return replace(_typed_sides(sides, shown, unit), name=_label(name))
    last = _NAME_LAST.fullmatch(plain)
    if last and _is_name(last["name"]):
        return replace(_typed_sides(last["sides"], shown, unit), name=_label(last["name"]))
    return None


def _is_name(plain: str) -> bool:
    return named_size(plain) is not None or bool(meanings(plain))


def _label(plain: str) -> str:
    known = named_size(plain)
    return known.name if known else plain.upper()


def _size_of(known: NamedSize) -> Size:
    note = known.note if known.year is None else ""
    return Size(known.width, known.height, known.unit, known.name, note)


def _typed_sides(plain: str, shown: str, unit: Unit) -> Size:
    sides = _BETWEEN.split(plain)
    if len(sides) != 2 or not all(sides):
        raise _no_size(shown, plain)
    if any(map(_is_name, sides)):
        raise Refused(
            f"{quoted(shown)} joins a name and a number",
            "write the name alone, as in A4, and how many under count",
        )
    try:
        second = read_typed(sides[1], unit=unit)
        first = read_typed(sides[0], unit=second.unit or unit)
    except Refused as refused:
        raise Refused(_within(refused.message, shown), refused.remedy) from None
    if "/" in plain and not second.unit and unit != "in":
        raise Refused(
            f"{quoted(shown)} has a fraction and no unit, so it may be {unit} or inches",
            f"write {sides[0]} x {sides[1]} in, or {sides[0]} x {sides[1]} {unit}",
        )
    if first.unit and not second.unit:
        raise Refused(
            f"{quoted(shown)} has a unit after the first length only",
            f"write {sides[0]} x {sides[1]} {first.unit}, or a unit after each",
        )
    if not (first.length and second.length):
        raise Refused(f"{quoted(shown)} has a side of nothing", f"write a size, as in {EXAMPLE}")
    return Size(first.length, second.length, _unit_of(first, second, unit))


def _unit_of(first: Typed, second: Typed, unit: Unit) -> Unit:
    one = second.unit or unit
    return one if (first.unit or one) == one else "mm"


def _within(message: str, shown: str) -> str:
    return message if message.startswith(quoted(shown)) else f"in {quoted(shown)}, {message}"


def _laid(size: Size, word: str, shown: str) -> Size:
    """Return the size with the side that the word asks for along the width."""
    is_lying = word in _LYING
    short, long = sorted((size.width, size.height))
    width, height = (long, short) if is_lying else (short, long)
    if not size.name and (size.width, size.height) != (width, height):
        raise Refused(
            f"{quoted(shown)} says {word}, and its lengths say otherwise",
            "write the width first and leave the word out, as in 420 x 297",
        )
    return replace(size, width=width, height=height)


def _two_sizes(among: tuple[NamedSize, ...], shown: str) -> Refused:
    named = " or ".join(f"{size.name} ({size.measures})" for size in among)
    written = " or ".join(f'"{size.name}"' for size in among)
    return Refused(
        f"{quoted(shown)} can mean {named}", f"write {written}, or the size as you measured it"
    )


def _no_size(shown: str, plain: str) -> Refused:
    found = quoted(shown)
    sides = _BETWEEN.split(plain)
    if len(sides) > 2 and all(sides):
        return Refused(f"{found} has {len(sides)} lengths", f"write two, as in {EXAMPLE}")
    if is_date(plain):
        return date_instead(shown)
    if re.fullmatch(r"[\d.,/ -]+ ?[a-z\"]*", plain):
        return Refused(
            f"{found} is no size: two lengths are wanted",
            f"write them with an x between, as in {EXAMPLE}",
        )
    near = get_close_matches(re.sub(r"[\s\-_.()]+", "", plain), all_names(), 1, 0.75)
    known = near and named_size(near[0])
    if known:
        return Refused(f"{found} is not a size", f"did you mean {known.name} ({known.measures})?")
    return Refused(f"{found} is not a size", f"write two lengths or a name, as in {EXAMPLE}")
