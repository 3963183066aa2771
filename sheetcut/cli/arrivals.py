"""The commands for paper that arrived, that was found otherwise, and that runs low."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import click

from sheetcut.cli.rows_typed import read_row
from sheetcut.cli.shown import WRONG, Shown
from sheetcut.cli.studio import clock, in_option, kept_store
from sheetcut.cli.typing_in import (
    SHEET_HELP,
    heading_options,
    in_one,
    typed_cells,
    typed_size,
    value,
)

MOST_AT_ONCE = 100_000  # sheets in one delivery; more is a slip of the keyboard
EDGE_LOSS = ("edge loss", "left", "right", "top", "foot")
OUT_OF_SQUARE = ("top width", "right height", "diagonal")

sheet_argument = click.argument("sheet", nargs=-1, required=True)


@click.command()
@click.argument("sheet")
@click.argument("number", type=click.IntRange(1, MOST_AT_ONCE))
@in_option
@click.option("--paid", metavar="TEXT", help="For all of them together.")
@click.option("--measured", metavar="SIZE", help="Their size, where it was measured.")
@click.option("--batch", default="", metavar="TEXT", help="What their label says.")
def receive(
    sheet: str, number: int, folder: Path, paid: str | None, measured: str | None, batch: str
) -> None:
    """Book sheets in that have arrived.

    Those that measure otherwise than the drawer says get a row of their own.
    """
    from sheetcut.drawer import receive as book_in  # noqa: PLC0415
    from sheetcut.read import read_money, read_words, settings_in  # noqa: PLC0415

    with kept_store(folder) as store:
        settings = settings_in(folder)
        currency = store.recorded().currency
        price = partial(read_money, currency=currency)
        said = book_in(
            store,
            sheet,
            number,
            now=clock(),
            paid=None if paid is None else value("--paid", price, paid),
            measured=None if measured is None else typed_size("--measured", measured, settings),
            batch=value("--batch", read_words, batch),
        )
        click.echo(said)


@click.command()
@sheet_argument
@in_option
@click.option("--number", default=1, show_default=True, type=click.IntRange(1), help="How many.")
@heading_options({name: SHEET_HELP[name] for name in ("size", *EDGE_LOSS)})
def found(sheet: tuple[str, ...], folder: Path, number: int, **given: str | None) -> None:
    """Book that sheets turned out smaller than the drawer says, or bruised at an edge.

    They get a row of their own, unless all of them are so.
    """
    from sheetcut.drawer import found_otherwise  # noqa: PLC0415
    from sheetcut.kept_tables import DRAWER  # noqa: PLC0415

    typed = typed_cells(given)
    if not typed:
        raise Shown("drawer found: nothing is given; give --size, or what an edge loses", WRONG)
    with kept_store(folder) as store:
        before = DRAWER.find(store, in_one(sheet))
        if "size" in typed:
            typed = dict.fromkeys(OUT_OF_SQUARE, "") | typed
        row = DRAWER.retyped(before, typed)
        after = read_row(DRAWER, store, row, folder, "drawer found")
        said = found_otherwise(
            store,
            before.id,
            now=clock(),
            number=number,
            measured=(after.width, after.height) if "size" in typed or after.skew else None,
            edge_loss=after.edge_loss if typed.keys() & set(EDGE_LOSS) else None,
            skew=after.skew,
        )
        click.echo(said)


@click.command()
@sheet_argument
@click.option("--at", type=click.IntRange(0), help="Time to buy at so many on hand, or fewer.")
@in_option
def low(sheet: tuple[str, ...], at: int | None, folder: Path) -> None:
    """Say when it is time to buy; without --at a sheet is no longer watched."""
    from sheetcut.drawer import watch_stock  # noqa: PLC0415

    with kept_store(folder) as store:
        click.echo(watch_stock(store, in_one(sheet), at, now=clock()))
