"""Several small pieces printed on one sheet and cut afterwards: where each must be printed."""

from __future__ import annotations

from dataclasses import dataclass

from sheetcut.answers.given import given, shown
from sheetcut.job import Job, Piece, Sheet
from sheetcut.layout import Plan
from sheetcut.units import Edges, Length


@dataclass(frozen=True, slots=True)
class Position:
    """Where one piece is printed so that it lies where it will be cut.

    All distances are on the measured sheet as it goes into the printer, edge losses included.

    Attributes:
        left, foot, top: from the sheet's left, lower and upper edges to the finished piece.
        width, height: of the finished piece as it lies.
        turned: whether it lies a quarter turn anticlockwise.
    """

    number: int
    left: Length
    foot: Length
    top: Length
    width: Length
    height: Length
    turned: bool


@dataclass(frozen=True, slots=True)
class Several:
    """As many of one piece as a sheet gives, printed before they are cut.

    Attributes:
        sheets: how many sheets the wanted count takes.
        spare: pieces over on the last sheet.
        plan: one sheet cut up, checked; what the positions are taken from.
    """

    piece: Piece
    sheet: Sheet
    positions: tuple[Position, ...]
    sheets: int
    spare: int
    plan: Plan | None

    @property
    def count(self) -> int:
        """How many a sheet holds."""
        return len(self.positions)


def several_to_a_sheet(job: Job, piece: Piece, sheet: Sheet) -> Several:
    """Return as many of a piece as one sheet holds, with the places to print them at.

    What the printer cannot reach is the sheet's edge loss. Positions are numbered from the
    start corner, row by row, and match the cuts of the plan.
    """
    plan = shown(job, piece, given(job, sheet, piece))
    positions = _positions(plan, piece, sheet) if plan else ()
    n = len(positions)
    sheets = -(-piece.count // n) if n else 0
    return Several(piece, sheet, positions, sheets, sheets * n - piece.count if n else 0, plan)


def _positions(plan: Plan, piece: Piece, sheet: Sheet) -> tuple[Position, ...]:
    layout = plan.layouts[0]
    positions = []
    for number, place in enumerate(
        sorted(layout.placements, key=lambda one: (one.y, one.x)), start=1
    ):
        margin: Edges = piece.margin.turned() if place.turned else piece.margin
        size = piece.width, piece.height
        width, height = size[::-1] if place.turned else size
        left = layout.usable[0] + place.x + place.leave_on.left + margin.left
        foot = layout.usable[1] + place.y + place.leave_on.foot + margin.foot
        top = sheet.height - foot - height
        positions.append(Position(number, left, foot, top, width, height, place.turned))
    return tuple(positions)
