"""All checks as plain data, and the one function that runs them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator
from typing import TypeVar

from sheetcut.check.alternatives import (
    ALTERNATIVE_CHECKS,
    as_plan,
    gives_the_same,
    strips_only,
    takes_no_more,
)
from sheetcut.check.blanks import BLANK_CHECKS, lies_alike
from sheetcut.check.bound import BOUND_CHECKS, bound_is_not_beaten
from sheetcut.check.case import (
    LayoutCase,
    LayoutCheck,
    PaperCase,
    PaperCheck,
    PlanCase,
    PlanCheck,
)
from sheetcut.check.certificate import bound_again
from sheetcut.check.demand import DEMAND_CHECKS, own_paper
from sheetcut.check.geometry import GEOMETRY_CHECKS
from sheetcut.check.keepers import KEEPER_CHECKS, TWIN_CHECKS, names_stand_once
from sheetcut.check.knife import KNIFE_CHECKS
from sheetcut.check.money import MONEY_CHECKS
from sheetcut.check.sound import layout_troubles, paper_troubles, plan_troubles
from sheetcut.check.squaring import SQUARING_CHECKS
from sheetcut.check.stock import STOCK_CHECKS, enough_on_hand
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
    *ALTERNATIVE_CHECKS,
)
OTHER_CHECKS: tuple[PaperCheck, ...] = (*TWIN_CHECKS, enough_on_hand, bound_is_not_beaten)
"""What holds for the sheets of an alternative taken by themselves."""
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
        for number, case in enumerate(papers):
            faults.extend(_alternatives(papers, number, case))
    return tuple(faults)


def _alternatives(papers: list[PaperCase], number: int, chosen: PaperCase) -> Iterator[Fault]:
    """Yield what is wrong with one paper's alternatives, each put in the place of its plan."""
    for one in chosen.paper.alternatives:
        known = {case.layout for case in chosen.layouts}
        faults, cases = _layouts(chosen.plan, as_plan(chosen.paper, one.layouts), known)
        yield from (_in_alternative(one.kind, fault) for fault in faults)
        if cases is None:
            continue
        paper = PaperCase(chosen.plan, as_plan(chosen.paper, one.layouts), tuple(cases))
        whole = PlanCase(chosen.plan, (*papers[:number], paper, *papers[number + 1 :]))
        found = (
            *_run_all(OTHER_CHECKS, paper),
            *takes_no_more(chosen, paper),
            *gives_the_same(chosen, paper),
            *strips_only(paper, one.kind),
            *_run_all((lies_alike, names_stand_once), whole),
        )
        yield from (_in_alternative(one.kind, fault) for fault in found)


def _in_alternative(kind: str, fault: Fault) -> Fault:
    return Fault(f"{fault.where}, {kind}", fault.message)


def bounds_again(plan: Plan) -> tuple[tuple[Fault, ...], tuple[str, ...]]:
    """Return what is wrong with the bounds of a sound plan, and the papers left on trust.

    It takes its time over them; the check of every plan does not. On trust is a bound that
    brings no working, or whose working would take too long even so.
    """
    faults: list[Fault] = []
    trusted: list[str] = []
    for paper in plan.papers:
        case = _paper(plan, paper)[1]
        if case is None:
            continue
        messages, done = bound_again(case)
        faults.extend(case.fault(message) for message in messages)
        if not done:
            trusted.append(paper.paper)
    return tuple(faults), tuple(trusted)


def _paper(plan: Plan, paper: PaperPlan) -> tuple[list[Fault], PaperCase | None]:
    """Return one paper's faults, and its case if all of it can be relied on."""
    faults = list(paper_troubles(plan, paper))
    found, cases = _layouts(plan, paper, set())
    if faults or cases is None:
        return [*faults, *found], None
    whole = PaperCase(plan, paper, tuple(cases))
    return [*found, *_run_all(PAPER_CHECKS, whole)], whole


def _layouts(
    plan: Plan, paper: PaperPlan, known: Collection[Layout]
) -> tuple[list[Fault], list[LayoutCase] | None]:
    """Return the faults of layouts, and their cases if all of them can be relied on.

    Args:
        known: layouts that were looked at before.
    """
    faults: list[Fault] = []
    sound = True
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
        if layout not in known:
            faults.extend(_run_all(LAYOUT_CHECKS, case))
    return faults, cases if sound else None


def _where(paper: PaperPlan, layout: Layout, sheet: Sheet | None, number: int) -> str:
    title = sheet.title if sheet else layout.sheet
    return f"{paper.paper}, {title}, sheet {number}"


def _run_all(checks: Iterable[Callable[[Case], Iterator[Fault]]], case: Case) -> Iterator[Fault]:
    for check in checks:
        yield from check(case)
