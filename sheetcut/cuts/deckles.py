"""Blanks that keep a deckle are brought to the edge of the sheet that carries it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from sheetcut.cuts.order import Corner
from sheetcut.handling import kept_edges
from sheetcut.job import Edge, Job, Piece, Sheet, blank_size, reading_step, ways
from sheetcut.layout import Axis, Part

MOST_TRIED = 5_000  # places given to blanks before the search for room at the edges ends
AXIS_OF: dict[Edge, Axis] = {"left": "x", "right": "x", "top": "y", "foot": "y"}

Path = tuple[int, ...]
Axes = dict[Path, frozenset[Axis]]


@dataclass(frozen=True, slots=True)
class Settled:
    """A tree with the corner it is cut from.

    Attributes:
        is_tied: whether its parts stand in an order that must stay.
    """

    tree: Part
    start: Corner
    is_tied: bool


def start_for(sheet: Sheet, kept: Iterable[Edge] = ()) -> Corner | None:
    """Return the corner that readings begin at: none of its edges keeps its deckle.

    A deckle that is left on is avoided where another corner will do, and lower left comes
    first. None if the deckles of opposite edges are kept.
    """
    out = {*kept, *sheet.keep}
    across = [side for side in ("left", "right") if side not in out]
    up = [side for side in ("foot", "top") if side not in out]
    if not across or not up:
        return None
    first = min(across, key=lambda side: (side in sheet.leave, side == "right"))
    second = min(up, key=lambda side: (side in sheet.leave, side == "top"))
    return ("left" if first == "left" else "right", "foot" if second == "foot" else "top")


def can_carry(job: Job, sheet: Sheet, piece: Piece, *, turned: bool) -> bool:
    """Whether a sheet has every deckle that a piece lying so is to keep, and a corner besides.

    The blank ends where the usable area does, and is cut at a reading from the other side: so
    the usable area must be a whole number of steps long that way.
    """
    asked = kept_edges(piece.deckles, turned=turned)
    step = reading_step(job, sheet.paper)
    sides = {"x": sheet.usable_width, "y": sheet.usable_height}
    return (
        set(asked) <= set(sheet.deckles)
        and start_for(sheet, asked) is not None
        and all(sides[AXIS_OF[edge]] % step == 0 for edge in asked)
    )


def settled(trees: Sequence[tuple[Sheet, Part]], job: Job) -> list[Settled] | None:
    """Return trees in which every blank that keeps a deckle lies at its edge.

    Blanks of one size may change places, on one sheet or between sheets, and the parts of any
    piece in hand may stand in any order: a blank reaches a far edge if it comes last wherever
    pieces are parted along that way. None if no such order was found; blanks are parted the
    same ways as before, so there may be one all the same.
    """
    board = _Board(job, [sheet for sheet, _ in trees], [tree for _, tree in trees])
    return board.settled() if board.place(0) else None


@dataclass(frozen=True, slots=True)
class _Spot:
    """A leaf of one of the trees."""

    tree: int
    path: Path
    part: Part


class _Board:
    """All places of blanks on the sheets of one plan, and whose blank lies in each."""

    def __init__(self, job: Job, sheets: list[Sheet], trees: list[Part]) -> None:
        self.job = job
        self.sheets = sheets
        self.trees = trees
        steps = {sheet.paper: reading_step(job, sheet.paper) for sheet in sheets}
        self.sizes = [blank_size(one, steps.get(one.paper, 1)) for one in job.pieces]
        self.spots = [
            _Spot(n, path, leaf) for n, tree in enumerate(trees) for path, leaf in _blanks(tree)
        ]
        self.lies = [(spot.part.piece or 0, spot.part.turned) for spot in self.spots]
        self.waiting = [n for n, (piece, _) in enumerate(self.lies) if job.pieces[piece].deckles]
        self.at = list(self.waiting)  # where each of these blanks is now
        self.fixed: dict[int, tuple[Edge, ...]] = {}
        self.tried = 0

    def place(self, number: int) -> bool:
        """Find places for the blanks from a number on that keep a deckle."""
        if number == len(self.waiting):
            return True
        here = self.at[number]
        for there, turned, other_turned in list(self._choices(here)):
            self.tried += 1
            if self.tried > MOST_TRIED:
                return False
            before, at_before = list(self.lies), list(self.at)
            self._exchange(here, there, turned, other_turned)
            self.fixed[there] = kept_edges(
                self.job.pieces[self.lies[there][0]].deckles, turned=turned
            )
            if self._goes_together(self.spots[there].tree) and self.place(number + 1):
                return True
            del self.fixed[there]
            self.lies, self.at = before, at_before
        return False

    def _choices(self, here: int) -> Iterator[tuple[int, bool, bool]]:
        """Yield where a blank may lie, and how it and the one it changes places with lie then."""
        mine = self.lies[here][0]
        for there, spot in enumerate(self.spots):
            if there in self.fixed:
                continue
            theirs, sheet = self.lies[there][0], self.sheets[spot.tree]
            for turned in self._ways(mine, here, there):
                if not can_carry(self.job, sheet, self.job.pieces[mine], turned=turned):
                    continue
                if there == here:
                    yield there, turned, turned
                    continue
                for other in self._ways(theirs, there, here):
                    yield there, turned, other

    def _ways(self, line: int, origin: int, target: int) -> Iterator[bool]:
        """Yield how a line's piece may lie in a place, as it lies now first."""
        spot, piece, size = self.spots[target], self.job.pieces[line], self.sizes[line]
        if sorted(size) != sorted((spot.part.width, spot.part.height)):
            return
        sheet, old = self.sheets[spot.tree], self.sheets[self.spots[origin].tree]
        now = self.lies[origin][1]
        for turned in (now, not now):
            if turned not in ways(piece.turn, sheet.grain):
                continue
            # All pieces of such a line lie alike, so it neither turns nor changes grain.
            if piece.turn == "alike" and (turned != now or sheet.grain != old.grain):
                continue
            if (size[::-1] if turned else size) == (spot.part.width, spot.part.height):
                yield turned

    def _exchange(self, here: int, there: int, turned: bool, other: bool) -> None:
        mine, theirs = self.lies[here][0], self.lies[there][0]
        self.lies[here] = theirs, other
        self.lies[there] = mine, turned
        moved = {here: there, there: here}
        self.at = [moved.get(place, place) for place in self.at]

    def _tied(self, tree: int) -> dict[Path, tuple[Edge, ...]]:
        """Return where the tied blanks of a tree are, each with the edges it is tied to."""
        spots = self.spots
        return {spots[n].path: edges for n, edges in self.fixed.items() if spots[n].tree == tree}

    def _goes_together(self, tree: int) -> bool:
        """Whether the tied blanks of a tree can all come to their edges."""
        tied = self._tied(tree)
        if start_for(self.sheets[tree], chain.from_iterable(tied.values())) is None:
            return False
        return _can_be_ordered(self.trees[tree], _axes_of(tied))

    def _order(self, tree: int) -> Settled | None:
        """Return a tree with its tied blanks at their edges, or None if they do not go together."""
        tied = self._tied(tree)
        start = start_for(self.sheets[tree], chain.from_iterable(tied.values()))
        if start is None:
            return None
        ordered = _ordered(self._named(tree), (), _axes_of(tied))
        return None if ordered is None else Settled(ordered, start, bool(tied))

    def _named(self, tree: int) -> Part:
        names = {
            spot.path: lies
            for spot, lies in zip(self.spots, self.lies, strict=True)
            if spot.tree == tree
        }

        def named(part: Part, path: Path) -> Part:
            if part.piece is not None:
                piece, turned = names[path]
                return replace(part, piece=piece, turned=turned)
            parts = tuple(named(one, (*path, n)) for n, one in enumerate(part.parts))
            return replace(part, parts=parts)

        return named(self.trees[tree], ())

    def settled(self) -> list[Settled]:
        """Return all trees as they are now."""
        return [one for n in range(len(self.trees)) if (one := self._order(n)) is not None]


