"""Which edges of a sheet its blanks touch, and what stays on them."""

from __future__ import annotations

from sheetcut.job import EDGES, Edge, Job
from sheetcut.layout import Layout, Placement


def kept_edges(deckles: tuple[Edge, ...], *, turned: bool) -> tuple[Edge, ...]:
    """Return the edges of the sheet that a piece's deckles lie on.

    >>> kept_edges(("top", "left"), turned=True)
    ('left', 'foot')
    """
    where: dict[Edge, Edge] = {"top": "left", "left": "foot", "foot": "right", "right": "top"}
    return tuple(where[edge] for edge in deckles) if turned else deckles


def touches(layout: Layout, one: Placement, edge: Edge) -> bool:
    """Whether a blank reaches an edge of the usable area."""
    return {
        "left": one.x == 0,
        "right": one.x + one.width == layout.usable[2],
        "top": one.y + one.height == layout.usable[3],
        "foot": one.y == 0,
    }[edge]


def staying_deckles(job: Job, layout: Layout) -> frozenset[Edge]:
    """Return the edges whose deckle stays on a blank: no step cuts it off."""
    sheet = next((sheet for sheet in job.sheets if sheet.id == layout.sheet), None)
    squared = {one.edge for one in layout.squaring}
    return frozenset(
        edge
        for edge in (sheet.deckles if sheet else ())
        if edge not in squared
        and edge not in layout.start
        and any(touches(layout, one, edge) for one in layout.placements)
    )


def still_losing(job: Job, layout: Layout) -> frozenset[Edge]:
    """Return the edges that carry a loss and are not squared."""
    sheet = next(sheet for sheet in job.sheets if sheet.id == layout.sheet)
    squared = {one.edge for one in layout.squaring}
    return frozenset(
        edge for edge in EDGES if getattr(sheet.edge_loss, edge) and edge not in squared
    )
