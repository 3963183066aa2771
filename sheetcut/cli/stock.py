"""The commands for what lies in the drawer: drawer show, add, correct, remove, and more."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetcut.cli.exchange import export_command, import_command
from sheetcut.cli.shown import WRONG, Shown, echo_json, folder_argument, json_option
from sheetcut.cli.studio import (
    ShowsFirst,
    aligned,
    clock,
    in_option,
    keeps_stock,
    kept_store,
    offer,
    studio_job,
)
from sheetcut.cli.typing_in import (
    SHEET_HELP,
    changed_fields,
    corrected_cells,
    heading_options,
    in_one,
    typed_cells,
)

if TYPE_CHECKING:
    from sheetcut.drawer import InDrawer, Store
    from sheetcut.job import Job, Sheet

EDGE_LOSS = ("edge loss", "left", "right", "top", "foot")
MOST_AT_ONCE = 100_000  # sheets in one delivery; more is a slip of the keyboard
OUT_OF_SQUARE = ("top width", "right height", "diagonal")
SHAPE = ("width", "height", "edge_loss", "skew")
FIELDS: Mapping[str, tuple[str, ...]] = {
    "sheet": ("id",),
    "size": (*SHAPE, "unit"),
    **dict.fromkeys((*EDGE_LOSS, *OUT_OF_SQUARE), SHAPE),
    "deckle": ("deckles",),
    "on hand": ("on_hand",),
    **{name: (name,) for name in ("name", "paper", "side", "grain", "price", "packs", "kind",
                                  "note", "leave", "keep", "watermark")},
}  # fmt: skip
"""For each heading of the drawer's table, the fields of a sheet that it fills."""

sheet_argument = click.argument("sheet", nargs=-1, required=True)


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
        job = studio_job(folder).job
        found = tuple(InDrawer(sheet) for sheet in job.sheets)
        click.echo(
            "note: this is what your files say; cuts are not taken off it until stock is kept: "
            f"{offer('drawer import --yes', folder)}",
            err=True,
        )
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
    from sheetcut.drawer import add_sheet, free_tag  # noqa: PLC0415

    with kept_store(folder) as store:
        typed = {"sheet": in_one(sheet), **typed_cells(given)}
        read = _read(store, typed, folder, "drawer add")
        if not sheet:
            if read.kind != "offcut":
                raise Shown("drawer add: no name is given; write one, as in RAG-L", WRONG)
            read = replace(read, id=free_tag(store))
        click.echo(add_sheet(store, read, now=clock()))


@drawer.command()
@sheet_argument
@in_option
@click.option("--sheet", "renamed", metavar="TEXT", help="A new name in the drawer.")
@heading_options(SHEET_HELP)
def correct(sheet: tuple[str, ...], folder: Path, renamed: str | None, **given: str | None) -> None:
    """Correct what is known of a sheet; what is not named stays."""
    from sheetcut.drawer import correct_sheet  # noqa: PLC0415

    typed = typed_cells({"sheet": renamed, **given})
    if not typed:
        raise Shown("drawer correct: nothing to correct is given; see -h for what can be", WRONG)
    with kept_store(folder) as store:
        before = _named(store, in_one(sheet))
        after = _read(store, _corrected(before, typed), folder, "drawer correct")
        fields = changed_fields(after, typed, FIELDS)
        click.echo(correct_sheet(store, before.id, now=clock(), **fields))


@drawer.command()
@sheet_argument
@in_option
def remove(sheet: tuple[str, ...], folder: Path) -> None:
    """Take a row out of the drawer, with all it has on hand."""
    from sheetcut.drawer import remove_sheet  # noqa: PLC0415

    with kept_store(folder) as store:
        click.echo(remove_sheet(store, in_one(sheet), now=clock()))


@drawer.command()
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


@drawer.command()
@sheet_argument
@in_option
@click.option("--number", default=1, show_default=True, type=click.IntRange(1), help="How many.")
@heading_options({name: SHEET_HELP[name] for name in ("size", *EDGE_LOSS)})
def found(sheet: tuple[str, ...], folder: Path, number: int, **given: str | None) -> None:
    """Book that sheets turned out smaller than the drawer says, or bruised at an edge.

    They get a row of their own, unless all of them are so.
    """
    from sheetcut.drawer import found_otherwise  # noqa: PLC0415

    typed = typed_cells(given)
    if not typed:
        raise Shown("drawer found: nothing is given; give --size, or what an edge loses", WRONG)
    with kept_store(folder) as store:
        before = _named(store, in_one(sheet))
        if "size" in typed:
            typed = dict.fromkeys(OUT_OF_SQUARE, "") | typed
        after = _read(store, _corrected(before, typed), folder, "drawer found")
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


@drawer.command()
@sheet_argument
@click.option("--at", type=click.IntRange(0), help="Time to buy at so many on hand, or fewer.")
@in_option
def low(sheet: tuple[str, ...], at: int | None, folder: Path) -> None:
    """Say when it is time to buy; without --at a sheet is no longer watched."""
    from sheetcut.drawer import watch_stock  # noqa: PLC0415

    with kept_store(folder) as store:
        click.echo(watch_stock(store, in_one(sheet), at, now=clock()))


drawer.add_command(import_command("drawer"))
drawer.add_command(export_command("drawer"))


def value(option: str, read: Any, text: str) -> Any:
    """Return what was typed for an option; a refusal says which."""
    from sheetcut.read import Refused  # noqa: PLC0415

    try:
        return read(text)
    except Refused as refused:
        raise Shown(f"{option}: {refused}", WRONG) from refused


def typed_size(option: str, text: str, settings: Any) -> tuple[int, int]:
    """Return a width and a height typed for an option; bare numbers are in the studio's unit."""
    from sheetcut.read import read_size  # noqa: PLC0415

    size = value(option, partial(read_size, unit=settings.unit), text)
    return size.width, size.height


def _read(store: Store, typed: Mapping[str, str], folder: Path, where: str) -> Sheet:
    from sheetcut.read import settings_in, typed_sheet  # noqa: PLC0415

    told = typed_sheet(typed, settings_in(folder), store.recorded().sheets, where=where)
    for note in told.notes:
        click.echo(f"note: {note}", err=True)
    assert told.sheet is not None
    return told.sheet


def _corrected(sheet: Sheet, typed: Mapping[str, str]) -> dict[str, str]:
    """Return a sheet's row with what was typed in its place."""
    from sheetcut.drawer.tables import (  # noqa: PLC0415
        DRAWER_HEADINGS,
        SELDOM_HEADINGS,
        seldom_cells,
        sheet_cells,
    )

    headings = (*DRAWER_HEADINGS, *SELDOM_HEADINGS)
    cells = dict(zip(headings, (*sheet_cells(sheet), *seldom_cells(sheet)), strict=True))
    return corrected_cells(cells, typed, "edge loss")


def _named(store: Store, name: str) -> Sheet:
    from sheetcut.drawer.rows import sheet_of  # noqa: PLC0415
    from sheetcut.drawer.sheets import named_sheet  # noqa: PLC0415

    with store.reading() as rows:
        return sheet_of(named_sheet(rows, name))


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
