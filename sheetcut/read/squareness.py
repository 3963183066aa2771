"""A sheet that is out of square, out of the columns that few drawers need."""

from __future__ import annotations

from dataclasses import dataclass

from sheetcut.job import Skew
from sheetcut.out_of_square import Measured, square_corner_diagonal, squared
from sheetcut.read.dimensions import Size
from sheetcut.read.lengths import read_typed
from sheetcut.read.lines import Line
from sheetcut.units import TICKS_PER_INCH, TICKS_PER_MM, Edges, Length

COLUMNS = ("top width", "right height", "diagonal")


@dataclass(frozen=True, slots=True)
class Trued:
    """A sheet's size and losses, once it is cut to a true rectangle."""

    width: Length
    height: Length
    loss: Edges
    skew: Skew | None = None


def trued(line: Line, size: Size, loss: Edges, step: Length | None) -> Trued:
    """Return a sheet's size and losses; its size alone where nothing more was measured.

    What is not given is as the size has it, and without a diagonal the lower left corner is
    taken to be square.

    Args:
        step: what the ruler is read to, where the studio says.
    """
    as_written = Trued(size.width, size.height, loss)
    if not any(line.has(name) for name in COLUMNS):
        return as_written
    top = _length(line, "top width", size) or size.width
    right = _length(line, "right height", size) or size.height
    diagonal = _length(line, "diagonal", size)
    if line.problems:
        return as_written
    if diagonal is None:
        diagonal = square_corner_diagonal(size.width, top, size.height, right)
        line.notes.append(
            line.sentence("no diagonal is given, so its lower left corner is taken to be square")
        )
    usual = TICKS_PER_INCH // 16 if size.unit == "in" else TICKS_PER_MM
    found = None
    if diagonal is not None:
        measured = Measured(size.width, top, size.height, right, diagonal)
        found = squared(measured, loss, step or usual)
    if found is None or diagonal is None:
        column = next(name for name in reversed(COLUMNS) if line.has(name))
        line.add(
            column,
            "no sheet measures so: its edges lean far more than those of any sheet sold",
            "measure the two widths, the two heights and the diagonal from lower left again",
        )
        return as_written
    return Trued(found.width, found.height, found.loss, Skew(measured, found.along, loss))


def _length(line: Line, name: str, size: Size) -> Length | None:
    """Return a length, a bare number being in the unit of the size; None where there is none."""
    unit = line.table.columns.units.get(name, size.unit)
    nothing: Length | None = None
    return line.take(name, lambda text: read_typed(text, unit=unit).length, nothing) or None
