"""Steps on pages of their own, for layouts with more of them than can stand beside the sheet."""

from __future__ import annotations

from collections.abc import Sequence

from sheetcut.draw import heading, rows
from sheetcut.draw.compose import GAP_MM, MARGIN_MM, STEPS_HEAD_MM, columns_of, steps_head
from sheetcut.draw.place import Box
from sheetcut.draw.primitives import Page, Primitive
from sheetcut.draw.steps import Step
from sheetcut.draw.view import View

COLUMN_MM = 43.0
STYLES = (rows.LARGE, rows.MEDIUM)


def leaves(steps: Sequence[Step], view: View, page: Page) -> list[list[Primitive]]:
    """Return what stands under the title block of each further page: as many steps as it holds.

    One page with smaller figures is better than two to turn; past that they stay large.
    """
    if not steps:
        return []
    for style in STYLES:
        whole = rows.flow(steps, view, style, _frames(page, style))
        if whole is not None:
            return [[*_head(page), *whole]]
    found = []
    left = list(steps)
    while left:
        count = _most(left, view, page)
        drawn = rows.flow(left[:count], view, rows.LARGE, _frames(page, rows.LARGE))
        found.append([*_head(page), *(drawn or ())])
        del left[:count]
    return found


def _most(steps: Sequence[Step], view: View, page: Page) -> int:
    """Return how many steps one page holds, at least one."""
    frames = _frames(page, rows.LARGE)
    holds = (n for n in range(len(steps), 1, -1) if rows.flow(steps[:n], view, rows.LARGE, frames))
    return next(holds, 1)


def _frames(page: Page, style: rows.Style) -> list[Box]:
    left, right = MARGIN_MM, page.width_mm - MARGIN_MM
    top = MARGIN_MM + heading.HEIGHT_MM + STEPS_HEAD_MM
    column = max(COLUMN_MM, style.least_mm)
    count = max(1, int((right - left + GAP_MM) / (column + GAP_MM)))
    return columns_of(left, right, top, page.height_mm - MARGIN_MM, count)


def _head(page: Page) -> list[Primitive]:
    top = MARGIN_MM + heading.HEIGHT_MM
    return list(steps_head(MARGIN_MM, page.width_mm - MARGIN_MM, top))
