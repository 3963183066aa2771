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
from sheetcut.job import Job, Piece, Sheet, blank_size, reading_step
from sheetcut.layout import PaperPlan
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
    present: Supplied | PaperPlan | None = None,
    effort: Effort | None = None,
) -> tuple[Saving, ...]:
    """Return the changes that would save, the slightest of each kind, then what cannot save.

    Args:
        more: sizes of sheet of which any number might be bought, in the drawer or not; those
            without a price are left out where the plan counts cash.
        present: the present plan of ``question(job, paper)``, if it is known already, or of
            the job itself with nothing short.
        effort: for each change that is tried; the seconds are for all of them together.
    """
    # Only what a plan takes is asked for, not how well it is cut.
    effort = replace(effort or Effort(rounds=400), tidy=False)
    asked = question(job, paper)
    if not asked.pieces:
        return ()
    before = _before(asked, present, effort)
    if before is None:
        return ()
    search = _Search(asked, before, effort, Stop(effort.seconds))
    found = [
        search.margin_down(),
        *search.lines_left_out(),
        *(search.size_down(line) for line in range(len(asked.pieces))),
        *(search.turned(line) for line, one in enumerate(asked.pieces) if one.turn != "yes"),
        *(search.with_sheet(sheet) for sheet in more),
    ]
    tried = [one for one in found if one is not None]
    return tuple(sorted(tried, key=_merit))


@dataclass(frozen=True, slots=True)
class _Before:
    """What the present plan takes, and whether nothing less will do."""

    value: int
    proved: bool


def _before(asked: Job, present: Supplied | PaperPlan | None, effort: Effort) -> _Before | None:
    """Return what the present plan takes; None where something is short in it."""
    measure = "cost" if asked.papers[0].aim == "least cost" else "sheets"
    if isinstance(present, PaperPlan):
        if present.bound.measure == measure:
            return _Before(present.value(asked), present.proved)
        present = None
    present = present or laid_out(asked, effort)
    return None if present.answer.short else _Before(present.value, present.proved)


def _merit(saving: Saving) -> tuple[bool, int, int]:
    kinds: tuple[Change, ...] = ("turn", "margin", "size", "sheet", "left out")
    return not saving.saves, kinds.index(saving.change), saving.by


class _Search:
    """Tries changes of one job against its present plan."""

    def __init__(self, job: Job, before: _Before, effort: Effort, stop: Stop) -> None:
        self.job = job
        self.before = before
        self.effort = effort
        self.stop = stop
        self.step = reading_step(job, job.papers[0].name)
        self.hopeless: set[int] = set()

    def margin_down(self) -> Saving | None:
        """Return the least that would have to come off every margin."""
        widest = max(max(piece.margin) for piece in self.job.pieces) // self.step

        def changed(n: int) -> Job:
            return self._with([_narrowed(piece, n * self.step) for piece in self.job.pieces])

        return self._least("margin", changed, min(widest, MOST_STEPS))

    def size_down(self, line: int) -> Saving | None:
        """Return the least that would have to come off both sides of a line's pieces.

        Where even leaving the line out saves nothing, no smaller size of it does.
        """
        piece = self.job.pieces[line]
        room = min(piece.width - piece.border.across, piece.height - piece.border.up) // (
            2 * self.step
        )

        def changed(n: int) -> Job:
            off = n * self.step
            less = replace(piece, width=piece.width - off, height=piece.height - off)
            return self._with([*self._before(line), less, *self._after(line)])

        if line in self.hopeless and room:
            return self._none("size", line=line, by=min(room, MOST_STEPS) * self.step)
        return self._least("size", changed, min(room, MOST_STEPS), line)

    def lines_left_out(self) -> Iterator[Saving | None]:
        """Yield what leaving each line out would save, the largest lines first.

        Where leaving one out saves nothing, nor does leaving out one with no more pieces, no
        larger: its pieces could be cut from the places of the other's.
        """
        pieces = self.job.pieces
        by_area = sorted(range(len(pieces)), key=lambda n: -pieces[n].count * pieces[n].asked_area)
        for line in by_area:
            if any(self._is_less(line, other) for other in self.hopeless):
                one: Saving | None = self._none("left out", line=line)
            else:
                one = self.left_out(line)
            if one is not None and not one.saves and one.least:
                self.hopeless.add(line)
            yield one

    def _is_less(self, line: int, other: int) -> bool:
        """Whether a line's pieces can be cut from the places of another's."""
        mine, theirs = self.job.pieces[line], self.job.pieces[other]
        if mine.count > theirs.count or mine.turn != theirs.turn or mine.deckles or theirs.deckles:
            return False
        small, large = ([*blank_size(one, self.step)] for one in (mine, theirs))
        if mine.turn == "yes":
            small, large = sorted(small), sorted(large)
        return small[0] <= large[0] and small[1] <= large[1]

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
        if self.job.papers[0].aim == "least cost" and price is None:
            return None
        if any(one.id == sheet.id and one.on_hand is None for one in self.job.sheets):
            return None
        others = tuple(one for one in self.job.sheets if one.id != sheet.id)
        new = replace(
            sheet,
            paper=self.job.papers[0].name,
            on_hand=None,
            price=None if price is None else rounded_up(price),
        )
        job = replace(self.job, sheets=(*others, new))
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
        return replace(best, least=beaten or (low == 0 and self.before.proved))

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
        before = self.before.value
        if plain_bound(job).value >= before:
            return self._none(change, line=line, sheet=sheet, by=by)
        answer = laid_out(job, self.effort, stop=self.stop.share(of=2))
        if answer.answer.short or answer.value >= before:
            none = self._none(change, line=line, sheet=sheet, by=by)
            return replace(none, least=answer.answer.bound.value >= before)
        # A single change has no smaller one of its kind.
        order = "" if line is None else self.job.pieces[line].order
        return Saving(change, before, answer.value, order, sheet, by, by == 0, answer)

    def _none(
        self, change: Change, *, line: int | None = None, sheet: str = "", by: Length = 0
    ) -> Saving:
        """Return the news that a change saves nothing, and that this is proved."""
        order = "" if line is None else self.job.pieces[line].order
        before = self.before.value
        return Saving(change, before, before, order, sheet, by, True)

    def _with(self, pieces: Sequence[Piece]) -> Job:
        return replace(self.job, pieces=tuple(pieces))

    def _before(self, line: int) -> Iterator[Piece]:
        yield from self.job.pieces[:line]

    def _after(self, line: int) -> Iterator[Piece]:
        yield from self.job.pieces[line + 1 :]


def _narrowed(piece: Piece, off: Length) -> Piece:
    return replace(piece, margin=Edges(*(max(0, side - off) for side in piece.margin)))
