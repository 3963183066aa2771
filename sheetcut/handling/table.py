"""The pieces on the table after so many cuts, each with the cuts that made its edges."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sheetcut.job import Edge
from sheetcut.layout import Axis, Cut, Layout, Rectangle
from sheetcut.units import Length


@dataclass(frozen=True, slots=True)
class OnTable:
    """A piece of paper on the table.

    Attributes:
        x, y, width, height: as it lay in the usable area.
        left, right, top, foot: the number of the cut that made the edge; 0 for an edge of
            the usable area.
    """

    x: Length
    y: Length
    width: Length
    height: Length
    left: int = 0
    right: int = 0
    top: int = 0
    foot: int = 0

    @property
    def rectangle(self) -> Rectangle:
        """Where it lay and how large it is."""
        return self.x, self.y, self.width, self.height

    def maker(self, edge: Edge) -> int:
        """Return the number of the cut that made an edge, or 0."""
        number: int = getattr(self, edge)
        return number

    def ends(self, along: Axis) -> tuple[Length, Length]:
        """Return from where to where it reaches along an axis."""
        if along == "x":
            return self.x, self.x + self.width
        return self.y, self.y + self.height

    def is_parted_by(self, cut: Cut) -> bool:
        """Whether a cut runs through it from edge to edge."""
        low, high = self.ends(cut.along)
        return low < cut.at < high and self.ends("y" if cut.along == "x" else "x") == (
            cut.start,
            cut.stop,
        )

    def halves(self, cut: Cut) -> tuple[OnTable, OnTable]:
        """Return the two pieces a cut makes, the one nearer to the lower left corner first."""
        if cut.along == "x":
            return (
                replace(self, width=cut.at - self.x, right=cut.number),
                replace(self, x=cut.at, width=self.x + self.width - cut.at, left=cut.number),
            )
        return (
            replace(self, height=cut.at - self.y, top=cut.number),
            replace(self, y=cut.at, height=self.y + self.height - cut.at, foot=cut.number),
        )


def table_after(layout: Layout, last: int | None = None) -> tuple[OnTable, ...]:
    """Return what lies on the table when every cut up to a number has been made.

    Args:
        last: the number of the last cut that has been made; None for all of them.

    Raises:
        ValueError: if a cut divides no piece. A layout that passed its check has none such.
    """
    table = [OnTable(0, 0, *layout.usable[2:])]
    for cut in layout.cuts:
        if last is not None and cut.number > last:
            break
        _take(table, cut)
    return tuple(table)


def taken_in_hand(layout: Layout) -> tuple[OnTable, ...]:
    """Return, for each cut in order, the piece that is in hand when it is made.

    Raises:
        ValueError: if a cut divides no piece.
    """
    table = [OnTable(0, 0, *layout.usable[2:])]
    return tuple(_take(table, cut) for cut in layout.cuts)


def _take(table: list[OnTable], cut: Cut) -> OnTable:
    """Put the halves of the piece that a cut parts in its place; return it."""
    place = next((n for n, piece in enumerate(table) if piece.is_parted_by(cut)), None)
    if place is None:
        raise ValueError(f"cut {cut.number} runs edge to edge of no piece on the table")
    hand = table[place]
    table[place : place + 1] = hand.halves(cut)
    return hand
