"""The settings of a studio, out of its studio.toml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache, partial
from typing import Any

from sheetcut.errors import Problem
from sheetcut.job import Aim, Kind, NarrowStrips, Paper, Preference, Rules, Unit
from sheetcut.read.apparatus import Apparatus, read_apparatus
from sheetcut.read.dimensions import Size
from sheetcut.read.entries import (
    Entries,
    as_currency,
    as_edges,
    as_grammage,
    as_length,
    as_size,
    as_sizes,
    as_some_length,
    as_text,
    as_whole,
    as_word,
    entries_in,
    shown,
)
from sheetcut.read.refusal import quoted, unseen
from sheetcut.read.sending import Sending, read_sending
from sheetcut.read.trading import Trading, read_trading
from sheetcut.units import Edges, Length

_UNITS: dict[str, Unit] = {
    "mm": "mm", "millimetres": "mm", "cm": "cm", "centimetres": "cm",
    "in": "in", "inch": "in", "inches": "in",
}  # fmt: skip
_AIMS: dict[str, Aim] = {"least cost": "least cost", "fewest sheets": "fewest sheets"}
_PREFERENCES: dict[str, Preference] = {
    "quicker to cut": "quicker to cut",
    "better leftover": "better leftover",
    "strips only": "strips only",
}
_NARROW: dict[str, NarrowStrips] = {"allowed": "allowed", "refused": "refused"}
_KINDS: tuple[Kind, ...] = ("drawing", "print", "card")
_KEYS = (
    "name", "currency", "unit", "reading step", "mat", "ruler", "printer width", "keep size",
    "narrowest strip", "narrow strips", "usual margins", "deckle trim", "sizes sold", "aim",
    "preference", "paper", "charging", "buying", "printer", "scanner", "packing", "parcel",
)  # fmt: skip
_PAPER_KEYS = ("grammage", "passes", "aim")


@dataclass(frozen=True, slots=True)
class Settings:
    """How a studio works, where its tables do not say.

    Attributes:
        unit: what a bare number counts in the tables.
        usual_margins: for each kind of piece, its margins where an order gives none.
        deckle_trim: what a deckle loses where the drawer does not say; None is not set.
        sizes_sold: the sizes of the price list.
        trading: how it charges for its work and buys its paper.
        apparatus: what its printer and its scanner reach.
        sending: what packing adds and what a carrier takes.
    """

    name: str = ""
    currency: str = ""
    unit: Unit = "mm"
    rules: Rules = field(default_factory=Rules)
    usual_margins: Mapping[Kind, Edges] = field(default_factory=dict)
    deckle_trim: Length | None = None
    sizes_sold: tuple[Size, ...] = ()
    papers: tuple[Paper, ...] = ()
    trading: Trading = field(default_factory=Trading)
    apparatus: Apparatus = field(default_factory=Apparatus)
    sending: Sending = field(default_factory=Sending)


def read_settings(source: str, data: bytes) -> tuple[Settings, list[Problem]]:
    """Return the settings, and the problems found among them.

    Raises:
        ProblemsFound: if the file as a whole cannot be read.
    """
    settings, problems = _read(source, data)
    return settings, list(problems)


@lru_cache(maxsize=4)
def _read(source: str, data: bytes) -> tuple[Settings, tuple[Problem, ...]]:
    """Read the settings, once for the same bytes: the page asks for them with every request."""
    entries, written = entries_in(source, data)
    settings = _settings(entries, entries.plain_keys(written, _KEYS, ""))
    return settings, tuple(entries.problems)


def _settings(entries: Entries, given: dict[str, Any]) -> Settings:
    unit: Unit = entries.take(given, "unit", partial(as_word, "the unit", _UNITS), "mm")
    margins = entries.section(given, "usual margins", _KINDS, partial(as_edges, unit=unit))
    currency = entries.take(given, "currency", as_currency, "")
    return Settings(
        name=entries.take(given, "name", as_text, ""),
        currency=currency,
        unit=unit,
        rules=_rules(entries, given, unit),
        usual_margins={kind: margins[kind] for kind in _KINDS if kind in margins},
        deckle_trim=entries.take(given, "deckle trim", partial(as_length, unit=unit), None),
        sizes_sold=entries.take(given, "sizes sold", partial(as_sizes, unit=unit), ()),
        papers=_papers(entries, given),
        trading=read_trading(entries, given, currency),
        apparatus=read_apparatus(entries, given, unit),
        sending=read_sending(entries, given, unit),
    )


def _rules(entries: Entries, given: dict[str, Any], unit: Unit) -> Rules:
    length = partial(as_length, unit=unit)
    some_length = partial(as_some_length, unit=unit)
    size = partial(as_size, unit=unit)
    keep = entries.take(given, "keep size", size, None)
    mat = entries.take(given, "mat", size, None)
    rules = Rules(
        reading_step=entries.take(given, "reading step", some_length, None),
        narrowest_strip=entries.take(given, "narrowest strip", length, None),
        mat=(mat.width, mat.height) if mat else None,
        ruler=entries.take(given, "ruler", some_length, None),
        printer_width=entries.take(given, "printer width", some_length, None),
        aim=entries.take(given, "aim", partial(as_word, "the aim", _AIMS), None),
        preference=entries.take(
            given,
            "preference",
            partial(as_word, "the preference", _PREFERENCES),
            "quicker to cut",
        ),
        narrow_strips=entries.take(
            given, "narrow strips", partial(as_word, "narrow strips", _NARROW), "allowed"
        ),
    )
    if not keep:
        return rules
    short, long = sorted((keep.width, keep.height))
    return replace(rules, keep_short=short, keep_long=long)


def _papers(entries: Entries, given: dict[str, Any]) -> tuple[Paper, ...]:
    tables = given.get("paper", {})
    if not isinstance(tables, dict):
        entries.add("paper", f"paper is {shown(tables)}", 'write a section headed [paper."NAME"]')
        return ()
    papers: list[Paper] = []
    for name, table in tables.items():
        where = f"paper {quoted(name)}"
        if unseen(name) or not name.strip():
            found = "holds an unseen character" if name.strip() else "has no name"
            entries.add("paper", f"{where} {found}", "type its name again")
            continue
        if not isinstance(table, dict):
            entries.add(
                "paper", f"{where} is {shown(table)}", 'write a section headed [paper."NAME"]'
            )
            continue
        own = entries.plain_keys(table, _PAPER_KEYS, where)
        paper = Paper(
            " ".join(name.split()),
            grammage=entries.take(own, "grammage", as_grammage, None, where),
            passes=entries.take(own, "passes", partial(as_whole, "passes", 100), None, where),
            aim=entries.take(own, "aim", partial(as_word, "the aim", _AIMS), None, where),
        )
        if any(paper.name.casefold() == other.name.casefold() for other in papers):
            entries.add("paper", f"{where} is there twice", "keep one of the two sections")
            continue
        papers.append(paper)
    return tuple(papers)
