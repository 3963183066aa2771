"""Lines that are cut only if there is room: blanks put into what a plan leaves over."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import count

from sheetcut.cuts import settled, without_needless_levels
from sheetcut.job import Job, Turn, blank_size, reading_step, ways
from sheetcut.layout import Answer, Axis, Candidate, Part
from sheetcut.nest.gives import most_pieces, rectangle_gives
from sheetcut.units import Length

Trees = tuple[tuple[str, Part], ...]
"""Every sheet that is cut: its id and the tree of its usable area."""

ALIKE: tuple[Turn, Turn] = ("grain up", "grain across")


@dataclass(frozen=True, slots=True)
class Filled:
    """Trees with blanks of one more line in their leftovers, and how many had room."""

    trees: Trees
    count: int


def filled_up(job: Job, answer: Answer) -> Answer:
    """Return an answer with as many blanks as have room of each line that waits for room.

    The lines are taken in the order they were typed. No sheet is added, and the bound stays:
    it speaks of what must be cut. Of several candidates those stay that have the most room for
    the first such line, then for the next.
    """
    lines = [
        line
        for line, piece in enumerate(job.pieces)
        if piece.if_room and piece.paper == answer.paper
    ]
    if not lines:
        return answer
    ways_ = [_filled_candidate(job, candidate, lines) for candidate in answer.candidates]
    most = max(counts for counts, _ in ways_)
    candidates = tuple(candidate for counts, candidate in ways_ if counts == most)
    notes = (*answer.notes, *_notes(job, lines, most))
    return replace(answer, candidates=candidates, notes=notes)


def filled(job: Job, trees: Trees, line: int) -> Filled:
    """Return trees with as many blanks of a line as is wanted, or as their leftovers have room for.

    The smallest leftover that will do is taken first, so that the large ones stay whole.
    """
    turn = job.pieces[line].turn
    found = [_filled(job, trees, line, one) for one in (ALIKE if turn == "alike" else (turn,))]
    return max(found, key=lambda one: one.count)


def with_line(job: Job, trees: Trees, line: int) -> Trees | None:
    """Return trees with every blank of one more line; None where they have not the room."""
    found = filled(job, trees, line)
    return found.trees if found.count == job.pieces[line].count else None


def merged(part: Part) -> Part:
    """Return a tree in which the leftovers of every row are one, at its far end.

    >>> blank = Part(2, 5, piece=0)
    >>> [one.width for one in merged(Part(9, 5, "x", (Part(3, 5), blank, Part(4, 5)))).parts]
    [2, 7]
    """
    if part.is_leftover:
        return Part(part.width, part.height)
    if part.along is None:
        return part
    kept = [merged(one) for one in part.parts if not one.is_leftover]
    left = [one for one in part.parts if one.is_leftover]
    if left and part.along == "x":
        kept.append(Part(sum(one.width for one in left), part.height))
    elif left:
        kept.append(Part(part.width, sum(one.height for one in left)))
    return kept[0] if len(kept) == 1 else replace(part, parts=tuple(kept))


def _filled_candidate(
    job: Job, candidate: Candidate, lines: list[int]
) -> tuple[tuple[int, ...], Candidate]:
    trees, counts = candidate.trees, []
    for line in lines:
        found = filled(job, trees, line)
        fits = found.count and _can_be_cut(job, found.trees)
        trees = found.trees if fits else trees
        counts.append(found.count if fits else 0)
    return tuple(counts), Candidate(trees)


def _can_be_cut(job: Job, trees: Trees) -> bool:
    """Whether blanks that keep a deckle still find an edge for it."""
    sheets = {sheet.id: sheet for sheet in job.sheets}
    bare = [(sheets[name], without_needless_levels(tree)) for name, tree in trees]
    return settled(bare, job) is not None


def _notes(job: Job, lines: list[int], counts: tuple[int, ...]) -> Iterator[str]:
    for line, n in zip(lines, counts, strict=True):
        piece = job.pieces[line]
        found = f"{n} of {piece.count} have it" if n else "none has it"
        if n == piece.count:
            found = "it has it" if n == 1 else f"all {n} have it"
        yield f"{piece.order} is cut if there is room: {found}"


def _filled(job: Job, trees: Trees, line: int, turn: Turn) -> Filled:
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
    new: dict[tuple[int, int], Part] = {}
    for _, place, number, leaf, along in sorted(leftovers, key=lambda one: one[:3]):
        if not wanted:
            break
        room, allowed = _whole(leaf, along, step), turned[trees[place][0]]
        gives = rectangle_gives(room, blank, step=step, ways=allowed, piece=line)
        part, wanted = _first(gives.tree, wanted)
        new[place, number] = merged(part)
    kept = (_replaced(tree, place, new, count()) for place, (_, tree) in enumerate(trees))
    names = (name for name, _ in trees)
    return Filled(tuple(zip(names, kept, strict=True)), piece.count - wanted)


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


def _replaced(
    part: Part, place: int, new: Mapping[tuple[int, int], Part], numbers: Iterator[int]
) -> Part:
    """Return the tree with some leftovers, counted in order, replaced; what they lack is added."""
    if part.is_leftover:
        return new.get((place, next(numbers)), part)
    parts: list[Part] = []
    for one in part.parts:
        mine = _replaced(one, place, new, numbers)
        parts.append(mine)
        if mine.width < one.width and part.along == "x":
            parts.append(Part(one.width - mine.width, one.height))
        elif mine.height < one.height and part.along == "y":
            parts.append(Part(one.width, one.height - mine.height))
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
