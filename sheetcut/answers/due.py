"""Part of the orders: those that are due by a day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sheetcut.errors import SheetcutError
from sheetcut.job import Job


class NothingDue(SheetcutError):
    """No order line is due by the day that is asked for."""

    def __init__(self, day: date) -> None:
        self.day = day
        super().__init__(
            f"nothing is due by {day}; give a later day, or leave the day out for all orders"
        )


def due_by(job: Job, day: date) -> Job:
    """Return the job with those order lines only that are due on a day or before it.

    Lines that are cut only if there is room stay: they take no paper of their own.

    Raises:
        NothingDue: if no other line is left.
    """
    due = {one.order for one in job.pieces if one.due is not None and one.due <= day}
    if not due:
        raise NothingDue(day)
    pieces = tuple(one for one in job.pieces if one.order in due or one.if_room)
    return replace(job, pieces=pieces)
