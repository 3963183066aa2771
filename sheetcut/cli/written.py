"""Tables and small drawings that a command writes to a file it is told of."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, TypeVar

import click

from sheetcut.cli.shown import WRONG, Shown

Table = Sequence[Sequence[str]]
Command = TypeVar("Command", bound=Callable[..., Any])


def output_options(kinds: str) -> Callable[[Command], Command]:
    """Return what gives a command the options for a file it writes."""

    def options(command: Command) -> Command:
        command = click.option("--over", is_flag=True, help="Write over a file that is there.")(
            command
        )
        return click.option(
            "-o",
            "--output",
            type=click.Path(path_type=Path, dir_okay=False),
            help=f"Write it to a file too: {kinds}.",
        )(command)

    return options


def write_out(output: Path, makes: Mapping[str, Callable[[], bytes]], *, over: bool) -> None:
    """Write a file by the ending of its name, whole or not at all, and say so.

    Args:
        makes: for each ending, what makes the file's content.
    """
    from sheetcut.drawer import write_whole  # noqa: PLC0415

    make = makes.get(output.suffix.casefold())
    if make is None:
        endings = " or ".join(makes)
        raise Shown(f"{output}: this can be written as {endings}; end the name so", WRONG)
    if output.exists() and output.stat().st_size and not over:
        raise Shown(
            f"{output}: it is there already and stays as it is; name another file, or add --over",
            WRONG,
        )
    try:
        write_whole(output, make())
    except OSError as error:
        why = error.strerror or error
        raise Shown(f"{output}: it cannot be written ({why}); name another place", WRONG) from None
    click.echo(f"written: {output}", err=True)


def table_makers(title: str, rows: Callable[[], Table]) -> dict[str, Callable[[], bytes]]:
    """Return what makes a table's content as CSV and as XLSX; no label becomes a formula."""

    def as_csv() -> bytes:
        from sheetcut.drawer import csv_bytes  # noqa: PLC0415

        return csv_bytes(rows())

    def as_workbook() -> bytes:
        from sheetcut.read.workbook_out import workbook_bytes  # noqa: PLC0415

        return workbook_bytes(title, rows())

    return {".csv": as_csv, ".xlsx": as_workbook}
