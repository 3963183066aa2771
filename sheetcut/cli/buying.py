"""The command for what to buy, and for booking in what has arrived: buy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetcut.cli.asking import in_option, typed
from sheetcut.cli.shown import NO, WRONG, YES, Shown, echo_json, json_option
from sheetcut.cli.studio import aligned, clock, keeps_stock, kept_store, offer, studio_job
from sheetcut.cli.written import output_options, table_makers, write_out

if TYPE_CHECKING:
    from sheetcut.answers.shopping import PaperShort, Shopping
    from sheetcut.job import Job, Piece
    from sheetcut.read import Settings

MOST_AT_ONCE = 100_000  # sheets in one delivery; more is a slip of the keyboard


@click.command()
@in_option
@click.option(
    "--arrived",
    nargs=2,
    type=(str, click.IntRange(1, MOST_AT_ONCE)),
    metavar="SHEET NUMBER",
    help="Book sheets in that have come.",
)
@click.option("--paid", metavar="TEXT", help="With --arrived: for all of them together.")
@json_option
@output_options(".csv or .xlsx")
def buy(
    folder: Path,
    arrived: tuple[str, int] | None,
    paid: str | None,
    as_json: bool,
    output: Path | None,
    over: bool,
) -> None:
    """Say what is short, and the cheapest packs to buy it in.

    Carriage is part of that. Which sheet is cheapest for the rest of the orders, and what
    comes over and above would make, is said too.
    """
    if arrived is not None:
        click.echo(_booked_in(folder, *arrived, paid))
        return
    if paid is not None:
        raise Shown("--paid: this goes with --arrived; say what has come", WRONG)
    from sheetcut.answers.documents import shopping_document  # noqa: PLC0415
    from sheetcut.answers.terms import to_buy  # noqa: PLC0415

    studio = studio_job(folder)
    job = studio.job
    found, too_large = to_buy(job, studio.settings)
    if as_json:
        document = shopping_document(found, job.currency)
        echo_json({**document, "fits_no_sheet": [piece.order for piece in too_large]})
    else:
        for line in _lines(job, found, too_large):
            click.echo(line)
    if output:
        write_out(output, table_makers("buy", lambda: _table(job, found)), over=over)
    raise SystemExit(NO if too_large else YES)


def shopping_lines(job: Job, settings: Settings) -> Iterator[str]:
    """Yield what is short and what to buy, a line at a time."""
    from sheetcut.answers.terms import to_buy  # noqa: PLC0415

    yield from _lines(job, *to_buy(job, settings))


def _booked_in(folder: Path, sheet: str, number: int, paid: str | None) -> str:
    """Book sheets into the drawer; return what was done, in a sentence."""
    from sheetcut.drawer import receive  # noqa: PLC0415
    from sheetcut.read import read_money  # noqa: PLC0415

    if not keeps_stock(folder):
        raise Shown(
            "buy --arrived: your own files are read and never written to; change the number on "
            "hand in your drawer, or have the drawer kept here with: "
            f"{offer('drawer import --yes', folder)}",
            WRONG,
        )
    with kept_store(folder) as store:
        price = partial(read_money, currency=store.recorded().currency)
        cash = None if paid is None else typed("--paid", price, paid)
        return receive(store, sheet, number, now=clock(), paid=cash)


def _lines(job: Job, found: Shopping, too_large: Sequence[Piece]) -> Iterator[str]:
    for piece in too_large:
        yield f"fits no sheet: {piece.order}, {piece.label}, {piece.paper}; buy a larger size"
    if not found.papers:
        if not too_large:
            yield "to buy: nothing; what lies in the drawer is enough for all orders"
        return
    from sheetcut.printout import money  # noqa: PLC0415
    from sheetcut.printout.bought import packs_text  # noqa: PLC0415

    currency = job.currency
    yield "Short"
    for paper in found.papers:
        lines = ", ".join(
            f"{paper.pieces[one.piece].order} ({one.count} of {paper.pieces[one.piece].count})"
            for one in paper.short
        )
        yield f"  {paper.paper}: {lines}"
    yield ""
    yield "To buy"
    titles = {sheet.id: sheet.title for sheet in job.sheets}
    purchase = found.purchase
    rows: list[tuple[str, ...]] = [
        (titles[line.offer.sheet], packs_text(line), money(line.cost, currency))
        for line in purchase.lines
    ]
    fee = money(purchase.carriage, currency) if purchase.carriage else "free, or not set"
    rows += [("carriage", "", fee), ("in all", "", money(purchase.cost, currency))]
    for line in aligned(rows, right=(2,)):
        yield f"  {line}"
    yield from _surplus(found, titles)
    for paper in found.papers:
        yield from _choices(paper, titles, currency)


def _surplus(found: Shopping, titles: dict[str, str]) -> Iterator[str]:
    """Yield what comes over and above what is short, and what it would make."""
    from sheetcut.printout.bought import makes_text  # noqa: PLC0415

    for name, n in found.purchase.surplus.items():
        yield ""
        yield f"over and above: {n} x {titles[name]}{makes_text(found, name)}"


def _choices(paper: PaperShort, titles: dict[str, str], currency: str) -> Iterator[str]:
    """Yield the sheets that would do for what is short, the cheapest first."""
    from sheetcut.printout import money  # noqa: PLC0415

    if len(paper.choices) < 2:
        return
    yield ""
    yield f"Sheets that would do, {paper.paper}, bought alone"
    rows: list[tuple[str, ...]] = []
    for one in paper.choices:
        sheets = " and ".join(f"{n} x {titles[name]}" for name, n in one.sheets.items())
        chosen = "as above" if one is paper.chosen else ""
        rows.append((sheets, money(one.cost, currency), chosen))
    for line in aligned(rows, right=(1,)):
        yield f"  {line}"


def _table(job: Job, found: Shopping) -> list[tuple[str, ...]]:
    from sheetcut.drawer.tables import money_text  # noqa: PLC0415

    papers = {sheet.id: sheet.paper for sheet in job.sheets}
    table: list[tuple[str, ...]] = [("sheet", "paper", "number", "of", "price", "sheets", "cost")]
    for line in found.purchase.lines:
        of = 1 if line.offer.is_break else line.offer.count
        table.append(
            (
                line.offer.sheet,
                papers[line.offer.sheet],
                str(line.number),
                str(of),
                money_text(line.offer.price),
                str(line.sheets),
                money_text(line.cost),
            )
        )
    if found.purchase.lines:
        table.append(("carriage", "", "", "", "", "", money_text(found.purchase.carriage)))
    return table
