"""What cuts that stop inside the paper would save: a comparison, for nothing here makes any."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from sheetcut.job import Job
from sheetcut.layout import Measure, PaperPlan
from sheetcut.nest import bounds
from sheetcut.nest.free import FreeSheet, placed_freely
from sheetcut.nest.task import Task, stocks_of, task_of

FUNCTION_ROWS = 4  # of the strongest
MOST_BLANKS = 300  # placed freely; more are only judged by what must be needed


@dataclass(frozen=True, slots=True)
class StoppedCuts:
    """One paper's plan beside plans whose cuts need not run from edge to edge.

    Attributes:
        measure: sheets, or cash in cents.
        value: what the plan takes.
        least: what any way of laying the same pieces on the sheets takes, stopped cuts or not.
        found: what a way that was found takes, if that is less than the plan; else None.
    """

    paper: str
    measure: Measure
    value: int
    least: int
    found: int | None

    @property
    def save_nothing(self) -> bool:
        """Whether it is proved that stopped cuts save nothing."""
        return self.least == self.value


def stopped_cuts(job: Job, paper: PaperPlan, *, seed: int = 0) -> StoppedCuts:
    """Return what stopped cuts would save on one paper, the pieces in its plan being cut.

    The bound comes from areas, from blanks of which no two share a sheet, and from dual
    feasible functions: none of these asks how a sheet is cut.
    """
    value = paper.value(job)
    task = _task(job, paper)
    if not task.blanks:
        return StoppedCuts(paper.paper, paper.bound.measure, value, value, None)
    rows = [*bounds.area_rows(task), bounds.crowd_row(task)]
    rows += bounds.strongest(task, bounds.function_rows(task), FUNCTION_ROWS)
    least = min(bounds.best_of(task, rows) or 0, value)
    found = None
    if least < value and task.n_blanks <= MOST_BLANKS:
        sheets = placed_freely(task, seed)
        takes = None if sheets is None else _value(task, sheets)
        found = takes if takes is not None and takes < value else None
    return StoppedCuts(paper.paper, paper.bound.measure, value, least, found)


def _task(job: Job, paper: PaperPlan) -> Task:
    counts: Counter[int] = Counter()
    for layout in paper.layouts:
        for one in layout.placements:
            if not job.pieces[one.piece].if_room:
                counts[one.piece] += layout.copies
    turns = {line: job.pieces[line].turn for line in counts}
    return task_of(job, paper.paper, stocks_of(job, paper.paper), turns, counts)


def _value(task: Task, sheets: list[FreeSheet]) -> int:
    return task.value(Counter(one.stock for one in sheets))[0]
