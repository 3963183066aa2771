"""A plain placing of blanks wherever they have room, with no thought of how they are cut.

It is only ever compared with: its sheets need cuts that stop inside the paper. Every sheet
keeps all largest free rectangles, and a blank goes into the one that it fits most tightly.

Source:
    B. S. Baker, E. G. Coffman and R. L. Rivest, "Orthogonal packings in two dimensions",
    SIAM Journal on Computing 9 (1980), 846-855 (rectangles placed without edge-to-edge cuts);
    largest free rectangles are kept in the plain way, each cut down by what is placed.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from sheetcut.nest.hunt import seed_of
from sheetcut.nest.task import Task

Rectangle = tuple[int, int, int, int]
"""x, y, width and height in whole steps, from the lower left corner of a sheet."""


TRIES = 40  # orders of the blanks, the first few by size
MOST_WORK = 60_000  # blanks times blanks, over all tries


@dataclass(slots=True)
class FreeSheet:
    """A sheet with blanks anywhere on it.

    Attributes:
        blanks: the kind of each, and where it lies.
        room: all largest free rectangles.
    """

    stock: int
    blanks: list[tuple[int, Rectangle]] = field(default_factory=list)
    room: list[Rectangle] = field(default_factory=list)


def placed_freely(task: Task, seed: int = 0) -> list[FreeSheet] | None:
    """Return sheets that hold every blank, as cheap as some tries come to; None if none do."""
    blanks = [kind for kind, one in enumerate(task.blanks) for _ in range(one.count)]
    tries = max(4, min(TRIES, MOST_WORK // max(1, len(blanks)) ** 2))
    chance = random.Random(seed_of(seed, 9000))
    best: tuple[tuple[int, int, int], list[FreeSheet]] | None = None
    for n in range(tries):
        order = sorted(blanks, key=lambda kind: _size(task, kind, n, chance), reverse=True)
        for stocks in _stock_orders(task):
            sheets = _placed(task, order, stocks)
            if sheets is None:
                continue
            value = task.value(Counter(one.stock for one in sheets))
            if best is None or value < best[0]:
                best = value, sheets
    return None if best is None else best[1]


def _size(task: Task, kind: int, n: int, chance: random.Random) -> float:
    one = task.blanks[kind]
    sizes: tuple[Callable[[], float], ...] = (
        lambda: one.area,
        lambda: max(one.wide, one.high),
        lambda: min(one.wide, one.high),
        lambda: one.wide + one.high,
    )
    return sizes[n % 4]() * (1 if n < 4 else chance.uniform(0.8, 1.25))


def _stock_orders(task: Task) -> list[list[int]]:
    """Return orders in which sheets are opened: by price for area, then each stock first."""
    rate = sorted(
        range(len(task.stocks)), key=lambda at: (task.stocks[at].price / task.stocks[at].area, at)
    )
    orders = [rate, *([first, *(one for one in rate if one != first)] for first in rate)]
    return [list(one) for one in dict.fromkeys(map(tuple, orders))]


def _placed(task: Task, order: Sequence[int], stocks: Sequence[int]) -> list[FreeSheet] | None:
    sheets: list[FreeSheet] = []
    used: Counter[int] = Counter()
    for kind in order:
        if any(_place(task, sheet, kind) for sheet in sheets):
            continue
        for stock in stocks:
            row = task.stocks[stock]
            if row.limit is not None and used[stock] >= row.limit:
                continue
            sheet = FreeSheet(stock, room=[(0, 0, row.wide, row.high)])
            if _place(task, sheet, kind):
                used[stock] += 1
                sheets.append(sheet)
                break
        else:
            return None
    return sheets


def _place(task: Task, sheet: FreeSheet, kind: int) -> bool:
    """Put a blank where it fits most tightly; return whether it has room."""
    best: tuple[int, int, Rectangle] | None = None
    for wide, high in task.blanks[kind].sides(sheet.stock):
        for x, y, width, height in sheet.room:
            if wide <= width and high <= height:
                slack = sorted((width - wide, height - high))
                fit = slack[0], slack[1], (x, y, wide, high)
                if best is None or fit < best:
                    best = fit
    if best is None:
        return False
    taken = best[2]
    sheet.blanks.append((kind, taken))
    parts = [part for one in sheet.room for part in _left_of(one, taken)]
    sheet.room = [
        one
        for n, one in enumerate(parts)
        if not any(
            _holds(other, one) and (other != one or m < n)
            for m, other in enumerate(parts)
            if m != n
        )
    ]
    return True


def _left_of(one: Rectangle, taken: Rectangle) -> list[Rectangle]:
    """Return the largest rectangles that are left of a free one."""
    x, y, width, height = one
    tx, ty, tw, th = taken
    if tx >= x + width or tx + tw <= x or ty >= y + height or ty + th <= y:
        return [one]
    found = [
        (x, y, tx - x, height),
        (tx + tw, y, x + width - tx - tw, height),
        (x, y, width, ty - y),
        (x, ty + th, width, y + height - ty - th),
    ]
    return [part for part in found if part[2] > 0 and part[3] > 0]


def _holds(one: Rectangle, other: Rectangle) -> bool:
    return (
        one[0] <= other[0]
        and one[1] <= other[1]
        and one[0] + one[2] >= other[0] + other[2]
        and one[1] + one[3] >= other[1] + other[3]
    )
