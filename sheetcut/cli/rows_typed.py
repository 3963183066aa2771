"""A row of the drawer or of the orders as it is typed in commands: added, corrected, told of."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from sheetcut.cli.shown import WRONG, Shown
from sheetcut.cli.studio import clock, kept_store, offer, studio_job
from sheetcut.cli.typing_in import in_one, typed_cells

if TYPE_CHECKING:
    from sheetcut.drawer import Store
    from sheetcut.job import Job, Piece, Sheet
    from sheetcut.kept_tables import KeptTable

    Kept = TypeVar("Kept", Sheet, Piece)


def filed_job(folder: Path) -> Job:
    """Return what a studio's files say, and tell that its stock is not kept yet."""
    job = studio_job(folder).job
    click.echo(
        "note: this is what your files say; cuts are not taken off it until stock is kept: "
        f"{offer('drawer import --yes', folder)}",
        err=True,
    )
    return job


def read_row(
    table: KeptTable[Kept], store: Store, typed: Mapping[str, str], folder: Path, where: str
) -> Kept:
    """Return the record that typed values make; what its owner should know is told."""
    from sheetcut.read import settings_in  # noqa: PLC0415

    record, notes = table.typed(store, typed, settings_in(folder), where=where)
    for note in notes:
        click.echo(f"note: {note}", err=True)
    return record


def correct_row(
    table: KeptTable[Kept],
    words: tuple[str, ...],
    given: Mapping[str, str | None],
    folder: Path,
    command: str,
) -> None:
    """Correct a row by the options that were given, and say so; what is not named stays.

    Args:
        words: its name, with or without quotation marks.
        command: what was typed, for the messages, as "drawer correct".
    """
    typed = typed_cells(given)
    if not typed:
        raise Shown(f"{command}: nothing to correct is given; see -h for what can be", WRONG)
    name = in_one(words)
    with kept_store(folder) as store:
        before = table.find(store, name)
        after = read_row(table, store, table.retyped(before, typed), folder, command)
        click.echo(table.give(store, name, after, typed, now=clock()))


def remove_row(table: KeptTable[Kept], words: tuple[str, ...], folder: Path) -> None:
    """Take a row out, and say so."""
    with kept_store(folder) as store:
        click.echo(table.remove(store, in_one(words), now=clock()))
