"""Margin steps: where the number of pieces that a sheet gives changes, and what is near one more.

A wider margin never gives more pieces, so every step is found by halving.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass

from sheetcut.answers.turning import ways_to_lie
from sheetcut.job import Piece, Sheet, Turn
from sheetcut.nest.gives import most_pieces
from sheetcut.units import Edges, Length, round_up


@dataclass(frozen=True, slots=True)
class MarginStep:
    """A run of margins that all give the same number of pieces.

    Attributes:
        count: pieces from a sheet.
        least, most: both edges of the step, in the margin added on every side.
    """

    count: int
    least: Length
    most: Length


@dataclass(frozen=True, slots=True)
class Smaller:
    """The largest smaller size, or margin, at which a sheet gives at least one more.

    Attributes:
        width, height: the finished size it asks for.
        margin: the margins it asks for.
        count: what the sheet then gives.
    """

    width: Length
    height: Length
    margin: Edges
    count: int


def margin_steps(
    sheet: Sheet,
    width: Length,
    height: Length,
    *,
    step: Length,
    turn: Turn = "yes",
) -> tuple[MarginStep, ...]:
    """Return every margin step of a finished size on one sheet, from no margin up.

    All four margins are equal and whole reading steps; the last step is the widest margin
    with which the sheet still gives one piece.

    >>> from sheetcut.units import mm
    >>> imperial = Sheet("HP-IMP", "Rag", mm(560), mm(760))
    >>> [(one.count, one.least // mm(1), one.most // mm(1))
    ...  for one in margin_steps(imperial, mm(210), mm(297), step=mm(1))]
    [(5, 0, 13), (4, 14, 35), (2, 36, 85), (1, 86, 175)]
    """
    count_at = _counter(sheet, step, turn)

    def count_with(margin: int) -> int:
        return count_at(width + 2 * margin * step, height + 2 * margin * step)

    def widest(count: int, first: int) -> int:
        most = (sheet.usable_width + sheet.usable_height) // step
        return last_place(lambda margin: count_with(margin) >= count, first, most)

    steps = []
    least = 0
    while count := count_with(least):
        most = widest(count, least)
        steps.append(MarginStep(count, least * step, most * step))
        least = most + 1
    return tuple(steps)


def step_of(steps: Collection[MarginStep], margin: Length) -> MarginStep | None:
    """Return the margin step that a margin lies in, or None where nothing fits."""
    return next((one for one in steps if one.least <= margin <= one.most), None)


def smaller_margin(sheet: Sheet, piece: Piece, *, step: Length) -> Smaller | None:
    """Return the widest margins, all reduced alike, at which a sheet gives at least one more.

    A side that has less margin than is taken off keeps none. None where no margin helps.
    """
    count_at = _counter(sheet, step, piece.turn)
    wanted = count_at(piece.asked_width, piece.asked_height) + 1

    def margin(less: int) -> Edges:
        return Edges(*(max(0, side - less * step) for side in piece.margin))

    def falls_short(less: int) -> bool:
        sides = margin(less)
        return count_at(piece.width + sides.across, piece.height + sides.up) < wanted

    all_of_it = -(-max(piece.margin) // step)
    less = last_place(falls_short, 0, all_of_it) + 1
    if less > all_of_it:
        return None
    sides = margin(less)
    count = count_at(piece.width + sides.across, piece.height + sides.up)
    return Smaller(piece.width, piece.height, sides, count)


def smaller_sizes(sheet: Sheet, piece: Piece, *, step: Length) -> tuple[Smaller, ...]:
    """Return the largest smaller sizes at which a sheet gives at least one more.

    Three ways are tried: the width alone, the height alone, and the same off both. The size
    that loses the least area comes first; sizes that lose half a side or more are left out.
    """
    count_at = _counter(sheet, step, piece.turn)
    wanted = count_at(piece.asked_width, piece.asked_height) + 1
    found = []
    for across, up in ((1, 0), (0, 1), (1, 1)):
        size = _largest_smaller(piece, (across * step, up * step), count_at, wanted)
        if size is not None:
            count = count_at(size[0] + piece.margin.across, size[1] + piece.margin.up)
            found.append(Smaller(*size, piece.margin, count))
    found.sort(key=lambda one: -one.width * one.height)
    return tuple(_undominated(found))


def last_place(is_so: Callable[[int], bool], first: int, last: int) -> int:
    """Return the last number for which something holds that, once false, stays false.

    ``first - 1`` where it never holds; numbers beyond ``last`` are not tried.

    >>> last_place(lambda n: n * n < 50, 0, 100)
    7
    """
    low, high = first - 1, last
    while low < high:
        middle = (low + high + 1) // 2
        if is_so(middle):
            low = middle
        else:
            high = middle - 1
    return low


Counter = Callable[[Length, Length], int]


def _counter(sheet: Sheet, step: Length, turn: Turn) -> Counter:
    """Return what tells how many blanks of an asked size the sheet gives."""
    run, rise = sheet.usable_width // step, sheet.usable_height // step
    allowed = ways_to_lie(turn, sheet.grain)
    known: dict[tuple[int, int], int] = {}

    def count_at(width: Length, height: Length) -> int:
        size = round_up(width, step) // step, round_up(height, step) // step
        if size not in known:
            known[size] = max(most_pieces(run, rise, *size, ways=one) for one in allowed)
        return known[size]

    return count_at


def _largest_smaller(
    piece: Piece, less: tuple[Length, Length], count_at: Counter, wanted: int
) -> tuple[Length, Length] | None:
    """Return the finished size after taking off just enough, or None where half is not enough."""

    def size(n: int) -> tuple[Length, Length]:
        return piece.width - n * less[0], piece.height - n * less[1]

    def falls_short(n: int) -> bool:
        width, height = size(n)
        return count_at(width + piece.margin.across, height + piece.margin.up) < wanted

    sides = [
        (side - 1) // (2 * off)
        for side, off in zip((piece.width, piece.height), less, strict=True)
        if off
    ]
    most = min(sides)
    n = last_place(falls_short, 0, most) + 1
    return None if n > most else size(n)


def _undominated(sizes: list[Smaller]) -> Iterator[Smaller]:
    for one in sizes:
        if not any(
            other is not one and other.width >= one.width and other.height >= one.height
            for other in sizes
        ):
            yield one
