"""What an edition takes in sheets and cash, planned by itself with all that goes with it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sheetcut.answers.edition import Companion, Edition, EditionLines, edition_lines
from sheetcut.answers.supply import Effort, Supplied, question, supplied
from sheetcut.job import Job, Piece
from sheetcut.units import Cents


@dataclass(frozen=True, slots=True)
class EditionPlan:
    """An edition and how its paper is cut.

    Attributes:
        lines: the order lines it takes.
        papers: an answer for each paper the drawer has, the prints' own first. Sheets beyond
            those on hand are supposed, so they have to be bought.
        missing: papers of companions that the drawer has no sheet of.
        too_large: lines that no sheet is large enough for.
        share_of: how many prints the paper is paid by.
    """

    edition: Edition
    lines: EditionLines
    papers: tuple[Supplied, ...]
    missing: tuple[str, ...]
    too_large: tuple[Piece, ...]
    share_of: int

    @property
    def cost(self) -> Cents | None:
        """Cash for the prints' own paper; None where a price is not known."""
        return next((_cash(one) for one in self.papers if _is_for(one, self.lines.blanks)), None)

    @property
    def per_print(self) -> Fraction | None:
        """Paper in one print that is sold: proofs and spoilage are part of it."""
        return None if self.cost is None else Fraction(self.cost, self.share_of)

    @property
    def with_companions(self) -> Fraction | None:
        """The same with all companions; None where a price is not known or a line not cut."""
        costs = [_cash(one) for one in self.papers]
        if self.missing or self.too_large or None in costs:
            return None
        return Fraction(sum(cost or 0 for cost in costs), self.share_of)


def edition_plan(
    job: Job,
    edition: Edition,
    print_: Piece,
    companions: Iterable[Companion] = (),
    *,
    sold: int | None = None,
    effort: Effort | None = None,
) -> EditionPlan:
    """Return what an edition takes, apart from everything else that is ordered.

    Args:
        sold: how many are made now, for an edition that is printed on order; the paper is
            then paid by these alone.
    """
    lines = edition_lines(edition, print_, companions, sold=sold)
    alone = replace(job, pieces=lines.all)
    papers = list(dict.fromkeys(piece.paper for piece in lines.all))
    there = [paper for paper in papers if job.sheets_of(paper)]
    asked = [question(alone, paper) for paper in there]
    kept = {piece.order for one in asked for piece in one.pieces}
    return EditionPlan(
        edition=edition,
        lines=lines,
        papers=tuple(supplied(one, effort or Effort()) for one in asked if one.pieces),
        missing=tuple(paper for paper in papers if paper not in there),
        too_large=_too_large(lines.all, there, kept),
        share_of=edition.numbered if sold is None else sold,
    )


def _too_large(lines: Sequence[Piece], there: Sequence[str], kept: set[str]) -> tuple[Piece, ...]:
    return tuple(one for one in lines if one.paper in there and one.order not in kept)


def _is_for(answer: Supplied, piece: Piece) -> bool:
    return any(one.order == piece.order for one in answer.job.pieces)


def _cash(answer: Supplied) -> Cents | None:
    in_cash = answer.job.papers[0].aim == "least cost" and not answer.answer.short
    return answer.value if in_cash else None
