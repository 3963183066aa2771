"""What to buy in words, for the terminal and the page alike."""

from __future__ import annotations

from sheetcut.answers.buying import Bought
from sheetcut.answers.shopping import Shopping

MAKES_TOLD = 4


def packs_text(line: Bought) -> str:
    """Return how something is bought.

    >>> from sheetcut.answers.buying import Offer
    >>> packs_text(Bought(Offer("A", 5, 7600), 2))
    '2 packs of 5'
    """
    if line.offer.is_break:
        return f"{line.number} at the price from {line.offer.count} up"
    if line.offer.count == 1:
        return "a single sheet" if line.number == 1 else f"{line.number} single sheets"
    packs = "a pack" if line.number == 1 else f"{line.number} packs"
    return f"{packs} of {line.offer.count}"


def makes_text(found: Shopping, sheet: str) -> str:
    """Return what sheets bought over and above would make, to follow their number; or nothing."""
    makes = [one for one in found.makes if one.gives.sheet.id == sheet]
    said = ", or ".join(f"{one.count} of {one.piece.label}" for one in makes[:MAKES_TOLD])
    return f"; would make {said}" if said else ""
