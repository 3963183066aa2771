"""One paper's part of a job in whole reading steps: kinds of blanks, kinds of sheets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from sheetcut.errors import SheetcutError
from sheetcut.job import Aim, Job, Sheet, Turn, aim_for, blank_size, reading_step, ways
from sheetcut.units import Area, Cents, Length

AS_WRITTEN = 1
TURNED = 2


class PriceMissing(SheetcutError):
    """A plan is to cost least, but a sheet it may use has no price."""

    def __init__(self, paper: str, sheets: Sequence[str]) -> None:
        self.paper = paper
        self.sheets = tuple(sheets)
        names = ", ".join(sheets)
        super().__init__(
            f"{paper}: the plan is to cost least, but {names} has no price; "
            "write its price in the drawer, or set the aim to fewest sheets"
        )


@dataclass(frozen=True, slots=True)
class Stock:
    """One size of sheet, as the engine sees it.

    Attributes:
        sheet: its drawer row.
        wide, high: its usable area in whole reading steps.
        limit: how many there are; None for as many as wanted.
        price: what one adds to the aim: cents or 1; an offcut adds nothing.
    """

    sheet: Sheet
    wide: int
    high: int
    limit: int | None
    price: Cents

    @property
    def is_full(self) -> bool:
        """Whether it is a full sheet."""
        return self.sheet.kind == "full"

    @property
    def area(self) -> int:
        """Its usable area in square steps."""
        return self.wide * self.high


@dataclass(frozen=True)
class Blank:
    """Blanks of one size that may lie the same ways, whatever lines they belong to.

    Attributes:
        wide, high: in whole reading steps; never narrower than high.
        ways: for each stock, AS_WRITTEN + TURNED as allowed and as its size fits.
        lines: for each order line (its place in the job), how many.
    """

    wide: int
    high: int
    ways: tuple[int, ...]
    lines: tuple[tuple[int, int], ...]

    @cached_property
    def count(self) -> int:
        """How many are wanted."""
        return sum(n for _, n in self.lines)

    @property
    def area(self) -> int:
        """The area of one in square steps."""
        return self.wide * self.high

    def sides(self, stock: int) -> tuple[tuple[int, int], ...]:
        """Return width and height for each way it may lie on one stock."""
        way = self.ways[stock]
        upright = ((self.wide, self.high),) if way & AS_WRITTEN else ()
        lying = ((self.high, self.wide),) if way & TURNED else ()
        return upright + lying


@dataclass(frozen=True)
class Task:
    """What is to be cut from what.

    Attributes:
        turns: the turn rule of each line on this paper, with ``alike`` already decided.
    """

    job: Job
    paper: str
    aim: Aim
    step: Length
    stocks: tuple[Stock, ...]
    blanks: tuple[Blank, ...]
    turns: Mapping[int, Turn] = field(default_factory=dict)

    @cached_property
    def n_blanks(self) -> int:
        """How many blanks are wanted in all."""
        return sum(blank.count for blank in self.blanks)

    @cached_property
    def counts(self) -> dict[int, int]:
        """How many of each order line are wanted."""
        return {line: n for blank in self.blanks for line, n in blank.lines}

    @cached_property
    def area(self) -> int:
        """The area of all blanks in square steps."""
        return sum(blank.area * blank.count for blank in self.blanks)

    def value(self, used: Counter[int]) -> tuple[int, Area, Area]:
        """Return how good it is to use so many of each stock: less is better, first counts most.

        First the aim itself, then the measured area of full sheets, then that of offcuts.
        """
        price = full = spent = 0
        for stock, n in used.items():
            row = self.stocks[stock]
            price += row.price * n
            full += row.sheet.area * n if row.is_full else 0
            spent += 0 if row.is_full else row.sheet.area * n
        return price, full, spent


def stocks_of(job: Job, paper: str) -> tuple[Stock, ...]:
    """Return what a paper may be cut from, in drawer order, sheets there are none of left out.

    Raises:
        PriceMissing: if the plan is to cost least and a full sheet has no price.
    """
    step = reading_step(job, paper)
    aim = aim_for(job, paper)
    there = [sheet for sheet in job.sheets_of(paper) if sheet.on_hand != 0]
    if aim == "least cost":
        unpriced = [one.id for one in there if one.kind == "full" and one.price is None]
        if unpriced:
            raise PriceMissing(paper, unpriced)
    stocks = []
    for sheet in there:
        full = sheet.kind == "full"
        price = ((sheet.price or 0) if aim == "least cost" else 1) if full else 0
        wide, high = sheet.usable_width // step, sheet.usable_height // step
        if wide > 0 and high > 0:
            stocks.append(Stock(sheet, wide, high, sheet.on_hand, price))
    return tuple(stocks)


def task_of(
    job: Job,
    paper: str,
    stocks: tuple[Stock, ...],
    turns: Mapping[int, Turn],
    counts: Mapping[int, int],
) -> Task:
    """Return the task of cutting so many of each line, equal blanks taken together."""
    step = reading_step(job, paper)
    lines: dict[tuple[int, int, tuple[int, ...]], list[tuple[int, int]]] = {}
    for line, n in counts.items():
        width, height = (side // step for side in blank_size(job.pieces[line], step))
        allowed = tuple(_ways_on(stock, width, height, turns[line]) for stock in stocks)
        if width < height:
            width, height = height, width
            allowed = tuple(_other_way(way) for way in allowed)
        if n:
            lines.setdefault((width, height, allowed), []).append((line, n))
    blanks = tuple(
        Blank(wide, high, allowed, tuple(rows)) for (wide, high, allowed), rows in lines.items()
    )
    return Task(job, paper, aim_for(job, paper), step, stocks, blanks, dict(turns))


def _ways_on(stock: Stock, width: int, height: int, turn: Turn) -> int:
    allowed = ways(turn, stock.sheet.grain)
    upright = False in allowed and width <= stock.wide and height <= stock.high
    lying = True in allowed and height <= stock.wide and width <= stock.high
    if width == height:  # a square needs one way only; the names are dealt later
        upright, lying = upright or lying, False
    return AS_WRITTEN * upright + TURNED * lying


def _other_way(way: int) -> int:
    return (AS_WRITTEN if way & TURNED else 0) + (TURNED if way & AS_WRITTEN else 0)