def _blanks(part: Part, path: Path = ()) -> Iterator[tuple[Path, Part]]:
    if part.piece is not None:
        yield path, part
    for n, one in enumerate(part.parts):
        yield from _blanks(one, (*path, n))


def _axes_of(tied: dict[Path, tuple[Edge, ...]]) -> Axes:
    return {path: frozenset(AXIS_OF[edge] for edge in edges) for path, edges in tied.items()}


def _can_be_ordered(part: Part, axes: Axes) -> bool:
    """Whether each tied blank of a part can come last along its axes."""
    inside: dict[int, Axes] = {}
    for path, found in axes.items():
        if path:
            inside.setdefault(path[0], {})[path[1:]] = found
    last = [one for one in inside.values() if any(part.along in found for found in one.values())]
    return len(last) <= 1 and all(_can_be_ordered(part.parts[n], one) for n, one in inside.items())


def _ordered(part: Part, path: Path, axes: Axes) -> Part | None:
    """Return a part in which each tied blank comes last along its axes; None if two would."""
    if not axes:
        return part
    parts = []
    last: list[int] = []
    for n, one in enumerate(part.parts):
        below = (*path, n)
        here = {end: found for end, found in axes.items() if end[: len(below)] == below}
        if any(part.along in found for found in here.values()):
            last.append(n)
        inner = _ordered(one, below, here)
        if inner is None:
            return None
        parts.append(inner)
    if len(last) > 1:
        return None
    if last:
        parts.append(parts.pop(last[0]))
    return replace(part, parts=tuple(parts))
