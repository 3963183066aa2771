"""One row at a time: each cell is read, and what cannot be read becomes a problem."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date
from functools import partial
from typing import TypeVar

from sheetcut.errors import Problem, UnusableRecord
from sheetcut.job import EDGES, Unit
from sheetcut.read.dates import read_day
from sheetcut.read.dimensions import LEAST_BARE, Size, read_size, refuse_few
from sheetcut.read.headings import Headed
from sheetcut.read.lengths import date_instead, read_typed
from sheetcut.read.refusal import Refused, quoted, unseen
from sheetcut.read.tables import Cell, Row, address
from sheetcut.units import Edges, Length

T = TypeVar("T")

LONGEST_NOTE = 2_000
"""Characters a title or note may have; more is a slip of the keyboard or the clipboard."""


@dataclass(slots=True)
class Line:
    """A row with its headings, and the problems found in it so far.

    Attributes:
        unit: what a bare number counts, where the heading does not say.
    """

    table: Headed
    row: Row
    unit: Unit
    problems: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def has_column(self, name: str) -> bool:
        """Whether the table has such a heading; where it lacks one, that is said only once."""
        return name in self.table.columns.places

    def has(self, name: str) -> bool:
        """Whether anything stands under a heading."""
        return not self._cell(name).is_empty

    def take(self, name: str, read: Callable[[str], T], default: T) -> T:
        """Return what a cell says, or the default where it is empty or cannot be read."""
        cell = self._cell(name)
        if cell.is_empty:
            return default
        if cell.fault:
            self.add(name, f"the cell {cell.fault}", "write the value itself")
            return default
        try:
            return read(cell.text)
        except Refused as refused:
            self.add(name, refused.message, refused.remedy)
            return default

    def name(self, name: str, rows: dict[str, int]) -> str:
        """Return the row's own name, made from its number where it has none; enter it in rows."""
        own = self.text(name) or f"row {self.row.number}"
        if own in rows:
            message = f"{quoted(own)} stands in row {rows[own]} too"
            self.add(name, message, "give each row its own name")
        rows.setdefault(own, self.row.number)
        return own

    def text(self, name: str) -> str:
        """Return a title, a name or a note, with its spaces made single."""
        return self.take(name, read_words, "")

    def length(self, name: str, default: Length) -> Length:
        """Return a length of 0 or more."""
        day = self._cell(name).day
        unit = self.table.columns.units.get(name, self.unit)
        if day:
            refused = date_instead(self._cell(name).text, day.day, day.month)
            self.add(name, refused.message, refused.remedy)
            return default
        return self.take(name, lambda text: read_typed(text, unit=unit).length, default)

    def day(self, name: str) -> date | None:
        """Return a day; a cell that a spreadsheet holds as a date is taken at its word."""
        day = self._cell(name).day
        return self.take(name, lambda text: read_day(day.isoformat() if day else text), None)

    def edges(self, all_round: str, usual: Edges) -> Edges:
        """Return a length for each edge: its own column, else the one for all, else the usual."""
        general = usual
        if self.has(all_round):
            general = Edges(*(self.length(all_round, 0),) * 4)
        elif any(self.has(edge) for edge in EDGES):
            general = Edges()
        return Edges(*(self.length(edge, getattr(general, edge)) for edge in EDGES))

    def size(self, least_bare: Length = LEAST_BARE) -> Size | None:
        """Return the size, from one column or from two; None where there is none to be had."""
        columns = self.table.columns
        if not self.has_column("size"):
            is_parted = self.has_column("width") and self.has_column("height")
            return self._two_columns(least_bare) if is_parted else None
        if not self.has("size"):
            self.add("size", "no size is given", "write one, as in 297 x 420, 11 x 14 in or A3")
            return None
        day = self._cell("size").day
        if day:
            refused = date_instead(self._cell("size").text, day.day, day.month)
            self.add("size", refused.message, refused.remedy)
            return None
        unit = columns.units.get("size", self.unit)
        if "size" in columns.units:
            least_bare = 0
        size = self.take("size", partial(read_size, unit=unit, least_bare=least_bare), None)
        if size and size.note:
            self.notes.append(self.sentence(f"{size.name}: {size.note}"))
        return size

    def _two_columns(self, least_bare: Length) -> Size | None:
        before = len(self.problems)
        names = ("width", "height")
        for name in names:
            if not self.has(name):
                self.add(name, f"no {name} is given", "write one, as in 297 mm or 11 in")
        width, height = sides = [self.length(name, 0) for name in names]
        if len(self.problems) > before:
            return None
        for name, side in zip(names, sides, strict=True):
            if not side:
                self.add(name, f"the {name} is nothing", "write a length, as in 297 mm or 11 in")
        units = [self._unit_of(name) for name in names]
        if units == [None, None] and self.unit == "mm":
            both = " x ".join(self._cell(name).text.strip() for name in names)
            self.take("width", lambda _: refuse_few(both, width, height, least_bare), None)
        return Size(width, height, units[0] or self.unit) if len(self.problems) == before else None

    def _unit_of(self, name: str) -> Unit | None:
        """Return the unit that a cell or its heading names, or None where neither does."""
        heading = self.table.columns.units.get(name)
        return read_typed(self._cell(name).text, unit=heading or self.unit).unit or heading

    def build(self, make: Callable[[], T]) -> T | None:
        """Return a record, unless the row or the headings have problems, or it can never be."""
        if self.problems or self.table.problems:
            return None
        try:
            return make()
        except UnusableRecord as unusable:
            self.add("", unusable.message, unusable.remedy)
            return None

    def add(self, name: str, message: str, remedy: str) -> None:
        """Add a problem with a cell, or with the row as a whole where the name is empty."""
        place = self.table.columns.places.get(name)
        cell = address(place, self.row.number) if place is not None else None
        self.problems.append(
            Problem(self.table.source, self.row.number, cell, name, message, remedy)
        )

    def sentence(self, said: str) -> str:
        """Return a note that says where it comes from."""
        return f"{self.table.source}, row {self.row.number}: {said}"

    def _cell(self, name: str) -> Cell:
        place = self.table.columns.places.get(name)
        return self.row.cell(place) if place is not None else Cell()

    def refuse_extra_cells(self) -> None:
        """Add a problem for the first filled cell that stands under no heading."""
        columns = self.table.columns
        for place in (*sorted(columns.unnamed), *range(columns.width, len(self.row.cells))):
            cell = self.row.cell(place)
            if not cell.is_empty:
                self.problems.append(
                    Problem(
                        self.table.source,
                        self.row.number,
                        address(place, self.row.number),
                        "",
                        f"{quoted(cell.text)} stands under no heading",
                        "give its column a heading, or put a cell that holds the separator "
                        "(as 29,7) in quotation marks",
                    )
                )
                return


def lines_of(table: Headed, unit: Unit) -> Iterator[Line]:
    """Yield the rows below the headings; cells under none of them are problems already."""
    for row in table.rows:
        line = Line(table, row, unit)
        line.refuse_extra_cells()
        yield line


def read_words(text: str) -> str:
    """Return a title, a name or a note, with its spaces made single.

    Raises:
        Refused: if it holds a character that cannot be seen, or is far too long.
    """
    mark = unseen(text)
    if mark:
        raise Refused(
            f"{quoted(text.strip())} holds a character that cannot be seen ({mark})",
            "type it again",
        )
    if len(text) > LONGEST_NOTE:
        raise Refused(
            f"{quoted(text.strip())} goes on for {len(text)} characters",
            f"keep it under {LONGEST_NOTE}",
        )
    return " ".join(text.split())
