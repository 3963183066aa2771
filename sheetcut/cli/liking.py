"""Which of the plans that cost the same: a kind as it is typed, and the plan of that kind."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sheetcut.cli.shown import WRONG, Shown

if TYPE_CHECKING:
    from sheetcut.job import Preference
    from sheetcut.layout import Plan

KINDS: tuple[Preference, ...] = ("quicker to cut", "better leftover", "strips only")


def kind_of(typed: str) -> Preference:
    """Return the kind that a word or the beginning of one means.

    >>> kind_of("strips"), kind_of("Better leftover")
    ('strips only', 'better leftover')
    """
    word = " ".join(typed.casefold().split())
    found = [kind for kind in KINDS if word and kind.startswith(word)]
    if len(found) != 1:
        raise Shown(f'--like: "{typed}" is no kind of plan; give {_listed(KINDS)}', WRONG)
    return found[0]


def liked(plan: Plan, kind: Preference) -> Plan:
    """Return the plan with that kind chosen wherever a paper has it; say where none has."""
    from sheetcut.answers.alternatives import NoAlternative, like  # noqa: PLC0415

    try:
        return like(plan, kind)
    except NoAlternative:
        if all(paper.kind == kind for paper in plan.papers):
            return plan
        click.echo(f"note: no paper has a plan that is more {_more(kind)}", err=True)
        return plan


def _more(kind: Preference) -> str:
    return {
        "quicker to cut": "quick to cut than this one",
        "better leftover": "worth keeping in its leftovers than this one",
        "strips only": "of strips than this one",
    }[kind]


def _listed(kinds: tuple[str, ...]) -> str:
    quoted = [f'"{kind}"' for kind in kinds]
    return f"{', '.join(quoted[:-1])} or {quoted[-1]}"
