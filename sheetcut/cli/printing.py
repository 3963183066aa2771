"""The command that makes pages for paper: print."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetcut.cli.shown import WRONG, Shown, plan_path

if TYPE_CHECKING:
    from sheetcut.printout.pages import Kind

PAGES = ("A4", "A3", "Letter")
KINDS = ("summary", "pin-up", "marks", "mirrored", "strips", "tags", "labels")


@click.command("print")
@click.argument("plan_file", metavar="PLAN", type=click.Path(path_type=Path))
@click.option(
    "--on",
    "page",
    metavar=f"[{'|'.join(PAGES)}]",
    type=click.Choice(PAGES, case_sensitive=False),
    help="The printer's paper.  [default: A4; Letter for a studio in inches]",
)
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, dir_okay=False),
    help="The PDF to write.  [default: print-A4.pdf beside the plan]",
)
@click.option(
    "--only",
    "only",
    multiple=True,
    type=click.Choice(KINDS),
    help="Print only these pages; can be given again.  [default: all but marks and mirrored]",
)
@click.option("--mirrored", is_flag=True, help="Sheets as seen from behind too, to mark the back.")
@click.option("--no-clients", is_flag=True, help="Leave the clients' names off the labels.")
def print_pages(
    plan_file: Path,
    page: str | None,
    output: Path | None,
    only: tuple[Kind, ...],
    mirrored: bool,
    no_clients: bool,
) -> None:
    """Make a PDF to print: pin-up sheets, marking strips, tags and labels.

    PLAN is a plan.json or the folder it lies in. Print at actual size (100 %).
    """
    from sheetcut.document import read_plan  # noqa: PLC0415
    from sheetcut.drawer import write_whole  # noqa: PLC0415
    from sheetcut.printout.pages import (  # noqa: PLC0415
        PAPERS,
        USUAL,
        missing_words,
        printed,
        usual_page,
    )

    path = plan_path(plan_file)
    plan = read_plan(path.read_bytes(), source=str(path))
    on = PAPERS[page] if page else usual_page(plan)
    kinds: tuple[Kind, ...] = only or USUAL
    if mirrored:
        kinds = (*kinds, "mirrored")
    made = printed(plan, on=on, kinds=kinds, clients=not no_clients)
    target = output or path.parent / f"print-{on.name}.pdf"
    _keep_others(target)
    write_whole(target, made.data)
    for missing in made.missing:
        click.echo(f"note: {missing_words(missing)}", err=True)
    click.echo(target)


def _keep_others(target: Path) -> None:
    """Refuse to write over a file that is no PDF; an earlier print may go."""
    if not target.exists():
        return
    with target.open("rb") as file:
        begins = file.read(5)
    if begins not in (b"%PDF-", b""):
        raise Shown(f"{target}: a file that is no PDF stands there; give another name", WRONG)
