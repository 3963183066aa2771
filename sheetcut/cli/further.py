"""What `plan --more` tells besides: what would save a sheet, what room is left, what to buy."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sheetcut.layout import Plan
    from sheetcut.read import Settings

SECONDS = 5.0  # for what would save a sheet of one paper
ROUNDS = 6000  # for each change: the proofs that come late come by then


def more_lines(made: Plan, settings: Settings) -> Iterator[str]:
    """Yield what else there is to say of a plan, a line at a time."""
    yield ""
    yield "What would save"
    yield from (f"  {line}" for line in _savings(made, settings))
    yield ""
    yield "Room left, sizes sold with the usual margins of a drawing"
    yield from (f"  {line}" for line in _room(made, settings))
    yield ""
    yield "What cuts that stop inside the paper would save; no plan here has any"
    yield from (f"  {line}" for line in _stopped(made))
    if made.short:
        from sheetcut.cli.buying import shopping_lines  # noqa: PLC0415

        yield ""
        yield from shopping_lines(made.job, settings)


def _savings(made: Plan, settings: Settings) -> Iterator[str]:
    from sheetcut.answers.saving import savings  # noqa: PLC0415
    from sheetcut.answers.supply import Effort, question  # noqa: PLC0415
    from sheetcut.job import reading_step  # noqa: PLC0415
    from sheetcut.printout.further import saving_lines  # noqa: PLC0415

    short = {made.job.pieces[one.piece].paper for one in made.short}
    for paper in made.papers:
        yield paper.paper
        if paper.paper in short:
            yield "  paper is short, so nothing can be saved"
            continue
        more = [
            sheet
            for sheet in made.job.sheets_of(paper.paper)
            if sheet.kind == "full" and sheet.on_hand is not None
        ]
        effort = Effort(rounds=ROUNDS, seconds=SECONDS)
        found = savings(made.job, paper.paper, more=more, present=paper, effort=effort)
        in_cash = question(made.job, paper.paper).papers[0].aim == "least cost"
        step = reading_step(made.job, paper.paper)
        lines = saving_lines(
            found, made.job.currency, in_cash=in_cash, step=step, unit=settings.unit
        )
        yield from (f"  {line}" for line in lines)


def _stopped(made: Plan) -> Iterator[str]:
    from sheetcut.answers.stopped_cuts import stopped_cuts  # noqa: PLC0415
    from sheetcut.printout.stopped import stopped_line  # noqa: PLC0415

    for paper in made.papers:
        found = stopped_cuts(made.job, paper, seed=made.seed)
        yield f"{paper.paper}: {stopped_line(found, made.job.currency)}"


def _room(made: Plan, settings: Settings) -> Iterator[str]:
    from sheetcut.answers.given import price_list  # noqa: PLC0415
    from sheetcut.answers.room import room_left  # noqa: PLC0415
    from sheetcut.printout.further import room_lines  # noqa: PLC0415
    from sheetcut.units import Edges  # noqa: PLC0415

    if not settings.sizes_sold:
        yield "no sizes sold are known; write them in studio.toml, as sizes-sold"
        return
    margin = settings.usual_margins.get("drawing", Edges())
    papers = [paper.paper for paper in made.papers]
    sold = price_list(made.job, settings.sizes_sold, margin=margin, papers=papers)
    yield from room_lines(made, room_left(made, sold))
