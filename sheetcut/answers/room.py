"""Room left: what else comes out of a plan that stands, from what its sheets leave over."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sheetcut.answers.turning import settled
from sheetcut.job import Piece, Turn, blank_size, reading_step, ways
from sheetcut.layout import Part, Plan
from sheetcut.nest.gives import most_pieces


@dataclass(frozen=True, slots=True)
class Room:
    """How many of one size still come out of the leftovers of a plan.

    Attributes:
        count: from all leftovers together, each cut by itself.
        places: by sheet id, how many from the leftovers of all its sheets.
    """

    piece: Piece
    count: int
    places: Mapping[str, int]


def room_left(plan: Plan, pieces: Iterable[Piece]) -> tuple[Room, ...]:
    """Return how many of each size the leftovers of a plan still give, nothing moved.

    Every size is counted as if it came alone: what is cut for one is not there for another.
    """
    return tuple(_room(plan, piece) for piece in pieces)


def _room(plan: Plan, piece: Piece) -> Room:
    rooms = [_places(plan, piece, turn) for turn in settled(piece.turn)]
    places = max(rooms, key=lambda one: sum(one.values()))
    return Room(piece, sum(places.values()), places)


def _places(plan: Plan, piece: Piece, turn: Turn) -> dict[str, int]:
    step = reading_step(plan.job, piece.paper)
    blank = blank_size(piece, step)
    places: dict[str, int] = {}
    layouts = [one for paper in plan.papers if paper.paper == piece.paper for one in paper.layouts]
    for layout in layouts:
        turned = ways(turn, plan.sheet(layout.sheet).grain)
        found = sum(
            _gives(Part(width, height), blank, step, turned)
            for _, _, width, height in layout.leftovers
        )
        if found:
            places[layout.sheet] = places.get(layout.sheet, 0) + layout.copies * found
    return places


def _gives(leaf: Part, blank: tuple[int, int], step: int, turned: tuple[bool, ...]) -> int:
    return most_pieces(
        leaf.width // step, leaf.height // step, blank[0] // step, blank[1] // step, ways=turned
    )
