"""What stopped cuts would save, in words that claim no more than was found."""

from __future__ import annotations

from sheetcut.answers.stopped_cuts import StoppedCuts
from sheetcut.printout.sheaves import in_words
from sheetcut.printout.words import money


def stopped_line(one: StoppedCuts, currency: str) -> str:
    """Return one paper's comparison as a sentence without its full stop.

    >>> stopped_line(StoppedCuts("Rag", "cost", 4560, 4560, None), "£")
    'nothing: with stopped cuts too it takes at least £45.60 (proved)'
    >>> stopped_line(StoppedCuts("Rag", "sheets", 3, 2, None), "£")
    'one sheet at the most: even with stopped cuts it takes at least two; no such way was found'
    >>> stopped_line(StoppedCuts("Rag", "sheets", 3, 2, 2), "£")
    'one sheet: a way with stopped cuts takes two'
    """
    if one.save_nothing:
        least = _amount(one, one.least, currency)
        return f"nothing: with stopped cuts too it takes at least {least} (proved)"
    if one.found is not None:
        saved = _amount(one, one.value - one.found, currency)
        line = f"{saved}: a way with stopped cuts takes {_number(one, one.found, currency)}"
        if one.found > one.least:
            line += f", and none less than {_number(one, one.least, currency)}"
        return line
    most = _amount(one, one.value - one.least, currency)
    return (
        f"{most} at the most: even with stopped cuts it takes at least "
        f"{_number(one, one.least, currency)}; no such way was found"
    )


def _amount(one: StoppedCuts, amount: int, currency: str) -> str:
    if one.measure == "cost":
        return money(amount, currency)
    return f"{in_words(amount)} sheet{'s' if amount != 1 else ''}"


def _number(one: StoppedCuts, amount: int, currency: str) -> str:
    return money(amount, currency) if one.measure == "cost" else in_words(amount)
