"""The settings of printer and scanner: what the one cannot reach and the other sees."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import Any

from sheetcut.job import Unit
from sheetcut.read.entries import Entries, as_length, as_size
from sheetcut.units import Length

PRINTER = ("sides", "lead", "tail")
SCANNER = ("bed", "overlap")


@dataclass(frozen=True, slots=True)
class Apparatus:
    """What the sections [printer] and [scanner] say; None where they do not.

    Attributes:
        sides, lead, tail: the strips that the printer cannot print: along both sides, at the
            edge that goes in first, and at the edge that comes last.
        bed: the scanner's glass, width and height.
        overlap: how much neighbouring scans share, at the least.
    """

    sides: Length | None = None
    lead: Length | None = None
    tail: Length | None = None
    bed: tuple[Length, Length] | None = None
    overlap: Length | None = None


def read_apparatus(entries: Entries, given: dict[str, Any], unit: Unit) -> Apparatus:
    """Return what the settings say of printer and scanner."""
    printer = entries.part(given, "printer", PRINTER)
    scanner = entries.part(given, "scanner", SCANNER)
    length = partial(as_length, unit=unit)
    bed = entries.take(scanner, "bed", partial(as_size, unit=unit), None, "scanner")
    return Apparatus(
        sides=entries.take(printer, "sides", length, None, "printer"),
        lead=entries.take(printer, "lead", length, None, "printer"),
        tail=entries.take(printer, "tail", length, None, "printer"),
        bed=(bed.width, bed.height) if bed else None,
        overlap=entries.take(scanner, "overlap", length, None, "scanner"),
    )
