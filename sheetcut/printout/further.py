"""What else a plan tells in words: what would save a sheet, and what room its sheets leave."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from sheetcut.answers.room import Room, room_left
from sheetcut.answers.saving import MOST_STEPS, Saving, savings
from sheetcut.answers.supply import Effort, question
from sheetcut.answers.terms import sold_by
from sheetcut.drawer.tables import length_text
from sheetcut.job import Unit, reading_step
from sheetcut.layout import PaperPlan, Plan
from sheetcut.printout.words import money
from sheetcut.read import Settings
from sheetcut.units import Length

SECONDS = 5.0  # for what would save a sheet of one paper
ROUNDS = 6000  # for each change: the proofs that come late come by then


def savings_of(plan: Plan, paper: PaperPlan, unit: Unit) -> Iterator[str]:
    """Yield what would save a sheet of one paper, or money; it is searched for."""
    job = plan.job
    if paper.paper in {job.pieces[one.piece].paper for one in plan.short}:
        yield "paper is short, so nothing can be saved"
        return
    more = [
        sheet
        for sheet in job.sheets_of(paper.paper)
        if sheet.kind == "full" and sheet.on_hand is not None
    ]
    effort = Effort(rounds=ROUNDS, seconds=SECONDS)
    found = savings(job, paper.paper, more=more, present=paper, effort=effort)
    in_cash = question(job, paper.paper).papers[0].aim == "least cost"
    step = reading_step(job, paper.paper)
    yield from saving_lines(found, job.currency, in_cash=in_cash, step=step, unit=unit)


def room_of(plan: Plan, settings: Settings) -> Iterator[str]:
    """Yield for each paper what sizes sold still come out of its leftovers."""
    papers = [paper.paper for paper in plan.papers]
    yield from room_lines(plan, room_left(plan, sold_by(plan.job, settings, papers=papers)))


def saving_lines(
    savings: Sequence[Saving], currency: str, *, in_cash: bool, step: Length, unit: Unit
) -> Iterator[str]:
    """Yield the changes of one paper that would save, those alike in one line.

    Args:
        in_cash: whether they count cents; else full sheets.
        step: the reading step, by which margins and sizes were tried.
    """
    told: dict[str, list[str]] = {}
    for one in savings:
        if one.saves:
            words = _change(one, unit)
            told.setdefault(_less(one.before - one.after, currency, in_cash), []).append(words)
    for less, changes in told.items():
        yield f"{less} less: {', or '.join(changes)}"
    if not told:
        most = length_text(step * MOST_STEPS, unit)
        what = "no narrower margin, no line left out, no size of one line smaller by up to"
        proved = all(one.least for one in savings)
        yield f"{what} {most} saves any" + (" (proved)" if proved else ", as far as was searched")


def _change(one: Saving, unit: Unit) -> str:
    by = length_text(one.by, unit)
    least = "" if one.least or not one.by else ", perhaps less"
    return {
        "margin": f"every margin {by} narrower{least}",
        "size": f"{one.order} smaller by {by} both ways{least}",
        "left out": f"without {one.order}",
        "turn": f"{one.order} turned as it likes",
        "sheet": f"with {_title(one)} bought in, packs not counted",
    }[one.change]


def _title(saving: Saving) -> str:
    """Return the name of the sheet that would be there too."""
    sheets = saving.answer.job.sheets if saving.answer else ()
    return next((one.title for one in sheets if one.id == saving.sheet), saving.sheet)


def _less(amount: int, currency: str, in_cash: bool) -> str:
    if in_cash:
        return money(amount, currency)
    return "a sheet" if amount == 1 else f"{amount} sheets"


def room_lines(plan: Plan, rooms: Iterable[Room]) -> Iterator[str]:
    """Yield for each paper the sizes sold that still come out of what its sheets leave over."""
    by_paper: dict[str, list[str]] = {}
    for room in rooms:
        if room.count:
            places = ", ".join(plan.sheet(name).title for name in room.places)
            told = f"{room.count} of {room.piece.label} ({places})"
            by_paper.setdefault(room.piece.paper, []).append(told)
    for paper, sizes in by_paper.items():
        yield f"{paper}: {', or '.join(sizes)}"
    if not by_paper:
        yield "none for any size sold"
