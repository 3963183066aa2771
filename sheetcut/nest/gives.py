"""How many pieces of one size a sheet gives, exactly, with edge-to-edge cuts of any depth.

Whatever is cut can be pushed to the left and to the foot until every piece lies at a sum of
the piece's own sides. So only such sums need to be tried as places for a cut, and the best of
every rectangle with such sides follows from the best of smaller ones.

Source:
    J. C. Herz, "Recursive computational procedure for two-dimensional stock cutting", IBM
    Journal of Research and Development 16 (1972), 462-469 (cuts at sums of sides); J. E.
    Beasley, "Algorithms for unconstrained two-dimensional guillotine cutting", Journal of the
    Operational Research Society 36 (1985), 297-306 (the recursion).
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection
from dataclasses import dataclass
from operator import add

from sheetcut.job import Sheet
from sheetcut.layout import Axis, Part
from sheetcut.units import Length

EITHER_WAY = (False, True)


@dataclass(frozen=True, slots=True)
class Gives:
    """What one sheet gives of one size.

    Attributes:
        count: the most pieces that edge-to-edge cuts can take from it.
        grid: the most that a plain grid takes, every piece lying the same way.
        tree: the usable area cut so that it gives ``count``; blanks carry the piece 0.
    """

    count: int
    grid: int
    tree: Part


def sheet_gives(
    sheet: Sheet,
    width: Length,
    height: Length,
    *,
    step: Length,
    ways: Collection[bool] = EITHER_WAY,
) -> Gives:
    """Return what a sheet gives of a blank, with the cut tree that shows it.

    Args:
        width, height: of the blank, both whole reading steps.
        step: the reading step.
        ways: the values of "turned" that are allowed on this sheet.
    """
    room = sheet.usable_width, sheet.usable_height
    return rectangle_gives(room, (width, height), step=step, ways=ways)


def rectangle_gives(
    room: tuple[Length, Length],
    blank: tuple[Length, Length],
    *,
    step: Length,
    ways: Collection[bool] = EITHER_WAY,
    piece: int = 0,
) -> Gives:
    """Return what any rectangle of paper gives of a blank; see ``sheet_gives``.

    Args:
        piece: the place of the order line that the tree's blanks carry.
    """
    run, rise = room[0] // step, room[1] // step
    wide, high = blank[0] // step, blank[1] // step
    count = most_pieces(run, rise, wide, high, ways=ways)
    tree = _Shown((run * step, rise * step), step, (wide, high), ways, piece).tree(count)
    grid = best_grid(run, rise, wide, high, ways=ways)
    return Gives(count, grid, _with_slivers(tree, room))


def _with_slivers(tree: Part, room: tuple[Length, Length]) -> Part:
    """Return a tree of whole steps with what is less than a step at its far edges.

    The slivers stand alone, so that whatever holds a blank measures whole steps, in whatever
    order the parts are cut.
    """
    if tree.is_leftover:
        return Part(*room)
    if room[1] > tree.height:
        tree = _joined("y", tree, Part(tree.width, room[1] - tree.height), tree.width, room[1])
    if room[0] > tree.width:
        tree = _joined("x", tree, Part(room[0] - tree.width, room[1]), *room)
    return tree


def most_pieces(
    run: int, rise: int, wide: int, high: int, *, ways: Collection[bool] = EITHER_WAY
) -> int:
    """Return the most wide x high pieces that edge-to-edge cuts take from run x rise.

    All four are whole numbers of one step.

    >>> most_pieces(13, 8, 3, 2), most_pieces(560, 760, 210, 297)
    (17, 5)
    """
    grid = best_grid(run, rise, wide, high, ways=ways)
    # Pieces that all lie one way: each holds exactly one crossing of lines drawn at every
    # multiple of its sides, so no arrangement beats the grid.
    if len(set(ways)) < 2 or wide == high:
        return grid
    x, y = _sums(run, wide, high), _sums(rise, wide, high)
    if grid == x[-1] * y[-1] // (wide * high):
        return grid
    return _table(x, y, wide, high)[-1][-1]


def best_grid(
    run: int, rise: int, wide: int, high: int, *, ways: Collection[bool] = EITHER_WAY
) -> int:
    """Return the most pieces that lie in rows and columns, all the same way.

    >>> best_grid(13, 8, 3, 2), best_grid(560, 760, 210, 297)
    (16, 4)
    """
    upright = (run // wide) * (rise // high) if False in ways else 0
    lying = (run // high) * (rise // wide) if True in ways else 0
    return max(upright, lying)


def _sums(run: int, wide: int, high: int) -> list[int]:
    """Return every sum of the two sides up to a run, 0 among them, in order."""
    return sorted(
        {across for first in range(0, run + 1, wide) for across in range(first, run + 1, high)}
    )


def _rests(sums: list[int]) -> list[list[int]]:
    """Return for each sum, for every cut up to its middle, the place of what is left.

    A cut at the sum number c leaves a length of which the greatest sum not longer counts.
    """
    rests = []
    for length in sums:
        half = bisect_right(sums, length // 2)
        rests.append([bisect_right(sums, length - sums[cut]) - 1 for cut in range(1, half)])
    return rests


def _table(x: list[int], y: list[int], wide: int, high: int) -> list[list[int]]:
    """Return the most pieces from every rectangle whose sides are sums."""
    x_rests, y_rests = _rests(x), _rests(y)
    area = wide * high
    rows: list[list[int]] = [[0] * len(y)]
    for i, across in enumerate(x[1:], start=1):
        # Cuts that run up and down: the best two columns, for all heights at once.
        row = list(rows[i - 1])
        for cut, rest in enumerate(x_rests[i], start=1):
            row = list(map(max, row, map(add, rows[cut], rows[rest])))
        for j, up in enumerate(y):
            best = max(row[j], row[j - 1]) if j else 0
            if not best and ((across >= wide and up >= high) or (across >= high and up >= wide)):
                best = 1
            rests = y_rests[j]
            if rests and best < across * up // area:
                pairs = map(add, row[1 : len(rests) + 1], [row[rest] for rest in rests])
                best = max(best, *pairs)
            row[j] = best
        rows.append(row)
    return rows


class _Shown:
    """Turns a number of pieces into the cut tree that gives it."""

    def __init__(
        self,
        room: tuple[Length, Length],
        step: Length,
        size: tuple[int, int],
        ways: Collection[bool],
        piece: int,
    ) -> None:
        self.room = room
        self.piece = piece
        self.step = step
        self.wide, self.high = size
        self.ways = set(ways) if size[0] != size[1] else {min(ways, default=False)}

    def tree(self, count: int) -> Part:
        """Return the rectangle cut into the pieces and what is left."""
        width, height = self.room
        run, rise = width // self.step, height // self.step
        if not count:
            return Part(width, height)
        for turned in sorted(self.ways):
            wide, high = self._size(turned)
            across, up = run // wide, rise // high
            if across * up == count:
                return self._grid(width, height, turned, across, up)
        self.x, self.y = _sums(run, self.wide, self.high), _sums(rise, self.wide, self.high)
        self.x_rests, self.y_rests = _rests(self.x), _rests(self.y)
        self.rows = _table(self.x, self.y, self.wide, self.high)
        return self._part(len(self.x) - 1, len(self.y) - 1, width, height)

    def _size(self, turned: bool) -> tuple[int, int]:
        return (self.high, self.wide) if turned else (self.wide, self.high)

    def _part(self, i: int, j: int, width: Length, height: Length) -> Part:
        """Return a rectangle of the table cut up; it may be larger than the sums it stands for."""
        count = self.rows[i][j]
        if not count:
            return Part(width, height)
        for turned in sorted(self.ways):
            wide, high = self._size(turned)
            across, up = self.x[i] // wide, self.y[j] // high
            if across * up == count:
                return self._grid(width, height, turned, across, up)
        if self.rows[i - 1][j] == count:
            return self._part(i - 1, j, width, height)
        if self.rows[i][j - 1] == count:
            return self._part(i, j - 1, width, height)
        for cut, rest in enumerate(self.x_rests[i], start=1):
            if self.rows[cut][j] + self.rows[rest][j] == count:
                at = self.x[cut] * self.step
                first = self._part(cut, j, at, height)
                other = self._part(rest, j, width - at, height)
                return _joined("x", first, other, width, height)
        for cut, rest in enumerate(self.y_rests[j], start=1):
            if self.rows[i][cut] + self.rows[i][rest] == count:
                at = self.y[cut] * self.step
                first = self._part(i, cut, width, at)
                other = self._part(i, rest, width, height - at)
                return _joined("y", first, other, width, height)
        raise AssertionError("a table's value comes from a grid or from one of its cuts")

    def _grid(self, width: Length, height: Length, turned: bool, across: int, up: int) -> Part:
        wide, high = (side * self.step for side in self._size(turned))
        blank = Part(wide, high, piece=self.piece, turned=turned)
        column = _in_line("y", [blank] * up, wide, height)
        return _in_line("x", [column] * across, width, height)


def _in_line(along: Axis, parts: list[Part], width: Length, height: Length) -> Part:
    """Return parts one after the other, and what is left after them."""
    taken = sum(part.width if along == "x" else part.height for part in parts)
    rest = (width if along == "x" else height) - taken
    if rest:
        parts = [*parts, Part(rest, height) if along == "x" else Part(width, rest)]
    if len(parts) == 1:
        return parts[0]
    return Part(width, height, along, tuple(parts))


def _joined(along: Axis, first: Part, other: Part, width: Length, height: Length) -> Part:
    """Return two parts side by side, in one row with those that already stand so."""
    parts: list[Part] = []
    for part in (first, other):
        parts.extend(part.parts if part.along == along else (part,))
    leftovers = [part for part in parts if part.along is None and part.piece is None]
    parts = [part for part in parts if part.along is not None or part.piece is not None]
    if leftovers:
        size = sum(part.width if along == "x" else part.height for part in leftovers)
        parts.append(Part(size, height) if along == "x" else Part(width, size))
    return Part(width, height, along, tuple(parts))
