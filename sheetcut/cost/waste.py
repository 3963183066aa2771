"""Where each sheet goes: finished, margins, keepers and scrap, exactly."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from sheetcut.job import Job, Sheet
from sheetcut.layout import Keeper, Layout, PaperPlan, Placement, Plan, Waste
from sheetcut.units import in_mm2

WASTE_HEADINGS = (
    "paper",
    "sheet",
    "layout",
    "sheets",
    "measured mm2",
    "finished mm2",
    "margins mm2",
    "keepers mm2",
    "scrap mm2",
    "of scrap: edges mm2",
    "of margins: extra mm2",
    "scrap %",
    "keepers %",
    "paper cost",
)


def waste_of(
    job: Job, sheet: Sheet, placements: Iterable[Placement], keepers: Iterable[Keeper]
) -> Waste:
    """Return where one copy of a sheet goes, in square ticks.

    Margins are all of a blank that is not its finished size, so rounding and leave-ons count
    there; scrap is what nothing else claims, edge losses among it.
    """
    placements = tuple(placements)
    pieces = [job.pieces[placement.piece] for placement in placements]
    finished = sum(piece.width * piece.height for piece in pieces)
    asked = sum(piece.asked_area for piece in pieces)
    blanks = sum(placement.width * placement.height for placement in placements)
    kept = sum(keeper.width * keeper.height for keeper in keepers)
    return Waste(
        finished=finished,
        margins=blanks - finished,
        keepers=kept,
        scrap=sheet.area - blanks - kept,
        edges=sheet.area - sheet.usable_width * sheet.usable_height,
        extra=blanks - asked,
    )


def total_waste(layouts: Iterable[Layout]) -> Waste:
    """Return the sums over all copies of all layouts."""
    layouts = tuple(layouts)
    return Waste(
        finished=sum(layout.copies * layout.waste.finished for layout in layouts),
        margins=sum(layout.copies * layout.waste.margins for layout in layouts),
        keepers=sum(layout.copies * layout.waste.keepers for layout in layouts),
        scrap=sum(layout.copies * layout.waste.scrap for layout in layouts),
        edges=sum(layout.copies * layout.waste.edges for layout in layouts),
        extra=sum(layout.copies * layout.waste.extra for layout in layouts),
    )


def percent(part: int, whole: int) -> Decimal:
    """Return a share in per cent to one decimal, halves up.

    >>> percent(1, 3), percent(1, 16)
    (Decimal('33.3'), Decimal('6.3'))
    """
    share = Fraction(100 * part, whole)
    exact = Decimal(share.numerator) / Decimal(share.denominator)
    return exact.quantize(Decimal("0.1"), ROUND_HALF_UP)


def waste_rows(plan: Plan, titles: Sequence[str]) -> list[tuple[str, ...]]:
    """Return the waste table: a row for each layout, then for each paper, then for all.

    Args:
        titles: what each of ``plan.layouts`` is called, in the same order.
    """
    rows: list[tuple[str, ...]] = []
    names = iter(titles)
    for paper in plan.papers:
        for layout in paper.layouts:
            price = plan.sheet(layout.sheet).price if _is_full(plan, layout) else 0
            cash = None if price is None else price * layout.copies
            rows.append(_row(paper.paper, layout.sheet, next(names), [layout], cash))
        rows.append(_row(paper.paper, "all", "", paper.layouts, paper.cost))
    rows.append(_row("all papers", "all", "", plan.layouts, total_cost(plan.papers)))
    return rows


def total_cost(papers: Iterable[PaperPlan]) -> int | None:
    """Return the cash for all papers in cents, or None where one of them is not known."""
    costs = [paper.cost for paper in papers]
    return None if any(cost is None for cost in costs) else sum(cost or 0 for cost in costs)


def _is_full(plan: Plan, layout: Layout) -> bool:
    return plan.sheet(layout.sheet).kind == "full"


def _row(
    paper: str, sheet: str, title: str, layouts: Sequence[Layout], cash: int | None
) -> tuple[str, ...]:
    waste = total_waste(layouts)
    measured = sum(layout.copies * layout.width * layout.height for layout in layouts)
    areas = (measured, waste.finished, waste.margins, waste.keepers, waste.scrap)
    shares = [percent(part, measured) if measured else "" for part in (waste.scrap, waste.keepers)]
    return (
        paper,
        sheet,
        title,
        str(sum(layout.copies for layout in layouts)),
        *(str(in_mm2(area)) for area in (*areas, waste.edges, waste.extra)),
        *(str(share) for share in shares),
        "" if cash is None else f"{Decimal(cash) / 100:.2f}",
    )
