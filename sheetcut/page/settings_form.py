"""What the settings' form holds: each field as its file has it, and what was typed into it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal, get_args

from sheetcut.errors import Problem
from sheetcut.job import EDGES, Aim, Kind, NarrowStrips, Preference, Unit
from sheetcut.read.refusal import quoted
from sheetcut.read.settings_out import Key, Value

Form = Literal["text", "number", "choice", "lines"]

KINDS: tuple[Kind, ...] = get_args(Kind)


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting as the page asks for it.

    Attributes:
        key: what the settings file calls it, in plain words.
        help: what to write, under its label.
        form: text stays text; of lines each is one entry of a list.
        choices: the words to choose from, the usual one first.
    """

    key: Key
    help: str = ""
    form: Form = "number"
    choices: tuple[str, ...] = ()
    label: str = ""

    @property
    def name(self) -> str:
        """What its field is called in the form."""
        return "-".join(word.replace(" ", "-") for word in self.key)

    @property
    def title(self) -> str:
        """What its field is called on the page."""
        return self.label or self.key[-1]


SECTIONS: tuple[tuple[str, tuple[Setting, ...]], ...] = (
    (
        "The studio",
        (
            Setting(("name",), "at the head of every drawing", "text"),
            Setting(("currency",), "its sign, as £ or EUR", "text"),
            Setting(("unit",), "what a bare number counts", "choice", get_args(Unit)),
        ),
    ),
    (
        "Mat, ruler, knife",
        (
            Setting(("mat",), "width x height"),
            Setting(("ruler",), "the longest"),
            Setting(("reading step",), "what it is read to: 1 mm, 0.5 mm or 1/16 in"),
            Setting(("narrowest strip",), "narrower is not cut off on purpose"),
            Setting(
                ("narrow strips",),
                "one beside a print, where no other plan is found",
                "choice",
                get_args(NarrowStrips),
            ),
            Setting(("deckle trim",), "what a deckle loses, where the drawer does not say"),
            Setting(("keep size",), "the smallest offcut to keep"),
        ),
    ),
    (
        "Printer and scanner",
        (
            Setting(("printer width",), "the widest sheet it takes", label="widest"),
            Setting(("printer", "sides"), "left blank at both sides"),
            Setting(("printer", "lead"), "at the edge that goes in first"),
            Setting(("printer", "tail"), "at the edge that comes last"),
            Setting(("scanner", "bed"), "its glass, width x height"),
            Setting(("scanner", "overlap"), "what neighbouring scans share"),
        ),
    ),
    (
        "What a plan is to be",
        (
            Setting(
                ("aim",),
                "empty: least cost where every price is known",
                "choice",
                ("", *get_args(Aim)),
            ),
            Setting(
                ("preference",),
                "between plans that cost the same",
                "choice",
                get_args(Preference),
            ),
        ),
    ),
    (
        "What a quote charges",
        (
            Setting(("charging", "hours"), "that one piece usually takes"),
            Setting(("charging", "rate"), "for an hour"),
            Setting(("charging", "mark up"), "what paper is multiplied by"),
            Setting(("charging", "round up to"), "as 0.50, or 5"),
        ),
    ),
    (
        "Price list and carriage",
        (
            Setting(("sizes sold",), "one size a line, as A4 or 300 x 300", "lines"),
            Setting(
                ("buying", "carriage"), "a line each, as 9.50, then: free from 150.00", "lines"
            ),
        ),
    ),
    (
        "What packing adds",
        (
            Setting(("packing", "wall"), "of a flat mailer, at each edge"),
            Setting(("packing", "boards"), "boards and mailer, how thick"),
            Setting(("packing", "grams"), "all of it"),
        ),
    ),
)


@dataclass(frozen=True, slots=True)
class Table:
    """Sections of which the file may have any number, each with a name of its own.

    Attributes:
        kind: what their headings begin with.
        another: what the row for a new one is called, and what to write there.
        least: what a row has to say, for a message.
        is_whole: whether a row that is emptied goes out with its heading.
    """

    kind: str
    heading: str
    settings: tuple[Setting, ...]
    another: tuple[str, str]
    least: str
    is_whole: bool = False


