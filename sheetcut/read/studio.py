"""The settings of a studio, out of its studio.toml."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from functools import partial
from typing import Any, TypeVar

from sheetcut.errors import Problem
from sheetcut.job import EDGES, Aim, Kind, Paper, Preference, Rules, Unit
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

_UNITS: dict[str, Unit] = {
    "mm": "mm", "millimetres": "mm", "cm": "cm", "centimetres": "cm",
    "in": "in", "inch": "in", "inches": "in",
}  # fmt: skip
_AIMS: dict[str, Aim] = {"least cost": "least cost", "fewest sheets": "fewest sheets"}
_PREFERENCES: dict[str, Preference] = {
    "quicker to cut": "quicker to cut",
    "better leftover": "better leftover",
}
_KINDS: tuple[Kind, ...] = ("drawing", "print", "card")
_KEYS = (
    "name", "currency", "unit", "reading step", "mat", "ruler", "printer width", "keep size",
    "narrowest strip", "usual margins", "deckle trim", "sizes sold", "aim", "preference", "paper",
)  # fmt: skip
_PAPER_KEYS = ("grammage", "passes", "aim")
HEAVIEST = 5_000  # g/m²: more than any board that a knife goes through


@dataclass(frozen=True, slots=True)
class Settings:
    """How a studio works, where its tables do not say.

    Attributes:
        unit: what a bare number counts in the tables.
        usual_margins: for each kind of piece, its margins where an order gives none.
        deckle_trim: what a deckle loses where the drawer does not say; None is not set.
        sizes_sold: the sizes of the price list.
    """

    name: str = ""
    currency: str = ""
    unit: Unit = "mm"
    rules: Rules = field(default_factory=Rules)
    usual_margins: Mapping[Kind, Edges] = field(default_factory=dict)
    deckle_trim: Length | None = None
    sizes_sold: tuple[Size, ...] = ()
    papers: tuple[Paper, ...] = ()


def read_settings(source: str, data: bytes) -> tuple[Settings, list[Problem]]:
    """Return the settings, and the problems found among them.

    Raises:
        ProblemsFound: if the file as a whole cannot be read.
    """
    if len(data) > LARGEST_SETTINGS:
        raise spoiled(source, "the file is far too large for settings", "keep the settings alone")
    text, _ = decoded(source, data)
    try:
        # Decimals stay the text they were typed as; a length is then read like any other.
        written = tomllib.loads(text, parse_float=str)
    except (ValueError, RecursionError) as error:
        raise _not_toml(source, str(error)) from None
    reader = _Reader(source, text)
    return _settings(reader, reader.plain_keys(written, _KEYS, "")), reader.problems


def _settings(reader: _Reader, given: dict[str, Any]) -> Settings:
    unit: Unit = reader.take(given, "unit", partial(_word, "the unit", _UNITS), "mm")
    length = partial(_length, unit=unit)
    margins = {
        kind: edges
        for kind, edges in reader.table(given, "usual margins", _KINDS, partial(_edges, unit=unit))
        if kind in _KINDS
    }
    return Settings(
        name=reader.take(given, "name", _text, ""),
        currency=reader.take(given, "currency", _currency, ""),
        unit=unit,
        rules=_rules(reader, given, unit),
        usual_margins={kind: margins[kind] for kind in _KINDS if kind in margins},
        deckle_trim=reader.take(given, "deckle trim", length, None),
        sizes_sold=reader.take(given, "sizes sold", partial(_sizes, unit=unit), ()),
        papers=_papers(reader, given),
    )


def _rules(reader: _Reader, given: dict[str, Any], unit: Unit) -> Rules:
    length = partial(_length, unit=unit)
    some_length = partial(_some_length, unit=unit)
    size = partial(_size, unit=unit)
    keep = reader.take(given, "keep size", size, None)
    mat = reader.take(given, "mat", size, None)
    rules = Rules(
        reading_step=reader.take(given, "reading step", some_length, None),
        narrowest_strip=reader.take(given, "narrowest strip", length, None),
        mat=(mat.width, mat.height) if mat else None,
        ruler=reader.take(given, "ruler", some_length, None),
        printer_width=reader.take(given, "printer width", some_length, None),
        aim=reader.take(given, "aim", partial(_word, "the aim", _AIMS), None),
        preference=reader.take(
            given,
            "preference",
            partial(_word, "the preference", _PREFERENCES),
            "quicker to cut",
        ),
    )
    if not keep:
        return rules
    short, long = sorted((keep.width, keep.height))
    return replace(rules, keep_short=short, keep_long=long)


def _papers(reader: _Reader, given: dict[str, Any]) -> tuple[Paper, ...]:
    tables = given.get("paper", {})
    if not isinstance(tables, dict):
        reader.add("paper", f"paper is {_shown(tables)}", 'write a part headed [paper."NAME"]')
        return ()
    papers: list[Paper] = []
    for name, table in tables.items():
        where = f"paper {name}"
        if not isinstance(table, dict):
            reader.add(
                "paper", f"{where} is {_shown(table)}", f'write a part headed [paper."{name}"]'
            )
            continue
        own = reader.plain_keys(table, _PAPER_KEYS, where)
        paper = Paper(
            " ".join(name.split()),
            grammage=reader.take(own, "grammage", _grammage, None, where),
            passes=reader.take(own, "passes", partial(_whole, "passes", 100), None, where),
            aim=reader.take(own, "aim", partial(_word, "the aim", _AIMS), None, where),
        )
        if any(paper.name.casefold() == other.name.casefold() for other in papers):
            reader.add("paper", f"{where} is there twice", "keep one of the two parts")
            continue
        papers.append(paper)
    return tuple(papers)


class _Reader:
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

    def table(
        self, given: dict[str, Any], key: str, keys: tuple[str, ...], read: Callable[[Any], T]
    ) -> list[tuple[str, T]]:
        """Return the settings of a part, such as the usual margins of each kind."""
        part = given.get(key, {})
        if not isinstance(part, dict):
            self.add(
                key, f"{key} is {_shown(part)}", f"write a part headed [{key.replace(' ', '-')}]"
            )
            return []
        own = self.plain_keys(part, keys, key)
        nothing: Any = None
        taken = [(name, self.take(own, name, read, nothing, key)) for name in own]
        return [(name, value) for name, value in taken if value is not None]

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
                self.add(key, f"{quoted(key)} is not a setting", remedy, where, key)
            elif name in plain:
                self.add(key, f"{quoted(key)} is there twice", "keep one of the two", where, key)
            else:
                plain[name] = value
        return plain

    def add(self, key: str, message: str, remedy: str, where: str = "", typed: str = "") -> None:
        """Add a problem with a setting, at the line where it stands."""
        line = self._line_of(typed or key, where)
        name = f"{where}, {key}" if where else key
        self.problems.append(Problem(self.source, line, None, name, message, remedy))

    def _line_of(self, key: str, where: str) -> int | None:
        """Return the line a setting stands on, counted from 1, if it is plain to see."""
        words = [re.escape(word) for word in re.split(r"[-_\s]+", key) if word]
        form = re.compile(rf"\s*\[?\s*[\"']?{'[-_ ]'.join(words)}[\"']?\s*[=.\]]", re.IGNORECASE)
        part = [re.escape(word) for word in where.removeprefix("paper ").split()]
        head = re.compile(rf"\s*\[.*{'[-_ ]'.join(part)}", re.IGNORECASE)
        starts = [n for n, line in enumerate(self.lines) if where and head.match(line)]
        for number in range(starts[0] if starts else 0, len(self.lines)):
            if form.match(self.lines[number]):
                return number + 1
        return None


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise Refused(
            f"{_shown(value)} is not text", 'write it in quotation marks, as "Tern Point"'
        )
    if unseen(value) or len(value) > 200:
        raise Refused(f"{quoted(value)} is too long or holds an unseen character", "type it again")
    return " ".join(value.split())


def _currency(value: Any) -> str:
    sign = _text(value)
    if len(sign) > 5 or re.search(r"\d", sign):
        raise Refused(
            f"{quoted(sign)} is not the sign of a currency", 'write one, as in "£" or "EUR"'
        )
    return sign


def _length(value: Any, *, unit: Unit) -> Length:
    return read_length(_typed(value, "a length"), unit=unit)


def _some_length(value: Any, *, unit: Unit) -> Length:
    length = _length(value, unit=unit)
    if not length:
        raise Refused(f"{_shown(value)} is nothing", "write a length of more than 0, as in 1 mm")
    return length


def _size(value: Any, *, unit: Unit) -> Size:
    return read_size(_typed(value, "a size"), unit=unit)


def _sizes(value: Any, *, unit: Unit) -> tuple[Size, ...]:
    if not isinstance(value, list):
        raise Refused(f"{_shown(value)} is not a list", 'write one, as in ["A4", "300 x 300"]')
    return tuple(_size(one, unit=unit) for one in value)


def _edges(value: Any, *, unit: Unit) -> Edges:
    """Return margins given as one length, as four in order, or by their edges."""
    if isinstance(value, list):
        if len(value) != len(EDGES):
            raise Refused(
                f"there are {len(value)} lengths", "write four: left, right, top and foot"
            )
        return Edges(*(_length(one, unit=unit) for one in value))
    if isinstance(value, dict):
        unknown = next((edge for edge in value if edge not in EDGES), None)
        if unknown is not None:
            raise Refused(f"{quoted(unknown)} is not an edge", "write left, right, top or foot")
        return Edges(**{edge: _length(one, unit=unit) for edge, one in value.items()})
    return Edges(*(_length(value, unit=unit),) * 4)


def _grammage(value: Any) -> int:
    if isinstance(value, str):
        value = re.sub(r" ?(?:g/m²|g/m2|gsm|g)$", "", value.strip().casefold())
        if re.search(r"lb|pound|#", value):
            raise Refused(
                f"{quoted(value)} depends on the sheet that pounds are counted by",
                "write g/m²: 140 lb at 22 x 30 in is 300, 300 lb is 640",
            )
    return _whole("g/m²", HEAVIEST, value)


def _whole(what: str, most: int, value: Any) -> int:
    text = _typed(value, "a number")
    if (
        not re.fullmatch(r"[0-9]{1,6}(?:\.0*)?", text)
        or not 0 < int(text.partition(".")[0]) <= most
    ):
        raise Refused(f"{_shown(value)} is not a number of {what}", f"write 1 to {most}")
    return int(text.partition(".")[0])


def _word(what: str, words: Mapping[str, T], value: Any) -> T:
    text = _text(value)
    plain = re.sub(r"[-_ ]+", " ", text)
    offered = tuple(dict.fromkeys(str(word) for word in words.values()))
    chosen: T = read_word(plain, what, words, offered)  # type: ignore[type-var]
    return chosen


def _typed(value: Any, what: str) -> str:
    """Return a number or text as it was typed."""
    if isinstance(value, bool) or not isinstance(value, int | str):
        raise Refused(f"{_shown(value)} is not {what}", 'write it as in 600 or "600 mm"')
    if isinstance(value, int) and abs(value) > 10**9:
        raise Refused("the number is far too large", f"write {what} as in 600")
    return str(value)


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a part of its own"
    if isinstance(value, list):
        return "a list"
    return quoted(str(value)) if isinstance(value, str) else quoted(repr(value)[:100]).strip('"')


def _not_toml(source: str, said: str) -> Exception:
    at = re.search(r"\(at line (\d+), column (\d+)\)", said)
    reason = re.sub(r" ?\(at .*\)$", "", said) or "it is nested too deep"
    return spoiled(
        source,
        f"the settings cannot be read from here on ({reason[:100]})",
        'write each as in: ruler = "1000 mm"',
        row=int(at[1]) if at else None,
    )
