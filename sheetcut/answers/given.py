"""What sheets give of the sizes a studio sells: the whole table, and each entry as a plan."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from sheetcut.answers.margins import MarginStep, margin_steps
from sheetcut.answers.money import sheet_price
from sheetcut.answers.turning import ways_to_lie
from sheetcut.job import NO_EDGES, Job, Kind, Piece, Sheet, blank_size, reading_step
from sheetcut.layout import Answer, Bound, Candidate, Part, Plan
from sheetcut.nest.gives import sheet_gives
from sheetcut.plan import plan_from
from sheetcut.read import Size
from sheetcut.units import Edges, Length, in_inch, in_mm, inch_text


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


def price_list(
    job: Job,
    sizes: Iterable[Size],
    *,
    margin: Edges = NO_EDGES,
    kind: Kind = "drawing",
    papers: Iterable[str] | None = None,
) -> tuple[Piece, ...]:
    """Return the sizes sold as pieces, paper by paper, each named as its size was typed.

    Args:
        margin: round every size; of a print its borders, the size being its image.
        papers: by name; None for every paper in the drawer.
    """
    there = dict.fromkeys(sheet.paper for sheet in job.sheets) if papers is None else papers
    around, within = (NO_EDGES, margin) if kind == "print" else (margin, NO_EDGES)
    sizes = tuple(sizes)
    return tuple(
        Piece(
            order=_size_name(size),
            label=_size_name(size),
            paper=paper,
            width=size.width + within.across,
            height=size.height + within.up,
            kind=kind,
            margin=around,
            border=within,
            unit=size.unit,
        )
        for paper in there
        for size in sizes
    )


def _size_name(size: Size) -> str:
    """Return a size's name, or its two sides in inches where the ruler marks them, else in mm."""
    if size.name:
        return size.name
    sides = size.width, size.height
    if size.unit == "in" and all(64 % in_inch(side).denominator == 0 for side in sides):
        return f"{inch_text(size.width)} x {inch_text(size.height)} in"
    return f"{in_mm(size.width)} x {in_mm(size.height)}"


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
