"""Certificates of the form "weights 1": blanks weighed, sheets filled, and the sheets counted.

Each row gives every order line a weight and every sheet the most it can carry. That is worked
out again here, by the plainest argument that does: area, blanks too large to share a sheet, or
a table of the best way to cut every rectangle. Then the least that satisfies all rows in whole
sheets is counted again.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from operator import add
from typing import Any

from sheetcut.check.case import PaperCase
from sheetcut.job import Sheet, blank_size, reading_step, ways

FORM = "weights 1"
NO_ROWS = "the bound's certificate is not written as rows of weights in whole numbers"
MOST_STEPS = 500_000  # of the count
TOO_LONG = "the bound's certificate takes too long to work out again"
"""Not that it is wrong: the bound then stands on trust, and who asks is told so."""

Weighed = tuple[int, int, int]
"""Width, height and weight of a blank as it may lie."""


@dataclass(frozen=True, slots=True)
class WeightRow:
    """What a row of a certificate says: weights by order, what each sheet carries at most."""

    weights: Mapping[str, int]
    capacity: Mapping[str, int]
    cells: tuple[int, int, int, int] | None


def weights_faults(case: PaperCase, certificate: dict[str, Any]) -> Iterator[str]:
    """Yield what is wrong with a certificate of weights."""
    rows = rows_in(certificate.get("rows"))
    if rows is None:
        yield NO_ROWS
        return
    sheets = sheets_to_cut(case)
    wrong = overstated(case, rows, sheets)
    if wrong:
        yield wrong
        return
    yield from _count_faults(case, rows, sheets)


def sheets_to_cut(case: PaperCase) -> list[Sheet]:
    """Return the sheets on hand that are a step of the ruler wide and high."""
    step = reading_step(case.plan.job, case.where)
    return [
        one
        for one in case.plan.job.sheets_of(case.where)
        if one.on_hand != 0 and min(one.usable_width, one.usable_height) >= step
    ]


def overstated(case: PaperCase, rows: Sequence[WeightRow], sheets: Sequence[Sheet]) -> str:
    """Return what rows say of a sheet that does not hold; empty where all of it does."""
    for row in rows:
        for sheet in sheets:
            most = row.capacity.get(sheet.id)
            if most is None:
                return f"the bound's certificate does not say what {sheet.id} carries"
            if not carries_at_most(case, row, sheet, most):
                return f"{sheet.id} can carry more than the bound's certificate says"
    return ""


def rows_in(found: object) -> list[WeightRow] | None:
    """Return the rows of a certificate, None if they are not whole numbers throughout."""
    if not isinstance(found, list) or not found:
        return None
    rows = []
    for one in found:
        if not isinstance(one, dict):
            return None
        weights, capacity = _counts(one.get("weights")), _counts(one.get("capacity"))
        cells = one.get("cells")
        if weights is None or capacity is None:
            return None
        if cells is not None and not (
            isinstance(cells, list) and len(cells) == 4 and all(_is_count(n) and n for n in cells)
        ):
            return None
        rows.append(WeightRow(weights, capacity, tuple(cells) if cells else None))
    return rows


def _counts(found: object) -> dict[str, int] | None:
    if isinstance(found, dict) and all(_is_count(n) for n in found.values()):
        return found
    return None


def _is_count(n: object) -> bool:
    return isinstance(n, int) and not isinstance(n, bool) and n >= 0


def carries_at_most(case: PaperCase, row: WeightRow, sheet: Sheet, most: int) -> bool:
    """Whether no way of cutting a sheet gives blanks of more weight."""
    step = reading_step(case.plan.job, case.where)
    room = sheet.usable_width // step, sheet.usable_height // step
    blanks = list(weighed(case, row, sheet))
    if all(weight * room[0] * room[1] <= most * w * h for w, h, weight in blanks):
        return True
    if most and max(weight for *_, weight in blanks) <= most and _none_share(blanks, room):
        return True
    if row.cells:
        across, up, run, rise = row.cells
        if room[0] > run or room[1] > rise:
            return False
        room = _in_cells(room[0], run, across), _in_cells(room[1], rise, up)
        blanks = [
            (_in_cells(w, run, across), _in_cells(h, rise, up), weight) for w, h, weight in blanks
        ]
    if any(not w or not h for w, h, _ in blanks):
        return False
    return greatest(room, blanks) <= most


def weighed(case: PaperCase, row: WeightRow, sheet: Sheet) -> Iterator[Weighed]:
    """Yield the blanks that weigh something, each way it may lie and fits, in whole steps."""
    step = reading_step(case.plan.job, case.where)
    for number in case.ordered:
        piece = case.plan.job.pieces[number]
        weight = row.weights.get(piece.order, 0)
        width, height = (side // step for side in blank_size(piece, step))
        for turned in ways(piece.turn, sheet.grain):
            w, h = (height, width) if turned else (width, height)
            if weight and w * step <= sheet.usable_width and h * step <= sheet.usable_height:
                yield w, h, weight


def _none_share(blanks: Sequence[Weighed], room: tuple[int, int]) -> bool:
    """Whether no two blanks, alike or not, come out of one sheet.

    Some do as soon as the narrowest fits beside another of its kind, or the lowest above one.
    """
    narrow, low = min(w for w, *_ in blanks), min(h for _, h, _ in blanks)
    return 2 * narrow > room[0] and 2 * low > room[1]


def _in_cells(side: int, run: int, cells: int) -> int:
    """Return a side in cells, rounded so that whatever fits the run fits its cells.

    With c cells to a run R, sides that add up to at most R have (c + 1) s / R that add up to at
    most c + 1; each rounded up and less one, they add up to at most c.
    """
    return -(-(cells + 1) * side // run) - 1


def greatest(room: tuple[int, int], blanks: Sequence[Weighed]) -> int:
    """Return the most weight that edge-to-edge cuts can take from a rectangle.

    Any blank may be taken any number of times. Cuts need only be tried at sums of sides (J. C.
    Herz, IBM Journal of Research and Development 16 (1972), 462-469).

    >>> greatest((5, 6), [(2, 3, 1), (3, 2, 1)])
    5
    """
    x = _sums(room[0], [w for w, *_ in blanks])
    y = _sums(room[1], [h for _, h, _ in blanks])
    y_rests = [_rests(y, j) for j in range(len(y))]
    rows: list[list[int]] = []
    for i, across in enumerate(x):
        row = [max((v for w, h, v in blanks if w <= across and h <= up), default=0) for up in y]
        if i:
            row = list(map(max, row, rows[i - 1]))
        for cut, rest in enumerate(_rests(x, i), start=1):
            row = list(map(max, row, map(add, rows[cut], rows[rest])))
        for j, rests in enumerate(y_rests):
            pairs = map(add, row[1 : len(rests) + 1], [row[rest] for rest in rests])
            row[j] = max(row[j], row[j - 1] if j else 0, *pairs)
        rows.append(row)
    return rows[-1][-1]


def _sums(run: int, sides: Sequence[int]) -> list[int]:
    """Return every sum of sides up to a run, 0 among them, in order."""
    found = {0}
    todo = [0]
    while todo:
        at = todo.pop()
        for side in set(sides):
            if at + side <= run and at + side not in found:
                found.add(at + side)
                todo.append(at + side)
    return sorted(found)


def _rests(sums: list[int], i: int) -> list[int]:
    """Return, for every cut up to the middle of a length, the place of what is left."""
    half = bisect_right(sums, sums[i] // 2)
    return [bisect_right(sums, sums[i] - sums[cut]) - 1 for cut in range(1, half)]


def _count_faults(
    case: PaperCase, rows: Sequence[WeightRow], sheets: Sequence[Sheet]
) -> Iterator[str]:
    """Yield a fault if sheets of less than the bound's value could satisfy every row."""
    pieces = case.plan.job.pieces
    needs = [
        sum(row.weights.get(pieces[number].order, 0) * n for number, n in case.ordered.items())
        for row in rows
    ]
    paid = []
    for sheet in sheets:
        cost = cost_of(case, sheet)
        carried = [row.capacity[sheet.id] for row in rows]
        if cost:
            paid.append((cost, carried, sheet.on_hand))
            continue
        for i, one in enumerate(carried):
            most = needs[i] if sheet.on_hand is None and one else one * (sheet.on_hand or 0)
            needs[i] -= min(needs[i], most)
    count = _Count(paid)
    if count.is_enough(needs, case.paper.bound.value - 1, 0):
        yield "sheets that cost less than the bound could satisfy its certificate"
    elif count.steps > MOST_STEPS:
        yield TOO_LONG


