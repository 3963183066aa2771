"""After the knife: a plan's sheets go down, its keepers come up, its blanks are on the table."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sheetcut.drawer.as_cut import AsCut, Cutting, Done, plan_key
from sheetcut.drawer.booking import Sheets, blank_shares
from sheetcut.drawer.history import Change
from sheetcut.drawer.needs import changes_since
from sheetcut.drawer.refusals import NotHeld, PlanOutOfDate, WrongAmount, layouts_text
from sheetcut.drawer.store import Store
from sheetcut.drawer.tables import counted, money_text
from sheetcut.layout import Plan


def cut_plan(
    store: Store, plan: Plan, *, now: datetime, as_cut: Sequence[AsCut] | None = None
) -> Done:
    """Book a plan, or some of its layouts, as cut: all in one change.

    Args:
        as_cut: the layouts that were cut, and how; None for all not cut yet, as planned.

    Raises:
        AlreadyCut: if a layout was cut before.
        PlanOutOfDate: if its own sheets or order lines are no longer what they were.
    """
    with store.changing(now) as change:
        return _booked(change, plan, as_cut)


def try_cut(
    store: Store, plan: Plan, *, now: datetime, as_cut: Sequence[AsCut] | None = None
) -> Done:
    """Return what ``cut_plan`` would do, and change nothing; it is refused alike."""
    with store.trying(now) as change:
        return _booked(change, plan, as_cut)


def _booked(change: Change, plan: Plan, as_cut: Sequence[AsCut] | None) -> Done:
    cutting = Cutting(change, plan)
    told = [AsCut(number) for number in cutting.to_cut()] if as_cut is None else as_cut
    if not told:
        raise WrongAmount(f"plan {plan.code}", "no layout is named", "name one to be cut")
    copies = [(one, cutting.copies(one)) for one in told]
    _refuse_out_of_date(cutting, copies)
    shares = blank_shares(plan)
    for one, numbers in copies:
        Sheets(cutting, shares, one, numbers).book()
    cutting.done.says = _sentence(cutting, told)
    change.says = cutting.done.says
    change.notices += cutting.done.notices
    return cutting.done


def hold(store: Store, plan: Plan, *, now: datetime, layouts: Sequence[int] | None = None) -> str:
    """Note that layouts are pinned up to be cut: the rest can be planned again around them.

    Raises:
        AlreadyCut, PlanOutOfDate: as for a cut.
    """
    with store.changing(now) as change:
        cutting = Cutting(change, plan)
        held = cutting.to_cut() if layouts is None else list(layouts)
        copies = [(AsCut(number), cutting.copies(AsCut(number))) for number in held]
        _refuse_out_of_date(cutting, copies)
        for one, own in copies:
            for copy in own:
                if (one.layout, copy) not in cutting.known:
                    change.add("sheet_cut", cutting.sheet_row(one, copy, "held"))
        change.says = f"Pinned up: plan {plan.code}, {layouts_text(held)}"
    return change.says


def release(
    store: Store, plan: Plan, *, now: datetime, layouts: Sequence[int] | None = None
) -> str:
    """Take layouts down again without cutting them.

    Raises:
        NotHeld: if a layout is not pinned up.
    """
    key = plan_key(plan)
    with store.changing(now) as change:
        rows = change.all("sheet_cut", plan=key, state="held")
        wanted = sorted({row["layout"] for row in rows}) if layouts is None else list(layouts)
        for number in wanted or [1]:
            own = [row for row in rows if row["layout"] == number]
            if not own:
                raise NotHeld(plan.code, number)
            for row in own:
                change.remove("sheet_cut", row["id"])
        change.says = f"Taken down: plan {plan.code}, {layouts_text(wanted)}"
    return change.says


@dataclass(frozen=True, slots=True)
class LayoutState:
    """How far the sheets of one layout are: so many to cut, pinned up, and cut."""

    layout: int
    to_cut: int
    held: int
    cut: int


def layout_states(store: Store, plan: Plan, *, key: str | None = None) -> tuple[LayoutState, ...]:
    """Return for each layout of a plan how many of its sheets are cut or pinned up.

    Args:
        key: the plan's own, where it is known already; None to work it out.
    """
    with store.reading() as rows:
        own = rows.all("sheet_cut", plan=key or plan_key(plan))
    states = Counter((row["layout"], row["state"]) for row in own)
    return tuple(
        LayoutState(
            number,
            layout.copies - states[number, "held"] - states[number, "cut"],
            states[number, "held"],
            states[number, "cut"],
        )
        for number, layout in enumerate(plan.layouts, start=1)
    )


def _refuse_out_of_date(cutting: Cutting, copies: Sequence[tuple[AsCut, list[int]]]) -> None:
    code, numbers = cutting.plan.code, [one.layout for one, _ in copies]
    if len(set(numbers)) < len(numbers):
        raise WrongAmount(
            f"plan {code}", f"{layouts_text(numbers)}: one stands there twice", "name each once"
        )
    changes = list(changes_since(cutting, copies))
    if changes:
        good: list[tuple[AsCut, list[int]]] = []
        for one in copies:
            if not any(changes_since(cutting, [*good, one])):
                good.append(one)
        raise PlanOutOfDate(code, changes, [told.layout for told, _ in good])


def _sentence(cutting: Cutting, told: Sequence[AsCut]) -> str:
    done = cutting.done
    sheets = ", ".join(f"{n} x {name}" for name, n in done.sheets.items())
    layouts = layouts_text([one.layout for one in told])
    says = f"Cut plan {cutting.plan.code}, {layouts}: {sheets}"
    says += f"; {counted(done.blanks, 'blank')}"
    if done.spoiled:
        says += f", {done.spoiled} spoiled"
    if done.keepers:
        says += f"; back into the drawer: {', '.join(done.keepers)}"
    if done.cost is not None:
        says += f"; paper {money_text(done.cost)}"
    return says
