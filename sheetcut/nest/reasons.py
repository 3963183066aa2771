"""Why a bound holds, in words for the person who buys the paper."""

from __future__ import annotations

from fractions import Fraction

from sheetcut.nest.rows import Row
from sheetcut.nest.task import Task
from sheetcut.units import Cents

WORDS = (
    "none", "one", "two", "three", "four", "five", "six",
    "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip


def number(n: int) -> str:
    """Return a small number as a word.

    >>> number(3), number(40)
    ('three', '40')
    """
    return WORDS[n] if n < len(WORDS) else str(n)


def sheets(n: int) -> str:
    """Return so many sheets.

    >>> sheets(1), sheets(3)
    ('one sheet', 'three sheets')
    """
    return f"{number(n)} sheet{'' if n == 1 else 's'}"


def money(cents: Cents, currency: str) -> str:
    """Return an amount as it is written with the studio's sign.

    >>> money(4560, "£")
    '£45.60'
    """
    return f"{currency}{cents // 100}.{cents % 100:02d}"


def times_over(ratio: Fraction) -> str:
    """Return how many sheets a ratio is, never less than the truth allows to be read.

    >>> times_over(Fraction(242, 100)), times_over(Fraction(302, 100)), times_over(Fraction(3))
    ('2.4 sheets', 'a little more than three sheets', 'three sheets')
    """
    if ratio.denominator == 1:
        return sheets(ratio.numerator)
    scaled = int(ratio * 10)
    if scaled % 10 == 0:
        return f"a little more than {sheets(scaled // 10)}"
    return f"{scaled // 10}.{scaled % 10} sheets"


def amount(task: Task, value: int) -> str:
    """Return a value of the aim in words: sheets, or money."""
    if task.aim == "least cost":
        return money(value, task.job.currency)
    return sheets(value)


def because(task: Task, value: int, rows: list[Row], crowd: int, *, partly: bool) -> str:
    """Return the reason for a bound; ``rows`` are those that give it, the plainest first.

    Args:
        crowd: how many blanks there are of which no two share a sheet.
        partly: whether some pieces are left out for want of paper.
    """
    least = amount(task, value)
    of = " of the pieces that are in the plan" if partly else ""
    if value == 0:
        return "the offcuts on hand may do" if task.n_blanks else "nothing is to be cut"
    single = len(task.stocks) == 1
    why = rows[-1].why if rows else "crowd"
    if why == "crowd":
        return f"no two of the {number(crowd)} largest blanks{of} come out of one sheet"
    if single and task.aim == "fewest sheets":
        least = f"{number(value)} at least"
    elif single:
        price = task.stocks[0].price
        n = value // price if price else 0
        least = f"{number(n)} at least, {least}"
    else:
        least = f"at least {least}"
    row = rows[-1]
    if why == "area" and single:
        times = times_over(Fraction(row.total, row.capacity[0]))
        return f"the blanks{of} together are {times} of paper, so {least}"
    if why == "area":
        return f"by their area alone the blanks{of} take {least} of paper"
    if why in ("fit", "one"):
        return (
            f"some blanks{of} fit only some of the sheets, "
            f"and with the area of the rest that takes {least}"
        )
    if why == "functions" and single:
        times = times_over(Fraction(row.total, row.capacity[0]))
        return (
            f"counting what each blank{of} keeps others from using, they take {times}, so {least}"
        )
    if why == "functions":
        return f"counting what each blank{of} keeps others from using, they take {least}"
    return f"weighing every way to cut a sheet against what the blanks{of} need, they take {least}"


def because_listed(task: Task, value: int, listed: int, *, partly: bool) -> str:
    """Return the reason for a bound where all ways to fill a sheet well enough were listed.

    Args:
        listed: how many ways there are.
        partly: whether some pieces are left out for want of paper.
    """
    blanks = "the blanks of the pieces that are in the plan" if partly else "the blanks"
    if len(task.stocks) > 1:
        least = amount(task, value)
        return (
            f"every way to fill a sheet well enough for less than {least} was listed, "
            f"{number(listed)} of them, and no choice of those holds all {blanks}"
        )
    n = value // task.stocks[0].price
    least = f"{number(n)} at least"
    if task.aim == "least cost":
        least += f", {money(value, task.job.currency)}"
    if n == 2:
        return f"every way to cut {blanks} from one sheet was tried and none does it, so {least}"
    if listed == 0:
        return (
            f"for {sheets(n - 1)} each would have to be filled better with {blanks} "
            f"than any way of cutting does, so {least}"
        )
    return (
        f"every way to fill a sheet well enough was listed, {number(listed)} of them, "
        f"and no {number(n - 1)} of those hold all {blanks}, so {least}"
    )
