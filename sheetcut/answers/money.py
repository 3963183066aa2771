"""Prices of sheets as exact ratios, and the two ways such a ratio becomes whole cents."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from sheetcut.job import Sheet
from sheetcut.units import Area, Cents


def half_up(amount: Fraction) -> Cents:
    """Return the nearest cent, halves up: how a cost is shown.

    >>> half_up(Fraction(1520, 9)), half_up(Fraction(5, 2))
    (169, 3)
    """
    return int((2 * amount + 1) // 2)


def rounded_up(amount: Fraction, to: Cents = 1) -> Cents:
    """Return the next whole multiple that is not less: how a charge is made.

    >>> rounded_up(Fraction(1520, 9)), rounded_up(Fraction(1520, 9), 50)
    (169, 200)
    """
    return int(-(-amount // to)) * to


def sheet_price(sheet: Sheet) -> Fraction | None:
    """Return what one full sheet costs in cents: its price, else its share of the cheapest pack.

    An offcut has been paid for, so it has no price; nor has a sheet of which nobody knows it.
    """
    if sheet.kind != "full":
        return None
    if sheet.price is not None:
        return Fraction(sheet.price)
    return min((Fraction(pack.price, pack.count) for pack in sheet.packs), default=None)


def area_rate(sheet: Sheet) -> Fraction | None:
    """Return the price of a sheet for each square tick of its measured area."""
    price = sheet_price(sheet)
    return None if price is None else price / sheet.area


def area_cost(area: Area, sheet: Sheet) -> Fraction | None:
    """Return what so much of a sheet's area costs, waste left out."""
    rate = area_rate(sheet)
    return None if rate is None else rate * area


def usual_sheet(sheets: Iterable[Sheet]) -> Sheet | None:
    """Return the full sheet whose paper is cheapest by the area; the first among equals.

    It is the sheet that a size is costed by: another may give a better number once, but this
    is what the studio would open for one more. None where no price is known.
    """
    rated = [(rate, sheet) for sheet in sheets if (rate := area_rate(sheet)) is not None]
    return min(rated, key=lambda one: one[0])[1] if rated else None
