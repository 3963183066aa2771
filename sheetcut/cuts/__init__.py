"""From a cut tree to numbered cuts with their ruler readings, in an order made for hands."""

from __future__ import annotations

from sheetcut.cuts.leave_on import with_leave_ons
from sheetcut.cuts.order import Figures, Ordered, cut_order
from sheetcut.cuts.tidy import arrange

__all__ = ["Figures", "Ordered", "arrange", "cut_order", "with_leave_ons"]
