"""The commands for the registers of editions: register, and what is entered in one."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetcut.cli.asking import MOST_WANTED, in_option, typed
from sheetcut.cli.shown import echo_json, json_option
from sheetcut.cli.studio import aligned, clock, kept_store
from sheetcut.cli.written import output_options, table_makers, write_out

if TYPE_CHECKING:
    from sheetcut.answers.register import Register

edition_argument = click.argument("edition", metavar="EDITION")
print_argument = click.argument("print_", metavar="PRINT")


class ShowsUnlessNamed(click.Group):
    """Commands of the registers; what names none of them is an edition to be shown."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read what stands after the group's name."""
        helps = self.get_help_option_names(ctx)
        if not args or (args[0] not in self.commands and args[0] not in helps):
            args = ["show", *args]
        return super().parse_args(ctx, args)


@click.group(cls=ShowsUnlessNamed)
def register() -> None:
    """The numbers, proofs and certificates of every edition.

    What is printed, sold or spoiled is entered here; undo takes it back.
    """


@register.command()
@click.argument("edition", required=False, metavar="[EDITION]")
@in_option
@json_option
@output_options(".csv or .xlsx, every print of one edition")
def show(edition: str | None, folder: Path, **options: Any) -> None:
    """Show all editions, or every print of one."""
    from sheetcut.answers.kept_register import register_of, registers  # noqa: PLC0415

    with kept_store(folder) as store:
        found = registers(store)
        if edition is not None:
            found = dict([register_of(store, edition)])
    if options["as_json"]:
        echo_json(_document(found))
    elif edition is not None:
        for line in _print_lines(*found.values()):
            click.echo(line)
    elif not found:
        click.echo("no edition is registered; begin one with: sheetcut register begin", err=True)
    else:
        for line in aligned(_overview(found), right=(1, 3, 4)):
            click.echo(line)
    if options["output"]:
        table = _overview(found) if edition is None else register_table(*found.values())
        makers = table_makers("register", lambda: table)
        write_out(options["output"], makers, over=options["over"])


@register.command()
@edition_argument
@click.argument("number", type=click.IntRange(1, MOST_WANTED))
@click.option(
    "--artists-proofs",
    type=click.IntRange(0, MOST_WANTED),
    help="A.P.  [default: a tenth, rounded down]",
)
@in_option
def begin(edition: str, number: int, artists_proofs: int | None, folder: Path) -> None:
    """Begin the register of an edition of NUMBER."""
    from sheetcut.answers.edition import Edition  # noqa: PLC0415
    from sheetcut.answers.kept_register import begin as begin_register  # noqa: PLC0415
    from sheetcut.read import read_words  # noqa: PLC0415

    name = typed("EDITION", read_words, edition)
    with kept_store(folder) as store:
        click.echo(begin_register(store, name, Edition(number, artists_proofs), now=clock()))


@register.command()
@edition_argument
@click.argument("count", type=click.IntRange(1, MOST_WANTED))
@click.option("--proofs", is_flag=True, help="Artist's proofs, and not numbered prints.")
@in_option
def printed(edition: str, count: int, folder: Path, *, proofs: bool) -> None:
    """Enter COUNT good prints, on the lowest free numbers."""
    from sheetcut.answers.kept_register import enter_printed  # noqa: PLC0415

    mark: Any = "A.P." if proofs else "number"
    with kept_store(folder) as store:
        click.echo(enter_printed(store, edition, count, mark=mark, now=clock()))


@register.command()
@edition_argument
@print_argument
@click.option("--to", default="", metavar="TEXT", help="Whose it is now.")
@in_option
def sold(edition: str, print_: str, to: str, folder: Path) -> None:
    """Enter that a print is sold, and to whom.

    PRINT is what is pencilled on it, as in 7/50 or "A.P. 2/5"; 7 or "AP 2" will do.
    """
    from sheetcut.answers.kept_register import enter_sold  # noqa: PLC0415
    from sheetcut.read import read_words  # noqa: PLC0415

    whose = typed("--to", read_words, to)
    with kept_store(folder) as store:
        click.echo(enter_sold(store, edition, print_, to=whose, now=clock()))


