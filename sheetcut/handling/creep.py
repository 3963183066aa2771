"""How far a piece may be out, when every reading may be out a little."""

from __future__ import annotations

from dataclasses import dataclass

from sheetcut.handling.table import OnTable, table_after
from sheetcut.layout import Layout
from sheetcut.units import TICKS_PER_MM, Length

READING_ERROR: Length = TICKS_PER_MM // 2
"""A steel rule is read to half a millimetre, and a short cut by hand holds it: common practice
of the trade, no source gives a figure."""

ORDINARY = 2
"""Readings in an ordinary blank: one for each of two opposite edges, so 1 mm at the most."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """What readings the size of a piece left at the end depends on.

    Attributes:
        across, up: how many readings its width and its height depend on.
    """

    piece: OnTable
    across: int
    up: int

    @property
    def creep(self) -> tuple[Length, Length]:
        """How far its width and height may be out at the most."""
        return self.across * READING_ERROR, self.up * READING_ERROR


def doubts(layout: Layout) -> tuple[Doubt, ...]:
    """Return for every piece that is left when all cuts are made how far it may be out.

    A cut lies where the edge lies that it is measured from, give or take its own reading. So
    the place of an edge depends on a chain of readings that begins at a start edge, and a
    size on those readings that only one of its two edges depends on: what both share moves
    the piece and leaves its size alone.
    """
    chains: dict[int, frozenset[int]] = {0: frozenset()}
    for cut in layout.cuts:
        before = chains.get(0 if cut.edge == "start" else cut.edge, chains[0])
        chains[cut.number] = before | {cut.number}
    return tuple(
        Doubt(
            piece,
            len(chains[piece.left] ^ chains[piece.right]),
            len(chains[piece.foot] ^ chains[piece.top]),
        )
        for piece in table_after(layout)
    )


def fresh_readings(layout: Layout) -> int:
    """Return how many readings are taken from an edge that an earlier cut made."""
    return sum(cut.edge != "start" for cut in layout.cuts)
