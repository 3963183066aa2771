"""Whether every alternative can be cut too, and takes no more than the plan it stands beside."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import get_args

from sheetcut.check.case import LayoutCase, PaperCase, PaperCheck, cash, named
from sheetcut.check.money import cash_spent
from sheetcut.errors import Fault
from sheetcut.job import Preference
from sheetcut.layout import Layout, PaperPlan, Placement, Rectangle, pieces_in_hand


def kinds_differ(case: PaperCase) -> Iterator[Fault]:
    """There is one plan of a kind, of kinds that are known."""
    kinds = Counter((case.paper.kind, *(one.kind for one in case.paper.alternatives)))
    for kind, n in kinds.items():
        if kind not in get_args(Preference):
            yield case.fault(f'an alternative is of the kind "{kind}"; no such kind is known')
        if n > 1:
            yield case.fault(f"{n} plans for the paper are {kind}; each is of a kind of its own")


def as_plan(paper: PaperPlan, layouts: tuple[Layout, ...]) -> PaperPlan:
    """Return a paper's plan with other layouts; what else it says of sheets follows from them."""
    used: Counter[str] = Counter()
    for layout in layouts:
        used[layout.sheet] += layout.copies
    return replace(paper, layouts=layouts, sheets_used=dict(used), alternatives=())


def takes_no_more(chosen: PaperCase, other: PaperCase) -> Iterator[Fault]:
    """An alternative takes neither more full sheets nor more offcuts nor more cash."""
    for kind in ("full", "offcut"):
        limit, n = _sheets(chosen, kind), _sheets(other, kind)
        if n > limit:
            what = "full sheets" if kind == "full" else "offcuts"
            yield other.fault(f"it takes {n} {what}; the plan takes {limit}")
    limit_cash, spent = cash_spent(chosen), cash_spent(other)
    if limit_cash is not None and (spent is None or spent > limit_cash):
        found = "a sum that is not known" if spent is None else cash(spent)
        yield other.fault(f"it costs {found}; the plan costs {cash(limit_cash)}")


def gives_the_same(chosen: PaperCase, other: PaperCase) -> Iterator[Fault]:
    """An alternative gives the pieces that the plan gives, of every order line."""
    wanted, given = chosen.placed, other.placed
    for number in sorted(wanted.keys() | given.keys()):
        if wanted[number] != given[number]:
            piece = chosen.plan.job.pieces[number]
            yield other.fault(
                f"it gives {given[number]} of {piece.order}; the plan gives {wanted[number]}"
            )


def strips_only(other: PaperCase, kind: Preference) -> Iterator[Fault]:
    """What is called strips only has long cuts and cross cuts, and trims blanks at the most."""
    if kind != "strips only":
        return
    for case in other.layouts:
        try:
            hands = pieces_in_hand(case.layout)
        except ValueError:
            continue  # a cut that divides nothing is told of by the checks of the knife
        if any(cut.level > 3 for cut in case.layout.cuts):
            yield case.fault("it has cuts of a fourth level")
        for placement in case.layout.placements:
            levels = set(_parted_at(case, placement, hands))
            if len(levels) > 2:
                name = named(case.piece(placement), placement)
                yield case.fault(f"{name} is parted from others by cuts of {len(levels)} levels")


def _parted_at(
    case: LayoutCase, placement: Placement, hands: tuple[Rectangle, ...]
) -> Iterator[int]:
    """Yield the levels of the cuts on the way to a blank that have blanks on both sides."""
    for cut, hand in zip(case.layout.cuts, hands, strict=True):
        inside = [one for one in case.layout.placements if _is_in(one, hand)]
        if placement not in inside:
            continue
        ends = [one.x + one.width if cut.along == "x" else one.y + one.height for one in inside]
        if min(ends) <= cut.at < max(ends):
            yield cut.level


def _is_in(one: Placement, hand: Rectangle) -> bool:
    x, y, width, height = hand
    return (
        x <= one.x
        and y <= one.y
        and one.x + one.width <= x + width
        and one.y + one.height <= y + height
    )


def _sheets(case: PaperCase, kind: str) -> int:
    return sum(one.layout.copies for one in case.layouts if one.sheet.kind == kind)


ALTERNATIVE_CHECKS: tuple[PaperCheck, ...] = (kinds_differ,)
