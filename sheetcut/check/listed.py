"""Certificates of the form "listing 1": what a cheaper plan's sheets could hold, tried in full.

A plan for less than the bound would leave every sheet of it little to lose: under each row of
weights it carries at least what is left when all that the rest of the money buys carries its
most. All sets of blanks that carry so much and can be cut from a sheet are worked out again
here, each in every way, and then every choice among them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product
from typing import Any

from sheetcut.check.case import PaperCase
from sheetcut.check.weights import (
    NO_ROWS,
    WeightRow,
    cost_of,
    overstated,
    rows_in,
    sheets_to_cut,
)
from sheetcut.job import Sheet, Turn, blank_size, reading_step, ways

FORM = "listing 1"
QUICK_STEPS = 400_000  # about a third of a second
DEEPEST = 300  # sheets of the cheapest kind that the budget may buy

Counts = tuple[int, ...]
Shape = tuple[int, int]
"""Width and height of a rectangle in whole steps."""


class TooLongError(Exception):
    """Working it out again would take longer than a check may."""


@dataclass(frozen=True, slots=True)
class _Blank:
    """Blanks alike in all that matters.

    Attributes:
        turn: the turn rule of their order lines.
        weights: under each row.
        count: how many are ordered.
    """

    width: int
    height: int
    turn: Turn
    weights: tuple[int, ...]
    count: int

    @property
    def area(self) -> int:
        """In square steps."""
        return self.width * self.height

    def rate(self, row: int) -> float:
        """Return less, the more it weighs for its area."""
        return -self.weights[row] / self.area


def listing_faults(case: PaperCase, certificate: dict[str, Any]) -> Iterator[str]:
    """Yield what is wrong with a certificate of a listing, as far as that is soon seen."""
    yield from patient_faults(case, certificate, QUICK_STEPS) or ()


def patient_faults(
    case: PaperCase, certificate: dict[str, Any], most_steps: int
) -> list[str] | None:
    """Return what is wrong with a certificate of a listing; None if that takes too long to say."""
    try:
        return list(_faults(case, certificate, most_steps))
    except TooLongError:
        return None


def _faults(case: PaperCase, certificate: dict[str, Any], most_steps: int) -> Iterator[str]:
    rows = rows_in(certificate.get("rows"))
    if rows is None:
        yield NO_ROWS
        return
    sheets = sheets_to_cut(case)
    wrong = overstated(case, rows, sheets)
    if wrong:
        yield wrong
        return
    if _Listing(case, rows, sheets, most_steps).can_be_cheaper():
        yield "sheets that cost less than the bound can hold all blanks"


class _Listing:
    """All sets for all sheets, and the search for a choice among them."""

    def __init__(
        self,
        case: PaperCase,
        rows: Sequence[WeightRow],
        sheets: Sequence[Sheet],
        most_steps: int,
    ) -> None:
        self.steps = 0
        self.most_steps = most_steps
        self.step = reading_step(case.plan.job, case.where)
        self.sheets = tuple(sheets)
        self.costs = [cost_of(case, sheet) for sheet in sheets]
        self.capacity = [[row.capacity[sheet.id] for sheet in sheets] for row in rows]
        self.blanks = _blanks(case, rows, self.step)
        self.rooms = [_room(sheet, self.step) for sheet in sheets]
        self.lying = [tuple(_lying(blank, sheet) for blank in self.blanks) for sheet in sheets]
        # For each row, the places of blanks with most weight for their area first.
        self.orders = [
            sorted(range(len(self.blanks)), key=lambda i: self.blanks[i].rate(row))
            for row in range(len(rows))
        ]
        self.budget = case.paper.bound.value - 1
        self.carried: dict[tuple[int, int], int] = {}
        self.shapes: dict[tuple[Any, ...], dict[Counts, list[Shape]]] = {}

    def took(self, steps: int) -> None:
        """Count steps."""
        self.steps += steps
        if self.steps > self.most_steps:
            raise TooLongError

    def can_be_cheaper(self) -> bool:
        """Whether sheets for less than the bound hold all blanks."""
        if self.budget > DEEPEST * min((cost for cost in self.costs if cost), default=1):
            raise TooLongError
        wanted = tuple(blank.count for blank in self.blanks)
        return self._covers(wanted, self.budget, [sheet.on_hand for sheet in self.sheets])

    @cached_property
    def lists(self) -> list[tuple[int, Counts]]:
        """Every set worth having, with the place of its sheet."""
        return [(at, counts) for at in range(len(self.sheets)) for counts in self._sets(at)]

    def _most(self, row: int, budget: int) -> int:
        """Return the most weight that sheets bought for some money carry."""
        if (row, budget) not in self.carried:
            self.took(1)
            self.carried[row, budget] = max(
                (
                    most + self._most(row, budget - cost)
                    for most, cost in zip(self.capacity[row], self.costs, strict=True)
                    if 0 < cost <= budget
                ),
                default=0,
            )
        return self.carried[row, budget]

    def _free(self, row: int) -> int | None:
        """Return what sheets that cost nothing carry; None where there is no end to them."""
        total = 0
        for most, cost, sheet in zip(self.capacity[row], self.costs, self.sheets, strict=True):
            if cost == 0 and most and sheet.on_hand is None:
                return None
            if cost == 0:
                total += most * (sheet.on_hand or 0)
        return total

    def _needs(self, at: int) -> list[int]:
        """Return what a sheet must carry under each row."""
        needs = []
        for row in range(len(self.capacity)):
            free = self._free(row)
            if free is None:
                needs.append(0)
                continue
            if self.costs[at] == 0:
                free -= self.capacity[row][at]
            total = sum(blank.weights[row] * blank.count for blank in self.blanks)
            needs.append(total - free - self._most(row, self.budget - self.costs[at]))
        return needs

    def _sets(self, at: int) -> Iterator[Counts]:
        """Yield what one sheet can hold that carries enough, the largest sets only."""
        if self.costs[at] > self.budget:
            return
        needs = self._needs(at)
        todo: list[tuple[int, Counts]] = [(0, (0,) * len(self.blanks))]
        while todo:
            place, counts = todo.pop()
            self.took(1 + len(needs) * len(self.blanks) // 4)
            if not self._may_carry(at, counts, place, needs):
                continue
            if place == len(self.blanks):
                if not any(self._fits(at, more) for more in self._one_more(counts)):
                    yield counts
                continue
            for n in range(self.blanks[place].count + 1):
                more = (*counts[:place], n, *counts[place + 1 :])
                if not self._fits(at, more):
                    break
                todo.append((place + 1, more))

    def _may_carry(self, at: int, counts: Counts, place: int, needs: Sequence[int]) -> bool:
        """Whether blanks from a place on may add what a set lacks, going by area alone."""
        wide, high = self.rooms[at]
        room = wide * high - sum(
            n * one.width * one.height for n, one in zip(counts, self.blanks, strict=True)
        )
        for row, need in enumerate(needs):
            lack = need - sum(n * b.weights[row] for n, b in zip(counts, self.blanks, strict=True))
            if lack > 0 and lack > self._most_in(room, place, row):
                return False
        return True

    def _most_in(self, room: int, start: int, row: int) -> int:
        """Return the most weight of blanks from a place on that an area takes, the last in part."""
        total = 0
        for place in self.orders[row]:
            if place < start:
                continue
            blank = self.blanks[place]
            if blank.area * blank.count > room:
                return total + -(-blank.weights[row] * room // blank.area)
            total += blank.weights[row] * blank.count
            room -= blank.area * blank.count
        return total

    def _one_more(self, counts: Counts) -> Iterator[Counts]:
        for place, n in enumerate(counts):
            if n < self.blanks[place].count:
                yield (*counts[:place], n + 1, *counts[place + 1 :])

    def _fits(self, at: int, counts: Counts) -> bool:
        """Whether a set can be cut from a sheet."""
        if not any(counts):
            return True
        self.took(1 + len(counts) // 8)
        known = self.shapes.setdefault((self.lying[at], self.rooms[at]), {})
        return bool(self._shapes(known, at, counts))

    def _shapes(
        self,
        known: dict[Counts, list[Shape]],
        at: int,
        counts: Counts,
    ) -> list[Shape]:
        """Return the least rectangles within a sheet that a set can be cut from."""
        if counts in known:
            return known[counts]
        found: set[Shape] = set()
        if sum(counts) == 1:
            found.update(self.lying[at][counts.index(1)])
        elif all(self._shapes(known, at, less) for less in _one_less(counts)):
            for part, rest in _parts(counts):
                one = self._shapes(known, at, part)
                other = self._shapes(known, at, rest)
                self.took(1 + len(counts) // 3 + len(one) * len(other))
                for (w, h), (v, g) in product(one, other):
                    found.add((w + v, max(h, g)))
                    found.add((max(w, v), h + g))
        known[counts] = _least(found, self.rooms[at])
        return known[counts]

    def _covers(self, wanted: Counts, budget: int, left: Sequence[int | None]) -> bool:
        """Whether a choice of listed sets within a budget holds what is still wanted."""
        if not any(wanted):
            return True
        self.took(len(self.blanks))
        for row in range(len(self.capacity)):
            free = self._free(row)
            if free is not None and free + self._most(row, budget) < sum(
                n * blank.weights[row] for n, blank in zip(wanted, self.blanks, strict=True)
            ):
                return False
        self.took(len(self.lists))
        choices = [
            [one for one in self.lists if one[1][place]] if n else None
            for place, n in enumerate(wanted)
        ]
        fewest = min((one for one in choices if one is not None), key=len)
        for at, counts in fewest:
            stock = left[at]
            if self.costs[at] > budget or stock == 0:
                continue
            fewer = [n if n is None or i != at else n - 1 for i, n in enumerate(left)]
            rest = tuple(max(0, n - m) for n, m in zip(wanted, counts, strict=True))
            if self._covers(rest, budget - self.costs[at], fewer):
                return True
        return False


def _blanks(case: PaperCase, rows: Sequence[WeightRow], step: int) -> list[_Blank]:
    """Return all blanks ordered, those with most weight for their area first."""
    found: dict[_Blank, int] = {}
    for number, n in case.ordered.items():
        piece = case.plan.job.pieces[number]
        width, height = (side // step for side in blank_size(piece, step))
        weights = tuple(row.weights.get(piece.order, 0) for row in rows)
        alike = _Blank(width, height, piece.turn, weights, 0)
        found[alike] = found.get(alike, 0) + n
    blanks = [replace(alike, count=n) for alike, n in found.items()]
    return sorted(blanks, key=lambda one: one.rate(0))


def _room(sheet: Sheet, step: int) -> Shape:
    return sheet.usable_width // step, sheet.usable_height // step


def _lying(blank: _Blank, sheet: Sheet) -> tuple[Shape, ...]:
    """Return width and height for each way a blank may lie on a sheet."""
    return tuple(
        (blank.height, blank.width) if turned else (blank.width, blank.height)
        for turned in ways(blank.turn, sheet.grain)
    )


def _one_less(counts: Counts) -> Iterator[Counts]:
    for place, n in enumerate(counts):
        if n:
            yield (*counts[:place], n - 1, *counts[place + 1 :])


def _parts(counts: Counts) -> Iterator[tuple[Counts, Counts]]:
    """Yield every way to part a set in two."""
    for part in product(*(range(n + 1) for n in counts)):
        rest = tuple(n - m for n, m in zip(counts, part, strict=True))
        if any(part) and part <= rest:
            yield part, rest


def _least(shapes: set[Shape], room: Shape) -> list[Shape]:
    """Return those within a room that are not larger than another."""
    found: list[Shape] = []
    for wide, high in sorted(shapes):
        if wide <= room[0] and high <= room[1] and (not found or high < found[-1][1]):
            found.append((wide, high))
    return found
