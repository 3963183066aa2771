"""What would save a sheet: the smallest change to one paper's orders that costs a sheet less.

Five kinds of change are tried: a common margin down, one line's size down, one line left
out, one line allowed to turn, and one more size of sheet. A change is found by search, so it
certainly saves; that no smaller one does is claimed only where the bound shows it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from sheetcut.answers.money import rounded_up, sheet_price
from sheetcut.answers.supply import Effort, Supplied, laid_out, plain_bound, question
from sheetcut.job import Job, Piece, Sheet, reading_step
from sheetcut.nest import Stop
from sheetcut.units import Edges, Length

Change = Literal["margin", "size", "left out", "turn", "sheet"]

MOST_STEPS = 32  # of the ruler, off a margin or a size: beyond it is another order


@dataclass(frozen=True, slots=True)
class Saving:
    """A change that would do with less, or the news that none of its kind does.

    Attributes:
        change: its kind.
        order: the order line it changes; empty for all lines.
        sheet: for "sheet", the id of the size that would be there too.
        by: for "margin" and "size", how much comes off each margin, or off both sides.
        before, after: cash in cents, or full sheets where the aim counts them; equal where
            nothing of this kind was found to save.
        least: whether it is proved that no smaller change of this kind saves, or, where
            nothing was found, that none does.
        answer: the plan with the change; None where nothing was found.
    """

    change: Change
    before: int
    after: int
    order: str = ""
    sheet: str = ""
    by: Length = 0
    least: bool = False
    answer: Supplied | None = None

    @property
    def saves(self) -> bool:
        """Whether it does with less."""
        return self.after < self.before


def savings(
    job: Job,
    paper: str,
    *,
    more: Iterable[Sheet] = (),
    present: Supplied | None = None,
    effort: Effort | None = None,
) -> tuple[Saving, ...]:
    """Return the changes that would save, the slightest of each kind, then what cannot save.

    Args:
        more: sizes of sheet that are not in the drawer, as if any number were on hand; those
            without a price are left out where the plan counts cash.
        present: the present plan of ``question(job, paper)``, if it is known already.
        effort: for each change that is tried; the seconds are for all of them together.
    """
    effort = effort or Effort(rounds=400)
    asked = question(job, paper)
    if not asked.pieces:
        return ()
    present = present or laid_out(asked, effort)
    if present.answer.short:
        return ()
    search = _Search(asked, present, effort, Stop(effort.seconds))
    found = [
        search.margin_down(),
        *(search.size_down(line) for line in range(len(asked.pieces))),
        *(search.left_out(line) for line in range(len(asked.pieces))),
        *(search.turned(line) for line, one in enumerate(asked.pieces) if one.turn != "yes"),
        *(search.with_sheet(sheet) for sheet in more),
    ]
    tried = [one for one in found if one is not None]
    return tuple(sorted(tried, key=_merit))


def _merit(saving: Saving) -> tuple[bool, int, int]:
    kinds: tuple[Change, ...] = ("turn", "margin", "size", "sheet", "left out")
    return not saving.saves, kinds.index(saving.change), saving.by


class _Search:
    """Tries changes of one job against its present plan."""

    def __init__(self, job: Job, present: Supplied, effort: Effort, stop: Stop) -> None:
        self.job = job
        self.present = present
        self.effort = effort
        self.stop = stop
        self.step = reading_step(job, job.papers[0].name)

    def margin_down(self) -> Saving | None:
        """Return the least that would have to come off every margin."""
        widest = max(max(piece.margin) for piece in self.job.pieces) // self.step

        def changed(n: int) -> Job:
            return self._with([_narrowed(piece, n * self.step) for piece in self.job.pieces])

        return self._least("margin", changed, min(widest, MOST_STEPS))

    def size_down(self, line: int) -> Saving | None:
        """Return the least that would have to come off both sides of a line's pieces."""
        piece = self.job.pieces[line]
        room = min(piece.width - piece.border.across, piece.height - piece.border.up) // (
            2 * self.step
        )

        def changed(n: int) -> Job:
            off = n * self.step
            less = replace(piece, width=piece.width - off, height=piece.height - off)
            return self._with([*self._before(line), less, *self._after(line)])

        return self._least("size", changed, min(room, MOST_STEPS), line)

    def left_out(self, line: int) -> Saving | None:
        """Return what leaving a line out would save."""
        pieces = [*self._before(line), *self._after(line)]
        if not pieces:
            return None
        return self._tried("left out", self._with(pieces), line=line)

    def turned(self, line: int) -> Saving | None:
        """Return what letting a line lie either way would save."""
        free = replace(self.job.pieces[line], turn="yes")
        pieces = [*self._before(line), free, *self._after(line)]
        return self._tried("turn", self._with(pieces), line=line)

    def with_sheet(self, sheet: Sheet) -> Saving | None:
        """Return what one more size of sheet would save."""
        price = sheet_price(sheet)
        there = any(one.id == sheet.id for one in self.job.sheets)
        if there or (self.job.papers[0].aim == "least cost" and price is None):
            return None
        new = replace(
            sheet,
            paper=self.job.papers[0].name,
            on_hand=None,
            price=None if price is None else rounded_up(price),
        )
        job = replace(self.job, sheets=(*self.job.sheets, new))
        return self._tried("sheet", job, sheet=sheet.id)

    def _least(
        self, change: Change, changed: Callable[[int], Job], most: int, line: int | None = None
    ) -> Saving | None:
        """Return the smallest change between 1 and ``most`` that saves, found by halving."""
        if most < 1:
            return None
        last = self._tried(change, changed(most), line=line, by=most * self.step)
        if last is None or not last.saves:
            return last
        low, best = 0, last
        beaten = False
        while best.by // self.step - low > 1:
            middle = (low + best.by // self.step) // 2
            one = self._tried(change, changed(middle), line=line, by=middle * self.step)
            if one is None:
                return best
            if one.saves:
                best = one
            else:
                low, beaten = middle, one.least
        return replace(best, least=beaten or (low == 0 and self.present.proved))

    def _tried(
        self,
        change: Change,
        job: Job,
        *,
        line: int | None = None,
        sheet: str = "",
        by: Length = 0,
    ) -> Saving | None:
        """Return what a changed job does with; None once there is no time left."""
        if self.stop.is_due():
            return None
        order = "" if line is None else self.job.pieces[line].order
        before = self.present.value
        if plain_bound(job).value >= before:
            return Saving(change, before, before, order, sheet, by, True)
        answer = laid_out(job, self.effort, stop=self.stop.share(of=2))
        if answer.answer.short or answer.value >= before:
            none = answer.answer.bound.value >= before
            return Saving(change, before, before, order, sheet, by, none)
        # A single change has no smaller one of its kind.
        return Saving(change, before, answer.value, order, sheet, by, by == 0, answer)

    def _with(self, pieces: Sequence[Piece]) -> Job:
        return replace(self.job, pieces=tuple(pieces))

    def _before(self, line: int) -> Iterator[Piece]:
        yield from self.job.pieces[:line]

    def _after(self, line: int) -> Iterator[Piece]:
        yield from self.job.pieces[line + 1 :]


def _narrowed(piece: Piece, off: Length) -> Piece:
    return replace(piece, margin=Edges(*(max(0, side - off) for side in piece.margin)))
