"""Settings taken one by one out of a TOML file, each problem at the line where it stands."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from difflib import get_close_matches
from typing import Any, TypeVar

from sheetcut.errors import Problem, ProblemsFound
from sheetcut.job import EDGES, Unit
from sheetcut.read.dimensions import Size, read_size
from sheetcut.read.failures import spoiled
from sheetcut.read.lengths import read_length
from sheetcut.read.refusal import Refused, quoted, unseen
from sheetcut.read.tables import decoded
from sheetcut.read.values import read_word
from sheetcut.units import Edges, Length

T = TypeVar("T")

LARGEST_SETTINGS = 1_000_000
"""Bytes of studio.toml; a page of settings takes a thousandth of it."""

LARGEST_NUMBER = 10**9  # of no use in any setting, and far below what Python prints
HEAVIEST = 5_000  # g/m²: more than any board that a knife goes through


def entries_in(source: str, data: bytes) -> tuple[Entries, dict[str, Any]]:
    """Return what takes the settings of a file, and the settings as they are written.

    Raises:
        ProblemsFound: if the file is not written as settings are.
    """
    if len(data) > LARGEST_SETTINGS:
        raise spoiled(
            source,
            f"the file has {len(data) / 1e6:.1f} MB, far too much for settings",
            "leave only the settings in it",
        )
    text, _ = decoded(source, data)
    try:
        # Decimals stay the text they were typed as; a length is then read like any other.
        written = tomllib.loads(text, parse_float=str)
    except (ValueError, RecursionError) as error:
        raise _not_toml(source, text, str(error)) from None
    return Entries(source, text), written


class Entries:
    """Takes settings one by one and keeps the problems found."""

    def __init__(self, source: str, text: str) -> None:
        self.source = source
        self.lines = text.splitlines()
        self.problems: list[Problem] = []

    def take(
        self, given: dict[str, Any], key: str, read: Callable[[Any], T], default: T, where: str = ""
    ) -> T:
        """Return a setting, or the default where it is not there or cannot be read."""
        if key not in given:
            return default
        try:
            return read(given[key])
        except Refused as refused:
            self.add(key, refused.message, refused.remedy, where)
            return default

    def section(
        self, given: dict[str, Any], key: str, keys: tuple[str, ...], read: Callable[[Any], T]
    ) -> dict[str, T]:
        """Return the settings of a section, such as the usual margins of each kind."""
        part = given.get(key, {})
        if not isinstance(part, dict):
            remedy = f"write a section headed [{key.replace(' ', '-')}]"
            self.add(key, f"{key} is {shown(part)}", remedy)
            return {}
        own = self.plain_keys(part, keys, key)
        nothing: Any = None
        taken = {name: self.take(own, name, read, nothing, key) for name in own}
        return {name: value for name, value in taken.items() if value is not None}

    def part(self, given: Mapping[str, Any], key: str, known: tuple[str, ...]) -> dict[str, Any]:
        """Return the settings of a section by their plain names; none where it is not there."""
        part = given.get(key, {})
        if not isinstance(part, dict):
            self.add(key, f"{key} is {shown(part)}", f"write a section headed [{key}]")
            return {}
        return self.plain_keys(part, known, key)

    def plain_keys(
        self, given: Mapping[str, Any], known: tuple[str, ...], where: str
    ) -> dict[str, Any]:
        """Return settings by their plain names: reading-step and reading_step are one."""
        plain: dict[str, Any] = {}
        for key, value in given.items():
            name = " ".join(re.split(r"[-_\s]+", key.casefold().strip()))
            if name not in known:
                near = get_close_matches(name[:100], known, 1, 0.6)
                remedy = (
                    f'did you mean "{near[0].replace(" ", "-")}"?'
                    if near
                    else "write one of " + ", ".join(word.replace(" ", "-") for word in known)
                )
                self.add("", f"{quoted(key)} is not a setting", remedy, where, key)
            elif name in plain:
                self.add(name, f"{quoted(key)} is there twice", "keep one of the two", where, key)
            else:
                plain[name] = value
        return plain

    def add(self, key: str, message: str, remedy: str, where: str = "", typed: str = "") -> None:
        """Add a problem with a setting, at the line where it stands."""
        line = self._line_of(typed or key, where)
        name = ", ".join(word for word in (where, key) if word)
        self.problems.append(Problem(self.source, line, None, name, message, remedy))

    def _line_of(self, key: str, where: str) -> int | None:
        """Return the line a setting stands on, counted from 1, if it is plain to see."""
        words = "[-_ ]".join(re.escape(word) for word in re.split(r"[-_\s]+", key) if word)
        part = where.removeprefix("paper ").strip('"').split()
        head = re.compile(rf"\s*\[.*{'[-_ ]'.join(map(re.escape, part))}", re.IGNORECASE)
        starts = [n for n, line in enumerate(self.lines) if where and head.match(line)]
        # As it was typed comes first: two that differ in capitals alone may both stand there.
        for flags in (0, re.IGNORECASE):
            form = re.compile(rf"\s*\[?\s*[\"']?{words}[\"']?\s*[=.\]]", flags)
            for number in range(starts[0] if starts else 0, len(self.lines)):
                if form.match(self.lines[number]):
                    return number + 1
        return None


def as_text(value: Any) -> str:
    """Return a short text."""
    if not isinstance(value, str):
        raise Refused(f"{shown(value)} is not text", 'write it in quotation marks, as "Tern Point"')
    if unseen(value) or len(value) > 200:
        raise Refused(f"{quoted(value)} is too long or holds an unseen character", "type it again")
    return " ".join(value.split())


def as_currency(value: Any) -> str:
    """Return the sign of a currency."""
    sign = as_text(value)
    if len(sign) > 5 or re.search(r"\d", sign):
        raise Refused(
            f"{quoted(sign)} is not the sign of a currency", 'write one, as in "£" or "EUR"'
        )
    return sign


def as_length(value: Any, *, unit: Unit) -> Length:
    """Return a length of 0 or more; a bare number is in the unit."""
    return read_length(_typed(value, "a length"), unit=unit)


def as_some_length(value: Any, *, unit: Unit) -> Length:
    """Return a length of more than 0."""
    length = as_length(value, unit=unit)
    if not length:
        raise Refused(f"{shown(value)} is nothing", "write a length of more than 0, as in 1 mm")
    return length


def as_size(value: Any, *, unit: Unit) -> Size:
    """Return a size."""
    return read_size(_typed(value, "a size"), unit=unit)


def as_sizes(value: Any, *, unit: Unit) -> tuple[Size, ...]:
    """Return a list of sizes."""
    if not isinstance(value, list):
        raise Refused(f"{shown(value)} is not a list", 'write one, as in ["A4", "300 x 300"]')
    return tuple(as_size(one, unit=unit) for one in value)


def as_edges(value: Any, *, unit: Unit) -> Edges:
    """Return margins given as one length, as four in order, or by their edges."""
    if isinstance(value, list):
        if len(value) != len(EDGES):
            raise Refused(
                f"there are {len(value)} lengths", "write four: left, right, top and foot"
            )
        return Edges(*(as_length(one, unit=unit) for one in value))
    if isinstance(value, dict):
        unknown = next((edge for edge in value if edge not in EDGES), None)
        if unknown is not None:
            raise Refused(f"{quoted(unknown)} is not an edge", "write left, right, top or foot")
        return Edges(**{edge: as_length(one, unit=unit) for edge, one in value.items()})
    return Edges(*(as_length(value, unit=unit),) * 4)


def as_grammage(value: Any) -> int:
    """Return a weight in g/m²."""
    if isinstance(value, str):
        value = re.sub(r" ?(?:g/m²|g/m2|gsm|g)$", "", value.strip().casefold())
        if re.search(r"lb|pound|#", value):
            raise Refused(
                f"{quoted(value)} depends on the sheet that pounds are counted by",
                "write g/m²: 140 lb at 22 x 30 in is 300, 300 lb is 640",
            )
    return as_whole("g/m²", HEAVIEST, value)


def as_whole(what: str, most: int, value: Any) -> int:
    """Return a whole number from 1 to the most."""
    text = _typed(value, "a number")
    if (
        not re.fullmatch(r"[0-9]{1,6}(?:\.0*)?", text)
        or not 0 < int(text.partition(".")[0]) <= most
    ):
        raise Refused(f"{shown(value)} is not a number of {what}", f"write 1 to {most}")
    return int(text.partition(".")[0])


def as_word(what: str, words: Mapping[str, T], value: Any) -> T:
    """Return what a word stands for."""
    text = as_text(value)
    plain = re.sub(r"[-_ ]+", " ", text)
    offered = tuple(dict.fromkeys(str(word) for word in words.values()))
    chosen: T = read_word(plain, what, words, offered)  # type: ignore[type-var]
    return chosen


def _typed(value: Any, what: str) -> str:
    """Return a number or text as it was typed."""
    if isinstance(value, bool) or not isinstance(value, int | str):
        raise Refused(f"{shown(value)} is not {what}", 'write it as in 600 or "600 mm"')
    if isinstance(value, int) and abs(value) > LARGEST_NUMBER:
        raise Refused("the number is far too large", f"write {what} as in 600")
    return str(value)


def shown(value: Any) -> str:
    """Return a setting as a message repeats it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a section of its own"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, int) and abs(value) > LARGEST_NUMBER:
        return "a very large number"
    return quoted(str(value))


def _not_toml(source: str, text: str, said: str) -> ProblemsFound:
    """Return the error for a file that is no settings from some line on."""
    at = re.search(r"\(at line (\d+), column \d+\)", said)
    lines = text.splitlines() or [""]
    row = min(int(at[1]), len(lines)) if at else len(lines)
    # The library's own words speak of its grammar, so only what it found twice is passed on.
    again = " a second time" if re.match("Cannot|Duplicate", said) else ""
    return spoiled(
        source,
        f"{quoted(lines[row - 1].strip())} cannot be read{again}, nor what comes after it",
        "keep one of the two" if again else 'write each setting as in: ruler = "1000 mm"',
        row=row,
    )
