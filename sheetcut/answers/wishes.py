"""Lines that are cut only if there is room: test strips, swatches, blanks to have ready.

They never cost a sheet. What the plan of the orders uses is all they may be cut from; the
orders may lie differently to make room, but no sheet and no offcut more is taken.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from sheetcut.answers.margins import last_place
from sheetcut.answers.room import with_line
from sheetcut.answers.supply import Effort, Supplied, bound_with_more, laid_out
from sheetcut.answers.trees import Trees
from sheetcut.job import Job, Piece
from sheetcut.layout import Candidate


@dataclass(frozen=True, slots=True)
class Granted:
    """A plan with as many wishes as it has room for.

    Attributes:
        answer: orders and wishes; the wishes are the last lines of its job, with the counts
            that have room. Wishes without room are not among them.
        counts: for each wish in order, how many of it are cut.
    """

    answer: Supplied
    counts: tuple[int, ...]


def if_room(present: Supplied, wishes: Sequence[Piece], *, effort: Effort | None = None) -> Granted:
    """Return the present plan with wishes added, the first ones first.

    Args:
        present: a plan for all orders of one paper, none of them short.
    """
    effort = effort or Effort(rounds=400)
    answer, counts = present, []
    for wish in wishes:
        answer, granted = _granted(answer, wish, effort)
        counts.append(granted)
    return Granted(answer, tuple(counts))


def _granted(present: Supplied, wish: Piece, effort: Effort) -> tuple[Supplied, int]:
    """Return the plan with as many of one wish as were found to have room."""
    beside = last_place(lambda n: _beside(present, wish, n) is not None, 1, wish.count)
    moved, n = _moved(present, wish, effort) if beside < wish.count else (None, 0)
    if moved is not None and n > beside:
        return moved, n
    return (present if beside == 0 else _with(present, wish, beside)), beside


def _beside(present: Supplied, wish: Piece, n: int) -> Trees | None:
    """Return the trees with n of a wish in what they leave over, nothing moved."""
    job = _asked(present.job, wish, n)
    return with_line(job, present.trees, len(job.pieces) - 1)


def _with(present: Supplied, wish: Piece, n: int) -> Supplied:
    trees = _beside(present, wish, n)
    assert trees is not None
    bound = bound_with_more(present.answer.bound)
    answer = replace(present.answer, candidates=(Candidate(trees),), bound=bound)
    return replace(present, job=_asked(present.job, wish, n), answer=answer)


def _moved(present: Supplied, wish: Piece, effort: Effort) -> tuple[Supplied | None, int]:
    """Return a plan from the same sheets with the orders moved for a wish, and how many it has.

    A wish comes last where paper is short, so the search itself finds how many have room.
    """
    used = Counter(name for name, _ in present.trees)
    sheets = tuple(replace(sheet, on_hand=used[sheet.id]) for sheet in present.job.sheets)
    job = _asked(replace(present.job, sheets=sheets), replace(wish, due=None), wish.count)
    found = laid_out(job, effort)
    line = len(job.pieces) - 1
    if any(short.piece != line for short in found.answer.short):
        return None, 0
    n = wish.count - sum(short.count for short in found.answer.short)
    if not n:
        return None, 0
    bound = bound_with_more(present.answer.bound)
    answer = replace(found.answer, short=(), bound=bound)
    return replace(present, job=_asked(present.job, wish, n), answer=answer), n


def _asked(job: Job, wish: Piece, n: int) -> Job:
    return replace(job, pieces=(*job.pieces, replace(wish, count=n)))
