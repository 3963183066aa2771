"""The commands for what was done: undo, redo, history and its figures."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetcut.cli.shown import WRONG, Shown, echo_json, folder_argument, json_option
from sheetcut.cli.studio import aligned, clock, kept_store

if TYPE_CHECKING:
    from sheetcut.drawer import Figures


@click.command()
@folder_argument
def undo(folder: Path) -> None:
    """Take back the latest change of drawer, orders or work that stands."""
    with kept_store(folder) as store:
        click.echo(store.undo(now=clock()))


@click.command()
@folder_argument
def redo(folder: Path) -> None:
    """Do again what was taken back last."""
    with kept_store(folder) as store:
        click.echo(store.redo(now=clock()))


@click.command()
@folder_argument
@click.option("--figures", is_flag=True, help="What was bought, used and wasted, by month.")
@click.option(
    "--chart",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Draw the figures into this SVG file.",
)
@json_option
def history(folder: Path, figures: bool, chart: Path | None, as_json: bool) -> None:
    """Read the diary of all that was done, or its figures over time."""
    from sheetcut.drawer import diary  # noqa: PLC0415
    from sheetcut.drawer import figures as figures_of  # noqa: PLC0415

    with kept_store(folder) as store:
        entries, found = store.history(), figures_of(store)
        job = store.recorded()
    if chart:
        _draw(chart, found, job.studio)
        click.echo(chart, err=as_json or figures)
    if as_json and figures:
        echo_json(_figures_document(found, job.currency))
    elif as_json:
        echo_json(
            {
                "form": "sheetcut history 1",
                "entries": [
                    {
                        "number": one.number,
                        "at": one.at,
                        "says": one.says,
                        "kind": one.kind,
                        "taken_back": one.is_undone,
                    }
                    for one in entries
                ],
            }
        )
    elif figures:
        _print_figures(found)
    elif not chart:
        for line in diary(entries):
            click.echo(line)


def _print_figures(found: tuple[Figures, ...]) -> None:
    from sheetcut.drawer import figure_rows  # noqa: PLC0415

    headings, *rows = figure_rows(found)
    for line in aligned([headings, *rows], right=tuple(range(2, len(headings)))):
        click.echo(line)


def _figures_document(found: tuple[Figures, ...], currency: str) -> dict[str, Any]:
    from sheetcut.units import in_mm2  # noqa: PLC0415

    return {
        "form": "sheetcut figures 1",
        "unit": "mm2",
        "currency": currency,
        "figures": [
            {
                "month": one.month,
                "paper": one.paper,
                "bought": one.bought,
                "bought_area": in_mm2(one.bought_area),
                "spent": Decimal(one.spent).scaleb(-2),
                "used": one.used,
                "used_area": in_mm2(one.used_area),
                "paper_cost": Decimal(one.cost).scaleb(-2),
                "finished": in_mm2(one.finished),
                "margins": in_mm2(one.margins),
                "scrap": in_mm2(one.wasted),
            }
            for one in found
        ],
    }


def _draw(path: Path, found: tuple[Figures, ...], studio: str) -> None:
    """Draw figures over time into a file that is not there yet."""
    from sheetcut.drawer import write_whole  # noqa: PLC0415
    from sheetcut.printout.chart import figures_chart  # noqa: PLC0415

    if path.suffix.casefold() != ".svg":
        raise Shown(f"{path}: the chart is an SVG; end the name in .svg", WRONG)
    if path.exists() and path.stat().st_size:
        raise Shown(f"{path}: it is there already and stays as it is; name another file", WRONG)
    write_whole(path, figures_chart(found, studio).encode())
