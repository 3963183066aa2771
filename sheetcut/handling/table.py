"""The pieces on the table after so many cuts, each with the cuts that made its edges."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sheetcut.job import Edge
from sheetcut.layout import Axis, Cut, Layout, Rectangle, pieces_in_hand
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
    parted = {hand: hand.halves(cut) for hand, cut in _in_hand(layout, last)}
    left, table = [OnTable(0, 0, *layout.usable[2:])], []
    while left:
        piece = left.pop()
        if piece in parted:
            left.extend(reversed(parted[piece]))
        else:
            table.append(piece)
    return tuple(table)


def taken_in_hand(layout: Layout) -> tuple[OnTable, ...]:
    """Return, for each cut in order, the piece that is in hand when it is made.

    Raises:
        ValueError: if a cut divides no piece.
    """
    return tuple(hand for hand, _ in _in_hand(layout))


def _in_hand(layout: Layout, last: int | None = None) -> Iterator[tuple[OnTable, Cut]]:
    """Yield each cut up to a number with the piece it parts."""
    whole = OnTable(0, 0, *layout.usable[2:])
    table = {whole.rectangle: whole}
    for cut, rectangle in zip(layout.cuts, pieces_in_hand(layout), strict=True):
        if last is not None and cut.number > last:
            return
        hand = table.pop(rectangle)
        yield hand, cut
        table |= {half.rectangle: half for half in hand.halves(cut)}
