"""The commands for what is wanted: orders show, add, correct, remove, import, export."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetcut.cli.exchange import export_command, import_command
from sheetcut.cli.rows_typed import correct_row, filed_job, read_row, remove_row
from sheetcut.cli.shown import echo_json, folder_argument, json_option
from sheetcut.cli.studio import (
    ShowsFirst,
    aligned,
    clock,
    in_option,
    keeps_stock,
    kept_store,
)
from sheetcut.cli.typing_in import ORDER_HELP, heading_options, in_one, typed_cells

if TYPE_CHECKING:
    from sheetcut.drawer import Store
    from sheetcut.job import Job, Piece

order_argument = click.argument("order", nargs=-1, required=True)


@dataclass(frozen=True, slots=True)
class Ordered:
    """An order line, and how many of it are still to be cut, and pinned up to be."""

    piece: Piece
    to_cut: int
    held: int = 0


@click.group(cls=ShowsFirst)
def orders() -> None:
    """What is wanted: show it, correct it, bring it in and out."""


@orders.command()
@folder_argument
@json_option
def show(folder: Path, as_json: bool) -> None:
    """Show the orders that are open, and how many of each are still to be cut."""
    if keeps_stock(folder):
        with kept_store(folder) as store:
            job = store.recorded()
            found = _open_lines(store, job)
    else:
        job = filed_job(folder)
        found = [Ordered(piece, piece.count) for piece in job.pieces]
    if as_json:
        echo_json(_document(job, found))
        return
    for line in aligned(_table(found), right=(5, 6)):
        click.echo(line)


@orders.command()
@order_argument
@in_option
@heading_options(ORDER_HELP)
def add(order: tuple[str, ...], folder: Path, **given: str | None) -> None:
    """Add an order line; ORDER is its number or name."""
    from sheetcut.kept_tables import ORDERS  # noqa: PLC0415

    with kept_store(folder) as store:
        typed = {"order": in_one(order), **typed_cells(given)}
        piece = read_row(ORDERS, store, typed, folder, "orders add")
        click.echo(ORDERS.add(store, piece, now=clock()))


@orders.command()
@order_argument
@in_option
@click.option("--order", "renamed", metavar="TEXT", help="Another number or name.")
@heading_options(ORDER_HELP)
def correct(order: tuple[str, ...], folder: Path, renamed: str | None, **given: str | None) -> None:
    """Correct an order line; what is not named stays, and so does what was cut for it."""
    from sheetcut.kept_tables import ORDERS  # noqa: PLC0415

    correct_row(ORDERS, order, {"order": renamed, **given}, folder, "orders correct")


@orders.command()
@order_argument
@in_option
def remove(order: tuple[str, ...], folder: Path) -> None:
    """Take an order line out; one that was cut for stays."""
    from sheetcut.kept_tables import ORDERS  # noqa: PLC0415

    remove_row(ORDERS, order, folder)


orders.add_command(import_command("orders"))
orders.add_command(export_command("orders"))


def _open_lines(store: Store, job: Job) -> list[Ordered]:
    """Return the lines of which not all are sent."""
    from sheetcut.drawer import order_rows  # noqa: PLC0415
    from sheetcut.drawer.lines import cut_of  # noqa: PLC0415

    with store.reading() as rows:
        names = {row[0] for row in order_rows(rows)[1:]}
        made = cut_of(rows)
        cut = {row["name"]: made[row["id"]] for row in rows.all("order_line")}
    to_plan = {piece.order: piece.count for piece in store.job().pieces}
    found = []
    for piece in job.pieces:
        if piece.order in names:
            to_cut = max(0, piece.count - cut[piece.order])
            found.append(Ordered(piece, to_cut, to_cut - to_plan.get(piece.order, 0)))
    return found


def _table(found: list[Ordered]) -> list[tuple[str, ...]]:
    from sheetcut.drawer.tables import size_text  # noqa: PLC0415

    rows: list[tuple[str, ...]] = [
        ("order", "client", "piece", "paper", "finished", "count", "to cut", "due")
    ]
    for one in found:
        piece = one.piece
        rows.append(
            (
                piece.order,
                piece.client,
                piece.label,
                piece.paper,
                size_text(piece.width, piece.height, piece.unit),
                str(piece.count),
                f"{one.to_cut}" + (f" ({one.held} pinned up)" if one.held else ""),
                "if room" if piece.if_room else piece.due.isoformat() if piece.due else "",
            )
        )
    return rows


def _document(job: Job, found: list[Ordered]) -> dict[str, Any]:
    from dataclasses import replace  # noqa: PLC0415

    from sheetcut.cli.documents import job_rows  # noqa: PLC0415

    rows = job_rows(replace(job, pieces=tuple(one.piece for one in found)))["orders"]
    return {
        "form": "sheetcut orders 1",
        "unit": "mm",
        "currency": job.currency,
        "orders": [
            {**row, "to_cut": one.to_cut, "held": one.held}
            for row, one in zip(rows, found, strict=True)
        ],
    }
