"""A studio as commands meet it: its files, or its store once stock is kept."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetcut.cli.shown import WRONG, Shown

if TYPE_CHECKING:
    from datetime import datetime

    from sheetcut.drawer import Store
    from sheetcut.read import Studio

STORE_FILE = "studio.sqlite"

in_option = click.option(
    "--in",
    "folder",
    default=".",
    type=click.Path(path_type=Path, file_okay=False),
    help="The studio's folder.  [default: the current one]",
)


def studio_job(folder: Path) -> Studio:
    """Return what is to be planned now: as kept, or as the files have it where nothing is kept.

    A file that says something not brought in yet is told of.
    """
    from sheetcut.read import Studio, read_studio, settings_in  # noqa: PLC0415

    if not keeps_stock(folder):
        return read_studio(folder)
    with kept_store(folder) as store:
        job = store.job()
    notes = () if job.pieces else ("nothing is wanted that is not cut or pinned up already",)
    # The job's own hash stands for the files: what is kept has moved on from them.
    return Studio(
        job=job, folder=folder, files=(), notes=notes, input_hash="", settings=settings_in(folder)
    )


def keeps_stock(folder: Path) -> bool:
    """Whether a studio's drawer and orders are kept, so that its files are no longer the truth."""
    if not (folder / STORE_FILE).exists():
        return False
    from sheetcut.drawer import Store  # noqa: PLC0415

    with Store.open(folder) as store:
        return not store.is_new


@contextmanager
def kept_store(folder: Path, *, quiet_of: tuple[str, ...] = ()) -> Iterator[Store]:
    """Give the store of a studio that keeps stock; afterwards tell what it has to say.

    Args:
        quiet_of: files that are being brought in, so that nobody need be told of them.

    Raises:
        NoFolder, NoStore: if there is none.
    """
    from sheetcut.drawer import Store  # noqa: PLC0415
    from sheetcut.read import NoFolder  # noqa: PLC0415

    if not folder.is_dir():
        raise NoFolder(folder)
    with Store.open(folder) as store:
        if store.is_new:
            raise Shown(
                f"{store.path}: nothing was brought into it yet; do so with: "
                f"{offer('drawer import --yes', folder)}",
                WRONG,
            )
        tell_newer(store, folder, quiet_of)
        try:
            yield store
        finally:
            for notice in store.notices:
                click.echo(f"note: {notice}", err=True)


def tell_newer(store: Store, folder: Path, quiet_of: tuple[str, ...] = ()) -> None:
    """Tell of files that say something not brought in yet, with the command that does so."""
    from sheetcut.drawer import STUDIO_FILES, newer_files  # noqa: PLC0415

    for name in newer_files(store, folder):
        if name in quiet_of:
            continue
        table = "orders" if STUDIO_FILES[name.casefold()] == "orders" else "drawer"
        click.echo(
            f"note: your {name} is newer than what was brought in; bring it in? "
            f"{offer(f'{table} import', folder)}",
            err=True,
        )


def offer(command: str, folder: Path) -> str:
    """Return a command as it is typed from here.

    >>> offer("drawer import", Path("my studio")), offer("undo", Path())
    ("sheetcut drawer import 'my studio'", 'sheetcut undo')
    """
    where = "" if folder == Path() else f" {shlex.quote(str(folder))}"
    return f"sheetcut {command}{where}"


def clock() -> datetime:
    """Return the time by the studio's clock."""
    from datetime import datetime  # noqa: PLC0415

    return datetime.now().astimezone()


def aligned(rows: list[tuple[str, ...]], right: tuple[int, ...] = ()) -> Iterator[str]:
    """Yield rows of a table as lines with their columns one below the other.

    Args:
        right: the columns whose cells end, rather than begin, one below the other.

    >>> list(aligned([("a", "1"), ("bb", "10")], right=(1,)))
    ['a    1', 'bb  10']
    """
    widths = [max(len(row[place]) for row in rows) for place in range(len(rows[0]))] if rows else []
    for row in rows:
        cells = [
            cell.rjust(width) if place in right else cell.ljust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  ".join(cells).rstrip()


class ShowsFirst(click.Group):
    """Commands of one table; without one of them it is shown, as with the command show."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read what stands after the group's name; a folder or an option is for showing it."""
        helps = self.get_help_option_names(ctx)
        if not args or (args[0] not in self.commands and args[0] not in helps):
            is_for_show = not args or args[0].startswith("-") or Path(args[0]).is_dir()
            args = ["show", *args] if is_for_show else args
        return super().parse_args(ctx, args)
