"""Whether every blank lies inside the usable area, on paper of its own."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import shapely

from sheetcut.check.case import LayoutCase, LayoutCheck, in_words, named, place, size, surface
from sheetcut.errors import Fault

Shapes = np.ndarray[Any, np.dtype[Any]]


def right_sheet(case: LayoutCase) -> Iterator[Fault]:
    """The sheet is as the drawer measured it, of this paper."""
    layout, sheet = case.layout, case.sheet
    if (layout.width, layout.height) != (sheet.width, sheet.height):
        found, measured = size(layout.width, layout.height), size(sheet.width, sheet.height)
        yield case.fault(f"the sheet is drawn as {found}; the drawer has it as {measured}")
    if sheet.paper != case.paper.paper:
        yield case.fault(f"sheet {sheet.id} is {sheet.paper}; the plan is for {case.paper.paper}")


def right_usable_area(case: LayoutCase) -> Iterator[Fault]:
    """The usable area is the measured sheet less its edge losses."""
    loss = case.sheet.edge_loss
    width = case.sheet.width - loss.left - loss.right
    height = case.sheet.height - loss.top - loss.foot
    x, y, found_width, found_height = case.layout.usable
    if (found_width, found_height) != (width, height):
        found, expected = size(found_width, found_height), size(width, height)
        yield case.fault(f"the usable area is {found}; the edge losses leave {expected}")
    if (x, y) != (loss.left, loss.foot):
        found, expected = place(x, y), place(loss.left, loss.foot)
        yield case.fault(f"the usable area begins at {found}; the edge losses put it at {expected}")


def inside_the_usable_area(case: LayoutCase) -> Iterator[Fault]:
    """No blank reaches over the usable area."""
    area = shapely.box(0, 0, *case.layout.usable[2:])
    for placement, blank in zip(case.layout.placements, _blanks(case), strict=True):
        if not area.covers(blank):
            outside = round(blank.area - blank.intersection(area).area)
            yield case.fault(
                f"{named(case.piece(placement), placement)} lies with {surface(outside)} outside "
                f"the usable area of {size(*case.layout.usable[2:])}"
            )


def kept_apart(case: LayoutCase) -> Iterator[Fault]:
    """No two blanks share paper; sharing an edge is allowed."""
    blanks = _blanks(case)
    placements = case.layout.placements
    tree = shapely.STRtree(blanks)
    for one, other in sorted(map(tuple, tree.query(blanks, predicate="intersects").T)):
        if one >= other:
            continue
        shared = blanks[one].intersection(blanks[other])
        if shared.area > 0:
            left, foot, right, top = map(round, shared.bounds)
            first, second = placements[one], placements[other]
            yield case.fault(
                f"{named(case.piece(first), first)} and {named(case.piece(second), second)} "
                f"share {in_words(right - left)} by {in_words(top - foot)} of paper"
            )


def something_on_it(case: LayoutCase) -> Iterator[Fault]:
    """A sheet is cut for something."""
    if not case.layout.placements:
        yield case.fault("no blank lies on this sheet, so it need not be cut")


GEOMETRY_CHECKS: tuple[LayoutCheck, ...] = (
    right_sheet,
    right_usable_area,
    something_on_it,
    inside_the_usable_area,
    kept_apart,
)


def _blanks(case: LayoutCase) -> Shapes:
    """Return the blanks as polygons; ticks are whole and small enough to be exact in them."""
    if not case.layout.placements:
        return np.array([], dtype=object)
    sides = np.array([(p.x, p.y, p.width, p.height) for p in case.layout.placements], dtype=float)
    x, y, width, height = sides.T
    blanks: Shapes = shapely.box(x, y, x + width, y + height)
    return blanks
