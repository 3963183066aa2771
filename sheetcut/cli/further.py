"""What `plan --more` tells besides: what would save a sheet, what room is left, what to buy."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sheetcut.layout import Plan
    from sheetcut.read import Settings


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
    from sheetcut.printout.further import savings_of  # noqa: PLC0415

    for paper in made.papers:
        yield paper.paper
        yield from (f"  {line}" for line in savings_of(made, paper, settings.unit))


def _stopped(made: Plan) -> Iterator[str]:
    from sheetcut.answers.stopped_cuts import stopped_cuts  # noqa: PLC0415
    from sheetcut.printout.stopped import stopped_line  # noqa: PLC0415

    for paper in made.papers:
        found = stopped_cuts(made.job, paper, seed=made.seed)
        yield f"{paper.paper}: {stopped_line(found, made.job.currency)}"


def _room(made: Plan, settings: Settings) -> Iterator[str]:
    from sheetcut.printout.further import room_of  # noqa: PLC0415

    if not settings.sizes_sold:
        yield "no sizes sold are known; write them in studio.toml, as sizes-sold"
        return
    yield from room_of(made, settings)
