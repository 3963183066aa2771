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
            Setting(("printer width",), "the widest sheet it takes", label="printer"),
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
)
PAPER = (
    Setting(("grammage",), "g/m²"),
    Setting(("passes",), "strokes of the knife"),
    Setting(("aim",), "", "choice", ("", *get_args(Aim))),
)
SETTINGS = {one.name: one for _, settings in SECTIONS for one in settings}


@dataclass(frozen=True, slots=True)
class Fields:
    """All fields of the form, as text.

    Attributes:
        plain: by a setting's name.
        margins: by kind, four lengths; the first alone counts for all sides.
        papers: by the paper's name, as ``PAPER`` has them.
        new: the name of a paper that has no row yet, and the same of it.
    """

    plain: Mapping[str, str]
    margins: Mapping[str, tuple[str, ...]]
    papers: Mapping[str, tuple[str, ...]]
    new: tuple[str, ...] = ("",) * (1 + len(PAPER))

    @property
    def all_papers(self) -> dict[str, tuple[str, ...]]:
        """The papers with a row and the new one."""
        name, *texts = self.new
        return {**self.papers, **({name: tuple(texts)} if name else {})}

    def rows(self) -> dict[str, str]:
        """Return each field by a name that a person reads."""
        said = {_spoken(SETTINGS[name].key): text for name, text in self.plain.items()}
        for kind, lengths in self.margins.items():
            said[f"usual margins, {kind}"] = ", ".join(filter(None, lengths))
        for paper, texts in self.all_papers.items():
            for setting, text in zip(PAPER, texts, strict=True):
                said[f"{paper}, {setting.title}"] = text
        return said


def fields_of(written: Mapping[Key, Any], papers: Iterable[str]) -> Fields:
    """Return the fields as a settings file has them.

    Args:
        papers: those in the drawer, which need not have a section yet.
    """
    sections = [key[1] for key in written if key[0] == "paper" and len(key) == 3]
    named = {name.casefold(): name for name in [*papers, *sections]}
    return Fields(
        plain={name: _text(one, written.get(one.key)) for name, one in SETTINGS.items()},
        margins={kind: _lengths(written.get(("usual margins", kind))) for kind in KINDS},
        papers={
            name: tuple(_text(one, written.get(("paper", name, *one.key))) for one in PAPER)
            for name in named.values()
        },
    )


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
    for paper, texts in typed.all_papers.items():
        before = shown.papers.get(paper, tuple(_text(one, None) for one in PAPER))
        for one, text, was in zip(PAPER, texts, before, strict=True):
            if text != was:
                changes["paper", paper, *one.key] = _value(one, text)
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
    name, *texts = typed.new
    if name.casefold() in {paper.casefold() for paper in typed.papers}:
        yield "paper", "this paper has a row already; write into that one"
    elif name and not any(texts):
        yield "paper", "nothing is written of it; write its grammage or its passes"
    elif any(texts) and not name:
        yield "paper", "it has no name; write what the drawer calls it"


def by_name(problems: Iterable[Problem], papers: Iterable[str]) -> dict[str, list[str]]:
    """Return what is wrong by the field it stands under; what stands under none, at the top."""
    known = {", ".join(one.key): name for name, one in SETTINGS.items()}
    known |= {f"usual margins, {kind}": f"usual margins, {kind}" for kind in KINDS}
    for paper in papers:
        for one in PAPER:
            known[f"paper {quoted(paper)}, {one.key[-1]}"] = f"{paper}, {one.key[-1]}"
    found: dict[str, list[str]] = {}
    for problem in problems:
        words = f"{problem.message}; {problem.remedy}"
        name = known.get(problem.field, "")
        at = f"line {problem.row}: " if problem.row and not name else ""
        found.setdefault(name, []).append(at + words)
    return found


def _spoken(key: Key) -> str:
    return ", ".join(key)
