"""A sheet or an order line typed value by value, read as a row of its table would be."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches

from sheetcut.errors import Problem, ProblemsFound
from sheetcut.job import Piece, Sheet
from sheetcut.read.alone import drawer_of
from sheetcut.read.drawer import read_drawer
from sheetcut.read.headings import Columns, Headed
from sheetcut.read.orders import read_orders
from sheetcut.read.refusal import quoted
from sheetcut.read.studio import Settings
from sheetcut.read.tables import Cell, Row


@dataclass(frozen=True, slots=True)
class Told:
    """A record that was typed, with what its owner should know, a sentence each."""

    sheet: Sheet | None = None
    piece: Piece | None = None
    notes: tuple[str, ...] = ()


def typed_sheet(
    typed: Mapping[str, str], settings: Settings, sheets: Iterable[Sheet], *, where: str
) -> Told:
    """Return a sheet whose values were typed, by the headings of the drawer's table.

    Args:
        sheets: those in the drawer: a paper typed in other capitals is the same paper.
        where: what was typed into, for the messages.

    Raises:
        ProblemsFound: with every value that cannot be read.
    """
    found = read_drawer(_row(typed, where, needed=("paper", "size")), settings)
    _refuse(found.problems)
    sheet = found.sheets[0]
    papers = drawer_of(sheets).papers
    paper = papers.get(sheet.paper.casefold())
    notes = _notes(found.notes, where)
    if paper is None:
        near = get_close_matches(sheet.paper.casefold(), papers, 1, 0.7)
        hint = f"; did you mean {quoted(papers[near[0]])}?" if near else ""
        notes += (f"{where}: the paper {quoted(sheet.paper)} is new to the drawer{hint}",)
    return Told(sheet=replace(sheet, paper=paper or sheet.paper), notes=notes)


def typed_order(
    typed: Mapping[str, str], settings: Settings, sheets: Iterable[Sheet], *, where: str
) -> Told:
    """Return an order line whose values were typed, by the headings of the orders' table.

    Args:
        sheets: those in the drawer, whose papers the line may name.
        where: what was typed into, for the messages.

    Raises:
        ProblemsFound: with every value that cannot be read.
    """
    found = read_orders(_row(typed, where, needed=("paper", "size")), settings, drawer_of(sheets))
    _refuse(found.problems)
    return Told(piece=found.pieces[0], notes=_notes(found.notes, where))


def _row(typed: Mapping[str, str], where: str, needed: tuple[str, ...]) -> Headed:
    """Return the values as the one row of a table."""
    values = dict.fromkeys(needed, "") | dict(typed)
    places = {heading: place for place, heading in enumerate(values)}
    columns = Columns(1, places, {}, frozenset(places), len(places), frozenset())
    row = Row(2, tuple(Cell(text) for text in values.values()))
    return Headed(where, columns, (row,), (), ())


def _refuse(problems: Iterable[Problem]) -> None:
    told = tuple(replace(problem, row=None, cell=None) for problem in problems)
    if told:
        raise ProblemsFound(told)


def _notes(notes: Iterable[str], where: str) -> tuple[str, ...]:
    return tuple(note.replace(f"{where}, row 2: ", f"{where}: ", 1) for note in notes)
