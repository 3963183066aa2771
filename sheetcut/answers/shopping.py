"""What is short, and the cheapest way to buy it: which sheets, in which packs, sent together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

from sheetcut.answers.buying import Carriage, Offer, Purchase, cheapest, offers_of
from sheetcut.answers.given import SheetGives, given
from sheetcut.answers.supply import Effort, Supplied, laid_out, question, supplied
from sheetcut.job import Job, Piece
from sheetcut.layout import Short
from sheetcut.units import Cents

MOST_TOGETHER = 200  # ways of supplying all papers that are priced together


@dataclass(frozen=True, slots=True)
class Choice:
    """Sheets with which everything ordered on one paper can be cut.

    Attributes:
        sheets: by sheet id, how many are needed beyond those on hand.
        cost: what they cost bought alone, carriage included.
        answer: the plan that cuts them.
    """

    sheets: Mapping[str, int]
    cost: Cents
    answer: Supplied


@dataclass(frozen=True, slots=True)
class PaperShort:
    """One paper that runs out.

    Attributes:
        short: what the sheets on hand leave uncut; ``piece`` counts in ``pieces``.
        choices: the sheets that could be bought, the cheapest first: a mixture of sizes where
            that was found to take least, and each size alone where it will do.
        chosen: the one that is bought.
    """

    paper: str
    pieces: tuple[Piece, ...]
    short: tuple[Short, ...]
    choices: tuple[Choice, ...]
    chosen: Choice


@dataclass(frozen=True, slots=True)
class Makes:
    """What sheets that come over and above would give of one size: of one sheet, and of all."""

    piece: Piece
    gives: SheetGives
    sheets: int

    @property
    def count(self) -> int:
        """Pieces from all surplus sheets of this size."""
        return self.gives.count * self.sheets


@dataclass(frozen=True, slots=True)
class Shopping:
    """Everything to buy in one go.

    Attributes:
        papers: those that run out; nothing is to be bought where there are none.
        purchase: packs and carriage for all of them.
        makes: for each size sold, what the surplus would make.
    """

    papers: tuple[PaperShort, ...]
    purchase: Purchase
    makes: tuple[Makes, ...]


def shopping(
    job: Job,
    *,
    sold: Iterable[Piece] = (),
    offers: Iterable[Offer] | None = None,
    carriage: Carriage | None = None,
    effort: Effort | None = None,
) -> Shopping:
    """Return what to buy so that everything ordered can be cut, for the least in all.

    Which sheets are bought is chosen among the mixture that costs least sheet by sheet and
    every size alone; in which packs, and with what carriage, exactly.

    Args:
        sold: the studio's price list, each size as a piece on its paper, for the surplus.
        offers: how sheets are sold, where it is not as the drawer has it.

    Raises:
        NotForSale: if something is short and no price or pack is known.
    """
    # Only what the plans take is asked for, not how well they are cut.
    effort, carriage = replace(effort or Effort(), tidy=False), carriage or Carriage()
    known = _offers(job) if offers is None else tuple(offers)
    short = [
        found
        for paper in job.papers_ordered
        if (found := _short(job, paper, known, carriage, effort)) is not None
    ]
    chosen = _together(short, known, carriage)
    papers = tuple(
        PaperShort(one.paper, one.pieces, one.short, one.choices, choice)
        for one, choice in zip(short, chosen, strict=True)
    )
    purchase = cheapest(_needs(chosen), known, carriage)
    return Shopping(papers, purchase, tuple(_makes(job, purchase.surplus, sold)))


def _offers(job: Job) -> tuple[Offer, ...]:
    full = (sheet for sheet in job.sheets if sheet.kind == "full")
    return tuple(offer for sheet in full for offer in offers_of(sheet))


def _short(
    job: Job, paper: str, offers: Sequence[Offer], carriage: Carriage, effort: Effort
) -> PaperShort | None:
    """Return what is short on one paper with the ways to mend it, or None where nothing is."""
    asked = question(job, paper)
    if not asked.pieces:
        return None
    present = laid_out(asked, effort)
    if not present.answer.short:
        return None
    choices: dict[tuple[tuple[str, int], ...], Choice] = {}
    full = [sheet.id for sheet in asked.sheets if sheet.kind == "full"]
    for sizes in (None, *([name] for name in full)):
        answer = supplied(asked, effort, sizes=sizes)
        needs = tuple(sorted(answer.supposed.items()))
        if not answer.answer.short and needs and needs not in choices:
            cost = cheapest(answer.supposed, offers, carriage).cost
            choices[needs] = Choice(answer.supposed, cost, answer)
    ordered = tuple(sorted(choices.values(), key=lambda one: one.cost))
    if not ordered:
        return None
    return PaperShort(paper, asked.pieces, present.answer.short, ordered, ordered[0])


def _together(
    short: Sequence[PaperShort], offers: Sequence[Offer], carriage: Carriage
) -> tuple[Choice, ...]:
    """Return a choice for every paper, so that all of them bought together cost least."""
    ways = [one.choices for one in short]
    most = 1
    for at, choices in enumerate(ways):
        ways[at] = choices[: max(1, MOST_TOGETHER // most)]
        most *= len(ways[at])
    return min(
        product(*ways),
        key=lambda chosen: cheapest(_needs(chosen), offers, carriage).cost,
    )


def _needs(chosen: Iterable[Choice]) -> dict[str, int]:
    return {name: n for choice in chosen for name, n in choice.sheets.items()}


def _makes(job: Job, surplus: Mapping[str, int], sold: Iterable[Piece]) -> Iterator[Makes]:
    sheets = [sheet for sheet in job.sheets if sheet.id in surplus]
    for piece in sold:
        for sheet in sheets:
            if sheet.paper == piece.paper:
                gives = given(job, sheet, piece)
                if gives.count:
                    yield Makes(piece, gives, surplus[sheet.id])
