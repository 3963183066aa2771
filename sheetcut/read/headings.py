"""Headings matched by meaning, so that a table can be kept as its owner likes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from sheetcut.errors import Problem
from sheetcut.job import Unit
from sheetcut.read.characters import plain_text
from sheetcut.read.failures import spoiled
from sheetcut.read.refusal import quoted
from sheetcut.read.tables import Row, Table, address

Meanings = Mapping[str, tuple[str, ...]]
"""For each field, the further headings that mean it."""

_EDGE_COLUMNS = {
    "left": ("left margin", "left border", "left loss", "margin left", "border left"),
    "right": ("right margin", "right border", "right loss", "margin right", "border right"),
    "top": ("top margin", "top border", "top loss", "margin top", "border top", "head"),
    "foot": ("foot margin", "foot border", "bottom", "bottom margin", "bottom border", "foot loss",
             "margin foot", "margin bottom", "border foot", "border bottom"),
}  # fmt: skip

ORDER_MEANINGS: Meanings = {
    "order": ("order line", "order no", "order number", "line", "id", "ref", "reference", "code"),
    "client": ("customer", "buyer", "patron", "for", "name of client", "who"),
    "piece": ("title", "work", "subject", "description", "edition", "item", "what", "name"),
    "paper": ("paper name", "stock", "paper stock", "material", "on paper"),
    "kind": ("type", "sort"),
    "size": ("finished size", "finished", "image", "image size", "dimensions", "measures",
             "format", "drawing size", "width x height"),
    "width": ("wide", "finished width", "image width"),
    "height": ("high", "finished height", "image height"),
    "margin": ("margins", "border", "borders", "margin each side", "margin all round"),
    **_EDGE_COLUMNS,
    "count": ("quantity", "qty", "how many", "number", "pieces", "copies", "pcs", "amount"),
    "turn": ("turning", "may turn", "can turn", "may be turned", "turned", "rotate", "rotation"),
    "deckle": ("deckles", "keep deckle", "deckle kept", "deckles kept", "deckle edge"),
    "due": ("due date", "date due", "due day", "deadline", "promised", "wanted by", "needed by",
            "by", "when"),
    "if room": ("only if room", "if there is room", "room only", "fills", "filler", "to fill up"),
    "price": ("price each", "each", "unit price", "fee", "charge"),
    "note": ("notes", "remark", "remarks", "comment", "comments"),
}  # fmt: skip

DRAWER_MEANINGS: Meanings = {
    "sheet": ("id", "sheet id", "code", "ref", "reference", "tag", "stock", "sheet name"),
    "name": ("title", "called", "known as", "drawing name"),
    "paper": ("paper name", "material", "kind of paper"),
    "size": ("measured", "measured size", "sheet size", "dimensions", "measures", "format",
             "width x height"),
    "width": ("wide", "measured width"),
    "height": ("high", "measured height"),
    "top width": ("width at top", "width at the top", "second width", "other width"),
    "right height": ("height at right", "height at the right", "second height", "other height"),
    "diagonal": ("check diagonal", "diagonal lower left to upper right"),
    "edge loss": ("edge losses", "loss", "losses", "trim", "edge trim", "avoid", "squaring",
                  "deckle trim"),
    **_EDGE_COLUMNS,
    "deckle": ("deckles", "deckle edges", "deckle edge", "deckled", "deckled edges"),
    "leave": ("leave deckle", "deckle left on", "deckles left on", "left on"),
    "keep": ("keep deckle", "deckle kept", "deckles kept", "kept deckle", "kept deckles"),
    "watermark": ("watermark corner", "watermark at"),
    "side": ("sides", "usable side", "coated", "printed side"),
    "grain": ("grain along", "grain runs", "grain direction"),
    "on hand": ("count", "quantity", "qty", "how many", "number", "in stock", "in drawer", "have",
                "sheets", "stock level"),
    "price": ("price each", "each", "unit price", "cost", "cost each", "book value", "value"),
    "packs": ("pack", "sold in", "sold as", "pack prices", "price breaks"),
    "kind": ("type", "sort"),
    "note": ("notes", "remark", "remarks", "comment", "comments"),
}  # fmt: skip

# Judged on the headings above and the misspellings of them in the tests: below this,
# "page" would be taken for "paper".
NEAR = 0.8
_ROWS_LOOKED_AT = 20
_SELDOM = frozenset(
    {"width", "height", "name", "top width", "right height", "diagonal", "leave", "keep",
     "watermark", "if room"}
)  # fmt: skip
"""Fields that most tables do without; they are not asked for."""

_UNIT_WORDS: dict[str, Unit] = {
    "mm": "mm", "millimetres": "mm", "cm": "cm", "centimetres": "cm",
    "in": "in", "inch": "in", "inches": "in", '"': "in",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Columns:
    """Which column holds what.

    Attributes:
        row: the number of the row of headings.
        places: for each field that has a column, its place from 0.
        units: for each field whose heading names a unit, that unit.
        present: the fields that have a column, or nearly: with a misspelt heading.
        unnamed: columns without a heading, in which nothing may stand.
    """

    row: int
    places: Mapping[str, int]
    units: Mapping[str, Unit]
    present: frozenset[str]
    width: int
    unnamed: frozenset[int]


@dataclass(frozen=True, slots=True)
class Headed:
    """A table whose headings are understood.

    Attributes:
        rows: those below the headings.
        problems: with the headings themselves.
        notes: what the user should know, a sentence each.
    """

    source: str
    columns: Columns
    rows: tuple[Row, ...]
    problems: tuple[Problem, ...]
    notes: tuple[str, ...]


def headed(source: str, tables: Iterable[Table], known: Meanings) -> Headed:
    """Return the first table that has the headings, with what stands under them.

    Raises:
        ProblemsFound: if none has, or if they are those of the other file.
    """
    first: Row | None = None
    for table in tables:
        place = _heading_place(table, known)
        if place is not None:
            _refuse_exchanged(source, table.rows[place], known)
            return _understood(table, place, known)
        first = first or next(iter(table.rows), None)
    if first is None:
        raise spoiled(source, "there are no rows in it", "write headings and rows into it")
    found = ", ".join(quoted(cell.text) for cell in first.cells[:4])
    raise spoiled(
        source,
        f"the headings are not there; it begins with {found}",
        f"let the first row read: {', '.join(_canonical(known))}",
        row=first.number,
    )


def meaning(heading: str, known: Meanings) -> str | None:
    """Return the field that a heading means, or None.

    >>> meaning("Qty.", ORDER_MEANINGS), meaning("Size (cm)", ORDER_MEANINGS)
    ('count', 'size')
    """
    plain = _plain_heading(heading)
    return next((field for field, more in known.items() if plain in (field, *more)), None)


def _heading_place(table: Table, known: Meanings) -> int | None:
    """Return where in the table the headings stand: two that are known, or nearly so, will do."""
    rows = table.rows[:_ROWS_LOOKED_AT]
    heads = [[cell.text for cell in row.cells[:100] if 0 < len(cell.text) < 50] for row in rows]
    for place, head in enumerate(heads):
        if len({meaning(text, known) for text in head} - {None}) >= 2:
            return place
    for place, head in enumerate(heads):
        if sum(bool(meaning(text, known) or _near(text, known, {})) for text in head) >= 2:
            return place
    return None


def _refuse_exchanged(source: str, row: Row, known: Meanings) -> None:
    """Refuse a drawer that is named orders, or the other way round: both have sizes."""
    other = DRAWER_MEANINGS if known is ORDER_MEANINGS else ORDER_MEANINGS
    texts = [cell.text for cell in row.cells if not cell.is_empty]
    own = {meaning(text, known) for text in texts} - other.keys() - {None}
    others = {meaning(text, other) for text in texts} - known.keys() - {None}
    if len(others) >= 3 and len(others) > len(own):
        held, wanted = ("drawer", "orders") if known is ORDER_MEANINGS else ("orders", "drawer")
        raise spoiled(
            source,
            f"its headings are those of the {held}",
            f"give the file its right name, and put the {wanted} here",
            row=row.number,
        )


def _understood(table: Table, place: int, known: Meanings) -> Headed:
    row = table.rows[place]
    places: dict[str, int] = {}
    units: dict[str, Unit] = {}
    unknown: list[int] = []
    problems: list[Problem] = []
    for column, cell in enumerate(row.cells):
        if cell.is_empty:
            continue
        field = meaning(cell.text, known)
        if field is None:
            unknown.append(column)
        elif field in places:
            problems.append(_twice(table.source, row, places[field], column, field))
        else:
            places[field] = column
            unit = _unit_in(cell.text)
            if unit:
                units[field] = unit
    notes = list(table.notes)
    offered: set[str] = set()
    for column in unknown:
        near = _near(row.cell(column).text, known, places)
        if near:
            problems.append(_near_miss(table.source, row, column, near))
            offered.add(meaning(near, known) or near)
        else:
            where = address(column, row.number)
            found = quoted(row.cell(column).text)
            notes.append(f"{table.source}: the column {found} ({where}) is not used")
    present = frozenset(places) | offered
    problems.extend(_lacking(table.source, row.number, present, known))
    named = {column for column, cell in enumerate(row.cells) if not cell.is_empty}
    unnamed = frozenset(range(len(row.cells))) - named
    columns = Columns(row.number, places, units, present, len(row.cells), unnamed)
    return Headed(table.source, columns, table.rows[place + 1 :], tuple(problems), tuple(notes))


def _lacking(source: str, row: int, present: frozenset[str], known: Meanings) -> Iterator[Problem]:
    if known is DRAWER_MEANINGS and "paper" not in present:
        yield no_column(source, row, "paper")
    if "size" not in present and not {"width", "height"} <= present:
        yield no_column(source, row, "size")


def no_column(source: str, row: int, field: str) -> Problem:
    """Return the problem of a heading that is needed and not there."""
    return Problem(source, row, None, field, "no column has this heading", "add a column for it")


def _twice(source: str, row: Row, first: int, second: int, field: str) -> Problem:
    one, other = row.cell(first).text, row.cell(second).text
    return Problem(
        source,
        row.number,
        address(second, row.number),
        field,
        f"{quoted(other)} means the same as {quoted(one)} in {address(first, row.number)}",
        "keep one of the two columns",
    )


def _near_miss(source: str, row: Row, column: int, near: str) -> Problem:
    return Problem(
        source,
        row.number,
        address(column, row.number),
        "",
        f"{quoted(row.cell(column).text)} is not a heading known here",
        f'did you mean "{near}"? write that, or take the column out',
    )


def _near(heading: str, known: Meanings, places: Mapping[str, int]) -> str | None:
    free = {word: field for field, more in known.items() if field not in places
            for word in (field, *more)}  # fmt: skip
    found = get_close_matches(_plain_heading(heading)[:50], free, 1, NEAR)
    return found[0] if found else None


def _canonical(known: Meanings) -> tuple[str, ...]:
    return tuple(field for field in known if field not in _SELDOM)


def _plain_heading(heading: str) -> str:
    """Return a heading in small letters, without unit, brackets, colon or full stop."""
    plain = re.sub(r"[(\[].*?[)\]]", " ", plain_text(heading[:200]).casefold())
    plain = re.sub(r"[_\-:;,.*?#]+", " ", plain)
    return re.sub(r"(?: in)? (?:mm|cm|inches)$", "", " ".join(plain.split()))


def _unit_in(heading: str) -> Unit | None:
    plain = plain_text(heading[:200]).casefold()
    found = re.search(r"[(\[] ?(?:in )?([a-z\"]+)\.? ?[)\]]| (mm|cm|inches)$", plain)
    return _UNIT_WORDS.get(found[1] or found[2]) if found else None
