"""The margin stair: for each sheet, how many pieces it gives as the margin grows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetcut.draw.lettering import NOTE, SIZE, clean, shortened, width
from sheetcut.draw.primitives import Drawing, Line, Page, Primitive, Text, moved
from sheetcut.draw.weights import CUT, ENGRAVED, FINE
from sheetcut.units import TICKS_PER_MM, Length, in_mm

WIDTH_MM = 190.0
MARGIN_MM = 8.0
STAIR_TALL_MM = 34.0
HEAD_MM, FOOT_MM, GAP_MM = 9.0, 9.0, 5.0
WIDEST_SHOWN = 50 * TICKS_PER_MM  # wider margins are asked for by nobody
TENTH_MM = 2.0
LEAST_TREAD_MM = 7.0  # narrower treads have no room for a number under them


@dataclass(frozen=True, slots=True)
class Tread:
    """One margin step: pieces from a sheet with margins from ``least`` to ``most``."""

    count: int
    least: Length
    most: Length


@dataclass(frozen=True, slots=True)
class Stair:
    """The margin steps of one size on one sheet, from no margin up."""

    name: str
    treads: tuple[Tread, ...]


def stairs(rows: Sequence[Stair], *, title: str, step: Length) -> Drawing:
    """Return the stairs of several sheets one below the other, at one scale of margins.

    Args:
        step: the reading step; a tread ends where the next begins, a step further.
    """
    items: list[Primitive] = [Text(clean(title), (MARGIN_MM, MARGIN_MM + SIZE), SIZE, "serif")]
    y = MARGIN_MM + SIZE + 5.0
    for row in rows:
        items += [moved(item, MARGIN_MM, y) for item in _stair(row, step)]
        y += HEAD_MM + STAIR_TALL_MM + FOOT_MM + GAP_MM
    return Drawing(Page("margin stair", WIDTH_MM, y), clean(title), tuple(items))


def _stair(row: Stair, step: Length) -> Iterator[Primitive]:
    """Yield one stair with its upper left corner at nothing."""
    wide = WIDTH_MM - 2 * MARGIN_MM
    foot = HEAD_MM + STAIR_TALL_MM
    yield Text(shortened(clean(row.name), wide, NOTE), (0, NOTE), NOTE)
    yield from _scale(wide, foot)
    if not row.treads:
        yield Text("gives none", (2, foot - 3), NOTE, "serif italic")
        return
    per_tick = wide / WIDEST_SHOWN
    per_piece = STAIR_TALL_MM / row.treads[0].count
    points: list[tuple[float, float]] = []
    for tread in row.treads:
        if tread.least > WIDEST_SHOWN:
            break
        left = tread.least * per_tick
        right = min((tread.most + step) * per_tick, wide)
        y = foot - tread.count * per_piece
        points += [(left, y), (right, y)]
        yield _note(tread, (left, y, right), wide)
    if points[-1][0] < wide - 0.01:
        points += [(points[-1][0], foot)]
    yield Line(tuple(points), CUT)


def _note(tread: Tread, at: tuple[float, float, float], wide: float) -> Text:
    """Return what a tread gives: with its last margin where there is room, and never nowhere.

    Args:
        at: the tread's left end, its height and its right end.
    """
    left, y, right = at
    words = f"{tread.count} up to {in_mm(tread.most).normalize():f} mm"
    if tread.most > WIDEST_SHOWN:
        words = f"{tread.count} from {in_mm(tread.least).normalize():f} mm"
    if right - left >= width(words, NOTE) + 3:
        return Text(words, (left + 1.5, y + NOTE + 1.5), NOTE)
    if right - left >= LEAST_TREAD_MM:
        return Text(str(tread.count), (left + 1.5, y + NOTE + 1.5), NOTE)
    if right >= wide - LEAST_TREAD_MM:
        return Text(str(tread.count), (right, y - 1), NOTE, anchor="end")
    # Beyond its end the next tread lies lower, so there is room at its own height.
    return Text(str(tread.count), (right + 1.2, y + 0.8 * NOTE), NOTE)


def _scale(wide: float, foot: float) -> Iterator[Primitive]:
    """Yield the rule of margins along the foot, a mark to the millimetre."""
    yield Line(((0, foot), (wide, foot)), FINE)
    last = WIDEST_SHOWN // TICKS_PER_MM
    for mark in range(last + 1):
        x = wide * mark / last
        tall = TENTH_MM if mark % 10 == 0 else TENTH_MM * 0.75 if mark % 5 == 0 else TENTH_MM / 2
        yield Line(((x, foot), (x, foot + tall)), ENGRAVED)
        if mark % 10 == 0:
            anchor = "start" if not mark else "end" if mark == last else "middle"
            words = f"{mark} mm" if mark == last else str(mark)
            yield Text(words, (x, foot + TENTH_MM + NOTE + 1), NOTE, anchor=anchor)  # type: ignore[arg-type]
