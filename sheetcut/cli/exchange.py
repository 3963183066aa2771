"""Drawer and orders in and out: from a studio's files into its store, and into files again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from sheetcut.cli.shown import WRONG, Shown, folder_argument
from sheetcut.cli.studio import clock, keeps_stock, kept_store, offer

if TYPE_CHECKING:
    from sheetcut.drawer import Difference, Part, SourceFile, Store
    from sheetcut.job import Job

Table = Literal["drawer", "orders"]
Sources = Mapping["Part", "SourceFile | None"]


def import_command(table: Table) -> click.Command:
    """Return the command that brings one of the two tables in."""
    also = " and the settings" if table == "drawer" else ""

    @click.command("import")
    @folder_argument
    @click.option(
        "--from",
        "elsewhere",
        type=click.Path(path_type=Path, exists=True, dir_okay=False),
        help=f"A table that lies elsewhere, instead of the studio's own {table}.",
    )
    @click.option("--yes", is_flag=True, help="Bring it in; without this it is only shown.")
    def bring_in(folder: Path, elsewhere: Path | None, yes: bool) -> None:
        table_in(table, folder, elsewhere, yes=yes)

    bring_in.help = (
        f"Bring in the {table}{also} from the studio's files.\n\n"
        "What would change is shown first, and done with --yes. The first time both tables come "
        "in; from then on what is kept is the truth, and cuts, spoils and corrections change it."
    )
    return bring_in


def export_command(table: Table) -> click.Command:
    """Return the command that writes one of the two tables out."""

    @click.command("export")
    @folder_argument
    @click.option(
        "-o",
        "--output",
        required=True,
        type=click.Path(path_type=Path, dir_okay=False),
        help="The file to write: .csv or .xlsx.",
    )
    @click.option("--over", is_flag=True, help="Write over a file that is there.")
    def write_out(folder: Path, output: Path, over: bool) -> None:
        table_out(table, folder, output, over=over)

    write_out.help = (
        f"Write the {table} to a file that any spreadsheet opens.\n\n"
        "Brought in again as it is, it changes nothing."
    )
    return write_out


def table_in(table: Table, folder: Path, elsewhere: Path | None, *, yes: bool) -> None:
    """Show what a table would change, and bring it in if told to."""
    from sheetcut.drawer import differences, take_in  # noqa: PLC0415

    if elsewhere and not keeps_stock(folder):
        raise Shown(
            f"{elsewhere}: nothing is kept yet that it could change; bring in the studio's own "
            f"files first, with: {offer('drawer import --yes', folder)}",
            WRONG,
        )
    job, sources = _asked(table, folder, elsewhere)
    names = tuple(source.name for source in sources.values() if source)
    with _store_for(folder, names, yes=yes) as store:
        if elsewhere:
            job = _with_table(store, table, folder, elsewhere)
        found = differences(store, job, sources)
        for one in found:
            click.echo(one)
        applied = [one for one in found if one.kind != "stays"]
        if yes:
            take_in(store, job, sources, now=clock())
        if not applied:
            click.echo(f"{_and(names)}: nothing differs from what is kept", err=True)
        elif yes:
            click.echo(f"brought in: {_count(applied)}; undo takes it back", err=True)
        else:
            again = f"{table} import --yes" + (f" --from {elsewhere}" if elsewhere else "")
            click.echo(f"Nothing was changed. Bring it in with: {offer(again, folder)}", err=True)


def table_out(table: Table, folder: Path, output: Path, *, over: bool) -> None:
    """Write a table to a file, whole or not at all."""
    from sheetcut.drawer import (  # noqa: PLC0415
        csv_bytes,
        drawer_rows,
        note_written,
        order_rows,
        write_whole,
    )

    kind = output.suffix.casefold()
    if kind not in (".csv", ".xlsx"):
        raise Shown(f"{output}: the name says neither .csv nor .xlsx; end it in one of them", WRONG)
    if output.exists() and output.stat().st_size and not over:
        raise Shown(
            f"{output}: it is there already and stays as it is; name another file, or add --over",
            WRONG,
        )
    with kept_store(folder) as store:
        with store.reading() as found:
            rows = drawer_rows(found) if table == "drawer" else order_rows(found)
        if kind == ".csv":
            data = csv_bytes(rows)
        else:
            from sheetcut.read.workbook_out import workbook_bytes  # noqa: PLC0415

            data = workbook_bytes(table, rows)
        try:
            write_whole(output, data)
        except OSError as error:
            why = error.strerror or error
            raise Shown(
                f"{output}: it cannot be written ({why}); name another place", WRONG
            ) from None
        part: Part = "sheets" if table == "drawer" else "orders"
        note_written(store, part, _source(output, folder), now=clock())
    click.echo(output)


def _asked(table: Table, folder: Path, elsewhere: Path | None) -> tuple[Job, Sources]:
    """Return what the studio's files say, and which of them are to be looked at."""
    from sheetcut.drawer import STUDIO_FILES  # noqa: PLC0415
    from sheetcut.job import Job  # noqa: PLC0415
    from sheetcut.read import read_studio  # noqa: PLC0415

    if elsewhere:
        part: Part = "sheets" if table == "drawer" else "orders"
        return Job((), ()), {part: _source(elsewhere, folder)}
    studio = read_studio(folder)
    for note in studio.notes:
        click.echo(f"note: {note}", err=True)
    sources: dict[Part, SourceFile | None] = {"settings": None}
    for path in studio.files:
        sources[STUDIO_FILES[path.name.casefold()]] = _source(path, folder)
    if keeps_stock(folder):
        own: tuple[Part, ...] = ("orders",) if table == "orders" else ("settings", "sheets")
        sources = {part: source for part, source in sources.items() if part in own}
    return studio.job, sources


