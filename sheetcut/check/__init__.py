"""The independent checker: whether a plan can be cut, adds up and keeps its promises.

It works from the plan record alone, slow and plain on purpose, and shares no code with the
stages that make plans.
"""

from __future__ import annotations

from sheetcut.check.checks import CHECKS, bounds_again, faults_in

__all__ = ["CHECKS", "bounds_again", "faults_in"]
