"""Where a cut tree is cut: one mark for each cut, with the edge its reading is taken from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sheetcut.layout import Axis, Part
from sheetcut.units import Length


@dataclass(frozen=True, slots=True)
class Mark:
    """A cut to come, seen from the start corner: x and y grow away from it.

    Attributes:
        strip: which piece in hand it divides, counted through the tree.
        level: 1 for a long cut, 2 for a cross cut, 3 and more for a deeper cut.
        along: the axis its reading is measured along.
        at: where it lies on that axis.
        start, stop: its ends on the other axis.
        origin: where the edge lies that its reading is taken from.
        maker: the mark whose cut makes that edge; None for the start edge.
    """

    strip: int
    level: int
    along: Axis
    at: Length
    start: Length
    stop: Length
    origin: Length
    maker: Mark | None

    @property
    def reading(self) -> Length:
        """What the ruler shows."""
        return self.at - self.origin

    @property
    def length(self) -> Length:
        """How far the knife travels."""
        return self.stop - self.start

    @property
    def ruler(self) -> tuple[Length, Length]:
        """Cuts of one level that agree in this share one placing of the ruler."""
        return self.at, self.origin


@dataclass(frozen=True, slots=True)
class Leaf:
    """A leaf of the tree in its place, seen from the start corner."""

    part: Part
    x: Length
    y: Length


@dataclass(frozen=True, slots=True)
class _Open:
    """A part on the way down, with the cuts that make its two edges towards the start corner."""

    part: Part
    x: Length
    y: Length
    level: int
    left: Mark | None
    foot: Mark | None


def marks_and_leaves(tree: Part) -> tuple[tuple[Mark, ...], tuple[Leaf, ...]]:
    """Return the cuts of a tree, nearest reading first in each piece, and its leaves.

    Parts must alternate in direction from level to level, as ``arrange`` leaves them.
    """
    marks: list[Mark] = []
    leaves: list[Leaf] = []
    waiting = [_Open(tree, 0, 0, 1, None, None)]
    for strip, piece in enumerate(waiting):  # grows while it is read: level after level
        if piece.part.along is None:
            leaves.append(Leaf(piece.part, piece.x, piece.y))
            continue
        made = _marks_of(piece, strip)
        marks.extend(made)
        waiting.extend(_parts_of(piece, made))
    return tuple(marks), tuple(leaves)


def _marks_of(piece: _Open, strip: int) -> list[Mark]:
    part = piece.part
    if part.along == "x":
        origin, start, stop, maker = piece.x, piece.y, piece.y + part.height, piece.left
        sides = [one.width for one in part.parts]
    else:
        origin, start, stop, maker = piece.y, piece.x, piece.x + part.width, piece.foot
        sides = [one.height for one in part.parts]
    return [
        Mark(strip, piece.level, part.along or "x", at, start, stop, origin, maker)
        for at in _sums(origin, sides[:-1])
    ]


def _sums(start: Length, sides: list[Length]) -> Iterator[Length]:
    at = start
    for side in sides:
        at += side
        yield at


def _parts_of(piece: _Open, made: list[Mark]) -> Iterator[_Open]:
    level = piece.level + 1
    for n, part in enumerate(piece.part.parts):
        before = made[n - 1] if n else None
        if piece.part.along == "x":
            x = before.at if before else piece.x
            yield _Open(part, x, piece.y, level, before or piece.left, piece.foot)
        else:
            y = before.at if before else piece.y
            yield _Open(part, piece.x, y, level, piece.left, before or piece.foot)
