"""The command for what a size costs that is not ordered yet: quote."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetcut.cli.asking import (
    MOST_WANTED,
    asked_margin,
    asked_paper,
    asked_size,
    charging_of,
    in_option,
    kind_option,
    margin_option,
    paper_option,
    turn_option,
    weighted,
    weighted_option,
)
from sheetcut.cli.shown import NO, YES, Shown, echo_json, json_option
from sheetcut.cli.studio import clock, keeps_stock, kept_store, offer, studio_job
from sheetcut.cli.written import output_options, table_makers, write_out

if TYPE_CHECKING:
    from sheetcut.answers.printing import PrintBlank
    from sheetcut.answers.quote import Quote
    from sheetcut.job import Job, Piece
    from sheetcut.read import Studio

AS_USUAL = {"kind": "drawing", "count": "1", "turn": "yes", "deckle": "none"}
"""What an order line is where its table has no column for it."""


@click.command()
@click.argument("size", nargs=-1, required=True)
@in_option
@paper_option
@margin_option
@kind_option
@turn_option
@weighted_option
@click.option(
    "--count", default=1, show_default=True, type=click.IntRange(1, MOST_WANTED), help="How many."
)
@click.option("--hours", metavar="NUMBER", help="Work on one piece, at the studio's rate.")
@click.option("--take", is_flag=True, help="Make it an order line.")
@click.option("--order", metavar="TEXT", help="With --take: its number or name.")
@click.option("--client", default="", metavar="TEXT", help="With --take: who for.")
@click.option("--piece", "label", default="", metavar="TEXT", help="With --take: what it is.")
@json_option
@output_options(".svg, sheets cut into as many as they give; .csv or .xlsx, what they give")
def quote(size: tuple[str, ...], folder: Path, **options: Any) -> None:
    """Say what to charge for a size, and what its paper may cost.

    SIZE is the finished size of a drawing or card, the image of a print, as in A4,
    "300 x 400" or "11 x 14 in".
    """
    from sheetcut.answers import quote as answers  # noqa: PLC0415

    studio = studio_job(folder)
    asked, settings = asked_size(size, studio.settings), studio.settings
    around = asked_margin(options["margin"], options["kind"], settings)
    piece = answers.quoted_piece(
        studio.job,
        asked.width,
        asked.height,
        paper=asked_paper(options["paper"], studio.job),
        kind=options["kind"],
        margin=weighted(around) if options["weighted"] else around,
        count=options["count"],
        turn=options["turn"],
        unit=asked.unit,
    )
    charging = charging_of(settings, options["hours"])
    found = answers.quote(studio.job, piece, charging=charging)
    blank = _print_blank(studio, piece) if options["kind"] == "print" else None
    if options["as_json"]:
        from sheetcut.answers.documents import print_row, quote_document  # noqa: PLC0415

        echo_json({**quote_document(found), "print": None if blank is None else print_row(blank)})
    else:
        _tell(found, blank)
    if options["output"]:
        makers = {
            ".svg": lambda: _drawing(studio.job, found),
            **table_makers("quote", lambda: _table(found)),
        }
        write_out(options["output"], makers, over=options["over"])
    if options["take"] and keeps_stock(folder):
        click.echo(_taken(found, folder, options), err=options["as_json"])
    elif options["take"]:
        _told_as_row(found, studio, options)
    raise SystemExit(YES if any(one.count for one in found.sheets) else NO)


def _print_blank(studio: Studio, piece: Piece) -> PrintBlank:
    """Return how a print's sheet goes into the studio's printer."""
    from sheetcut.answers.printing import blank_of  # noqa: PLC0415
    from sheetcut.answers.terms import printer_of  # noqa: PLC0415

    return blank_of(piece, printer_of(studio.settings, studio.job.rules.printer_width))


def _tell(found: Quote, blank: PrintBlank | None) -> None:
    from sheetcut.printout.quoted import feeding_lines, quote_lines  # noqa: PLC0415

    for line in quote_lines(found):
        click.secho(line, bold=line.startswith("CHARGE"))
    if blank is not None:
        for line in feeding_lines(blank):
            click.echo(line)


def _drawing(job: Job, found: Quote) -> bytes:
    """Return every sheet cut into as many as it gives, the usual one first."""
    from sheetcut.answers.given import shown  # noqa: PLC0415
    from sheetcut.draw import glance, svg_text  # noqa: PLC0415
    from sheetcut.drawer.tables import size_text  # noqa: PLC0415

    size = size_text(found.piece.width, found.piece.height, found.piece.unit)
    piece = replace(found.piece, label=size)
    plans = [
        (f"{one.sheet.title}: {one.count} from a sheet", plan)
        for one in sorted(found.sheets, key=lambda one: one is not found.usual)
        if (plan := shown(job, piece, one)) is not None
    ]
    if not plans:
        raise Shown(
            "quote: no sheet gives any of this size, so there is nothing to draw; leave --output "
            "out, or ask for a smaller size",
            NO,
        )
    entries = [(title, plan.layouts[0]) for title, plan in plans]
    # Each plan has the one piece, so the first speaks for the labels of all.
    return svg_text(glance(plans[0][1], entries, title=f"{size} finished")).encode()


def _table(found: Quote) -> list[tuple[str, ...]]:
    """Return what every sheet gives of the size, and what it costs so."""
    from sheetcut.answers.money import half_up  # noqa: PLC0415
    from sheetcut.drawer.tables import money_text, size_text  # noqa: PLC0415

    table: list[tuple[str, ...]] = [
        ("sheet", "name", "kind", "usable", "on hand", "gives", "plain grid", "paper each")
    ]
    for one in found.sheets:
        sheet = one.sheet
        usable = size_text(sheet.usable_width, sheet.usable_height, sheet.unit)
        on_hand = "any" if sheet.on_hand is None else str(sheet.on_hand)
        each = "" if one.cost is None else money_text(half_up(one.cost))
        counts = (on_hand, str(one.count), str(one.grid))
        table.append((sheet.id, sheet.title, sheet.kind, usable, *counts, each))
    return table


def _taken(found: Quote, folder: Path, options: dict[str, Any]) -> str:
    """Make the quoted piece an order line; return what was done, in a sentence."""
    from sheetcut.drawer import add_order  # noqa: PLC0415

    with kept_store(folder) as store:
        names = {piece.order for piece in store.recorded().pieces}
        return add_order(store, _order_line(found, names, options), now=clock())


def _told_as_row(found: Quote, studio: Studio, options: dict[str, Any]) -> None:
    """Print the quoted piece as a row of the studio's own table, which is never written to."""
    from sheetcut.drawer.tables import ORDER_HEADINGS, length_text, order_cells  # noqa: PLC0415
    from sheetcut.read.row_out import order_row_out  # noqa: PLC0415

    piece = _order_line(found, {one.order for one in studio.job.pieces}, options)
    border = piece.border
    sides = piece.width - border.across, piece.height - border.up
    width, height = (length_text(side, piece.unit) for side in sides)
    cells = dict(zip(ORDER_HEADINGS, order_cells(piece), strict=True))
    row = order_row_out(studio.files[0], {**cells, "width": width, "height": height})
    click.echo(
        f"Put this line below the others in your {studio.files[0].name}, which is only ever read; "
        f"or have orders kept here: {offer('drawer import --yes', studio.folder)}",
        err=True,
    )
    click.echo(row.text, err=options["as_json"])
    told = row.left_over.items() - AS_USUAL.items()
    if told:
        lacks = ", ".join(f"{heading} {text}" for heading, text in sorted(told))
        click.echo(f"note: your table has no column for: {lacks}", err=True)


def _order_line(found: Quote, names: set[str], options: dict[str, Any]) -> Piece:
    """Return the quoted piece as an order line of a name that is free."""
    charging = found.charging
    free = next(name for n in range(1, len(names) + 2) if (name := f"Q{n}") not in names)
    return replace(
        found.piece,
        order=options["order"] or free,
        client=options["client"],
        label=options["label"],
        # Paper alone is not what the client pays.
        price=found.charge if charging.hours and charging.rate is not None else None,
    )
