"""The settings by which a studio charges for its work and buys its paper."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Any

from sheetcut.read.entries import Entries, shown
from sheetcut.read.refusal import Refused
from sheetcut.read.values import read_money
from sheetcut.units import Cents

CHARGING = ("hours", "rate", "mark up", "round up to")
BUYING = ("carriage",)
MOST_HOURS, MOST_MARK_UP = 10_000, 1000

_BAND = re.compile(r"(?P<fee>.*?)(?:\s*\bfrom\b\s*(?P<start>.+))?", re.IGNORECASE | re.DOTALL)


@dataclass(frozen=True, slots=True)
class Trading:
    """How a studio charges and buys, where its settings say.

    Attributes:
        hours: that one piece usually takes.
        rate: for an hour; None where it is not charged.
        mark_up: what the cost of paper is multiplied by.
        round_up_to: a charge is a whole number of these.
        carriage: (goods from, fee), the first from nothing.
    """

    hours: Fraction = Fraction(0)
    rate: Cents | None = None
    mark_up: Fraction = Fraction(1)
    round_up_to: Cents = 1
    carriage: tuple[tuple[Cents, Cents], ...] = ((0, 0),)


def read_trading(entries: Entries, given: dict[str, Any], currency: str) -> Trading:
    """Return what the sections [charging] and [buying] say."""
    charging = entries.part(given, "charging", CHARGING)
    buying = entries.part(given, "buying", BUYING)
    money = partial(_money, currency=currency)
    plain = Trading()
    return Trading(
        hours=entries.take(charging, "hours", read_hours, plain.hours, "charging"),
        rate=entries.take(charging, "rate", money, None, "charging"),
        mark_up=entries.take(charging, "mark up", _mark_up, plain.mark_up, "charging"),
        round_up_to=entries.take(
            charging, "round up to", partial(_some_money, currency=currency), 1, "charging"
        ),
        carriage=entries.take(
            buying, "carriage", partial(_carriage, currency=currency), plain.carriage, "buying"
        ),
    )


def read_hours(value: str | int) -> Fraction:
    """Return a number of hours; 0 or more.

    Raises:
        Refused: if it is none.

    >>> read_hours("3.5"), read_hours("3 1/2")
    (Fraction(7, 2), Fraction(7, 2))
    """
    return _number(value, "a number of hours", "3.5", MOST_HOURS)


def _mark_up(value: Any) -> Fraction:
    number = _number(value, "what the cost of paper is multiplied by", "1.5", MOST_MARK_UP)
    if not number:
        raise Refused(f"{shown(value)} makes every charge nothing", "write 1 for no mark-up")
    return number


def _number(value: Any, what: str, example: str, most: int) -> Fraction:
    text = str(value).strip().replace(",", ".")
    # Anything longer is no number somebody works with.
    found = re.fullmatch(r"(\d{1,6}(?:\.\d{1,6})?)(?: (\d{1,3}/[1-9]\d{0,2}))?", text)
    if isinstance(value, bool) or not isinstance(value, int | str) or not found:
        raise Refused(f"{shown(value)} is not {what}", f"write it as in {example}")
    number = Fraction(found[1]) + Fraction(found[2] or 0)
    if number > most:
        raise Refused(f"{shown(value)} is more than {most}", f"write it as in {example}")
    return number


def _money(value: Any, *, currency: str) -> Cents:
    if isinstance(value, bool) or not isinstance(value, int | str):
        raise Refused(f"{shown(value)} is not a price", "write one, as in 15.20")
    return read_money(str(value), currency)


def _some_money(value: Any, *, currency: str) -> Cents:
    cents = _money(value, currency=currency)
    if not cents:
        raise Refused(f"{shown(value)} is nothing to round to", "write it as in 0.50, or 5")
    return cents


def _carriage(value: Any, *, currency: str) -> tuple[tuple[Cents, Cents], ...]:
    """Return the bands of carriage; one fee alone holds for everything."""
    parts = value if isinstance(value, list) else [value]
    bands = tuple(_bands(parts, currency))
    starts = [start for start, _ in bands]
    if starts[:1] != [0] or starts != sorted(set(starts)):
        raise Refused(
            "the fees do not rise from goods of nothing",
            'write the fee for small orders first, as in ["9.50", "free from 150.00"]',
        )
    return bands


def _bands(parts: list[Any], currency: str) -> Iterator[tuple[Cents, Cents]]:
    for part in parts:
        found = _BAND.fullmatch(str(part).strip())
        assert found is not None
        fee = found["fee"].strip()
        start = 0 if found["start"] is None else _money(found["start"], currency=currency)
        yield start, 0 if fee.casefold() == "free" else _money(fee, currency=currency)
