"""What the hands must know of a layout before they cut: slack, creep, marks, and what to mind."""

from __future__ import annotations

from sheetcut.handling.creep import READING_ERROR, Doubt, doubts, fresh_readings
from sheetcut.handling.edges import kept_edges, staying_deckles
from sheetcut.handling.figures import (
    Figures,
    cash_for,
    figures_of,
    is_strips_only,
    sheets_cut,
    takes_no_more,
)
from sheetcut.handling.flags import Flag, flags
from sheetcut.handling.marking import Mark, marks, mirrored
from sheetcut.handling.narrow import narrow_cuts
from sheetcut.handling.slack import slack
from sheetcut.handling.table import OnTable, table_after

__all__ = [
    "READING_ERROR",
    "Doubt",
    "Figures",
    "Flag",
    "Mark",
    "OnTable",
    "cash_for",
    "doubts",
    "figures_of",
    "flags",
    "fresh_readings",
    "is_strips_only",
    "kept_edges",
    "marks",
    "mirrored",
    "narrow_cuts",
    "sheets_cut",
    "slack",
    "staying_deckles",
    "table_after",
    "takes_no_more",
]
