"""What no plan can beat: rows from areas, fits and dual feasible functions, counted exactly."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sheetcut.nest.functions import Measure, greatest, measures
from sheetcut.nest.rows import Row, least
from sheetcut.nest.task import Stock, Task

KEPT_PAIRS = 6  # pairs of functions worked out exactly, of those that look best
MOST_FITS = 6  # rows for blanks that fit only some of the sheets
LONGEST_SUMS = 400_000  # run times lengths up to which sums along a run are worked out


def costs_of(task: Task) -> list[int]:
    """Return what one sheet of each stock adds to the aim."""
    return [stock.price for stock in task.stocks]


def limits_of(task: Task) -> list[int | None]:
    """Return how many sheets of each stock there are."""
    return [stock.limit for stock in task.stocks]


def area_rows(task: Task) -> list[Row]:
    """Return the area of all blanks, and of those that only some of the stocks can hold."""
    areas = tuple(blank.area for blank in task.blanks)
    rows = [_area_row(task, areas, frozenset(range(len(task.stocks))), "area")]
    fits = [_fits(blank.ways) for blank in task.blanks]
    groups = {one for one in fits if len(one) < len(task.stocks)}
    for group in sorted(groups, key=lambda one: (len(one), sorted(one)))[:MOST_FITS]:
        inside = tuple(area if fit <= group else 0 for area, fit in zip(areas, fits, strict=True))
        rows.append(_area_row(task, inside, group, "fit"))
    return rows


def function_rows(task: Task) -> list[Row]:
    """Return the best rows that pairs of dual feasible functions give, for each full sheet size."""
    rows: list[Row] = []
    for at, stock in enumerate(task.stocks):
        if stock.is_full:
            rows.extend(_rows_on(task, at))
    return rows


def crowd_row(task: Task) -> Row:
    """Return a row for the largest blanks of which no two come out of one sheet, alike or not."""
    kinds = sorted(
        (i for i, blank in enumerate(task.blanks) if blank.count),
        key=lambda i: -task.blanks[i].area,
    )
    chosen: set[int] = set()
    for kind in kinds:
        if any(_share(task, kind, other) for other in (*chosen, kind)):
            break
        chosen.add(kind)
    weights = tuple(int(i in chosen) for i in range(len(task.blanks)))
    return Row(weights, (1,) * len(task.stocks), _total(task, weights), "crowd")


def _share(task: Task, one: int, other: int) -> bool:
    """Whether two blanks can come from one sheet of any stock."""
    for at, stock in enumerate(task.stocks):
        for w, h in task.blanks[one].sides(at):
            for v, g in task.blanks[other].sides(at):
                if w + v <= stock.wide or h + g <= stock.high:
                    return True
    return False


def _area_row(task: Task, weights: tuple[int, ...], group: frozenset[int], why: str) -> Row:
    capacity = tuple(stock.area if at in group else 0 for at, stock in enumerate(task.stocks))
    return Row(weights, capacity, _total(task, weights), why)


def _total(task: Task, weights: Sequence[int]) -> int:
    return sum(n.count * weight for n, weight in zip(task.blanks, weights, strict=True))


def _fits(ways: tuple[int, ...]) -> frozenset[int]:
    return frozenset(stock for stock, way in enumerate(ways) if way)


def _rows_on(task: Task, at: int) -> list[Row]:
    """Return rows from functions made for one stock's width and height."""
    stock = task.stocks[at]
    across, up = _lengths(task, at)
    if not across:
        return []
    wide = _Axis(stock.wide, across)
    high = _Axis(stock.high, up)
    pairs = _promising(task, at, wide, high)
    return [
        row
        for first, second, mirrored in pairs
        if (row := _row(task, at, (wide, first), (high, second), mirrored)) is not None
    ]


def _lengths(task: Task, at: int) -> tuple[dict[int, int], dict[int, int]]:
    """Return the lengths blanks can have along each side of one stock, with how many have them."""
    across: dict[int, int] = {}
    up: dict[int, int] = {}
    for blank in task.blanks:
        if blank.count:
            for width, height in set(blank.sides(at)):
                across[width] = across.get(width, 0) + blank.count
                up[height] = up.get(height, 0) + blank.count
    return across, up


class _Axis:
    """One side of a stock, the lengths that lie along it, and its functions."""

    def __init__(self, run: int, lengths: dict[int, int]) -> None:
        self.run = run
        self.lengths = tuple(sorted(lengths))
        self.place = {length: i for i, length in enumerate(self.lengths)}
        counts = tuple(lengths[length] for length in self.lengths)
        self.functions = measures(run, self.lengths, counts)
        self.table = np.array(
            [[value / one.whole for value in one.values] for one in self.functions]
        )


