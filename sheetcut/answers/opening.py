"""Opening cost: what a plan costs more because one more line is in it.

Both plans have one supply: what is on hand, and the supposed full sheets that the plan with
the line needs. A plan with the line, without its blanks, is a plan without it: so the plan
without starts from the plan with, and the cost is never less than nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from sheetcut.answers.supply import (
    Effort,
    Supplied,
    bound_with_more,
    fits_a_sheet,
    laid_out,
    question,
    supplied,
)
from sheetcut.answers.trees import without_line
from sheetcut.if_room import with_line
from sheetcut.job import Job, Piece
from sheetcut.layout import Candidate
from sheetcut.units import Cents


@dataclass(frozen=True, slots=True)
class Opening:
    """What one more order line adds to the cash spent.

    Attributes:
        cost: cash with the line less cash without, in cents; None where a price is not known.
        sheets: full sheets with the line less full sheets without.
        supposed: full sheets beyond those on hand that the plan with the line needs, by id.
        with_line, without_line: both answers, from one supply.
    """

    cost: Cents | None
    sheets: int
    supposed: Mapping[str, int]
    with_line: Supplied
    without_line: Supplied

    @property
    def proved(self) -> bool:
        """Whether both plans are proved, so that the cost is exact."""
        return self.with_line.proved and self.without_line.proved


def opening(
    job: Job, piece: Piece, *, present: Supplied | None = None, effort: Effort | None = None
) -> Opening | None:
    """Return what a piece not yet ordered would add; None where it cannot be cut at all.

    Args:
        present: the plan of this paper from what is on hand, if there is one already.
    """
    # Only what the plans take is asked for, not how well they are cut.
    effort = replace(effort or Effort(), tidy=False)
    before = question(job, piece.paper)
    line = len(before.pieces)
    asked = replace(before, pieces=(*before.pieces, piece))
    if not fits_a_sheet(asked, piece):
        return None
    if present is not None and present.job != before:
        present = None  # another aim than cash, so it is no plan to start from
    after = _beside(asked, present) or supplied(asked, effort)
    if after.answer.short:
        return None
    seeds = [without_line(after.trees, line)]
    if present is not None and not present.answer.short:
        seeds.append(present.trees)
    without = laid_out(replace(after.job, pieces=before.pieces), effort, seeds=seeds)
    in_cash = after.job.papers[0].aim == "least cost"
    return Opening(
        cost=after.value - without.value if in_cash else None,
        sheets=after.full_sheets - without.full_sheets,
        supposed=after.supposed,
        with_line=after,
        without_line=without,
    )


def _beside(asked: Job, present: Supplied | None) -> Supplied | None:
    """Return the present plan with the new line in what it leaves over, if it has the room.

    No plan with the line can cost less than the least without it, so where the present plan
    is proved this one is too, and nothing needs to be searched for.
    """
    if present is None or present.answer.short or not present.proved:
        return None
    trees = with_line(asked, present.trees, len(asked.pieces) - 1)
    if trees is None:
        return None
    bound = bound_with_more(present.answer.bound)
    answer = replace(present.answer, candidates=(Candidate(trees),), bound=bound, notes=())
    return replace(present, job=asked, answer=answer)
