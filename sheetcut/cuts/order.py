"""The order of cuts: squaring, long, cross, deeper; farthest reading first, settings shared."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter
from typing import Literal

from sheetcut.cuts.marks import Leaf, Mark, marks_and_leaves
from sheetcut.cuts.regroup import without_needless_levels
from sheetcut.cuts.sequence import in_turn
from sheetcut.handling import kept_edges
from sheetcut.job import Edge, Job, Piece, Sheet, blank_size, reading_step
from sheetcut.layout import Cut, Part, Placement, Rectangle, Squaring
from sheetcut.units import Edges, Length

Corner = tuple[Literal["left", "right"], Literal["foot", "top"]]
LOWER_LEFT: Corner = ("left", "foot")


@dataclass(frozen=True, slots=True)
class Ordered:
    """A cut tree as it is cut: blanks and leftovers in their places, cuts in their order."""

    placements: tuple[Placement, ...]
    squaring: tuple[Squaring, ...]
    cuts: tuple[Cut, ...]
    leftovers: tuple[Rectangle, ...]


def cut_order(
    tree: Part, sheet: Sheet, job: Job, *, start: Corner = LOWER_LEFT, is_tied: bool = False
) -> Ordered:
    """Return the cuts of a tree in the order they are made, with everything they leave.

    Blanks and leftovers come in reading order from the start corner: along the start edge
    first, then away from it.

    Args:
        is_tied: leave the parts in their order, because of deckles; else leftovers come last.
    """
    marks, leaves = marks_and_leaves(tree if is_tied else without_needless_levels(tree))
    leaves = tuple(sorted(leaves, key=lambda leaf: (leaf.y, leaf.x)))
    place = _placer(sheet, start)
    blanks = [leaf for leaf in leaves if leaf.part.piece is not None]
    placements = tuple(_placement(leaf, place(leaf), job, sheet, start) for leaf in blanks)
    squaring = _squaring(sheet, placements, job, start)
    cuts = tuple(_numbered(in_turn(marks), len(squaring) + 1, sheet, start))
    return Ordered(
        placements=placements,
        squaring=squaring,
        cuts=cuts,
        leftovers=tuple(place(leaf) for leaf in leaves if leaf.part.piece is None),
    )


def _placer(sheet: Sheet, start: Corner) -> Callable[[Leaf], Rectangle]:
    def place(leaf: Leaf) -> Rectangle:
        width, height = leaf.part.width, leaf.part.height
        x = leaf.x if start[0] == "left" else sheet.usable_width - leaf.x - width
        y = leaf.y if start[1] == "foot" else sheet.usable_height - leaf.y - height
        return x, y, width, height

    return place


def _placement(
    leaf: Leaf, rectangle: Rectangle, job: Job, sheet: Sheet, start: Corner
) -> Placement:
    part = leaf.part
    assert part.piece is not None
    piece = job.pieces[part.piece]
    blank = blank_size(piece, reading_step(job, sheet.paper))
    return Placement(
        part.piece,
        *rectangle,
        turned=part.turned,
        rounding=_rounding(piece, blank),
        leave_on=_leave_on(part, blank[::-1] if part.turned else blank, start),
    )


def _rounding(piece: Piece, blank: tuple[Length, Length]) -> tuple[Length, Length]:
    return blank[0] - piece.asked_width, blank[1] - piece.asked_height


def _leave_on(part: Part, blank: tuple[Length, Length], start: Corner) -> Edges:
    """Return what a leaf has beyond its blank, always on the side away from the start corner."""
    across, up = part.width - blank[0], part.height - blank[1]
    left, right = (0, across) if start[0] == "left" else (across, 0)
    top, foot = (up, 0) if start[1] == "foot" else (0, up)
    return Edges(left, right, top, foot)


def _squaring(
    sheet: Sheet, placements: tuple[Placement, ...], job: Job, start: Corner
) -> tuple[Squaring, ...]:
    """Return the cuts that make edges true: start edges, then far edges that a blank touches."""
    loss = sheet.edge_loss._asdict()
    far: tuple[Edge, Edge] = (
        "right" if start[0] == "left" else "left",
        "top" if start[1] == "foot" else "foot",
    )
    across = {"left": sheet.usable_width, "right": sheet.usable_width}
    readings: list[tuple[Edge, Length]] = [(edge, loss[edge]) for edge in start if loss[edge]]
    for edge in far:
        touching = [one for one in placements if _touches(one, edge, sheet)]
        if loss[edge] and touching and not _stays(edge, touching, sheet, job):
            readings.append((edge, across.get(edge, sheet.usable_height)))
    return tuple(Squaring(n, edge, reading) for n, (edge, reading) in enumerate(readings, 1))


def _stays(edge: Edge, touching: list[Placement], sheet: Sheet, job: Job) -> bool:
    """Whether the deckle of a far edge stays on the blanks that touch it."""
    if edge not in sheet.deckles:
        return False
    asking = [
        one
        for one in touching
        if edge in kept_edges(job.pieces[one.piece].deckles, turned=one.turned)
    ]
    if edge in sheet.keep or asking:
        return True
    drawings = all(job.pieces[one.piece].kind == "drawing" for one in touching)
    return edge in sheet.leave and drawings


def _touches(placement: Placement, edge: Edge, sheet: Sheet) -> bool:
    if edge == "left":
        return placement.x == 0
    if edge == "foot":
        return placement.y == 0
    if edge == "right":
        return placement.x + placement.width == sheet.usable_width
    return placement.y + placement.height == sheet.usable_height


def _numbered(marks: list[Mark], first: int, sheet: Sheet, start: Corner) -> Iterator[Cut]:
    """Yield the cuts with their numbers; neighbours in order that line up share a setting."""
    numbers = {id(mark): number for number, mark in enumerate(marks, first)}
    shared = groupby(marks, key=attrgetter("level", "ruler"))
    for setting, (_, together) in enumerate(shared, 1):
        for mark in together:
            at, ends = _on_sheet(mark, sheet, start)
            yield Cut(
                number=numbers[id(mark)],
                along=mark.along,
                at=at,
                start=ends[0],
                stop=ends[1],
                level=mark.level,
                setting=setting,
                edge="start" if mark.maker is None else numbers[id(mark.maker)],
                reading=mark.reading,
            )


def _on_sheet(mark: Mark, sheet: Sheet, start: Corner) -> tuple[Length, tuple[Length, Length]]:
    """Return where a mark lies and ends from the lower left corner of the usable area."""
    along, across = sheet.usable_width, sheet.usable_height
    mirrored, ends_mirrored = start[0] == "right", start[1] == "top"
    if mark.along == "y":
        along, across = across, along
        mirrored, ends_mirrored = ends_mirrored, mirrored
    at = along - mark.at if mirrored else mark.at
    if ends_mirrored:
        return at, (across - mark.stop, across - mark.start)
    return at, (mark.start, mark.stop)
