"""What sheets give of the sizes a studio sells: the whole table, and each entry as a plan."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from sheetcut.answers.margins import MarginStep, margin_steps
from sheetcut.answers.money import sheet_price
from sheetcut.answers.turning import ways_to_lie
from sheetcut.job import Job, Piece, Sheet, blank_size, reading_step
from sheetcut.layout import Answer, Bound, Candidate, Part, Plan
from sheetcut.nest.gives import sheet_gives
from sheetcut.plan import plan_from
from sheetcut.units import Length


@dataclass(frozen=True, slots=True)
class SheetGives:
    """What one sheet of the drawer gives of one size.

    Attributes:
        count: the most pieces from one sheet, exactly, by edge-to-edge cuts.
        grid: the most in a plain grid.
        tree: how the sheet is cut to give them; its blanks are of order line 0.
        cost: paper for one piece where the whole sheet is cut into it, in cents; None where
            the sheet has no price, is an offcut, or gives none.
        steps: the margin steps of the finished size with equal margins.
    """

    sheet: Sheet
    count: int
    grid: int
    tree: Part
    cost: Fraction | None
    steps: tuple[MarginStep, ...] = ()


@dataclass(frozen=True, slots=True)
class SizeGives:
    """What every sheet gives of one size that is sold: a row of the table."""

    piece: Piece
    blank: tuple[Length, Length]
    sheets: tuple[SheetGives, ...]


def gives_table(job: Job, pieces: Iterable[Piece]) -> tuple[SizeGives, ...]:
    """Return what each sheet of the drawer gives of each size, on the paper of each piece."""
    rows = []
    for piece in pieces:
        step = reading_step(job, piece.paper)
        sheets = tuple(given(job, sheet, piece) for sheet in job.sheets_of(piece.paper))
        rows.append(SizeGives(piece, blank_size(piece, step), sheets))
    return tuple(rows)


def given(job: Job, sheet: Sheet, piece: Piece, *, with_steps: bool = False) -> SheetGives:
    """Return what one sheet gives of a piece, turned as its rule and the grain allow."""
    step = reading_step(job, piece.paper)
    blank = blank_size(piece, step)
    found = max(
        (
            sheet_gives(sheet, *blank, step=step, ways=one)
            for one in ways_to_lie(piece.turn, sheet.grain)
        ),
        key=lambda gives: gives.count,
    )
    price = sheet_price(sheet)
    steps = (
        margin_steps(sheet, piece.width, piece.height, step=step, turn=piece.turn)
        if with_steps
        else ()
    )
    return SheetGives(
        sheet=sheet,
        count=found.count,
        grid=found.grid,
        tree=found.tree,
        cost=price / found.count if price is not None and found.count else None,
        steps=steps,
    )


def shown(job: Job, piece: Piece, gives: SheetGives) -> Plan | None:
    """Return one sheet cut into as many of a size as it gives, as a plan to draw; None for none.

    The plan has passed its check like any other.
    """
    if not gives.count:
        return None
    sheet = replace(gives.sheet, kind="full", on_hand=1)
    alone = replace(job, sheets=(sheet,), pieces=(replace(piece, count=gives.count),))
    paper = replace(job.paper(piece.paper), aim="fewest sheets")
    bound = Bound("sheets", 1, "anything at all takes a sheet")
    answer = Answer(paper.name, "fewest sheets", (Candidate(((sheet.id, gives.tree),)),), bound)
    return plan_from(replace(alone, papers=(paper,)), [answer])
