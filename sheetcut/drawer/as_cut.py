"""What is told of a cut, what it did, and the plan it belongs to."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from dataclasses import dataclass, field

from sheetcut.document import plan_bytes
from sheetcut.drawer.history import Change
from sheetcut.drawer.refusals import AlreadyCut, WrongAmount
from sheetcut.drawer.rows import Row
from sheetcut.drawer.spoiling import Leftover
from sheetcut.layout import Layout, Plan
from sheetcut.units import Cents


@dataclass(frozen=True, slots=True)
class AsCut:
    """What really happened to the sheets of one layout.

    Attributes:
        layout: its number among the layouts of the plan, from 1.
        copies: how many of its sheets were cut; None for all that were not cut before.
        sheet: the drawer row that was really taken; None for the one planned.
        left_out: order lines of which so many blanks were not cut after all.
        spoiled: order lines of which so many blanks were cut and spoiled at once.
        kept: what was really kept, measured, of all copies together; None for the keepers as
            planned. What is neither blank nor kept is scrap.
    """

    layout: int
    copies: int | None = None
    sheet: str | None = None
    left_out: tuple[tuple[str, int], ...] = ()
    spoiled: tuple[tuple[str, int], ...] = ()
    kept: tuple[Leftover, ...] | None = None


@dataclass(slots=True)
class Done:
    """What a cut did.

    Attributes:
        says: all of it in a sentence.
        sheets: how many of each drawer row were cut up.
        keepers: the names of what went back into the drawer.
        blanks: how many blanks are on the table.
        cost: cash price of the full sheets; None where one has no price.
        notices: what its owner should hear besides.
    """

    says: str = ""
    sheets: Counter[str] = field(default_factory=Counter)
    keepers: list[str] = field(default_factory=list)
    blanks: int = 0
    spoiled: int = 0
    cost: Cents | None = 0
    notices: list[str] = field(default_factory=list)


class Cutting:
    """One plan being cut, or pinned up, within one change.

    Attributes:
        key: tells the plan from every other.
        done: what was done so far.
        known: the rows of its sheets that are cut or pinned up, by layout and copy.
    """

    def __init__(self, change: Change, plan: Plan) -> None:
        self.change = change
        self.plan = plan
        self.key = plan_key(plan)
        self.done = Done()
        self.known = {
            (row["layout"], row["copy"]): row for row in change.all("sheet_cut", plan=self.key)
        }

    def layout(self, number: int) -> Layout:
        """Return a layout by its number."""
        layouts = self.plan.layouts
        if not 1 <= number <= len(layouts):
            raise WrongAmount(
                f"plan {self.plan.code}",
                f"it has no layout {number}",
                f"name one from 1 to {len(layouts)}",
            )
        return layouts[number - 1]

    def sheet_row(self, one: AsCut, copy: int, state: str) -> Row:
        """Return the row of one sheet that is cut or pinned up."""
        layout = self.layout(one.layout)
        wanted = Counter(self.plan.piece(place.piece).order for place in layout.placements)
        return {
            "plan": self.key,
            "code": self.plan.code,
            "layout": one.layout,
            "copy": copy,
            "state": state,
            "sheet": one.sheet or layout.sheet,
            "paper": self.plan.sheet(layout.sheet).paper,
            "wanted": json.dumps(sorted(wanted.items())),
            "at": self.change.now,
        }

    def to_cut(self) -> list[int]:
        """Return the layouts that have sheets left to cut.

        Raises:
            AlreadyCut: if none has.
        """
        left = [
            number
            for number, layout in enumerate(self.plan.layouts, start=1)
            if any(self._is_open(number, copy) for copy in range(layout.copies))
        ]
        if not left:
            raise AlreadyCut(self.plan.code, range(1, len(self.plan.layouts) + 1))
        return left

    def _is_open(self, number: int, copy: int) -> bool:
        row = self.known.get((number, copy))
        return row is None or row["state"] == "held"

    def copies(self, one: AsCut) -> list[int]:
        """Return the copies of a layout that are told to be cut, out of those not cut yet.

        Raises:
            AlreadyCut: if none is left.
        """
        layout = self.layout(one.layout)
        left = [copy for copy in range(layout.copies) if self._is_open(one.layout, copy)]
        if not left:
            raise AlreadyCut(self.plan.code, [one.layout])
        wanted = len(left) if one.copies is None else one.copies
        if not 1 <= wanted <= len(left):
            raise WrongAmount(
                f"plan {self.plan.code}, layout {one.layout}",
                f"{wanted} sheets of it, and left to cut of them: {len(left)}",
                "give 1" if len(left) == 1 else f"give 1 to {len(left)}",
            )
        return left[:wanted]


def plan_key(plan: Plan) -> str:
    """Return what tells one plan from every other: the SHA-256 of its document."""
    return hashlib.sha256(plan_bytes(plan)).hexdigest()
