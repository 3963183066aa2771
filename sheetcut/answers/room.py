"""Room left: what else comes out of a plan that stands, from what its sheets leave over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import count

from sheetcut.answers.trees import Trees, merged
from sheetcut.answers.turning import settled
from sheetcut.job import Job, Piece, Turn, blank_size, reading_step, ways
from sheetcut.layout import Axis, Part, Plan
from sheetcut.nest.gives import most_pieces, rectangle_gives
from sheetcut.units import Length


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


def with_line(job: Job, trees: Trees, line: int) -> Trees | None:
    """Return trees with every blank of one more line cut from their leftovers.

    None where they have not the room for all of them. The smallest leftover that will do is
    taken first, so that the large ones stay whole.
    """
    return next(
        (
            found
            for turn in settled(job.pieces[line].turn)
            if (found := _with_line(job, trees, line, turn)) is not None
        ),
        None,
    )


def _with_line(job: Job, trees: Trees, line: int, turn: Turn) -> Trees | None:
    piece = job.pieces[line]
    step = reading_step(job, piece.paper)
    blank = blank_size(piece, step)
    turned = {sheet.id: ways(turn, sheet.grain) for sheet in job.sheets}
    leftovers = [
        (leaf.area, place, number, leaf, along)
        for place, (name, tree) in enumerate(trees)
        for number, (leaf, along) in enumerate(_leftovers(tree))
        if _gives(leaf, blank, step, turned[name])
    ]
    wanted = piece.count
    filled: dict[tuple[int, int], Part] = {}
    for _, place, number, leaf, along in sorted(leftovers, key=lambda one: one[:3]):
        if not wanted:
            break
        room, allowed = _whole(leaf, along, step), turned[trees[place][0]]
        gives = rectangle_gives(room, blank, step=step, ways=allowed, piece=line)
        part, wanted = _first(gives.tree, wanted)
        filled[place, number] = merged(part)
    if wanted:
        return None
    return tuple(
        (name, _filled(tree, place, filled, count())) for place, (name, tree) in enumerate(trees)
    )


def _whole(leaf: Part, along: Axis | None, step: Length) -> tuple[Length, Length]:
    """Return a leftover's room, along its row in whole steps.

    So whatever holds a blank measures whole steps along the row it stands in, and may be cut
    in any order.
    """
    if along == "x":
        return leaf.width // step * step, leaf.height
    if along == "y":
        return leaf.width, leaf.height // step * step
    return leaf.width, leaf.height


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


def _leftovers(part: Part, along: Axis | None = None) -> Iterator[tuple[Part, Axis | None]]:
    """Yield the leftovers of a tree in order, each with the axis of the row it stands in."""
    if part.is_leftover:
        yield part, along
    elif part.along is not None:
        for one in part.parts:
            yield from _leftovers(one, part.along)


def _filled(
    part: Part, place: int, filled: Mapping[tuple[int, int], Part], numbers: Iterator[int]
) -> Part:
    """Return the tree with some leftovers, counted in order, replaced; what they lack is added."""
    if part.is_leftover:
        return filled.get((place, next(numbers)), part)
    parts: list[Part] = []
    for one in part.parts:
        new = _filled(one, place, filled, numbers)
        parts.append(new)
        if new.width < one.width and part.along == "x":
            parts.append(Part(one.width - new.width, one.height))
        elif new.height < one.height and part.along == "y":
            parts.append(Part(one.width, one.height - new.height))
    return replace(part, parts=tuple(parts))


def _first(part: Part, wanted: int) -> tuple[Part, int]:
    """Return the tree with only the first so many of its blanks, and how many are missing."""
    if part.along is None:
        if part.piece is None:
            return part, wanted
        return (part, wanted - 1) if wanted else (Part(part.width, part.height), 0)
    parts = []
    for one in part.parts:
        kept, wanted = _first(one, wanted)
        parts.append(kept)
    return replace(part, parts=tuple(parts)), wanted
