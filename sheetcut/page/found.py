"""What there is to say of a plan beyond its layouts: what would save a sheet, what to buy."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from sheetcut.answers.buying import Bought, Carriage
from sheetcut.answers.given import price_list
from sheetcut.answers.room import room_left
from sheetcut.answers.saving import savings
from sheetcut.answers.shopping import PaperShort, Shopping, shopping
from sheetcut.answers.supply import Effort, fits_a_sheet, question
from sheetcut.drawer.tables import money_text
from sheetcut.errors import SheetcutError
from sheetcut.job import Job, reading_step
from sheetcut.layout import Plan
from sheetcut.printout import money
from sheetcut.printout.further import room_lines, saving_lines
from sheetcut.read import Settings
from sheetcut.units import Edges

SECONDS = 5.0  # for what would save a sheet of one paper
MAKES_TOLD = 4

Found = dict[str, Any]
"""Plain words and numbers, as they go from one process to the other."""


def found_of(plan: Plan, settings: Settings, *, tell: Callable[[str], None]) -> Found:
    """Return what would save a sheet of each paper, and what to buy where paper is short.

    It is searched for, which takes seconds for each paper.
    """
    buying = None
    if plan.short:
        tell("looking for the cheapest way to buy what is short")
        try:
            buying = _buying(plan.job, settings)
        except SheetcutError as error:
            buying = {"refused": str(error)}
    return {
        "code": plan.code,
        "buying": buying,
        "savings": list(_savings(plan, settings, tell)),
    }


def room_in(plan: Plan, settings: Settings) -> tuple[str, ...]:
    """Return what sizes sold still come out of a plan's leftovers, a line for each paper."""
    if not settings.sizes_sold:
        return ()
    margin = settings.usual_margins.get("drawing", Edges())
    papers = [paper.paper for paper in plan.papers]
    sold = price_list(plan.job, settings.sizes_sold, margin=margin, papers=papers)
    return tuple(room_lines(plan, room_left(plan, sold)))


def _savings(plan: Plan, settings: Settings, tell: Callable[[str], None]) -> Iterator[Found]:
    short = {plan.job.pieces[one.piece].paper for one in plan.short}
    for paper in plan.papers:
        if paper.paper in short:
            continue
        tell(f"looking for what would save a sheet of {paper.paper}")
        found = savings(plan.job, paper.paper, effort=Effort(rounds=400, seconds=SECONDS))
        in_cash = question(plan.job, paper.paper).papers[0].aim == "least cost"
        lines = saving_lines(
            found,
            plan.job.currency,
            in_cash=in_cash,
            step=reading_step(plan.job, paper.paper),
            unit=settings.unit,
        )
        yield {"paper": paper.paper, "lines": list(lines)}


def _buying(job: Job, settings: Settings) -> Found:
    margin = settings.usual_margins.get("drawing", Edges())
    found = shopping(
        job,
        sold=price_list(job, settings.sizes_sold, margin=margin),
        carriage=Carriage(settings.trading.carriage),
    )
    titles = {sheet.id: sheet.title for sheet in job.sheets}
    purchase = found.purchase
    none = "not set" if settings.trading.carriage == ((0, 0),) else "free"
    fee = money(purchase.carriage, job.currency) if purchase.carriage else none
    return {
        "too_large": [piece.order for piece in job.pieces if not fits_a_sheet(job, piece)],
        "rows": [
            {
                "sheet": line.offer.sheet,
                "title": titles[line.offer.sheet],
                "packs": packs_text(line),
                "sheets": line.sheets,
                "paid": money_text(line.cost),
                "cost": money(line.cost, job.currency),
            }
            for line in purchase.lines
        ],
        "carriage": fee,
        "in_all": money(purchase.cost, job.currency),
        "over": list(_over(found, titles)),
        "choices": [_choices(one, titles, job.currency) for one in found.papers],
    }


def packs_text(line: Bought) -> str:
    """Return how something is bought.

    >>> from sheetcut.answers.buying import Offer
    >>> packs_text(Bought(Offer("A", 5, 7600), 2))
    '2 packs of 5'
    """
    if line.offer.is_break:
        return f"{line.number} at the price from {line.offer.count} up"
    if line.offer.count == 1:
        return "a single sheet" if line.number == 1 else f"{line.number} single sheets"
    packs = "a pack" if line.number == 1 else f"{line.number} packs"
    return f"{packs} of {line.offer.count}"


def _over(found: Shopping, titles: dict[str, str]) -> Iterator[str]:
    """Yield what comes over and above what is short, and what it would make."""
    for name, n in found.purchase.surplus.items():
        makes = [one for one in found.makes if one.gives.sheet.id == name]
        said = ", or ".join(f"{one.count} of {one.piece.label}" for one in makes[:MAKES_TOLD])
        yield f"{n} × {titles[name]}" + (f"; would make {said}" if said else "")


def _choices(paper: PaperShort, titles: dict[str, str], currency: str) -> Found:
    """Return the sheets that would do for what is short, the cheapest first."""
    rows = [
        {
            "sheets": " and ".join(f"{n} × {titles[name]}" for name, n in one.sheets.items()),
            "cost": money(one.cost, currency),
            "is_chosen": one is paper.chosen,
        }
        for one in paper.choices
    ]
    return {"paper": paper.paper, "rows": rows}
