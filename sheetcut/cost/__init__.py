"""Arithmetic on a finished plan: where the paper and the money went."""

from sheetcut.cost.shares import shares
from sheetcut.cost.waste import (
    WASTE_HEADINGS,
    percent,
    total_cost,
    total_waste,
    waste_of,
    waste_rows,
)

__all__ = [
    "WASTE_HEADINGS",
    "percent",
    "shares",
    "total_cost",
    "total_waste",
    "waste_of",
    "waste_rows",
]