def _promising(
    task: Task, at: int, wide: _Axis, high: _Axis
) -> list[tuple[Measure, Measure, bool]]:
    """Return the pairs of functions that seem to give the most, plain and mirrored.

    Floating point only chooses here; what is chosen is worked out again in whole numbers.
    """
    kinds = [blank for blank in task.blanks if blank.count and blank.ways[at]]
    counts = np.array([float(blank.count) for blank in kinds])
    fixed = [blank.sides(at)[0] for blank in kinds]
    lying = [blank.sides(at)[-1] for blank in kinds]
    one = wide.table[:, [wide.place[w] for w, _ in fixed]]
    two = high.table[:, [high.place[h] for _, h in fixed]]
    plain = (one * counts) @ two.T
    turning = fixed != lying
    square = task.stocks[at].wide == task.stocks[at].high
    found: list[tuple[float, int, int, bool]] = []
    if turning:
        one_lying = wide.table[:, [wide.place[w] for w, _ in lying]]
        two_lying = high.table[:, [high.place[h] for _, h in lying]]
        if square:
            found.extend(_top((plain + (one_lying * counts) @ two_lying.T) / 2, mirrored=True))
        plain = np.array(
            [
                np.minimum(row * two, row_lying * two_lying) @ counts
                for row, row_lying in zip(one, one_lying, strict=True)
            ]
        )
    found.extend(_top(plain, mirrored=False))
    return [(wide.functions[i], high.functions[j], mirrored) for _, i, j, mirrored in found]


def _top(scores: NDArray[np.float64], *, mirrored: bool) -> list[tuple[float, int, int, bool]]:
    flat = np.round(scores.ravel(), 9)
    order = np.argsort(-flat, kind="stable")[:KEPT_PAIRS]
    columns = scores.shape[1]
    return [(float(flat[k]), int(k) // columns, int(k) % columns, mirrored) for k in order]


def _row(
    task: Task,
    at: int,
    across: tuple[_Axis, Measure],
    up: tuple[_Axis, Measure],
    mirrored: bool,
) -> Row | None:
    """Return the row of one pair of functions, or None where other stocks cannot be measured."""
    wide, high = across[1], up[1]
    f = dict(zip(across[0].lengths, wide.values, strict=True))
    g = dict(zip(up[0].lengths, high.values, strict=True))
    weights = []
    for blank in task.blanks:
        sides = {side for other in range(len(task.stocks)) for side in blank.sides(other)}
        if not sides or any(w not in f or h not in g for w, h in sides):
            # It can lie in a way that this stock does not allow, so it counts for nothing.
            weights.append(0)
        elif mirrored:
            w, h = blank.wide, blank.high
            known = f.keys() >= {w, h} <= g.keys()
            weights.append(f[w] * g[h] + f[h] * g[w] if known else 0)
        else:
            weights.append(min(f[w] * g[h] for w, h in sides))
    capacity = []
    for other, stock in enumerate(task.stocks):
        if other == at:
            most = wide.whole * high.whole
            capacity.append(2 * most if mirrored else most)
            continue
        held = _held(stock, across, up, mirrored)
        if held is None:
            return None
        capacity.append(held)
    return Row(tuple(weights), tuple(capacity), _total(task, weights), "functions")


def _held(
    stock: Stock, across: tuple[_Axis, Measure], up: tuple[_Axis, Measure], mirrored: bool
) -> int | None:
    """Return what another stock carries under a pair of functions."""
    sides = [(stock.wide, stock.high), (stock.high, stock.wide)][: 2 if mirrored else 1]
    total = 0
    for width, height in sides:
        product = 1
        for run, (axis, measure) in ((width, across), (height, up)):
            if run * len(axis.lengths) > LONGEST_SUMS:
                return None
            product *= greatest(run, axis.lengths, measure.values)
        total += product
    return total


def best_of(task: Task, rows: Sequence[Row]) -> int | None:
    """Return the least that satisfies all rows, or None where the stock cannot."""
    return least(rows, costs_of(task), limits_of(task))


def strongest(task: Task, rows: Sequence[Row], kept: int) -> list[Row]:
    """Return the rows that bound most on their own, the first ones given among equals."""
    alone = [best_of(task, [row]) for row in rows]
    order = sorted(range(len(rows)), key=lambda i: (alone[i] is not None, -(alone[i] or 0), i))
    return [rows[i] for i in order[:kept]]
