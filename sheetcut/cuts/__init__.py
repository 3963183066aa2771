"""From a cut tree to numbered cuts with their ruler readings, in an order made for hands."""

from __future__ import annotations

from sheetcut.cuts.deckles import Settled, can_carry, settled, start_for
from sheetcut.cuts.leave_on import with_leave_ons
from sheetcut.cuts.order import Corner, Ordered, cut_order
from sheetcut.cuts.regroup import without_needless_levels
from sheetcut.cuts.tidy import First, arrange

__all__ = [
    "Corner",
    "First",
    "Ordered",
    "Settled",
    "arrange",
    "can_carry",
    "cut_order",
    "settled",
    "start_for",
    "with_leave_ons",
    "without_needless_levels",
]
