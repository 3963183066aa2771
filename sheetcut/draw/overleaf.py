"""Steps on pages of their own, for layouts with more of them than can stand beside the sheet."""

from __future__ import annotations

from collections.abc import Sequence

from sheetcut.draw import heading, rows
from sheetcut.draw.compose import (
    GAP_MM,
    MARGIN_MM,
    STEPS_HEAD_MM,
    NoRoomOnPage,
    columns_of,
    steps_head,
)
from sheetcut.draw.place import Box
from sheetcut.draw.primitives import Page, Primitive
from sheetcut.draw.steps import Step
from sheetcut.draw.view import View

COLUMN_MM = 56.0  # so wide that a step's words stand beside its reading
STYLES = (rows.LARGE, rows.MEDIUM)


def leaves(steps: Sequence[Step], view: View, page: Page, foot: float) -> list[list[Primitive]]:
    """Return what stands under the title block of each further page: as many steps as it holds.

    One page with smaller figures is better than two to turn; past that they stay large.

    Args:
        foot: how far down the page they may reach.
    """
    for style in STYLES:
        whole = rows.flow(steps, view, style, _frames(page, style, foot))
        if whole is not None:
            return [[*_head(page), *whole]]
    found = []
    left = list(steps)
    while left:
        count, drawn = _as_many(left, view, page, foot)
        found.append([*_head(page), *drawn])
        del left[:count]
    return found


def _as_many(
    steps: Sequence[Step], view: View, page: Page, foot: float
) -> tuple[int, list[Primitive]]:
    """Return how many steps one page holds, and these drawn, as large as their readings allow."""
    for style in rows.STYLES:
        frames = _frames(page, style, foot)
        # Fewer steps take no more room than more, so their number is found by halving.
        fits, most, best = 0, len(steps), None
        while fits < most:
            middle = (fits + most + 1) // 2
            drawn = rows.flow(steps[:middle], view, style, frames)
            if drawn is None:
                most = middle - 1
            else:
                fits, best = middle, drawn
        if best is not None:
            return fits, best
    raise NoRoomOnPage(page, len(steps))


def _frames(page: Page, style: rows.Style, foot: float) -> list[Box]:
    left, right = MARGIN_MM, page.width_mm - MARGIN_MM
    top = MARGIN_MM + heading.HEIGHT_MM + STEPS_HEAD_MM
    column = max(COLUMN_MM, style.least_mm)
    count = max(1, int((right - left + GAP_MM) / (column + GAP_MM)))
    return columns_of(left, right, top, foot, count)


def _head(page: Page) -> list[Primitive]:
    top = MARGIN_MM + heading.HEIGHT_MM
    return list(steps_head(MARGIN_MM, page.width_mm - MARGIN_MM, top))
