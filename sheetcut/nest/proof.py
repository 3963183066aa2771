"""The bound for one task: the plainest argument first, stronger ones as far as they are needed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sheetcut.layout import Bound, Measure
from sheetcut.nest import bounds
from sheetcut.nest.grid import Grid, grids
from sheetcut.nest.reasons import because, because_listed
from sheetcut.nest.rows import Row, is_quickly_counted
from sheetcut.nest.task import Task

FORM = "weights 1"  # of certificates; see check
LISTING_FORM = "listing 1"
LISTED_ROWS = 3  # that a check lists by; each takes a table
MOST_CHECKED = 1_000_000  # sums of two values in the tables that a check fills again
KEPT_ROWS = 4  # of the function rows, beside all area rows


@dataclass(frozen=True, slots=True)
class Proof:
    """The least value any plan can have, and the rows that show it.

    Attributes:
        value: None where the stock cannot hold the blanks at all.
        rows: those that give the value; the plainest that do.
        known: all rows worked out so far.
        crowd: how many blanks there are of which no two share a sheet.
        listed: how many ways to fill a sheet well enough there are, where the value stands
            because one sheet less would need others; None where the rows give it.
    """

    value: int | None
    rows: tuple[Row, ...]
    known: tuple[Row, ...]
    crowd: int = 0
    listed: int | None = None


def proofs(task: Task) -> Iterator[Proof]:
    """Yield bounds, each at least as good as the one before and dearer to work out."""
    rows = bounds.area_rows(task)
    best = _proof(task, rows[:1], rows[1:])
    yield best
    crowded = bounds.crowd_row(task)
    best = replace(_stronger(task, best, [crowded]), crowd=crowded.total)
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


def with_listing(proof: Proof, value: int, rows: Sequence[Row], listed: int) -> Proof:
    """Return the proof that no plan takes less than a value: its sets were listed in vain."""
    return replace(proof, value=value, rows=tuple(rows), listed=listed)


def bound_of(task: Task, proof: Proof, *, partly: bool) -> Bound:
    """Return a proof as it is shown.

    Args:
        partly: whether pieces were left out for want of paper.
    """
    measure: Measure = "cost" if task.aim == "least cost" else "sheets"
    value = proof.value or 0
    if proof.listed is not None:
        reason = because_listed(task, value, proof.listed, partly=partly)
        return Bound(measure, value, reason, certificate_of_listing(task, proof))
    reason = because(task, value, list(proof.rows), proof.crowd, partly=partly)
    return Bound(measure, value, reason, certificate_of(task, proof))


def certificate_of(task: Task, proof: Proof) -> dict[str, Any] | None:
    """Return the rows by the names of order lines and sheets, so that anyone can check them.

    None where that would take long, or where a row holds only because blanks are not endless.
    """
    costs, limits = bounds.costs_of(task), bounds.limits_of(task)
    if not proof.value or not is_quickly_counted(proof.rows, costs, limits):
        return None
    dear = [row for row in proof.rows if row.why in ("functions", "patterns")]
    if dear and not _are_checkable(task, dear):
        return None
    return {"form": FORM, "rows": [_named(task, row) for row in proof.rows]}


def certificate_of_listing(task: Task, proof: Proof) -> dict[str, Any] | None:
    """Return the weights that a listing went by; None where a check would take long."""
    rows = proof.rows[:LISTED_ROWS]
    if not _are_checkable(task, rows):
        return None
    return {"form": LISTING_FORM, "rows": [_named(task, row) for row in rows]}


def _are_checkable(task: Task, rows: Sequence[Row]) -> bool:
    tables = grids(task, MOST_CHECKED)
    if any(row.cells for row in rows):
        return len(tables) == 1 and tables[0].work <= MOST_CHECKED
    if not all(grid.exact for grid in tables) or sum(grid.work for grid in tables) > MOST_CHECKED:
        return False
    return all(_holds_for_any_number(row, grid) for row in rows for grid in tables)


def _holds_for_any_number(row: Row, grid: Grid) -> bool:
    table = grid.table(row.weights)
    return all(int(table[at]) <= row.capacity[stock] for stock, at in grid.stocks.items())


def _named(task: Task, row: Row) -> dict[str, Any]:
    pieces, stocks = task.job.pieces, task.stocks
    named: dict[str, Any] = {
        "argument": row.why,
        "weights": {
            pieces[line].order: weight
            for blank, weight in zip(task.blanks, row.weights, strict=True)
            for line, _ in blank.lines
        },
        "capacity": {
            stock.sheet.id: most for stock, most in zip(stocks, row.capacity, strict=True)
        },
    }
    return named | ({"cells": list(row.cells)} if row.cells else {})


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
