"""The commands for what was cut and is not out yet: work, work move."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetcut.cli.shown import echo_json, folder_argument, json_option
from sheetcut.cli.studio import ShowsFirst, aligned, clock, in_option, kept_store

if TYPE_CHECKING:
    from sheetcut.drawer import InWork


@click.group(cls=ShowsFirst)
def work() -> None:
    """What was cut and is not sent yet, and how far each blank is."""


@work.command()
@folder_argument
@json_option
def show(folder: Path, as_json: bool) -> None:
    """Show the work list, what is due first at the top."""
    from sheetcut.drawer import work_list  # noqa: PLC0415

    with kept_store(folder) as store:
        found = work_list(store)
    if as_json:
        echo_json({"form": "sheetcut work 1", "lines": [_row(one) for one in found]})
        return
    if not found:
        click.echo("nothing is in work", err=True)
        return
    rows: list[tuple[str, ...]] = [
        ("order", "client", "piece", "due", "stands at", "to cut", "spoiled")
    ]
    rows += [
        (
            one.piece.order,
            one.piece.client,
            one.piece.label,
            "" if one.due is None else one.due.isoformat(),
            ", ".join(f"{n} {stage}" for stage, n in one.stages.items()),
            str(one.to_cut or ""),
            str(one.spoiled or ""),
        )
        for one in found
    ]
    for line in aligned(rows, right=(5, 6)):
        click.echo(line)


@work.command()
@click.argument("order")
@click.argument("stage")
@click.option("--count", type=click.IntRange(1), help="How many.  [default: all not so far yet]")
@in_option
def move(order: str, stage: str, count: int | None, folder: Path) -> None:
    """Move blanks of an order line on: drawn or printed, trimmed, signed, sent."""
    from sheetcut.drawer import move as move_on  # noqa: PLC0415

    with kept_store(folder) as store:
        click.echo(move_on(store, order, stage.casefold(), now=clock(), count=count))


def _row(one: InWork) -> dict[str, object]:
    return {
        "order": one.piece.order,
        "client": one.piece.client,
        "piece": one.piece.label,
        "due": None if one.due is None else one.due.isoformat(),
        "count": one.piece.count,
        "stages": one.stages,
        "to_cut": one.to_cut,
        "spoiled": one.spoiled,
    }
