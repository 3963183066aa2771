"""Counts, money, packs, edges and words out of cells."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from difflib import get_close_matches
from typing import TypeVar

from sheetcut.job import EDGES, Edge, Pack
from sheetcut.read.characters import plain_text
from sheetcut.read.lengths import refuse_at_sight
from sheetcut.read.refusal import Refused, quoted
from sheetcut.units import Cents

W = TypeVar("W", bound=str)

MOST_PIECES = 100_000
"""Of one order line, and sheets of one drawer row: more is a slip of the keyboard."""

DEAREST: Cents = 100_000_000
_NUMBERS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
            "eleven", "twelve")  # fmt: skip
_CODES = {"£": "gbp", "€": "eur", "$": "usd", "¥": "jpy", "kr.": "kr"}
_SIGNS = r"(?:[£$€¥]|gbp|usd|eur|chf|kr\.?|dkk|sek|nok|aud|cad|nzd|jpy|a\$|c\$)"


def read_count(text: str) -> int:
    """Return how many pieces are wanted, at least 1.

    Raises:
        Refused: if the text is no whole number from 1.

    >>> read_count("4"), read_count("2.0")
    (4, 2)
    """
    count = _whole_number(text, "pieces")
    if count < 1:
        raise Refused(f"{count} pieces are wanted", "delete the row, or give 1 or more")
    return count


def read_number(text: str, what: str) -> int:
    """Return how many of something are meant, at least 1.

    Args:
        what: of what, as "sheets", for a refusal.

    Raises:
        Refused: if the text is no whole number from 1.
    """
    number = _whole_number(text, what)
    if number < 1:
        raise Refused(f"{number} {what} are meant", "give 1 or more")
    return number


def read_on_hand(text: str) -> int | None:
    """Return how many sheets there are; None for as many as wanted.

    Raises:
        Refused: if the text is neither a whole number nor "any".

    >>> read_on_hand("3"), read_on_hand("any")
    (3, None)
    """
    if plain_text(text[:50]).casefold() in {"any", "unlimited", "plenty", "as wanted", "-", "–"}:
        return None
    count = _whole_number(text, "sheets", 'a whole number, or "any"')
    if count < 0:
        raise Refused(f"{count} sheets are on hand", 'give 0 or more, or write "any"')
    return count


def read_money(text: str, currency: str = "") -> Cents:
    """Return an amount of money in cents.

    A comma before three figures parts thousands here, as prices have two decimals at most.

    Raises:
        Refused: if the text is no amount, or names another currency than the studio's.

    >>> read_money("£1,200.00", "£"), read_money("15,20"), read_money("290")
    (120000, 1520, 29000)
    """
    refuse_at_sight(text, "a price", "15.20")
    shown = text.strip()
    plain = plain_text(shown).casefold()
    sign = currency.casefold()
    own = rf"(?:{re.escape(sign)})" if sign else "(?!)"
    found = re.fullmatch(
        rf"(?P<before>{own}|{_SIGNS})? ?(?P<number>[\d.,' ]*\d)(?:\.|,-|\.-)? ?"
        rf"(?P<after>{own}|{_SIGNS})?",
        plain,
    )
    if not found:
        raise _no_money(plain, shown)
    for said in (found["before"], found["after"]):
        if said and sign and _CODES.get(said, said) != _CODES.get(sign, sign):
            raise Refused(
                f"{quoted(shown)} is not in {currency}, the studio's currency",
                f"write the price in {currency}",
            )
    cents = _amount(found["number"], shown) * 100
    if cents != cents.to_integral_value():
        raise Refused(f"{quoted(shown)} is finer than a hundredth", "write two decimals at most")
    if cents > DEAREST:
        raise Refused(f"{quoted(shown)} is more than a million", "write what one costs")
    return int(cents)


def read_packs(text: str, price: Cents | None, currency: str = "") -> tuple[Pack, ...]:
    """Return how a sheet is sold: "5 for 76.00; 20+ at 13.90", or "single" at its price.

    Raises:
        Refused: if a pack is not written like one of these.

    >>> read_packs("5 for 76.00; 20+ at 13.90", None)
    (Pack(count=5, price=7600, or_more=False), Pack(count=20, price=27800, or_more=True))
    """
    if text.strip() in {"", "-", "–"}:
        return ()
    if len(text) > 500:
        raise Refused(f"{quoted(text.strip())} is too long for packs", _PACKS_REMEDY)
    parts = [part for part in _BETWEEN_PACKS.split(text) if part.strip()]
    packs = tuple(_pack(part.strip(), price, currency) for part in parts)
    for pack in packs:
        if sum(pack.count == other.count for other in packs) > 1:
            raise Refused(f"a pack of {pack.count} is priced twice", "keep one of the two prices")
    return packs


_BETWEEN_PACKS = re.compile(r"[;\n]|,\s+(?=\d+\s*(?:\+|for\b|at\b|@|or\b))")
_PACKS_REMEDY = 'write packs as in "5 for 76.00; 20+ at 13.90"'


def _pack(part: str, price: Cents | None, currency: str) -> Pack:
    plain = plain_text(part).casefold()
    if plain in {"single", "singles", "single sheets", "each"}:
        if price is None:
            raise Refused(f"{quoted(part)} is sold alone, and no price is given", "give its price")
        return Pack(1, price)
    found = re.fullmatch(
        r"(?P<count>\d{1,6}) ?(?P<more>\+|or more)? ?(?P<how>for|at|@|=|:) ?(?P<money>.+?)"
        r"(?: ?each)?",
        plain,
    )
    if not found:
        raise Refused(f"{quoted(part)} is not a pack", _PACKS_REMEDY)
    count = int(found["count"])
    if not 0 < count <= MOST_PIECES:
        raise Refused(f"{quoted(part)} is a pack of {count}", _PACKS_REMEDY)
    money = read_money(found["money"], currency)
    is_each = found["how"] in {"at", "@"} or plain.endswith("each")
    whole = money * count if is_each else money
    if found["more"] and whole % count:
        raise Refused(
            f"{quoted(part)} is no whole price a sheet",
            'write the price of one, as in "20+ at 13.90"',
        )
    return Pack(count, whole, or_more=bool(found["more"]))


def read_edges(text: str) -> tuple[Edge, ...]:
    """Return the edges that are named, in the order left, right, top, foot.

    Raises:
        Refused: if a word is no edge.

    >>> read_edges("top left"), read_edges("all"), read_edges("none")
    (('left', 'top'), ('left', 'right', 'top', 'foot'), ())
    """
    refuse_at_sight(text, "an edge", "left right")
    shown = text.strip()
    plain = plain_text(shown).casefold()
    if plain in {"none", "no", "0", "-", "clean", "false"}:
        return ()
    if plain in {"all", "four", "4", "all four", "all round", "4 deckles", "yes", "true"}:
        return EDGES
    words = {"bottom": "foot", "head": "top", "sides": "left right"}
    said = re.split(r"[ ,;/&+]+|\band\b", plain)
    named = " ".join(words.get(word, word) for word in said).split()
    unknown = next((word for word in named if word not in EDGES), None)
    if unknown or not named:
        if re.match(r"\d|one|two|three", plain):
            raise Refused(f"{quoted(shown)} does not say which edges", 'name them, as "left right"')
        raise Refused(
            f"{quoted(shown)} names an edge that is not known",
            'write left, right, top, foot, or "all" or "none"',
        )
    return tuple(edge for edge in EDGES if edge in named)


def read_word(text: str, what: str, words: Mapping[str, W], offered: tuple[str, ...]) -> W:
    """Return what a word stands for.

    Args:
        words: every spelling that is understood.
        offered: the words to name in a refusal.

    Raises:
        Refused: if the word is not known; a near one is offered.
    """
    shown = text.strip()
    plain = plain_text(text[:100]).casefold().strip(" .")
    if plain in words and len(shown) < 100:
        return words[plain]
    near = get_close_matches(plain, words, 1, 0.7)
    if near and len(shown) < 100:
        raise Refused(f"{what} is {quoted(shown)}", f'did you mean "{near[0]}"?')
    raise Refused(f"{what} is {quoted(shown)}", f"write {_or(offered)}")


def _or(words: tuple[str, ...]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else words[0]


def _whole_number(text: str, what: str, wanted: str = "a whole number") -> int:
    refuse_at_sight(text, "a number", "4")
    shown = text.strip()
    plain = plain_text(shown).casefold()
    if plain in _NUMBERS:
        raise Refused(
            f"{quoted(shown)} is not written in figures", f"write {_NUMBERS.index(plain)}"
        )
    found = re.fullmatch(r"(?P<sign>-?) ?(?P<whole>\d+)(?:[.,](?P<rest>0{0,2}))?", plain)
    if not found:
        if re.fullmatch(r"\d*[.,]\d+", plain):
            raise Refused(f"{quoted(shown)} is not whole", f"write {wanted} of {what}, as in 4")
        raise Refused(f"{quoted(shown)} is not a number", f"write {wanted} of {what}, as in 4")
    count = int(found["sign"] + found["whole"])
    if count > MOST_PIECES:
        raise Refused(
            f"{quoted(shown)} is more than {MOST_PIECES} {what}", f"write {wanted} up to that"
        )
    return count


def _amount(number: str, shown: str) -> Decimal:
    """Return the value of a written amount; its thousands may stand apart."""
    if re.fullmatch(r"\d+(?:[.,]\d*)?|[.,]\d+", number):
        whole, mark, rest = number.partition("," if "," in number else ".")
        if mark == "." and len(rest) == 3 and whole.strip("0"):
            raise Refused(
                f"{quoted(shown)} has three decimals, or thousands parted by a point",
                f"write {whole}{rest} or {whole}.{rest[:2]}",
            )
        if mark == "," and len(rest) == 3 and whole.strip("0"):
            return Decimal(whole + rest)
        return Decimal(f"{whole or 0}.{rest or 0}")
    for group, point in ((",", "."), (".", ","), (" ", "."), (" ", ","), ("'", ".")):
        grouped = rf"\d{{1,3}}(?:{re.escape(group)}\d{{3}})+(?:{re.escape(point)}\d+)?"
        if re.fullmatch(grouped, number):
            return Decimal(number.replace(group, "").replace(point, "."))
    raise _no_money(number, shown)


def _no_money(plain: str, shown: str) -> Refused:
    if plain.startswith("-"):
        return Refused(f"{quoted(shown)} is less than nothing", "write a price of 0 or more")
    if re.search(r"\d ?[x*] ?\D*\d", plain):
        return Refused(f"{quoted(shown)} is a sum", "write what one costs, as in 85.00")
    return Refused(f"{quoted(shown)} is not a price", "write one, as in 15.20")
