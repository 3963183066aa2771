"""Other plans for the same pieces, each of another kind, and the plan that one of them makes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import get_args

from sheetcut.errors import SheetcutError
from sheetcut.handling import Figures, figures_of
from sheetcut.job import Job, Preference
from sheetcut.layout import Alternative, PaperPlan, Plan
from sheetcut.plan import code_of, sound, with_layouts


class NoAlternative(SheetcutError):
    """A plan has no alternative of the kind that is asked for."""

    def __init__(self, plan: Plan, kind: Preference) -> None:
        self.kind = kind
        kinds = list(dict.fromkeys(one.kind for paper in plan.papers for one in paper.alternatives))
        there = f"name {' or '.join(kinds)}" if kinds else "it has none, so cut it as it is"
        super().__init__(f"plan {plan.code}: no alternative is {kind}; {there}")


@dataclass(frozen=True, slots=True)
class Other:
    """An alternative as a whole plan.

    Attributes:
        papers: the papers that are cut otherwise in it.
        figures: of all its sheets together.
        plan: ready to be drawn, written and cut; it has passed its check.
    """

    kind: Preference
    papers: tuple[str, ...]
    figures: Figures
    plan: Plan


def alternatives(plan: Plan) -> tuple[Other, ...]:
    """Return the alternatives of a plan, three at the most; none takes more sheets or cash."""
    return tuple(_other(plan, kind) for kind in get_args(Preference) if _papers(plan, kind))


def like(plan: Plan, kind: Preference) -> Plan:
    """Return a plan with the alternatives of one kind in place of what it had.

    A paper that has none of the kind stays as it is. What was chosen before becomes an
    alternative itself.

    Raises:
        NoAlternative: if no paper has one.
    """
    if not _papers(plan, kind):
        raise NoAlternative(plan, kind)
    papers = tuple(_with(plan.job, paper, kind) for paper in plan.papers)
    chosen = replace(plan, papers=papers)
    return sound(replace(chosen, code=code_of(chosen)))


def _other(plan: Plan, kind: Preference) -> Other:
    made = like(plan, kind)
    return Other(kind, _papers(plan, kind), figures_of(plan.job, made.layouts), made)


def _papers(plan: Plan, kind: Preference) -> tuple[str, ...]:
    return tuple(
        paper.paper for paper in plan.papers if any(one.kind == kind for one in paper.alternatives)
    )


def _with(job: Job, paper: PaperPlan, kind: Preference) -> PaperPlan:
    chosen = next((one for one in paper.alternatives if one.kind == kind), None)
    if chosen is None:
        return paper
    before = Alternative(paper.kind, paper.layouts)
    order = get_args(Preference)
    rest = sorted(
        (before, *(one for one in paper.alternatives if one is not chosen)),
        key=lambda one: order.index(one.kind),
    )
    made = with_layouts(job, paper, chosen.layouts)
    return replace(made, kind=kind, alternatives=tuple(rest))
