"""Whether the squaring makes true every edge that must be, and no other."""

from __future__ import annotations

from collections.abc import Iterator

from sheetcut.check.case import LayoutCase, LayoutCheck, in_words, named
from sheetcut.errors import Fault
from sheetcut.job import Edge
from sheetcut.layout import Placement
from sheetcut.units import Length


def squared_where_needed(case: LayoutCase) -> Iterator[Fault]:
    """Start edges with a loss are cut, and far edges with a loss that a blank touches."""
    needed = dict(_needed(case))
    found = {square.edge: square.reading for square in case.layout.squaring}
    if len(found) < len(case.layout.squaring):
        yield case.fault("an edge is squared twice")
    for edge in [edge for edge in needed if edge not in found]:
        yield case.fault(
            f"the {edge} edge loses paper and is not squared; it wants a cut at "
            f"{in_words(needed[edge])}"
        )
    for edge, reading in found.items():
        if edge not in needed:
            yield case.fault(f"the {edge} edge is squared at {in_words(reading)} and need not be")
        elif reading != needed[edge]:
            yield case.fault(
                f"the {edge} edge is squared at {in_words(reading)}; "
                f"the right reading is {in_words(needed[edge])}"
            )


def start_edges_first(case: LayoutCase) -> Iterator[Fault]:
    """Far edges are measured from start edges, so those are made true before."""
    far_seen: Edge | None = None
    for square in case.layout.squaring:
        if square.edge not in case.layout.start:
            far_seen = square.edge
        elif far_seen:
            yield case.fault(
                f"the {square.edge} edge is squared after the {far_seen} edge, "
                "which is measured from start edges"
            )


def numbers_follow(case: LayoutCase) -> Iterator[Fault]:
    """Squaring and cuts are numbered 1, 2, 3 and so on in the order they are made."""
    squaring = [square.number for square in case.layout.squaring]
    for expected, number in enumerate((*squaring, *(cut.number for cut in case.layout.cuts)), 1):
        if number != expected:
            yield case.fault(f"step {expected} of the cutting is numbered {number}")
            return


def kept_deckles_lie_at_their_edges(case: LayoutCase) -> Iterator[Fault]:
    """A blank that keeps a deckle lies at an edge of the sheet that carries one, untrimmed."""
    width, height = case.layout.usable[2:]
    squared = {square.edge for square in case.layout.squaring}
    for placement in case.layout.placements:
        name = named(case.piece(placement), placement)
        for edge in asked_edges(case, placement):
            if edge not in case.sheet.deckles:
                yield case.fault(f"{name} keeps a deckle at the {edge}; the sheet has none there")
            elif not _reaches(placement, edge, width, height):
                yield case.fault(f"{name} keeps a deckle at the {edge} and does not lie there")
            elif edge in case.layout.start or edge in squared:
                yield case.fault(f"{name} keeps a deckle at the {edge}, which is cut off")
    for edge in case.sheet.keep:
        if edge in case.layout.start or edge in squared:
            yield case.fault(f"the deckle at the {edge} is kept, and it is cut off")


SQUARING_CHECKS: tuple[LayoutCheck, ...] = (
    squared_where_needed,
    start_edges_first,
    numbers_follow,
    kept_deckles_lie_at_their_edges,
)


def _needed(case: LayoutCase) -> Iterator[tuple[Edge, Length]]:
    """Yield each edge to be squared with its reading.

    A start edge is cut by its loss; a far one at the whole usable width or height.
    """
    loss = case.sheet.edge_loss
    width, height = case.layout.usable[2:]
    edges: tuple[tuple[Edge, Length, Length], ...] = (
        ("left", loss.left, width),
        ("right", loss.right, width),
        ("top", loss.top, height),
        ("foot", loss.foot, height),
    )
    for edge, lost, across in edges:
        if not lost:
            continue
        if edge in case.layout.start:
            yield edge, lost
        else:
            touching = [one for one in case.layout.placements if _reaches(one, edge, width, height)]
            if touching and not deckle_stays(case, edge, touching):
                yield edge, across


def deckle_stays(case: LayoutCase, edge: Edge, touching: list[Placement]) -> bool:
    """Whether a far edge keeps its deckle: the sheet's word, or that of a blank that touches it.

    A deckle that is only left on stays where all that touch it are drawings.
    """
    if edge not in case.sheet.deckles:
        return False
    if edge in case.sheet.keep or any(edge in asked_edges(case, one) for one in touching):
        return True
    return edge in case.sheet.leave and all(case.piece(one).kind == "drawing" for one in touching)


def asked_edges(case: LayoutCase, placement: Placement) -> list[Edge]:
    """Return the edges of the sheet on which a blank is to keep a deckle.

    Turned is a quarter turn anticlockwise: what was at the right then lies at the top.
    """
    anticlockwise: tuple[Edge, ...] = ("right", "top", "left", "foot")
    on = anticlockwise.index
    turn = 1 if placement.turned else 0
    return [anticlockwise[(on(edge) + turn) % 4] for edge in case.piece(placement).deckles]


def _reaches(placement: Placement, edge: Edge, width: Length, height: Length) -> bool:
    return {
        "left": placement.x <= 0,
        "right": placement.x + placement.width >= width,
        "top": placement.y + placement.height >= height,
        "foot": placement.y <= 0,
    }[edge]