@register.command()
@edition_argument
@print_argument
@click.option("--why", default="", metavar="TEXT", help="What went wrong.")
@in_option
def spoiled(edition: str, print_: str, why: str, folder: Path) -> None:
    """Enter that a print is spoiled, so that its number is free again.

    PRINT is what is pencilled on it, as in 7/50 or "A.P. 2/5"; 7 or "AP 2" will do.
    """
    from sheetcut.answers.kept_register import enter_spoiled  # noqa: PLC0415
    from sheetcut.read import read_words  # noqa: PLC0415

    reason = typed("--why", read_words, why)
    with kept_store(folder) as store:
        click.echo(enter_spoiled(store, edition, print_, why=reason, now=clock()))


@register.command()
@edition_argument
@in_option
def remove(edition: str, folder: Path) -> None:
    """Take a register out that nothing was entered in."""
    from sheetcut.drawer import remove_edition  # noqa: PLC0415

    with kept_store(folder) as store:
        click.echo(remove_edition(store, edition, now=clock()))


def register_table(register: Register) -> list[tuple[str, ...]]:
    """Return every print of an edition with its certificate, made or still to be made.

    Its number stands alone, as spreadsheets take 7/12 for a day of the year.
    """
    made = {register.name(one): one for one in register.prints if one.state != "spoiled"}
    whole = register.printed(register.left("number")).printed(register.proofs_left, "A.P.")
    table: list[tuple[str, ...]] = [("proof", "number", "of", "certificate", "state", "note")]
    for one in (*whole.good("number"), *whole.good("A.P.")):
        state = one.state if whole.name(one) in made else "to print"
        mark = "" if one.mark == "number" else one.mark
        of = str(whole.most(one.mark))
        table.append((mark, str(one.number), of, str(one.certificate), state, one.note))
    return table


def register_line(register: Register) -> str:
    """Return what is next in an edition and what is left of it."""
    number, of = register.next_number, register.most("number")
    then = "all numbers are printed" if number is None else f"next is {number}/{of}"
    return f"{then}; {register.left('number')} numbers and {_proofs(register.proofs_left)} left"


def register_document(register: Register) -> dict[str, Any]:
    """Return what is next in an edition and all its prints, as part of a document."""
    return {
        "next_number": register.next_number,
        "numbers_left": register.left("number"),
        "proofs_left": register.proofs_left,
        "prints": [
            {
                "name": register.name(one),
                "certificate": one.certificate,
                "state": one.state,
                "note": one.note,
            }
            for one in register.prints
        ],
    }


def _proofs(n: int) -> str:
    return "1 artist's proof" if n == 1 else f"{n} artist's proofs"


def _document(found: dict[str, Register]) -> dict[str, Any]:
    return {
        "form": "sheetcut register 1",
        "editions": [
            {
                "name": name,
                "numbered": register.most("number"),
                "artists_proofs": register.most("A.P."),
                **register_document(register),
            }
            for name, register in found.items()
        ],
    }


def _overview(found: dict[str, Register]) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = [("edition", "of", "next", "numbers left", "proofs left")]
    for name, one in found.items():
        of, number = one.most("number"), one.next_number
        then = "all printed" if number is None else f"{number}/{of}"
        rows.append((name, str(of), then, str(one.left("number")), str(one.proofs_left)))
    return rows


def _print_lines(register: Register) -> Iterator[str]:
    """Yield the prints that are made, each with its certificate, then what is next."""
    rows: list[tuple[str, ...]] = [("print", "certificate", "state", "note")]
    rows += [
        (
            register.name(one),
            "-" if one.state == "spoiled" else str(one.certificate),
            one.state,
            one.note,
        )
        for one in register.prints
    ]
    if len(rows) > 1:
        yield from aligned(rows, right=(1,))
        yield ""
    yield register_line(register)
