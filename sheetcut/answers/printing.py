"""Blanks for prints: image and borders, what the printer can take, and which edge leads."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sheetcut.job import EDGES, Edge, Piece
from sheetcut.units import TICKS_PER_MM, Edges, Length, in_mm

SIGNING_STRIP = 15 * TICKS_PER_MM  # common practice: 12 to 15 mm clear under the image
NARROW_BORDER = 10 * TICKS_PER_MM
"""Below this a border shows that no print lies exactly where it should.

Source:
    digital-darkroom.de, questions and answers: the image's place varies by up to 2 mm.
"""
HEAVIER_FOOT = 13 * TICKS_PER_MM
"""What framers add at the foot so that the eye sees the image in the middle.

Source:
    karla.news, "Cut mounts"; accappellastudio.co.uk, "Mounting methods".
"""

_OPPOSITE: dict[Edge, Edge] = {"left": "right", "right": "left", "top": "foot", "foot": "top"}


@dataclass(frozen=True, slots=True)
class Printer:
    """What a printer can take.

    Attributes:
        width: the widest sheet; None where nobody has said.
        sides, lead, tail: the strips it cannot print, along both sides, at the edge that goes
            in first, and at the edge that comes last.

    Source:
        5 at sides and lead and 17 at the tail: a wide-format printer's manual, "Select margins
        options". Feeds for thick paper commonly need 20 to 45 at lead and tail (from memory):
        look yours up.
    """

    width: Length | None = None
    sides: Length = 5 * TICKS_PER_MM
    lead: Length = 5 * TICKS_PER_MM
    tail: Length = 17 * TICKS_PER_MM

    def unprintable(self, lead: Edge) -> Edges:
        """Return what the printer cannot reach, by the sheet's own edges, for a leading edge.

        >>> from sheetcut.units import in_mm
        >>> [int(in_mm(side)) for side in Printer().unprintable("top")]
        [5, 5, 5, 17]
        """
        strips: dict[Edge, Length] = dict.fromkeys(EDGES, self.sides)
        strips[lead] = self.lead
        strips[_OPPOSITE[lead]] = self.tail
        return Edges(strips["left"], strips["right"], strips["top"], strips["foot"])


@dataclass(frozen=True, slots=True)
class PrintBlank:
    """The sheet of a print, and how it may go into the printer.

    Attributes:
        width, height: image and borders.
        leads: the edges that may go in first, the best first; empty where none may.
        faults: why it cannot be printed so, and what to change; empty where it can.
        warnings: what is allowed and may still be regretted.
    """

    width: Length
    height: Length
    image: tuple[Length, Length]
    borders: Edges
    leads: tuple[Edge, ...]
    faults: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()


def borders_round(border: Length, *, foot: Length | None = None, signing: bool = True) -> Edges:
    """Return equal borders, heavier at the foot, with room to sign.

    Args:
        foot: the border at the foot; None for the others' and what framers add.
        signing: whether the foot must have a signing strip clear under the image.
    """
    below = border + HEAVIER_FOOT if foot is None else foot
    if signing:
        below = max(below, SIGNING_STRIP)
    return Edges(border, border, border, below)


def print_blank(image: tuple[Length, Length], borders: Edges, printer: Printer) -> PrintBlank:
    """Return a print's sheet, the edges that may lead it, and what stands in the way."""
    width, height = image[0] + borders.across, image[1] + borders.up
    fitting = [lead for lead in _OPPOSITE if _feeds(printer, lead, width, height)]
    leads = [lead for lead in fitting if not _too_narrow(borders, printer.unprintable(lead))]
    leads.sort(key=lambda lead: _preference(lead, borders, printer))
    return PrintBlank(
        width=width,
        height=height,
        image=image,
        borders=borders,
        leads=tuple(leads),
        faults=() if leads else tuple(_faults(width, height, borders, printer, fitting)),
        warnings=tuple(_warnings(borders)),
    )


def blank_of(piece: Piece, printer: Printer) -> PrintBlank:
    """Return the print blank of an order line: what its borders leave is the image."""
    image = piece.width - piece.border.across, piece.height - piece.border.up
    return print_blank(image, piece.border, printer)


def needed_borders(borders: Edges, printer: Printer, lead: Edge) -> Edges:
    """Return the borders, each widened as far as the printer needs for this leading edge."""
    return Edges(*map(max, borders, printer.unprintable(lead)))


def _feeds(printer: Printer, lead: Edge, width: Length, height: Length) -> bool:
    """Whether the sheet is narrow enough across the way it goes in."""
    across = width if lead in ("top", "foot") else height
    return printer.width is None or across <= printer.width


def _too_narrow(borders: Edges, strips: Edges) -> list[Edge]:
    rows = zip(EDGES, borders, strips, strict=True)
    return [edge for edge, border, strip in rows if border < strip]


def _preference(lead: Edge, borders: Edges, printer: Printer) -> tuple[Length, bool]:
    """Return a key by which the most to spare over a strip comes first, then the top."""
    strips = printer.unprintable(lead)
    spare = min(border - strip for border, strip in zip(borders, strips, strict=True))
    return -spare, lead != "top"


def _faults(
    width: Length, height: Length, borders: Edges, printer: Printer, fitting: list[Edge]
) -> Iterator[str]:
    if not fitting:
        assert printer.width is not None
        yield (
            f"the sheet is {in_mm(width)} x {in_mm(height)} mm and the printer takes "
            f"{in_mm(printer.width)} mm; make the image or its borders smaller"
        )
        return
    lead = min(
        fitting,
        key=lambda one: sum(needed_borders(borders, printer, one)) - sum(borders),
    )
    strips = printer.unprintable(lead)
    for edge in _too_narrow(borders, strips):
        border, strip = (getattr(one, edge) for one in (borders, strips))
        yield (
            f"with the {lead} leading, the printer leaves {in_mm(strip)} mm blank at the {edge} "
            f"and the border there is {in_mm(border)} mm; make it at least {in_mm(strip)} mm"
        )


def _warnings(borders: Edges) -> Iterator[str]:
    narrow = min(borders)
    if narrow < NARROW_BORDER:
        yield (
            f"a border of {in_mm(narrow)} mm shows when the image lies 2 mm off; "
            f"{in_mm(NARROW_BORDER)} mm hides it"
        )
    if borders.foot < SIGNING_STRIP:
        yield (
            f"{in_mm(borders.foot)} mm at the foot is tight for number, title and signature; "
            f"{in_mm(SIGNING_STRIP)} mm is usual"
        )
