"""What a check is given: one layout or one paper's plan, with the rows it speaks of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from sheetcut.errors import Fault
from sheetcut.job import Piece, Sheet
from sheetcut.layout import Layout, PaperPlan, Placement, Plan
from sheetcut.units import Area, Cents, Length, in_mm, in_mm2


@dataclass(frozen=True, slots=True)
class LayoutCase:
    """A layout whose numbers and names can be relied on.

    Attributes:
        where: "Slatehouse Smooth, Imperial, sheet 1".
    """

    plan: Plan
    paper: PaperPlan
    layout: Layout
    sheet: Sheet
    where: str

    def piece(self, placement: Placement) -> Piece:
        """Return the order line of a blank."""
        return self.plan.job.pieces[placement.piece]

    def fault(self, message: str) -> Fault:
        """Return a fault in this layout."""
        return Fault(self.where, message)


@dataclass(frozen=True, slots=True)
class PaperCase:
    """The plan for one paper, every layout of which can be relied on."""

    plan: Plan
    paper: PaperPlan
    layouts: tuple[LayoutCase, ...]

    @property
    def where(self) -> str:
        """The paper's name."""
        return self.paper.paper

    def fault(self, message: str) -> Fault:
        """Return a fault in this paper's plan."""
        return Fault(self.where, message)

    @property
    def sheets_cut(self) -> Counter[str]:
        """How many sheets the layouts take, by drawer row."""
        cut: Counter[str] = Counter()
        for case in self.layouts:
            cut[case.sheet.id] += case.layout.copies
        return cut

    @property
    def ordered(self) -> Counter[int]:
        """How many pieces the layouts give of lines that must be cut, by order line.

        These alone are what a bound speaks of and what the cash is shared by.
        """
        pieces = self.plan.job.pieces
        return Counter({line: n for line, n in self.placed.items() if not pieces[line].if_room})

    @property
    def placed(self) -> Counter[int]:
        """How many pieces the layouts give, by order line."""
        given: Counter[int] = Counter()
        for case in self.layouts:
            for placement in case.layout.placements:
                given[placement.piece] += case.layout.copies
        return given


@dataclass(frozen=True, slots=True)
class PlanCase:
    """A whole plan that can be relied on."""

    plan: Plan
    papers: tuple[PaperCase, ...]


LayoutCheck = Callable[[LayoutCase], Iterator[Fault]]
PaperCheck = Callable[[PaperCase], Iterator[Fault]]
PlanCheck = Callable[[PlanCase], Iterator[Fault]]


def in_words(length: Length) -> str:
    """Return a length for a message: millimetres, exactly."""
    return f"{in_mm(length):f} mm"


def size(width: Length, height: Length) -> str:
    """Return a size for a message.

    >>> size(8000, 12000)
    '1 x 1.5 mm'
    """
    return f"{in_mm(width):f} x {in_mm(height):f} mm"


def place(x: Length, y: Length) -> str:
    """Return where something lies, for a message."""
    return f"x {in_mm(x):f}, y {in_mm(y):f} mm"


def surface(area: Area) -> str:
    """Return an area for a message."""
    return f"{in_mm2(area):f} mm²"


def cash(cents: Cents) -> str:
    """Return an amount of money for a message."""
    return f"{cents // 100}.{cents % 100:02d}"


def named(piece: Piece, placement: Placement) -> str:
    """Return a blank's name for a message: order, label and where it lies."""
    label = f"{piece.order} {piece.label}".strip()
    return f"{label} at {place(placement.x, placement.y)}"
