"""Days as people write them; one that could be two days is refused."""

from __future__ import annotations

import re
from datetime import date, timedelta

from sheetcut.read.characters import plain_text
from sheetcut.read.lengths import refuse_at_sight
from sheetcut.read.refusal import Refused, quoted

EXAMPLE = "2026-12-03 or 3 Dec 2026"
YEARS = range(2000, 2100)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_LONG = ("january", "february", "march", "april", "may", "june", "july", "august", "september",
         "october", "november", "december")  # fmt: skip
_WEEKDAY = re.compile(
    r"^(?:mon|tue|tues|wed|wednes|thu|thur|thurs|fri|sat|satur|sun)(?:day)?\b[ ,.]*"
)
_DAY, _MONTH, _YEAR = r"(?P<day>\d{1,2})", r"(?P<month>[a-z]+)\.?", r"(?P<year>\d{4})"
_WORDS = (
    re.compile(rf"{_DAY}(?:st|nd|rd|th)?[ .\-/]*(?:of )?{_MONTH}[ ,.\-/]*{_YEAR}"),
    re.compile(rf"{_MONTH}[ \-]*{_DAY}(?:st|nd|rd|th)?[ ,.\-/]+{_YEAR}"),
    re.compile(rf"{_YEAR}[ \-/]{_MONTH}[ \-/]{_DAY}"),
)
_YEAR_FIRST = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[t ]0{1,2}:00(?::00)?(?:\.0+)?)?")
_YEAR_LAST = re.compile(r"(\d{1,2})(?P<mark>[-/.])(\d{1,2})(?P=mark)(\d{4})")
_FIRST_SERIAL = date(1899, 12, 30)  # spreadsheets count days from here


def read_day(text: str) -> date:
    """Return the day that is written.

    Raises:
        Refused: if it is no day, or can be two (05/06/2026).

    >>> read_day("28/11/2026") == read_day("28 Nov 2026") == read_day("2026-11-28")
    True
    """
    refuse_at_sight(text, "a day", EXAMPLE)
    shown = text.strip()
    plain = _WEEKDAY.sub("", plain_text(shown).casefold())
    for form in _WORDS:
        found = form.fullmatch(plain)
        month = _month(found["month"]) if found else None
        if found and month:
            return _day(int(found["year"]), month, int(found["day"]), shown)
    found = _YEAR_FIRST.fullmatch(plain)
    if found:
        return _day(int(found[1]), int(found[2]), int(found[3]), shown)
    found = _YEAR_LAST.fullmatch(plain)
    if found:
        return _year_last(int(found[1]), int(found[3]), int(found[4]), found["mark"], shown)
    raise _no_day(plain, shown)


def _year_last(one: int, other: int, year: int, mark: str, shown: str) -> date:
    # Only with points is the day always first; with / and - countries differ.
    if mark != "." and one != other and max(one, other) <= 12:
        first, second = _day(year, other, one, shown), _day(year, one, other, shown)
        raise Refused(
            f"{quoted(shown)} can be {_spoken(first)} or {_spoken(second)}",
            f"write {first} or {second}",
        )
    day, month = (other, one) if other > 12 and mark != "." else (one, other)
    return _day(year, month, day, shown)


def _day(year: int, month: int, day: int, shown: str) -> date:
    if year not in YEARS:
        raise Refused(f"{quoted(shown)} is in the year {year}", f"write a day as in {EXAMPLE}")
    try:
        return date(year, month, day)
    except ValueError:
        raise Refused(
            f"{quoted(shown)} is a day that no calendar has", f"write a day as in {EXAMPLE}"
        ) from None


def _month(word: str) -> int | None:
    for number, (short, long) in enumerate(zip(_MONTHS, _LONG, strict=True), 1):
        if len(word) >= 3 and (long.startswith(word) or word == f"{short}t"):
            return number
    return None


def _spoken(day: date) -> str:
    return f"{day.day} {_LONG[day.month - 1].title()} {day.year}"


def _no_day(plain: str, shown: str) -> Refused:
    if re.fullmatch(r"\d{5}(?:\.0)?", plain):
        day = _FIRST_SERIAL + timedelta(int(plain[:5]))
        return Refused(
            f"{quoted(shown)} is a number; a spreadsheet shows {day} so when the cell lost its "
            "date format",
            f"write the day, as in {day}",
        )
    if re.fullmatch(r"(?:day )?\d{1,3}", plain):
        return Refused(f"{quoted(shown)} is a number, not a day", f"write a day as in {EXAMPLE}")
    if re.search(r"[-/. ]\d{2}$", plain) and len(re.findall(r"\d+", plain)) >= 2:
        return Refused(
            f"{quoted(shown)} has no year in four figures", f"write a day as in {EXAMPLE}"
        )
    if re.search(r"\d", plain) and any(month in plain for month in _MONTHS):
        return Refused(f"{quoted(shown)} has no year", f"write a day as in {EXAMPLE}")
    return Refused(f"{quoted(shown)} is not a day", f"write a day as in {EXAMPLE}")
