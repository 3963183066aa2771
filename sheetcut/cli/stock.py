"""The commands for what lies in the drawer: drawer show, add, correct, remove, and more."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetcut.cli.arrivals import found, low, receive, sheet_argument
from sheetcut.cli.exchange import export_command, import_command
from sheetcut.cli.rows_typed import correct_row, filed_job, read_row, remove_row
from sheetcut.cli.shown import WRONG, Shown, echo_json, folder_argument, json_option
from sheetcut.cli.studio import (
    ShowsFirst,
    aligned,
    clock,
    in_option,
    keeps_stock,
    kept_store,
)
from sheetcut.cli.typing_in import SHEET_HELP, heading_options, in_one, typed_cells

if TYPE_CHECKING:
    from sheetcut.drawer import InDrawer
    from sheetcut.job import Job


@click.group(cls=ShowsFirst)
def drawer() -> None:
    """What lies in the drawer: show it, correct it, bring it in and out.

    `sheetcut drawer import` begins to keep it; from then on cuts change it by themselves.
    """


@drawer.command()
@folder_argument
@json_option
def show(folder: Path, as_json: bool) -> None:
    """Show what lies in the drawer, and what runs low."""
    from sheetcut.drawer import InDrawer, in_drawer  # noqa: PLC0415

    if keeps_stock(folder):
        with kept_store(folder) as store:
            found, job = in_drawer(store), store.recorded()
    else:
        job = filed_job(folder)
        found = tuple(InDrawer(sheet) for sheet in job.sheets)
    if as_json:
        echo_json(_document(job, found))
        return
    for line in aligned(_table(found), right=(3, 4)):
        click.echo(line)
    for one in found:
        if one.is_low:
            click.echo(
                f"low: {one.sheet.id}, {one.sheet.on_hand} on hand; time to buy at {one.low}"
            )


@drawer.command()
@click.argument("sheet", nargs=-1)
@in_option
@heading_options(SHEET_HELP)
def add(sheet: tuple[str, ...], folder: Path, **given: str | None) -> None:
    """Put a sheet into the drawer.

    SHEET is its name there; an offcut without one is given a tag to pencil on it.
    """
    from sheetcut.drawer import free_tag  # noqa: PLC0415
    from sheetcut.kept_tables import DRAWER  # noqa: PLC0415

    with kept_store(folder) as store:
        typed = {"sheet": in_one(sheet), **typed_cells(given)}
        read = read_row(DRAWER, store, typed, folder, "drawer add")
        if not sheet:
            if read.kind != "offcut":
                raise Shown("drawer add: no name is given; write one, as in RAG-L", WRONG)
            read = replace(read, id=free_tag(store))
        click.echo(DRAWER.add(store, read, now=clock()))


@drawer.command()
@sheet_argument
@in_option
@click.option("--sheet", "renamed", metavar="TEXT", help="A new name in the drawer.")
@heading_options(SHEET_HELP)
def correct(sheet: tuple[str, ...], folder: Path, renamed: str | None, **given: str | None) -> None:
    """Correct what is known of a sheet; what is not named stays."""
    from sheetcut.kept_tables import DRAWER  # noqa: PLC0415

    correct_row(DRAWER, sheet, {"sheet": renamed, **given}, folder, "drawer correct")


@drawer.command()
@sheet_argument
@in_option
def remove(sheet: tuple[str, ...], folder: Path) -> None:
    """Take a row out of the drawer, with all it has on hand."""
    from sheetcut.kept_tables import DRAWER  # noqa: PLC0415

    remove_row(DRAWER, sheet, folder)


for command in (receive, found, low):
    drawer.add_command(command)
drawer.add_command(import_command("drawer"))
drawer.add_command(export_command("drawer"))


def _table(found: tuple[InDrawer, ...]) -> list[tuple[str, ...]]:
    from sheetcut.drawer.tables import money_text, size_text  # noqa: PLC0415

    rows: list[tuple[str, ...]] = [
        ("sheet", "paper", "size", "on hand", "price", "grain", "side", "remarks")
    ]
    for one in found:
        sheet = one.sheet
        rows.append(
            (
                sheet.id,
                sheet.paper,
                size_text(sheet.width, sheet.height, sheet.unit),
                "any" if sheet.on_hand is None else str(sheet.on_hand),
                money_text(sheet.price),
                sheet.grain,
                sheet.side,
                "; ".join(_remarks(one)),
            )
        )
    return rows


def _remarks(one: InDrawer) -> list[str]:
    said = []
    if one.sheet.kind == "offcut":
        said.append("offcut")
    if one.held:
        said.append(f"{one.held} pinned up")
    if one.origin:
        said.append(one.origin)
    if one.true_edges is not None:
        said.append(f"true edges: {', '.join(one.true_edges) or 'none'}")
    if one.sheet.note:
        said.append(one.sheet.note)
    return said


def _document(job: Job, found: tuple[InDrawer, ...]) -> dict[str, Any]:
    from sheetcut.cli.documents import job_rows  # noqa: PLC0415

    return {
        "form": "sheetcut drawer 1",
        "unit": "mm",
        "currency": job.currency,
        "sheets": [
            {
                **row,
                "held": one.held,
                "low": one.low,
                "is_low": one.is_low,
                "true_edges": one.true_edges,
                "origin": one.origin,
            }
            for row, one in zip(
                job_rows(replace(job, sheets=tuple(one.sheet for one in found)))["sheets"],
                found,
                strict=True,
            )
        ],
    }