def cost_of(case: PaperCase, sheet: Sheet) -> int:
    """Return what one sheet adds to what the bound counts."""
    if sheet.kind != "full":
        return 0
    return 1 if case.paper.bound.measure == "sheets" else sheet.price or 0


class _Count:
    """Tries every number of each sheet that a budget allows."""

    def __init__(self, paid: Sequence[tuple[int, list[int], int | None]]) -> None:
        self.paid = paid
        self.steps = 0

    def is_enough(self, needs: Sequence[int], budget: int, at: int) -> bool:
        """Whether sheets from one place on satisfy all needs within a budget."""
        if all(need <= 0 for need in needs):
            return budget >= 0
        self.steps += 1
        if at == len(self.paid) or budget <= 0 or self.steps > MOST_STEPS:
            return False
        for i, need in enumerate(needs):
            # Even if the whole budget went where this weight is cheapest, would it do?
            if all(need * cost > budget * carried[i] for cost, carried, _ in self.paid[at:]):
                return False
        cost, carried, limit = self.paid[at]
        most = min(budget // cost, _enough(needs, carried))
        most = most if limit is None else min(limit, most)
        for n in range(most, -1, -1):
            if self.steps > MOST_STEPS:
                return False
            left = [need - n * one for need, one in zip(needs, carried, strict=True)]
            if self.is_enough(left, budget - n * cost, at + 1):
                return True
        return False


def _enough(needs: Sequence[int], carried: Sequence[int]) -> int:
    """Return the number of one sheet beyond which more of it satisfy no further need."""
    return max(-(-need // one) if one else 0 for need, one in zip(needs, carried, strict=True))
