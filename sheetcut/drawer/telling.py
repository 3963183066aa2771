"""What is told of a cut in few words, spread over the layouts it belongs to."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from sheetcut.drawer.as_cut import AsCut
from sheetcut.drawer.cutting import LayoutState
from sheetcut.drawer.refusals import WrongAmount
from sheetcut.layout import Plan


def told_of(
    plan: Plan,
    states: Sequence[LayoutState],
    layouts: Sequence[int] | None = None,
    *,
    spoiled: Iterable[str] = (),
    left_out: Iterable[str] = (),
) -> tuple[AsCut, ...]:
    """Return the layouts that were cut, each with those of its blanks that went otherwise.

    Args:
        states: how far each layout is; those with nothing left to cut are passed over.
        layouts: the layouts that are meant; None for all with something left to cut.
        spoiled, left_out: order lines, each named once for every blank.

    Raises:
        WrongAmount: if these layouts have not so many blanks of a line.
    """
    open_states = [state for state in states if state.to_cut + state.held]
    wanted = [state.layout for state in open_states] if layouts is None else list(layouts)
    copies = {state.layout: state.to_cut + state.held for state in states}
    room = {number: _blanks(plan, number, copies.get(number, 0)) for number in wanted}
    lost = {
        what: _spread(plan, room, what, Counter(names))
        for what, names in (("left out", left_out), ("spoiled", spoiled))
    }
    return tuple(
        AsCut(
            number,
            left_out=tuple(sorted(lost["left out"][number].items())),
            spoiled=tuple(sorted(lost["spoiled"][number].items())),
        )
        for number in wanted
    )


def _blanks(plan: Plan, number: int, copies: int) -> Counter[str]:
    """Return how many blanks of each line the sheets of a layout still give."""
    if not 1 <= number <= len(plan.layouts):
        return Counter()  # refused where it is booked, with the numbers there are
    return Counter(
        {
            order: copies * n
            for order, n in Counter(
                plan.piece(place.piece).order for place in plan.layouts[number - 1].placements
            ).items()
        }
    )


def _spread(
    plan: Plan, room: dict[int, Counter[str]], what: str, lost: Counter[str]
) -> dict[int, Counter[str]]:
    """Give each lost blank to the first layout that has room for it, and take that room."""
    found: dict[int, Counter[str]] = {number: Counter() for number in room}
    for order, n in lost.items():
        have = sum(own[order] for own in room.values())
        if n > have:
            raise WrongAmount(
                f"plan {plan.code}",
                f"{n} of {order} {what}, and the layouts to be cut have {have}",
                "name order lines that these layouts have, once for each blank",
            )
        left = n
        for number, own in room.items():
            taken = min(left, own[order])
            if taken:
                found[number][order] += taken
                own[order] -= taken
                left -= taken
    return found
