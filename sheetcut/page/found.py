"""What there is to say of a plan beyond its layouts: what would save a sheet, what to buy."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from sheetcut.answers.shopping import PaperShort, Shopping
from sheetcut.answers.terms import to_buy
from sheetcut.drawer.tables import money_text
from sheetcut.errors import SheetcutError
from sheetcut.job import Job
from sheetcut.layout import Plan
from sheetcut.printout import money
from sheetcut.printout.bought import makes_text, packs_text
from sheetcut.printout.further import room_of, savings_of
from sheetcut.read import Settings

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
    return tuple(room_of(plan, settings)) if settings.sizes_sold else ()


def _savings(plan: Plan, settings: Settings, tell: Callable[[str], None]) -> Iterator[Found]:
    short = {plan.job.pieces[one.piece].paper for one in plan.short}
    for paper in plan.papers:
        if paper.paper not in short:
            tell(f"looking for what would save a sheet of {paper.paper}")
            lines = list(savings_of(plan, paper, settings.unit))
            yield {"paper": paper.paper, "lines": lines}


def _buying(job: Job, settings: Settings) -> Found:
    found, too_large = to_buy(job, settings)
    titles = {sheet.id: sheet.title for sheet in job.sheets}
    purchase = found.purchase
    none = "not set" if settings.trading.carriage == ((0, 0),) else "free"
    fee = money(purchase.carriage, job.currency) if purchase.carriage else none
    return {
        "too_large": [piece.order for piece in too_large],
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


def _over(found: Shopping, titles: dict[str, str]) -> Iterator[str]:
    """Yield what comes over and above what is short, and what it would make."""
    for name, n in found.purchase.surplus.items():
        yield f"{n} × {titles[name]}{makes_text(found, name)}"


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
