"""What the paper in one piece costs, four ways, with everything to decide on while quoting it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction

from sheetcut.answers.given import SheetGives, given
from sheetcut.answers.margins import (
    MarginStep,
    Smaller,
    smaller_margin,
    smaller_sizes,
    step_of,
)
from sheetcut.answers.money import area_cost, rounded_up, usual_sheet
from sheetcut.answers.opening import Opening, opening
from sheetcut.answers.room import Room, room_left
from sheetcut.answers.supply import Effort, Supplied, laid_out, question
from sheetcut.errors import SheetcutError
from sheetcut.job import (
    NO_EDGES,
    Job,
    Kind,
    Piece,
    Turn,
    Unit,
    aim_for,
    blank_size,
    reading_step,
)
from sheetcut.layout import Plan
from sheetcut.units import Cents, Edges, Length

QUOTED = "quote"

QUICK = Effort(rounds=20_000, seconds=4)  # somebody waits for an answer while quoting


class PaperNotThere(SheetcutError):
    """A paper was asked for that has no sheet in the drawer."""

    def __init__(self, paper: str, papers: tuple[str, ...]) -> None:
        self.paper = paper
        there = f"name one of {', '.join(papers)}" if papers else "put its sheets in first"
        super().__init__(f'the drawer has no sheet of the paper "{paper}"; {there}')


@dataclass(frozen=True, slots=True)
class Charging:
    """How a studio makes a charge out of a cost.

    Attributes:
        hours, rate: work on one piece, and cents for an hour; nothing where no rate is set.
        mark_up: what the paper's cost is multiplied by.
        round_up_to: the charge is a whole number of these.
    """

    hours: Fraction = Fraction(0)
    rate: Cents | None = None
    mark_up: Fraction = Fraction(1)
    round_up_to: Cents = 1

    def charge(self, paper: Fraction) -> Cents:
        """Return what to charge for a piece whose paper costs so much.

        >>> Charging(round_up_to=50).charge(Fraction(1520, 4))
        400
        """
        return rounded_up(paper * self.mark_up + self.hours * (self.rate or 0), self.round_up_to)


@dataclass(frozen=True, slots=True)
class Quote:
    """Everything there is to say of a size that is not yet ordered; costs are for one piece.

    Attributes:
        blank: the size that is cut, whole reading steps.
        sheets: what every sheet of the paper gives, in drawer order, with margin steps.
        usual: the one of them that the size is costed by; None where no priced sheet gives any.
        one_size_cost: a full sheet's price over what it gives.
        area_cost: the blank's area at the full sheet's price; waste left out, so always too low.
        paper_share: what it would carry of the present plan's cash; it moves with the plan.
        opening: what the plan costs more with all ``count`` of them in it; None where they
            cannot be cut.
        charge: the one clear figure, for one piece.
        step: the margin step it lies in, on the usual sheet; None with unequal margins.
        smaller_margin, smaller_sizes: the nearest that give one more from the usual sheet.
        room: how many the present plan's leftovers give as they are.
        present: the plan of this paper without it; None where nothing is ordered on it.
    """

    piece: Piece
    blank: tuple[Length, Length]
    sheets: tuple[SheetGives, ...]
    usual: SheetGives | None
    one_size_cost: Fraction | None
    area_cost: Fraction | None
    paper_share: Fraction | None
    opening: Opening | None
    charge: Cents | None
    step: MarginStep | None
    smaller_margin: Smaller | None
    smaller_sizes: tuple[Smaller, ...]
    room: Room | None
    present: Plan | None
    currency: str = ""
    charging: Charging = field(default_factory=Charging)

    @property
    def total(self) -> Cents | None:
        """The charge for all of them."""
        return None if self.charge is None else self.charge * self.piece.count


def quote(
    job: Job,
    piece: Piece,
    *,
    charging: Charging | None = None,
    present: Supplied | None = None,
    effort: Effort | None = None,
) -> Quote:
    """Return the quote for a piece that is not in the job.

    Args:
        present: ``present_answer`` of the same job and paper, where it is known already.

    Raises:
        PaperNotThere: if the drawer has no sheet of its paper.
    """
    sheets = job.sheets_of(piece.paper)
    if not sheets:
        raise PaperNotThere(piece.paper, tuple(dict.fromkeys(one.paper for one in job.sheets)))
    charging, effort = charging or Charging(), effort or QUICK
    step = reading_step(job, piece.paper)
    gives = tuple(given(job, sheet, piece, with_steps=True) for sheet in sheets)
    usual = _usual(gives)
    present = present or present_answer(job, piece.paper, effort)
    plan = present.plan() if present else None
    cost = usual.cost if usual else None
    return Quote(
        piece=piece,
        blank=blank_size(piece, step),
        sheets=gives,
        usual=usual,
        one_size_cost=cost,
        area_cost=area_cost(piece.asked_area, usual.sheet) if usual else None,
        paper_share=share_of(plan, piece) if plan else None,
        opening=opening(job, piece, present=present, effort=effort),
        charge=None if cost is None else charging.charge(cost),
        step=step_of(usual.steps, piece.margin.left)
        if usual and len(set(piece.margin)) == 1
        else None,
        smaller_margin=smaller_margin(usual.sheet, piece, step=step) if usual else None,
        smaller_sizes=smaller_sizes(usual.sheet, piece, step=step) if usual else (),
        room=room_left(plan, [piece])[0] if plan else None,
        present=plan,
        currency=job.currency,
        charging=charging,
    )


def quoted_piece(
    job: Job,
    width: Length,
    height: Length,
    *,
    paper: str = "",
    kind: Kind = "drawing",
    margin: Edges = NO_EDGES,
    count: int = 1,
    turn: Turn = "yes",
    unit: Unit = "mm",
) -> Piece:
    """Return the order line that a quote is asked for.

    Args:
        width, height: the finished size; of a print, its image, as in a table of orders.
        paper: the first that something of this kind is ordered on where empty, else the first
            in the drawer.
        margin: round a finished size, or a print's borders round its image.
    """
    taken = {piece.order for piece in job.pieces}
    order = next(
        name for n in range(len(taken) + 1) if (name := QUOTED + str(n or "")) not in taken
    )
    ordered = [piece.paper for piece in job.pieces if piece.kind == kind]
    paper = paper or next(iter([*ordered, *(sheet.paper for sheet in job.sheets)]), "")
    piece = Piece(
        order, "", paper, width, height, count=count, kind=kind, turn=turn, margin=margin, unit=unit
    )
    if kind != "print":
        return piece
    size = piece.asked_width, piece.asked_height
    return replace(piece, width=size[0], height=size[1], border=margin, margin=NO_EDGES)


def present_answer(job: Job, paper: str, effort: Effort | None = None) -> Supplied | None:
    """Return the plan of one paper as the studio's aim has it; None where nothing is ordered."""
    asked = question(job, paper)
    if not asked.pieces:
        return None
    # The studio's own aim, which may be fewer sheets although all prices are known.
    known = replace(asked.papers[0], aim=aim_for(job, paper))
    return laid_out(replace(asked, papers=(known,)), effort or QUICK)


def share_of(plan: Plan, piece: Piece) -> Fraction | None:
    """Return what one piece carries of a plan's cash, at the plan's cash for its blank area.

    The area that shares are worked out by is finished size and asked margins. None where the
    cash is not known or the plan holds nothing on this paper.
    """
    paper = next((one for one in plan.papers if one.paper == piece.paper), None)
    if paper is None or paper.cost is None:
        return None
    pieces = plan.job.pieces
    area = sum(
        layout.copies * pieces[place.piece].asked_area
        for layout in paper.layouts
        for place in layout.placements
        if not pieces[place.piece].if_room
    )
    return Fraction(paper.cost * piece.asked_area, area) if area else None


def _usual(gives: tuple[SheetGives, ...]) -> SheetGives | None:
    """Return what the usual sheet gives, of those that give any."""
    sheet = usual_sheet(one.sheet for one in gives if one.count)
    return next((one for one in gives if one.sheet is sheet), None) if sheet else None
