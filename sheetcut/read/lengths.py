"""Lengths as people type them, read exactly or refused with what to write instead."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

from sheetcut.job import LONGEST, Unit
from sheetcut.read.characters import plain_text
from sheetcut.read.refusal import Refused, quoted, unseen
from sheetcut.units import TICKS_PER_INCH, TICKS_PER_MM, Length, in_mm

TICKS: dict[str, int] = {
    "mm": TICKS_PER_MM,
    "cm": 10 * TICKS_PER_MM,
    "m": 1_000 * TICKS_PER_MM,
    "in": TICKS_PER_INCH,
    "ft": 12 * TICKS_PER_INCH,
}
LONGEST_TEXT = 80
"""Characters that a length, or a size of two, is ever written with."""

_UNIT_WORDS = {
    "mm": ("mm", "mms", "millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "in": ("in", "ins", "inch", "inches", '"', "''"),
    "ft": ("ft", "foot", "feet", "'"),
}
_UNITS = {word: unit for unit, words in _UNIT_WORDS.items() for word in words}
_KEPT: dict[str, Unit] = {"mm": "mm", "cm": "cm", "m": "cm", "in": "in", "ft": "in"}

_FRACTION = r"\d+ ?/ ?\d+"
_NUMBER = rf"\d+(?: ?- ?| and | ){_FRACTION}|{_FRACTION}|\d+[.,]?\d*|[.,]\d+"
_FORM = re.compile(rf"(?P<number>{_NUMBER}) ?(?P<unit>[a-z]+|\"|'')? ?\.?")
_FEET = re.compile(r"(?P<feet>\d+) ?(?:ft\.?|foot|feet|') ?-? ?(?P<rest>[\d./,\" a-z-]*)")
_MONTHS = "jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec"
_DATE = re.compile(
    rf"\d{{1,4}}[-. /]*(?:{_MONTHS})[a-z]*\.?(?:[-., /]*\d{{2,4}})?"
    rf"|(?:{_MONTHS})[a-z]*[-. /]*\d{{1,4}}(?:[-., /]+\d{{2,4}})?"
    r"|\d{4}-\d{1,2}-\d{1,2}(?:[t ][\d:.]+)?|\d{1,2}([/.-])\d{1,2}\1\d{2,4}(?: [\d:.]+)?"
)


class Typed(NamedTuple):
    """A length with the unit it was typed in, or None where the number stood bare."""

    length: Length
    unit: Unit | None


def read_length(text: str, *, unit: Unit = "mm") -> Length:
    """Return a length of 0 or more; a bare number is in the given unit.

    Raises:
        Refused: if the text is no length, or can mean two.

    >>> read_length("29,7 cm") == read_length("297") == 297 * TICKS_PER_MM
    True
    >>> read_length("8½ in") == read_length('8-1/2"') == read_length("8.5", unit="in")
    True
    """
    return read_typed(text, unit=unit).length


def read_typed(text: str, *, unit: Unit = "mm") -> Typed:
    """Return a length and the unit that was typed with it.

    Raises:
        Refused: as ``read_length``.
    """
    refuse_at_sight(text, "a length", "210 mm or 8 1/4 in")
    shown = text.strip()
    plain = plain_text(shown).lower()
    feet = _feet(plain, shown)
    if feet is not None:
        return Typed(_in_range(feet, shown), "in")
    found = _FORM.fullmatch(plain)
    if not found:
        raise _no_length(plain, shown)
    word = found["unit"]
    if word and word not in _UNITS:
        raise _unknown_unit(plain, shown, found["number"])
    typed = _UNITS[word] if word else None
    if typed is None and unit != "in":
        _refuse_bare_fraction(found["number"], shown, unit)
    ticks = _number(found["number"], typed or unit, shown) * TICKS[typed or unit]
    return Typed(_in_range(ticks, shown), _KEPT[typed] if typed else None)


def refuse_at_sight(text: str, what: str, example: str) -> None:
    """Refuse text that nobody types for a length, a size or a number.

    Raises:
        Refused: if it is empty, endless, a formula, or holds an unseen character.
    """
    shown = text.strip()
    if not shown:
        raise Refused(f"{what} is missing", f"write one, as in {example}")
    mark = unseen(text)
    if mark:
        raise Refused(
            f"{quoted(shown)} holds a character that cannot be seen ({mark})",
            f"type it again, as in {example}",
        )
    if len(shown) > LONGEST_TEXT:
        raise Refused(
            f"{quoted(shown)} goes on for {len(shown)} characters", f"write {what}, as in {example}"
        )
    if shown.startswith("="):
        raise Refused(
            f"{quoted(shown)} is a formula left as text", f"write its result, as in {example}"
        )


def _number(number: str, unit: str, shown: str) -> Fraction:
    """Return the value of a matched number, or refuse one with two meanings."""
    if "/" in number:
        return _with_fraction(number, unit, shown)
    whole, mark, decimals = _parted(number)
    if mark == "," and len(decimals) == 3 and whole.strip("0") and len(whole) <= 3:
        raise _two_meanings(shown, f"{whole}.{decimals}", f"{whole}{decimals}", unit)
    if mark == "." and decimals == "000" and unit in {"mm", "cm"} and len(whole) <= 2:
        raise _two_meanings(shown, whole or "0", f"{whole}{decimals}", unit)
    return Fraction(f"{whole or 0}.{decimals or 0}")


def _parted(number: str) -> tuple[str, str, str]:
    mark = "," if "," in number else "."
    return number.partition(mark)


def _with_fraction(number: str, unit: str, shown: str) -> Fraction:
    *whole, top, foot = (int(run) for run in re.findall(r"\d+", number))
    if foot == 0:
        raise Refused(f"{quoted(shown)} divides by zero", f"write a fraction, as in 1/2 {unit}")
    if top >= foot:
        raise _improper(whole, top, foot, unit, shown)
    return sum(whole) + Fraction(top, foot)


def _improper(whole: list[int], top: int, foot: int, unit: str, shown: str) -> Refused:
    digits = str(top)
    if not whole and len(digits) > 1 and 0 < int(digits[-1]) < foot:
        mixed = f"{digits[:-1]} {digits[-1]}/{foot}"
        return Refused(
            f"{quoted(shown)} can mean {mixed} {unit} or {_decimal(Fraction(top, foot))} {unit}",
            f"write {mixed} {unit} or {_decimal(Fraction(top, foot))} {unit}",
        )
    return Refused(
        f"{quoted(shown)} has a fraction of one or more",
        f"write the whole number first, as in 8 1/2 {unit}",
    )


def _decimal(value: Fraction) -> str:
    return f"{float(value):.10g}"


def _two_meanings(shown: str, small: str, large: str, unit: str) -> Refused:
    small = _decimal(Fraction(small))
    ticks = Fraction(large) * TICKS[unit]
    if ticks > LONGEST:
        return Refused(
            f"{quoted(shown)} has three figures after its comma, as thousands have",
            f"write {small} {unit}, with a point, if that is meant",
        )
    metres = ticks / TICKS["m"]
    other = f"{metres} m" if unit == "mm" and metres.denominator == 1 else f"{large} {unit}"
    return Refused(
        f"{quoted(shown)} can mean {small} {unit} or {other}",
        f"write {small} {unit} or {large} {unit}",
    )


def _feet(plain: str, shown: str) -> Fraction | None:
    """Return feet, or feet and inches, in ticks; None where no feet are typed."""
    found = _FEET.fullmatch(plain)
    if not found:
        return None
    feet = Fraction(found["feet"]) * TICKS["ft"]
    rest = found["rest"].strip()
    if rest in {"", "."}:
        return feet
    inches = _FORM.fullmatch(rest)
    if not inches or _UNITS.get(inches["unit"] or "in") != "in":
        raise Refused(
            f"{quoted(shown)} starts as feet and does not go on as inches",
            "write feet and inches, as in 2 ft 6 in, or inches alone, as in 30 in",
        )
    return feet + _number(inches["number"], "in", shown) * TICKS["in"]


def _in_range(ticks: Fraction, shown: str) -> Length:
    if ticks > LONGEST:
        raise Refused(
            f"{quoted(shown)} is longer than 10 m, longer than any sheet sold flat",
            "write the length with its unit, as in 760 mm",
        )
    if ticks.denominator != 1:
        rounded = in_mm(max(1, round(ticks / 8)) * 8)  # whole thousandths of a millimetre
        raise Refused(
            f"{quoted(shown)} is finer than can be held (1/8 µm)",
            f"write fewer decimals, as in {rounded} mm",
        )
    return ticks.numerator


def _no_length(plain: str, shown: str) -> Refused:
    """Return the refusal that fits what was typed instead of a length."""
    remedy = "write a number and a unit, as in 210 mm or 8 1/4 in"
    if plain.startswith("-") and _FORM.fullmatch(plain[1:].strip()):
        return Refused(f"{quoted(shown)} is less than nothing", remedy)
    if is_date(plain):
        return date_instead(shown)
    if re.match(r"[\d.,]+e[+-]?\d", plain):
        return Refused(
            f"{quoted(shown)} is how a spreadsheet shortens a number", "write it out, as in 1000 mm"
        )
    if re.fullmatch(r"\d{1,3}(?:[ .,']\d{3})+(?:[.,]\d+)? ?[a-z\"]*", plain):
        return _grouped(plain, shown)
    if re.fullmatch(r"[\d.]+(?: ?[/;,|] ?[\d.]+){2,}(?: ?[a-z\"]+)?", plain):
        return Refused(
            f"{quoted(shown)} holds several lengths",
            "write one; where the edges differ, write each under left, right, top and foot",
        )
    lettered = _letter_in_number(plain, shown)
    if lettered:
        return lettered
    if re.search(r"\d ?[x*] ?\d", plain):
        return Refused(f"{quoted(shown)} is a size; one length is wanted", remedy)
    return Refused(f"{quoted(shown)} is not a length", remedy)


def _unknown_unit(plain: str, shown: str, number: str) -> Refused:
    """Return the refusal of a number with a word after it that is no unit."""
    if is_date(plain):
        return date_instead(shown)
    return _letter_in_number(plain, shown) or Refused(
        f"{quoted(shown)} has a unit that is not known here",
        f"write mm, cm, m, in or ft, as in {number} mm",
    )


def _letter_in_number(plain: str, shown: str) -> Refused | None:
    """Return the refusal of 21O and l1, in which a letter looks like a figure."""
    mended = re.sub(r"[li](?=[\d.,/ol])|(?<=[\d.,/])[li](?![a-z])", "1", plain)
    mended = re.sub(r"o(?=[\d.,/])|(?<=[\d.,/])o+(?![a-z])", lambda o: "0" * len(o[0]), mended)
    if mended == plain or not _FORM.fullmatch(mended):
        return None
    return Refused(
        f"{quoted(shown)} is not a length: a letter stands among the figures",
        f"write figures and a unit, as in {_with_unit(mended)} if that is meant",
    )


def _refuse_bare_fraction(number: str, shown: str, unit: str) -> None:
    # Half a millimetre is a margin people do type; eighths are always inches.
    foot = re.search(r"/ ?0*(\d+)$", number)
    if foot and foot[1] not in {"0", "2"}:
        raise Refused(
            f"{quoted(shown)} is a fraction without a unit, so it may be {unit} or inches",
            f"write {number} in, or {number} {unit}",
        )


def is_date(plain: str) -> bool:
    """Whether plain lower-case text looks like a date that a spreadsheet made."""
    return _DATE.fullmatch(plain) is not None


def date_instead(shown: str, day: int | None = None, month: int | None = None) -> Refused:
    """Return the refusal of a date that stands where a length is wanted."""
    guess = f"{month}/{day} or {day}/{month} (a fraction?)" if day and month else "a fraction"
    return Refused(
        f"{quoted(shown)} is a date: a spreadsheet may have turned {guess} into it",
        "set the cell to text and type the length again, as in 5/8 in or 0.625 in",
    )


def _grouped(plain: str, shown: str) -> Refused:
    number, unit = re.match(r"([\d., ']*\d)(.*)", plain).groups()  # type: ignore[union-attr]
    runs = re.split(r"[., ']", number)
    marks = set(re.findall(r"[.,]", number))
    joined = f"{''.join(runs[:-1])}.{runs[-1]}" if len(marks) > 1 else "".join(runs)
    return Refused(
        f"{quoted(shown)} has its figures in groups",
        f"write the number in one run, as in {_with_unit(joined + unit)}",
    )


def _with_unit(number: str) -> str:
    return number if re.search(r"[a-z\"']", number) else f"{number} mm"
