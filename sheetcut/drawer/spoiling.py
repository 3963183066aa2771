"""Spoiled blanks: back into the orders, their paper to waste, a leftover perhaps kept."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from sheetcut.drawer.books import book
from sheetcut.drawer.history import Change
from sheetcut.drawer.lines import named_line
from sheetcut.drawer.refusals import WrongAmount
from sheetcut.drawer.rows import Row
from sheetcut.drawer.sheets import put_sheet
from sheetcut.drawer.store import Store
from sheetcut.drawer.tables import counted, size_text
from sheetcut.drawer.work import RANK
from sheetcut.job import Edge, Grain, Sheet
from sheetcut.tags import new_tags
from sheetcut.units import Area, Cents, Length


@dataclass(frozen=True, slots=True)
class Leftover:
    """Paper in hand that is worth keeping, as measured; the name is found where it has none."""

    width: Length
    height: Length
    name: str = ""


def spoil(
    store: Store,
    order: str,
    *,
    now: datetime,
    count: int = 1,
    state: str | None = None,
    leftover: Leftover | None = None,
) -> str:
    """Book blanks of an order line as spoiled, now or days after they were cut.

    They are wanted again, and their paper is waste, less what is left over.

    Args:
        state: how far the spoiled ones were ("printed"); needed where blanks of the line are
            at different stages.
        leftover: what is left of them in hand and kept; its width lies along the piece's.

    Raises:
        NotThere: if there is no such line.
        WrongAmount: if not so many blanks of it are there, or the leftover is larger than they.
    """
    with store.changing(now) as change:
        blanks = _chosen(change, order, count, state)
        name = spoil_blanks(change, blanks, leftover)
        kept = f"; {name} goes into the drawer" if name else ""
        change.says = f"Spoiled: {counted(count, 'blank')} of {order}; to be cut again{kept}"
    return change.says


def _chosen(change: Change, order: str, count: int, state: str | None) -> list[Row]:
    line = named_line(change, order)
    blanks = [
        blank
        for blank in change.all("blank", line=line["id"])
        if blank["state"] != "spoiled" and (state is None or blank["state"] == state)
    ]
    if state is None and any(blank["state"] == "sent" for blank in blanks):
        blanks = [blank for blank in blanks if blank["state"] != "sent"]
    blanks.sort(key=lambda blank: (RANK[blank["state"]], blank["id"]))
    stages = Counter(blank["state"] for blank in blanks)
    if not 1 <= count <= len(blanks):
        have = ", ".join(f"{n} {stage}" for stage, n in stages.items()) or "none"
        raise WrongAmount(
            f"order {order}",
            f"{count} spoiled, and of its blanks there are {have}",
            "give a number of those" if blanks else "only what was cut can be spoiled",
        )
    if len(stages) > 1 and count < len(blanks):
        have = ", ".join(f"{n} {stage}" for stage, n in stages.items())
        raise WrongAmount(
            f"order {order}",
            f"its blanks are at different stages ({have})",
            "say which are spoiled, by their stage",
        )
    return blanks[:count]


def spoil_blanks(change: Change, blanks: Sequence[Row], leftover: Leftover | None) -> str:
    """Mark blanks as spoiled and book their paper to waste; return the name of what is kept."""
    whole = sum(blank["width"] * blank["height"] for blank in blanks)
    finished = sum(blank["finished"] for blank in blanks)
    name, kept = "", 0
    if leftover is not None:
        name = _keep(change, blanks[0], leftover)
        kept = leftover.width * leftover.height
    for blank in blanks:
        change.alter("blank", blank["id"], {"state": "spoiled", "since": change.now})
    paper = blanks[0]["paper"]
    what = f"spoiled, {len(blanks)} of line {_line_name(change, blanks[0])}"
    book(change, paper, "finished", -1, finished, what=what)
    book(change, paper, "margins", -1, whole - finished, what=what)
    book(change, paper, "scrap", 1, whole - kept, what=what)
    return name


def _keep(change: Change, blank: Row, leftover: Leftover) -> str:
    if leftover.width > blank["width"] or leftover.height > blank["height"]:
        size = size_text(leftover.width, leftover.height, blank["unit"])
        largest = size_text(blank["width"], blank["height"], blank["unit"])
        raise WrongAmount(
            "the leftover", f"{size} is more than the blank, {largest}", "measure it again"
        )
    name = leftover.name or next(new_tags(row["name"] for row in change.all("sheet")))
    cut = change.one("sheet_cut", id=blank["sheet_cut"])
    source = {
        **blank,
        "price": blank["sheet_price"],
        "width": blank["sheet_area"],
        "height": 1,
    }
    keep_leftover(
        change,
        name,
        leftover,
        source=source,
        grain=blank["grain"],
        origin=f"plan {cut['code'] if cut else ''}, a spoiled blank of {_line_name(change, blank)}",
        true_edges=(),
    )
    return name


def keep_leftover(
    change: Change,
    name: str,
    leftover: Leftover,
    *,
    source: Row,
    grain: Grain,
    origin: str,
    true_edges: tuple[Edge, ...],
) -> None:
    """Put an offcut into the drawer; its paper is on the books already.

    Args:
        source: the row whose paper, side, unit, price and measures it comes from.
    """
    area = leftover.width * leftover.height
    put_sheet(
        change,
        Sheet(
            id=name,
            paper=source["paper"],
            width=leftover.width,
            height=leftover.height,
            on_hand=1,
            price=book_value(source["price"], source["width"] * source["height"], area),
            side=source["side"],
            grain=grain,
            kind="offcut",
            unit=source["unit"],
        ),
        kind=None,
        true_edges=json.dumps(true_edges),
        origin=origin,
    )


def book_value(price: Cents | None, sheet_area: Area, area: Area) -> Cents | None:
    """Return what an offcut is worth: its part of the sheet's price by measured area, half up.

    >>> book_value(1520, 560 * 760, 268 * 540)
    517
    """
    if price is None:
        return None
    return int(Fraction(price * area, sheet_area) + Fraction(1, 2))


def _line_name(change: Change, blank: Row) -> str:
    line = change.one("order_line", id=blank["line"])
    return line["name"] if line else ""
