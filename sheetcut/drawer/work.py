"""The work list: blanks that were cut, and how far each is on its way out of the studio."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date, datetime

from sheetcut.drawer.lines import named_line
from sheetcut.drawer.reading import Rows
from sheetcut.drawer.refusals import WrongAmount
from sheetcut.drawer.rows import Row, piece_of
from sheetcut.drawer.store import Store
from sheetcut.job import Kind, Piece

STAGES: dict[Kind, tuple[str, ...]] = {
    "drawing": ("cut", "drawn", "trimmed", "signed", "sent"),
    "print": ("cut", "printed", "trimmed", "signed", "sent"),
    "card": ("cut", "printed", "trimmed", "signed", "sent"),
}
"""What a blank goes through, in order; a stage may be passed over."""

RANK = {"cut": 0, "drawn": 1, "printed": 1, "trimmed": 2, "signed": 3, "sent": 4}
"""How far a blank is, whatever its kind."""


@dataclass(frozen=True, slots=True)
class InWork:
    """An order line with blanks on the table.

    Attributes:
        stages: for each stage its blanks stand at, how many; in the order of the stages.
        to_cut: how many are still to be cut, spoiled ones again among them.
        spoiled: how many were spoiled so far.
    """

    piece: Piece
    stages: dict[str, int]
    to_cut: int
    spoiled: int

    @property
    def due(self) -> date | None:
        """When it is promised for."""
        return self.piece.due

    def __str__(self) -> str:
        stages = ", ".join(f"{n} {stage}" for stage, n in self.stages.items())
        more = f"; {self.to_cut} to cut" if self.to_cut else ""
        return f"{self.piece.order}, {self.piece.label}: {stages}{more}"


def work_list(store: Store) -> tuple[InWork, ...]:
    """Return the order lines with blanks not all sent, the earliest due first."""
    with store.reading() as rows:
        found = [_in_work(rows, row) for row in rows.all("order_line")]
    busy = [one for one in found if any(stage != "sent" for stage in one.stages)]
    return tuple(sorted(busy, key=lambda one: (one.due is None, one.due or date.min)))


def _in_work(rows: Rows, row: Row) -> InWork:
    piece = piece_of(row)
    counts = Counter(blank["state"] for blank in rows.all("blank", line=row["id"]))
    stages = {stage: counts[stage] for stage in RANK if counts[stage]}
    left = max(0, piece.count - sum(stages.values()))
    return InWork(piece, stages, left, counts["spoiled"])


def move(store: Store, order: str, stage: str, *, now: datetime, count: int | None = None) -> str:
    """Move blanks of an order line on to a stage; those nearest to it first.

    Args:
        count: how many; None for all that are not so far yet.

    Raises:
        NotThere: if there is no such line.
        WrongAmount: if its kind has no such stage, or not so many blanks are before it.
    """
    with store.changing(now) as change:
        row = named_line(change, order)
        stages = STAGES[piece_of(row).kind]
        if stage not in stages[1:]:
            raise WrongAmount(
                f"order {order}",
                f'a {row["kind"]} is never "{stage}"',
                f"write one of {', '.join(stages[1:])}",
            )
        before = [
            blank
            for blank in change.all("blank", line=row["id"])
            if blank["state"] != "spoiled" and RANK[blank["state"]] < RANK[stage]
        ]
        wanted = len(before) if count is None else count
        if not 1 <= wanted <= len(before):
            found = f"{wanted} to be {stage}, and at a stage before that: {len(before)}"
            if not before:
                found = f"no blank of it is at a stage before {stage}"
            raise WrongAmount(f"order {order}", found, "look with: sheetcut work")
        # In the order they were cut, so the first are the furthest: none ever overtakes another.
        for blank in before[:wanted]:
            change.alter("blank", blank["id"], {"state": stage, "since": change.now})
        change.says = f"{stage.capitalize()}: {wanted} of {order}, {row['label']}".rstrip(", ")
    return change.says