def _with_table(store: Store, table: Table, folder: Path, path: Path) -> Job:
    """Return what is kept, with one table as a file elsewhere has it."""
    from sheetcut.read import orders_in, settings_in, sheets_in  # noqa: PLC0415

    job, settings = store.recorded(), settings_in(folder)
    if table == "drawer":
        sheets, notes = sheets_in(path, settings)
        job = replace(job, sheets=sheets)
    else:
        pieces, notes = orders_in(path, settings, job.sheets)
        job = replace(job, pieces=pieces)
    for note in notes:
        click.echo(f"note: {note}", err=True)
    return job


@contextmanager
def _store_for(folder: Path, names: tuple[str, ...], *, yes: bool) -> Iterator[Store]:
    """Give the store that files come into; one that is not there yet is only made to stay."""
    import tempfile  # noqa: PLC0415

    from sheetcut.drawer import Store  # noqa: PLC0415

    if keeps_stock(folder):
        with kept_store(folder, quiet_of=names) as store:
            yield store
    elif yes:
        with Store.open(folder, create=True) as store:
            yield store
    else:
        with (
            tempfile.TemporaryDirectory(prefix="sheetcut-") as scratch,
            Store.open(Path(scratch), create=True) as store,
        ):
            yield store


def _source(path: Path, folder: Path) -> SourceFile:
    """Return a file as it is now; one outside the studio goes by its whole path."""
    from sheetcut.drawer import SourceFile  # noqa: PLC0415

    source = SourceFile.of(path)
    is_own = path.resolve().parent == folder.resolve()
    return source if is_own else replace(source, name=str(path.resolve()))


def _count(found: Sequence[Difference]) -> str:
    """Return how many rows differ, by how: "2 added, 1 changed"."""
    counts = [
        f"{n} {kind}"
        for kind in ("added", "changed", "removed")
        if (n := len({(one.what, one.name) for one in found if one.kind == kind}))
    ]
    return ", ".join(counts)


def _and(words: Sequence[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
