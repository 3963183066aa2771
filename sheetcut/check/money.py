"""Whether cost and paper shares are the cash that is spent, to the cent."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from sheetcut.check.case import PaperCase, PaperCheck, cash
from sheetcut.errors import Fault
from sheetcut.job import Piece
from sheetcut.units import Area, Cents


def cost_is_the_cash(case: PaperCase) -> Iterator[Fault]:
    """The cost is the price of the full sheets cut; unknown where one has no price."""
    spent = cash_spent(case)
    if case.paper.cost != spent:
        yield case.fault(f"the cost is given as {_cash(case.paper.cost)}; it is {_cash(spent)}")


def shares_add_up(case: PaperCase) -> Iterator[Fault]:
    """Paper shares add up to the cash, and there are none where it is not known."""
    spent = cash_spent(case)
    total = sum(case.paper.shares.values())
    if spent is None and case.paper.shares:
        yield case.fault("paper shares are given, and not every sheet has a price")
    if spent is not None and case.ordered and total != spent:
        yield case.fault(f"the paper shares add up to {cash(total)}; the cash is {cash(spent)}")


def shares_in_proportion(case: PaperCase) -> Iterator[Fault]:
    """Each share is within a cent of its part of the cash, by finished size and asked margin."""
    spent, placed = cash_spent(case), case.ordered
    if spent is None:
        return
    pieces = case.plan.job.pieces
    areas = {number: n * _asked_area(pieces[number]) for number, n in placed.items()}
    whole = sum(areas.values())
    for number in sorted(areas.keys() | case.paper.shares.keys()):
        exact = Fraction(spent * areas.get(number, 0), whole) if whole else Fraction(0)
        share = case.paper.shares.get(number, 0)
        if abs(share - exact) >= 1:
            yield case.fault(
                f"order {pieces[number].order} carries a paper share of {cash(share)}; "
                f"by its area it is {float(exact) / 100:.4f}"
            )


MONEY_CHECKS: tuple[PaperCheck, ...] = (cost_is_the_cash, shares_add_up, shares_in_proportion)


def cash_spent(case: PaperCase) -> Cents | None:
    """Return the price of all full sheets cut, or None where one has no price."""
    total = 0
    for layout in case.layouts:
        if layout.sheet.kind == "full":
            if layout.sheet.price is None:
                return None
            total += layout.sheet.price * layout.layout.copies
    return total


def _cash(cents: Cents | None) -> str:
    return "not known" if cents is None else cash(cents)


def _asked_area(piece: Piece) -> Area:
    width = piece.width + piece.margin.left + piece.margin.right
    height = piece.height + piece.margin.top + piece.margin.foot
    return width * height
