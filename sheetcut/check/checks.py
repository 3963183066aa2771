"""All checks as plain data, and the one function that runs them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

from sheetcut.check.blanks import BLANK_CHECKS, lies_alike
from sheetcut.check.bound import BOUND_CHECKS
from sheetcut.check.case import (
    LayoutCase,
    LayoutCheck,
    PaperCase,
    PaperCheck,
    PlanCase,
    PlanCheck,
)
from sheetcut.check.demand import DEMAND_CHECKS, own_paper
from sheetcut.check.geometry import GEOMETRY_CHECKS
from sheetcut.check.keepers import KEEPER_CHECKS, TWIN_CHECKS, names_stand_once
from sheetcut.check.knife import KNIFE_CHECKS
from sheetcut.check.money import MONEY_CHECKS
from sheetcut.check.sound import layout_troubles, paper_troubles, plan_troubles
from sheetcut.check.squaring import SQUARING_CHECKS
from sheetcut.check.stock import STOCK_CHECKS
from sheetcut.check.trueness import TRUENESS_CHECKS
from sheetcut.check.waste import WASTE_CHECKS
from sheetcut.errors import Fault
from sheetcut.job import Sheet
from sheetcut.layout import Layout, PaperPlan, Plan

LAYOUT_CHECKS: tuple[LayoutCheck, ...] = (
    *GEOMETRY_CHECKS,
    *TRUENESS_CHECKS,
    own_paper,
    *BLANK_CHECKS,
    *SQUARING_CHECKS,
    *KNIFE_CHECKS,
    *KEEPER_CHECKS,
    *WASTE_CHECKS,
)
PAPER_CHECKS: tuple[PaperCheck, ...] = (
    *TWIN_CHECKS,
    *STOCK_CHECKS,
    *MONEY_CHECKS,
    *BOUND_CHECKS,
)
PLAN_CHECKS: tuple[PlanCheck, ...] = (*DEMAND_CHECKS, lies_alike, names_stand_once)
CHECKS = (*LAYOUT_CHECKS, *PAPER_CHECKS, *PLAN_CHECKS)

Case = TypeVar("Case")


def faults_in(plan: Plan) -> tuple[Fault, ...]:
    """Return everything that is wrong with a plan, or nothing.

    Names and numbers come first: what they rule out is not looked at further, neither a
    layout by itself nor the sums it would go into.
    """
    faults = list(plan_troubles(plan))
    whole = not faults
    papers: list[PaperCase] = []
    for paper in plan.papers:
        found, case = _paper(plan, paper)
        faults.extend(found)
        if case is None:
            whole = False
        else:
            papers.append(case)
    if whole:
        faults.extend(_run_all(PLAN_CHECKS, PlanCase(plan, tuple(papers))))
    return tuple(faults)


def _paper(plan: Plan, paper: PaperPlan) -> tuple[list[Fault], PaperCase | None]:
    """Return one paper's faults, and its case if all of it can be relied on."""
    faults = list(paper_troubles(plan, paper))
    sound = not faults
    sheets = {sheet.id: sheet for sheet in plan.job.sheets}
    before: Counter[str] = Counter()
    cases: list[LayoutCase] = []
    for layout in paper.layouts:
        sheet = sheets.get(layout.sheet)
        where = _where(paper, layout, sheet, before[layout.sheet] + 1)
        troubles = [Fault(where, words) for words in layout_troubles(plan, layout)]
        if sheet is None or troubles:
            faults.extend(troubles)
            sound = False
            before[layout.sheet] += 1
            continue
        before[layout.sheet] += layout.copies
        case = LayoutCase(plan, paper, layout, sheet, where)
        cases.append(case)
        faults.extend(_run_all(LAYOUT_CHECKS, case))
    if not sound:
        return faults, None
    whole = PaperCase(plan, paper, tuple(cases))
    faults.extend(_run_all(PAPER_CHECKS, whole))
    return faults, whole


def _where(paper: PaperPlan, layout: Layout, sheet: Sheet | None, number: int) -> str:
    title = sheet.title if sheet else layout.sheet
    return f"{paper.paper}, {title}, sheet {number}"


def _run_all(checks: Iterable[Callable[[Case], Iterator[Fault]]], case: Case) -> Iterator[Fault]:
    for check in checks:
        yield from check(case)
