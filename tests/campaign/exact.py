"""The least that a small paper can be cut from, from the definition alone: every way is tried.

Nothing here is shared with the engine. A set of blanks can be cut edge to edge out of a
rectangle if one cut parts it into two sets that can be cut out of the two parts; so the boxes
that hold a set are those of its two parts side by side or one above the other, over all ways
to part it. The sheets are then a cover of all blanks, found by trying every one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from itertools import product

from sheetcut.job import Job, Piece, Sheet, aim_for, reading_step

Box = tuple[int, int]

ENDLESS = 99


@dataclass(frozen=True, slots=True)
class Blank:
    """One blank in whole steps, as written; ``line`` is the place of its order line."""

    line: int
    width: int
    height: int


def least(job: Job, paper: str, counts: dict[int, int], *, offcuts: bool = True) -> int | None:
    """Return the least cash or full sheets for so many of each line; None if they cannot be cut.

    Args:
        offcuts: whether offcuts may be spent, which costs nothing.
    """
    step = reading_step(job, paper)
    blanks = [
        Blank(
            line,
            -(-job.pieces[line].asked_width // step),
            -(-job.pieces[line].asked_height // step),
        )
        for line, n in sorted(counts.items())
        for _ in range(n)
    ]
    rows = [
        sheet
        for sheet in job.sheets_of(paper)
        if sheet.on_hand != 0 and (offcuts or sheet.kind == "full")
    ]
    alike = sorted({one.line for one in blanks if job.pieces[one.line].turn == "alike"})
    found = []
    for ways in product(("grain up", "grain across"), repeat=len(alike)):
        decided = dict(zip(alike, ways, strict=True))
        pieces = tuple(
            replace(piece, turn=decided.get(n, piece.turn)) for n, piece in enumerate(job.pieces)
        )
        found.append(_least_of(job, pieces, paper, blanks, rows, step))
    return min((one for one in found if one is not None), default=None)


def _least_of(
    job: Job,
    pieces: tuple[Piece, ...],
    paper: str,
    blanks: list[Blank],
    rows: list[Sheet],
    step: int,
) -> int | None:
    by_cost = aim_for(job, paper) == "least cost"
    fits = [_sets_that_fit(pieces, blanks, row, step) for row in rows]
    prices = [0 if row.kind == "offcut" else (row.price or 0) if by_cost else 1 for row in rows]
    whole = (1 << len(blanks)) - 1

    @cache
    def cheapest(left: int, stock: tuple[int, ...]) -> int | None:
        if not left:
            return 0
        first = left & -left
        best: int | None = None
        for n, price in enumerate(prices):
            if not stock[n]:
                continue
            rest = tuple(one - (k == n and one < ENDLESS) for k, one in enumerate(stock))
            taken = left
            while taken:  # every set of what is left that has the first blank in it
                if taken & first and taken in fits[n]:
                    more = cheapest(left & ~taken, rest)
                    if more is not None and (best is None or price + more < best):
                        best = price + more
                taken = (taken - 1) & left
        return best

    stock = tuple(ENDLESS if row.on_hand is None else min(row.on_hand, len(blanks)) for row in rows)
    return cheapest(whole, stock)


def _sets_that_fit(
    pieces: tuple[Piece, ...], blanks: list[Blank], sheet: Sheet, step: int
) -> frozenset[int]:
    """Return the sets of blanks, a bit for each, that can be cut from one sheet."""
    wide, high = sheet.usable_width // step, sheet.usable_height // step
    boxes: dict[int, list[Box]] = {}
    for whole in range(1, 1 << len(blanks)):
        if whole & (whole - 1) == 0:
            blank = blanks[whole.bit_length() - 1]
            found = set(_ways(pieces[blank.line], blank, sheet))
        else:
            found = set()
            part = (whole - 1) & whole
            while part:
                if part < whole ^ part:  # each parting once
                    found |= _joined(boxes.get(part, []), boxes.get(whole ^ part, []))
                part = (part - 1) & whole
        inside = [box for box in found if box[0] <= wide and box[1] <= high]
        if inside:
            boxes[whole] = _smallest(inside)
    return frozenset(boxes)


def _joined(some: list[Box], others: list[Box]) -> set[Box]:
    beside = {(a + c, max(b, d)) for a, b in some for c, d in others}
    return beside | {(max(a, c), b + d) for a, b in some for c, d in others}


def _smallest(boxes: list[Box]) -> list[Box]:
    """Return the boxes that no other lies inside of."""
    kept: list[Box] = []
    for box in sorted(boxes):
        if not kept or box[1] < kept[-1][1]:
            kept.append(box)
    return kept


def _ways(piece: Piece, blank: Blank, sheet: Sheet) -> list[Box]:
    """Return how a blank may lie, by the words of the turn rules.

    ``yes`` is either way; ``no`` has its width along the sheet's width; with ``grain up`` the
    sheet's grain runs along its height, with ``grain across`` along its width. Where a sheet has
    no grain every rule is free; where it is not known, no line with a rule for it is cut.
    """
    upright, lying = (blank.width, blank.height), (blank.height, blank.width)
    if piece.turn == "no":
        return [upright]
    if piece.turn == "yes" or sheet.grain == "none":
        return [upright, lying]
    if sheet.grain == "not known":
        return []
    grain_is_upright = sheet.grain == "along height"
    wants_upright = piece.turn == "grain up"
    return [upright] if grain_is_upright == wants_upright else [lying]
