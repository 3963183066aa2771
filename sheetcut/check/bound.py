"""Whether the bound can be true, fits the aim, and is called proved only when it is met."""

from __future__ import annotations

from collections.abc import Iterator

from sheetcut.check.case import PaperCase, PaperCheck, cash, surface
from sheetcut.check.certificate import certificate_faults
from sheetcut.check.money import cash_spent
from sheetcut.errors import Fault
from sheetcut.job import aim_for
from sheetcut.layout import Measure


def bound_fits_the_aim(case: PaperCase) -> Iterator[Fault]:
    """The aim is the studio's, and the bound counts what the aim counts."""
    paper = case.paper
    full = [one for one in case.plan.job.sheets_of(paper.paper) if one.kind == "full"]
    priced = all(sheet.price is not None for sheet in full)
    asked = aim_for(case.plan.job, paper.paper)
    # Least cost can be asked for and not be had, where a full sheet has no price.
    if paper.aim != asked and priced:
        yield case.fault(f'the aim is given as "{paper.aim}"; the studio asks for "{asked}"')
    measure: Measure = "cost" if paper.aim == "least cost" else "sheets"
    if paper.bound.measure != measure:
        yield case.fault(f'the bound counts {paper.bound.measure}; the aim is "{paper.aim}"')


def bound_is_not_beaten(case: PaperCase) -> Iterator[Fault]:
    """A bound that this very plan beats is no bound."""
    value = _value(case)
    if value is not None and case.paper.bound.value > value:
        yield case.fault(
            f"no plan is said to need less than {_shown(case, case.paper.bound.value)}; "
            f"this one needs {_shown(case, value)}"
        )


def proved_when_met(case: PaperCase) -> Iterator[Fault]:
    """A plan is proved if it meets its bound, and only then."""
    value, bound = _value(case), case.paper.bound.value
    if case.paper.proved and value != bound:
        found = "a cost that is not known" if value is None else _shown(case, value)
        yield case.fault(f"called proved with {found}; the bound is {_shown(case, bound)}")
    if not case.paper.proved and value == bound:
        yield case.fault(f"not called proved, and it meets its bound of {_shown(case, bound)}")


def bound_has_a_reason(case: PaperCase) -> Iterator[Fault]:
    """Whoever buys the paper can read why."""
    if not case.paper.bound.reason.strip():
        yield case.fault("the bound comes without a reason")


def paper_for_all(case: PaperCase) -> Iterator[Fault]:
    """The sheets said to be used have at least the area of the pieces they give."""
    sheets = {sheet.id: sheet for sheet in case.plan.job.sheets}
    used = case.paper.sheets_used
    area = sum(sheets[name].width * sheets[name].height * n for name, n in used.items())
    needed = 0
    for number, n in case.placed.items():
        piece, margin = case.plan.job.pieces[number], case.plan.job.pieces[number].margin
        width = piece.width + margin.left + margin.right
        needed += n * width * (piece.height + margin.top + margin.foot)
    if needed > area:
        yield case.fault(f"the pieces need {surface(needed)}; the sheets used have {surface(area)}")


def certificate_holds(case: PaperCase) -> Iterator[Fault]:
    """A bound that brings its working is worked out again."""
    for message in certificate_faults(case):
        yield case.fault(message)


BOUND_CHECKS: tuple[PaperCheck, ...] = (
    bound_fits_the_aim,
    bound_has_a_reason,
    bound_is_not_beaten,
    proved_when_met,
    paper_for_all,
    certificate_holds,
)


def _value(case: PaperCase) -> int | None:
    """Return what the bound speaks of, counted from the layouts; None where not known."""
    if case.paper.bound.measure == "cost":
        return cash_spent(case)
    return sum(one.layout.copies for one in case.layouts if one.sheet.kind == "full")


def _shown(case: PaperCase, value: int) -> str:
    if case.paper.bound.measure == "cost":
        return cash(value)
    return f"{value} sheet{'' if value == 1 else 's'}"
