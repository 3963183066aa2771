"""How often a drawing must be laid on a small scanner, so that the parts can be joined."""

from __future__ import annotations

from dataclasses import dataclass

from sheetcut.errors import UnusableRecord
from sheetcut.units import Length, in_mm, mm

A4_BED = mm(216), mm(297)  # an office scanner's glass, common practice
OVERLAP = mm(30)
"""Enough to join by hand; joining by itself wants about 40 % of the bed.

Source:
    fionafrancoisart.com, "A scan of epic proportions".
"""


@dataclass(frozen=True, slots=True)
class Scans:
    """Passes in rows and columns.

    Attributes:
        bed_turned: whether the bed's longer side lies along the drawing's width.
        across, up: where the left and lower edges of the bed lie, evenly spread.
    """

    bed_turned: bool
    across: tuple[Length, ...]
    up: tuple[Length, ...]

    @property
    def count(self) -> int:
        """How many passes it takes."""
        return len(self.across) * len(self.up)


def scan_passes(
    width: Length,
    height: Length,
    *,
    bed: tuple[Length, Length] = A4_BED,
    overlap: Length = OVERLAP,
) -> Scans:
    """Return the fewest passes that cover a drawing, neighbours overlapping at least so much.

    Raises:
        UnusableRecord: if the overlap leaves nothing of the bed.

    >>> scan_passes(mm(297), mm(420)).count
    3
    """
    short, long = sorted(bed)
    if not 0 <= overlap < short:
        raise UnusableRecord(
            "scan",
            f"an overlap of {in_mm(overlap)} mm leaves nothing of a bed {in_mm(short)} mm wide",
            "give less than that",
        )
    ways = [
        Scans(turned, _starts(width, sides[0], overlap), _starts(height, sides[1], overlap))
        for turned, sides in ((False, (short, long)), (True, (long, short)))
    ]
    return min(ways, key=lambda one: one.count)


def _starts(run: Length, bed: Length, overlap: Length) -> tuple[Length, ...]:
    """Return where the bed begins along one side, from 0 to flush with the far end."""
    if run <= bed:
        return (0,)
    n = -(-(run - overlap) // (bed - overlap))
    return tuple((run - bed) * place // (n - 1) for place in range(n))
