"""The books: what paper came in, what became of it, and the money, by paper and month."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from sheetcut.drawer.history import Change
from sheetcut.drawer.reading import Rows
from sheetcut.drawer.store import Store
from sheetcut.drawer.tables import Table, money_text
from sheetcut.units import Area, Cents, in_mm2

Kind = Literal["bought", "corrected", "used", "finished", "margins", "scrap"]


def book(
    change: Change,
    paper: str,
    kind: Kind,
    count: int,
    area: Area,
    *,
    cash: Cents | None = None,
    what: str,
) -> None:
    """Enter a number of areas into the books; a negative number takes them out again.

    Bought and corrected paper comes in; finished, margins and scrap is what became of it, and
    the rest is on hand. What was used is written beside: it says which sheets were cut up.
    Nothing at all is not entered.
    """
    if not count or not area:
        return
    change.add(
        "book",
        {
            "at": change.now,
            "paper": paper,
            "kind": kind,
            "count": count,
            "area": area,
            "cash": cash,
            "what": what,
        },
    )


@dataclass(slots=True)
class Figures:
    """What happened to one paper in one month; areas in square ticks.

    Attributes:
        month: as "2026-11".
        bought, used: how many sheets; offcuts that were cut up count among the used.
        spent: cash paid for what was bought, as far as it is known.
        cost: cash price of the full sheets that were used, as far as it is known.
        wasted: scrap, spoiled blanks included.
    """

    paper: str
    month: str
    bought: int = 0
    bought_area: Area = 0
    spent: Cents = 0
    used: int = 0
    used_area: Area = 0
    cost: Cents = 0
    finished: Area = 0
    margins: Area = 0
    wasted: Area = 0


def figures(store: Store) -> tuple[Figures, ...]:
    """Return what was bought, used and wasted of each paper in each month, earliest first."""
    found: dict[tuple[str, str], Figures] = {}
    with store.reading() as rows:
        entries = rows.all("book")
    for one in entries:
        key = (one["at"][:7], one["paper"])
        figure = found.setdefault(key, Figures(one["paper"], one["at"][:7]))
        area = one["count"] * one["area"]
        if one["kind"] == "bought":
            figure.bought += one["count"]
            figure.bought_area += area
            figure.spent += one["cash"] or 0
        elif one["kind"] == "used":
            figure.used += one["count"]
            figure.used_area += area
            figure.cost += one["cash"] or 0
        elif one["kind"] == "finished":
            figure.finished += area
        elif one["kind"] == "margins":
            figure.margins += area
        elif one["kind"] == "scrap":
            figure.wasted += area
    return tuple(found[key] for key in sorted(found))


FIGURE_HEADINGS = (
    "month", "paper", "bought", "bought mm2", "spent", "used", "used mm2", "paper cost",
    "finished mm2", "margins mm2", "scrap mm2",
)  # fmt: skip


def figure_rows(found: Iterable[Figures]) -> Table:
    """Return figures as a table of text, headings first."""
    return [
        FIGURE_HEADINGS,
        *(
            (
                one.month,
                one.paper,
                str(one.bought),
                str(in_mm2(one.bought_area)),
                money_text(one.spent),
                str(one.used),
                str(in_mm2(one.used_area)),
                money_text(one.cost),
                *(str(in_mm2(area)) for area in (one.finished, one.margins, one.wasted)),
            )
            for one in found
        ),
    ]


@dataclass(slots=True)
class Balance:
    """Where all paper of one kind is that ever came in, in square ticks."""

    bought: Area = 0
    corrected: Area = 0
    finished: Area = 0
    margins: Area = 0
    scrap: Area = 0
    on_hand: Area = 0
    used: Area = field(default=0, compare=False)

    @property
    def is_even(self) -> bool:
        """Whether what came in is what is here and what became of the rest."""
        came = self.bought + self.corrected
        return came == self.on_hand + self.finished + self.margins + self.scrap


def balances(store: Store) -> dict[str, Balance]:
    """Return for each paper where it is; what is kept as any number is not counted on hand."""
    with store.reading() as rows:
        return balances_of(rows)


def balances_of(rows: Rows) -> dict[str, Balance]:
    """Return for each paper where it is, out of rows read at one moment."""
    found: dict[str, Balance] = {}
    for one in rows.all("book"):
        balance = found.setdefault(one["paper"], Balance())
        area = getattr(balance, one["kind"]) + one["count"] * one["area"]
        setattr(balance, one["kind"], area)
    for row in rows.all("sheet"):
        area = (row["on_hand"] or 0) * row["width"] * row["height"]
        found.setdefault(row["paper"], Balance()).on_hand += area
    return found
