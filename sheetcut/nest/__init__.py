"""The engine: how all blanks of a paper come out of the fewest or the cheapest sheets."""

from __future__ import annotations

from sheetcut.nest.engine import lay_out
from sheetcut.nest.stop import Stop
from sheetcut.nest.task import PriceMissing

__all__ = ["PriceMissing", "Stop", "lay_out"]