TABLES = (
    Table(
        "paper",
        "Papers",
        (
            Setting(("grammage",), "g/m²"),
            Setting(("passes",), "strokes of the knife"),
            Setting(("aim",), "", "choice", ("", *get_args(Aim))),
        ),
        ("another paper", "as the drawer calls it"),
        "its grammage or its passes",
    ),
    Table(
        "parcel",
        "What may be sent, the cheapest first",
        (
            Setting(("flat",), "width x height"),
            Setting(("rolled",), "or how long"),
            Setting(("thick",), "a roll: across"),
            Setting(("girth",), "a roll: in all"),
            Setting(("grams",)),
            Setting(("note",), "", "text"),
        ),
        ("another parcel", "as the carrier calls it"),
        "how large and how heavy it may be",
        is_whole=True,
    ),
)
SETTINGS = {one.name: one for _, settings in SECTIONS for one in settings}

Rows = Mapping[str, tuple[str, ...]]
"""The rows of a table by their names, each as its settings have it."""


@dataclass(frozen=True, slots=True)
class Fields:
    """All fields of the form, as text.

    Attributes:
        plain: by a setting's name.
        margins: by kind, four lengths; the first alone counts for all sides.
        tables: by a table's kind, its rows.
        new: by a table's kind, the name of a row that is not there yet, and the same of it.
    """

    plain: Mapping[str, str]
    margins: Mapping[str, tuple[str, ...]]
    tables: Mapping[str, Rows]
    new: Mapping[str, tuple[str, ...]]

    def all_rows(self, table: Table) -> Rows:
        """Return the rows of a table and the new one."""
        name, *texts = self.new[table.kind]
        return {**self.tables[table.kind], **({name: tuple(texts)} if name else {})}

    def told(self) -> dict[str, str]:
        """Return each field by a name that a person reads."""
        said = {", ".join(SETTINGS[name].key): text for name, text in self.plain.items()}
        for kind, lengths in self.margins.items():
            said[f"usual margins, {kind}"] = ", ".join(filter(None, lengths))
        for table in TABLES:
            for name, texts in self.all_rows(table).items():
                for one, text in zip(table.settings, texts, strict=True):
                    said[field_of(table, name, one)] = text
        return said


def field_of(table: Table, name: str, setting: Setting) -> str:
    """Return what a field of a table's row is told by."""
    return f"{table.kind} {name}, {setting.title}"


def fields_of(written: Mapping[Key, Any], papers: Iterable[str]) -> Fields:
    """Return the fields as a settings file has them.

    Args:
        papers: those in the drawer, which need not have a section yet.
    """
    there = {"paper": tuple(papers)}
    return Fields(
        plain={name: _text(one, written.get(one.key)) for name, one in SETTINGS.items()},
        margins={kind: _lengths(written.get(("usual margins", kind))) for kind in KINDS},
        tables={one.kind: _rows(one, written, there.get(one.kind, ())) for one in TABLES},
        new={one.kind: ("", *_nothing(one)) for one in TABLES},
    )


def _rows(table: Table, written: Mapping[Key, Any], there: Iterable[str]) -> Rows:
    sections = [key[1] for key in written if key[0] == table.kind and len(key) == 3]
    names = {name.casefold(): name for name in [*there, *sections]}.values()
    return {
        name: tuple(_text(one, written.get((table.kind, name, *one.key))) for one in table.settings)
        for name in names
    }


def _nothing(table: Table) -> tuple[str, ...]:
    return tuple(_text(one, None) for one in table.settings)


def _text(setting: Setting, value: Any) -> str:
    """Return a setting as it is shown: a list a line each, a choice that is not made the usual."""
    if value is None:
        return setting.choices[0] if setting.choices else ""
    if setting.form == "lines":
        return "\n".join(map(str, value if isinstance(value, list) else [value]))
    return str(value)


