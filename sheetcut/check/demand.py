"""Whether everything ordered is in the plan, once, or owned to be short for a true reason."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from sheetcut.check.blanks import blank_as_it_lies, way_allowed
from sheetcut.check.case import LayoutCase, PlanCase, PlanCheck, named
from sheetcut.errors import Fault
from sheetcut.job import Piece, Sheet, reading_step


def own_paper(case: LayoutCase) -> Iterator[Fault]:
    """A piece lies on the paper it was ordered on."""
    for placement in case.layout.placements:
        piece = case.piece(placement)
        if piece.paper != case.paper.paper:
            yield case.fault(f"{named(piece, placement)} is ordered on {piece.paper}")


def all_there(case: PlanCase) -> Iterator[Fault]:
    """The pieces placed and those said to be short are the pieces ordered.

    Of a line that is cut only if there is room any number may be, and none is ever short.
    """
    placed, short = _placed(case), _short(case)
    for number, piece in enumerate(case.plan.job.pieces):
        if piece.if_room:
            wrong = placed[number] > piece.count or short[number] > 0
        else:
            wrong = placed[number] + short[number] != piece.count
        if wrong:
            yield Fault(
                f"{piece.order} {piece.label}".strip(),
                f"{piece.count} ordered; the plan cuts {placed[number]} and says that "
                f"{short[number]} are short",
            )


def short_for_a_reason(case: PlanCase) -> Iterator[Fault]:
    """What is said to be short truly finds no sheet, or no sheet left."""
    cut = sum((paper.sheets_cut for paper in case.papers), Counter[str]())
    for short in case.plan.short:
        piece = case.plan.job.pieces[short.piece]
        if piece.turn == "alike" or piece.deckles:
            continue  # what else lies in the plan, or which edge is free, may stand against it
        for sheet in case.plan.job.sheets_of(piece.paper):
            left = None if sheet.on_hand is None else sheet.on_hand - cut[sheet.id]
            if sheet.on_hand == 0 or not _fits(case, piece, sheet):
                continue
            where = f"{piece.order} {piece.label}".strip()
            if short.why == "fits no sheet":
                yield Fault(where, f"is said to fit no sheet; it fits {sheet.title}")
                break
            if left is None or left > 0:
                number = "any number" if left is None else left
                yield Fault(
                    where, f"is said to be short of paper; {number} of {sheet.title} are left"
                )
                break


DEMAND_CHECKS: tuple[PlanCheck, ...] = (all_there, short_for_a_reason)


def _placed(case: PlanCase) -> Counter[int]:
    return sum((paper.placed for paper in case.papers), Counter[int]())


def _short(case: PlanCase) -> Counter[int]:
    short: Counter[int] = Counter()
    for one in case.plan.short:
        short[one.piece] += one.count
    return short


def _fits(case: PlanCase, piece: Piece, sheet: Sheet) -> bool:
    step = reading_step(case.plan.job, piece.paper)
    loss = sheet.edge_loss
    width = sheet.width - loss.left - loss.right
    height = sheet.height - loss.top - loss.foot
    for turned in (False, True):
        blank = blank_as_it_lies(piece, step, turned=turned)
        allowed = way_allowed(piece.turn, sheet.grain, turned=turned)
        if allowed and blank[0] <= width and blank[1] <= height:
            return True
    return False
