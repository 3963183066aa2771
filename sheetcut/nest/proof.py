"""The bound for one task: the plainest argument first, stronger ones as far as they are needed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sheetcut.layout import Bound, Measure
from sheetcut.nest import bounds
from sheetcut.nest.reasons import because
from sheetcut.nest.rows import Row
from sheetcut.nest.task import Task

KEPT_ROWS = 4  # of the function rows, beside all area rows


@dataclass(frozen=True, slots=True)
class Proof:
    """The least value any plan can have, and the rows that show it.

    Attributes:
        value: None where the stock cannot hold the blanks at all.
        rows: those that give the value; the plainest that do.
        known: all rows worked out so far.
        crowd: how many blanks there are of which no two share a sheet.
    """

    value: int | None
    rows: tuple[Row, ...]
    known: tuple[Row, ...]
    crowd: int = 0


def proofs(task: Task) -> Iterator[Proof]:
    """Yield bounds, each at least as good as the one before and dearer to work out."""
    rows = bounds.area_rows(task)
    best = _proof(task, rows[:1], rows[1:])
    yield best
    many = bounds.crowd(task)
    crowded = Row((0,) * len(task.blanks), (1,) * len(task.stocks), many, "crowd")
    best = replace(_stronger(task, best, [crowded]), crowd=many)
    yield best
    more = bounds.strongest(task, bounds.function_rows(task), KEPT_ROWS)
    yield _stronger(task, best, more)


def _stronger(task: Task, proof: Proof, more: list[Row]) -> Proof:
    """Return the proof with more rows known, and shown by them where that says more."""
    known = tuple(dict.fromkeys((*proof.known, *more)))
    better = _proof(task, more[:1], list(known))
    return replace(better if _better(better, proof) else proof, known=known, crowd=proof.crowd)


def with_row(task: Task, proof: Proof, row: Row) -> Proof:
    """Return the proof with one row more."""
    return _stronger(task, proof, [row])


def bound_of(task: Task, proof: Proof, *, partly: bool) -> Bound:
    """Return a proof as it is shown.

    Args:
        partly: whether pieces were left out for want of paper.
    """
    measure: Measure = "cost" if task.aim == "least cost" else "sheets"
    value = proof.value or 0
    reason = because(task, value, list(proof.rows), proof.crowd, partly=partly)
    return Bound(measure, value, reason)


def _better(one: Proof, other: Proof) -> bool:
    if one.value is None or other.value is None:
        return one.value is None and other.value is not None
    return one.value > other.value


def _proof(task: Task, plain: list[Row], more: list[Row]) -> Proof:
    """Return the bound of rows, shown by as few of them as give it."""
    known = tuple(dict.fromkeys((*plain, *more)))
    best = bounds.best_of(task, known)
    for row in known:
        if bounds.best_of(task, [row]) == best:
            return Proof(best, (row,), known)
    return Proof(best, known, known)