def _lengths(value: Any) -> tuple[str, ...]:
    if isinstance(value, dict):
        return tuple(str(value.get(edge, 0)) for edge in EDGES)
    if isinstance(value, list) and len(value) == len(EDGES):
        return tuple(map(str, value))
    return ("" if value is None else str(value), "", "", "")


def changes_of(shown: Fields, typed: Fields) -> dict[Key, Value | None]:
    """Return what was typed otherwise than it was shown, as the settings file would have it."""
    changes: dict[Key, Value | None] = {}
    for name, text in typed.plain.items():
        if text != shown.plain[name]:
            changes[SETTINGS[name].key] = _value(SETTINGS[name], text)
    for kind, lengths in typed.margins.items():
        if lengths != shown.margins[kind]:
            changes["usual margins", kind] = _margin(lengths)
    for table in TABLES:
        for name, texts in typed.all_rows(table).items():
            before = shown.tables[table.kind].get(name, _nothing(table))
            if table.is_whole and not any(texts) and any(before):
                changes[table.kind, name] = None
                continue
            for one, text, was in zip(table.settings, texts, before, strict=True):
                if text != was:
                    changes[table.kind, name, *one.key] = _value(one, text)
    return changes


def _value(setting: Setting, text: str) -> Value | None:
    if not text:
        return None
    if setting.form == "lines":
        lines = [line.strip() for line in text.splitlines() if line.strip()]
        return lines or None
    return text if setting.form in ("text", "choice") else _number(text)


def _number(text: str) -> str | int:
    """Return a bare number where one was typed, as a person would write it in the file."""
    return int(text) if re.fullmatch(r"0|[1-9][0-9]{0,8}", text) else text


def _margin(lengths: tuple[str, ...]) -> Value | None:
    if not any(lengths):
        return None
    if not any(lengths[1:]) or len(set(lengths)) == 1:
        return _number(lengths[0])
    return [_number(one) for one in lengths]


def lacking(typed: Fields) -> Iterator[tuple[str, str]]:
    """Yield what is only half filled in, by its field, with what to do about it."""
    for kind, lengths in typed.margins.items():
        missing = [edge for edge, one in zip(EDGES, lengths, strict=True) if not one]
        if len(missing) < len(EDGES) and missing != list(EDGES[1:]) and missing:
            sides = " and ".join(missing)
            yield (
                f"usual margins, {kind}",
                f"{sides}: nothing is written; write all four, or the first alone for all sides",
            )
    for table in TABLES:
        name, *texts = typed.new[table.kind]
        if name.casefold() in {one.casefold() for one in typed.tables[table.kind]}:
            yield table.kind, f"this {table.kind} has a row already; write into that one"
        elif name and not any(texts):
            yield table.kind, f"nothing is written of it; write {table.least}"
        elif any(texts) and not name:
            yield table.kind, "it has no name; write one"


def by_name(problems: Iterable[Problem], typed: Fields) -> dict[str, list[str]]:
    """Return what is wrong by the field it stands under; what stands under none, at the top."""
    known = {", ".join(one.key): name for name, one in SETTINGS.items()}
    known |= {f"usual margins, {kind}": f"usual margins, {kind}" for kind in KINDS}
    for table in TABLES:
        for name in typed.all_rows(table):
            where = f"{table.kind} {quoted(name)}"
            first = field_of(table, name, table.settings[0])
            known |= {f"{where}, {table.kind}": first, where: first}
            for one in table.settings:
                known[f"{where}, {one.key[-1]}"] = field_of(table, name, one)
    found: dict[str, list[str]] = {}
    for problem in problems:
        words = f"{problem.message}; {problem.remedy}"
        name = known.get(problem.field, "")
        at = f"line {problem.row}: " if problem.row and not name else ""
        found.setdefault(name, []).append(at + words)
    return found
