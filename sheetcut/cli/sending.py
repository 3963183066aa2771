"""The commands for finished work: parcel, how it is sent, and scan, how it is taken down."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetcut.cli.asking import (
    MOST_WANTED,
    asked_margin,
    asked_paper,
    asked_size,
    in_option,
    kind_option,
    margin_option,
    paper_option,
    typed,
)
from sheetcut.cli.shown import NO, WRONG, YES, Shown, echo_json, json_option
from sheetcut.cli.studio import studio_job
from sheetcut.cli.written import output_options, table_makers, write_out

if TYPE_CHECKING:
    from sheetcut.answers.parcel import Enclosed, Parcel, PostLimit
    from sheetcut.answers.scanning import Scans
    from sheetcut.job import Piece
    from sheetcut.read import Settings, Studio
    from sheetcut.units import Length


@click.command()
@click.argument("size", nargs=-1)
@in_option
@paper_option
@margin_option
@kind_option
@click.option(
    "--count", default=1, show_default=True, type=click.IntRange(1, MOST_WANTED), help="How many."
)
@click.option(
    "--order", "orders", multiple=True, metavar="ORDER", help="All of an order line; may be many."
)
@click.option("--trimmed", is_flag=True, help="Sent without its margins.")
@click.option("--grammage", metavar="NUMBER", help="In g/m².  [default: as studio.toml has it]")
@click.option("--thickness", metavar="LENGTH", help="Of one sheet.  [default: from its weight]")
@click.option("--flat", "shape", flag_value="flat", help="Flat, whatever its size.")
@click.option("--rolled", "shape", flag_value="roll", help="Rolled, whatever its size.")
@click.option("--never-rolled", is_flag=True, help="Chalk, pastel or thick paint.")
@json_option
@output_options(".csv or .xlsx, the limits and what it keeps of them")
def parcel(size: tuple[str, ...], folder: Path, **options: Any) -> None:
    """Say what finished work weighs, and what it can be sent as.

    SIZE is the finished size, as in A4; instead of it, --order names what is ordered. Whether
    it goes flat or rolled follows from its size and paper.
    """
    from sheetcut.answers import parcel as answers  # noqa: PLC0415
    from sheetcut.answers.terms import limits_of, packing_of  # noqa: PLC0415

    studio = studio_job(folder)
    pieces = [*_sized(size, studio, options), *_ordered(options["orders"], studio)]
    if not pieces:
        raise Shown("parcel: nothing is named; write a size, as in A4, or --order D05", WRONG)
    enclosed = [_enclosed(piece, studio, options) for piece in pieces]
    packing, limits = packing_of(studio.settings), limits_of(studio.settings)
    found = answers.parcel(enclosed, packing=packing, limits=limits, shape=options["shape"])
    mine = [limit for limit in limits if limit.shape == found.shape]
    if options["as_json"]:
        from sheetcut.answers.documents import parcel_document  # noqa: PLC0415

        echo_json(parcel_document(enclosed, packing, found, mine))
    else:
        from sheetcut.printout.sent import parcel_lines  # noqa: PLC0415

        guessed = options["thickness"] is None
        for line in parcel_lines(pieces, enclosed, packing, found, mine, guessed=guessed):
            click.secho(line, bold=line.startswith("GOES"))
    if options["output"]:
        makers = table_makers("parcel", lambda: _limit_table(found, mine))
        write_out(options["output"], makers, over=options["over"])
    raise SystemExit(YES if found.allowed else NO)


def _sized(words: tuple[str, ...], studio: Studio, options: dict[str, Any]) -> Iterator[Piece]:
    """Yield the piece of the size that was typed, if one was."""
    from sheetcut.answers.quote import quoted_piece  # noqa: PLC0415

    if not words:
        return
    asked, kind = asked_size(words, studio.settings), options["kind"]
    yield quoted_piece(
        studio.job,
        asked.width,
        asked.height,
        paper=asked_paper(options["paper"], studio.job),
        kind=kind,
        margin=asked_margin(options["margin"], kind, studio.settings),
        count=options["count"],
        unit=asked.unit,
    )


def _ordered(names: Sequence[str], studio: Studio) -> Iterator[Piece]:
    there = {piece.order.casefold(): piece for piece in studio.job.pieces}
    for name in names:
        piece = there.get(" ".join(name.split()).casefold())
        if piece is None:
            raise Shown(
                f'--order: "{name}" is not among the orders; write a size instead, as in A4', WRONG
            )
        yield piece


def _enclosed(piece: Piece, studio: Studio, options: dict[str, Any]) -> Enclosed:
    """Return a piece as it lies in the parcel: with its margins, unless they are trimmed off."""
    from sheetcut.answers.parcel import Enclosed  # noqa: PLC0415
    from sheetcut.read import read_length  # noqa: PLC0415
    from sheetcut.read.entries import as_grammage  # noqa: PLC0415

    grammage = studio.job.paper(piece.paper).grammage
    if options["grammage"] is not None:
        grammage = typed("--grammage", as_grammage, options["grammage"])
    if grammage is None:
        raise Shown(
            f"{piece.paper or 'paper'}: what it weighs is not known; write grammage = 300 in "
            f'studio.toml, under [paper."{piece.paper}"], or add --grammage 300',
            WRONG,
        )
    length = partial(read_length, unit=studio.settings.unit)
    thickness = options["thickness"]
    is_trimmed = options["trimmed"]
    return Enclosed(
        piece.width if is_trimmed else piece.asked_width,
        piece.height if is_trimmed else piece.asked_height,
        grammage,
        piece.count,
        None if thickness is None else typed("--thickness", length, thickness),
        may_roll=not options["never_rolled"],
    )


def _limit_table(found: Parcel, limits: Sequence[PostLimit]) -> list[tuple[str, ...]]:
    from sheetcut.answers.parcel import beyond  # noqa: PLC0415
    from sheetcut.printout.sent import beyond_words, limit_words  # noqa: PLC0415

    table: list[tuple[str, ...]] = [("sent as", "limit", "goes", "what is too much", "note")]
    for limit in limits:
        over = beyond(limit, found)
        goes = "no" if over else "yes"
        table.append((limit.name, limit_words(limit), goes, beyond_words(over), limit.note))
    return table


@click.command()
@click.argument("size", nargs=-1, required=True)
@in_option
@click.option("--bed", metavar="SIZE", help="The scanner's glass.  [default: 216 x 297 mm]")
@click.option(
    "--overlap", metavar="LENGTH", help="What neighbours share at least.  [default: 30 mm]"
)
@json_option
@output_options(".csv or .xlsx, where the scanner lies")
def scan(
    size: tuple[str, ...],
    folder: Path,
    bed: str | None,
    overlap: str | None,
    *,
    as_json: bool,
    output: Path | None,
    over: bool,
) -> None:
    """Say how many scans a drawing takes, and where each begins.

    SIZE is the drawing's, as in A3 or "300 x 400".
    """
    from sheetcut.answers.scanning import scan_passes  # noqa: PLC0415

    settings = _settings(folder)
    asked = asked_size(size, settings)
    glass, shared = _scanner(settings, bed, overlap)
    found = scan_passes(asked.width, asked.height, bed=glass, overlap=shared)
    if as_json:
        from sheetcut.answers.documents import scan_document  # noqa: PLC0415

        echo_json(scan_document((asked.width, asked.height), glass, shared, found))
    else:
        from sheetcut.printout.sent import scan_lines  # noqa: PLC0415

        lines = scan_lines((asked.width, asked.height), glass, shared, found, asked.unit)
        for line in lines:
            click.secho(line, bold=line.startswith("SCANS"))
    if output:
        write_out(output, table_makers("scans", lambda: _scan_table(found)), over=over)


def _settings(folder: Path) -> Settings:
    """Return the studio's settings; the usual ones in a folder that holds none."""
    from sheetcut.read import NoFolder, settings_in  # noqa: PLC0415

    if not folder.is_dir():
        raise NoFolder(folder)
    return settings_in(folder)


def _scanner(
    settings: Settings, bed: str | None, overlap: str | None
) -> tuple[tuple[Length, Length], Length]:
    """Return the glass and the overlap: as typed, else the studio's, else the usual ones."""
    from sheetcut.answers.scanning import A4_BED, OVERLAP  # noqa: PLC0415
    from sheetcut.read import read_length, read_size  # noqa: PLC0415

    said = settings.apparatus
    glass = said.bed or A4_BED
    shared = OVERLAP if said.overlap is None else said.overlap
    if bed is not None:
        size = typed("--bed", partial(read_size, unit=settings.unit), bed)
        glass = size.width, size.height
    if overlap is not None:
        shared = typed("--overlap", partial(read_length, unit=settings.unit), overlap)
    return glass, shared


def _scan_table(found: Scans) -> list[tuple[str, ...]]:
    from sheetcut.drawer.tables import length_text  # noqa: PLC0415

    table: list[tuple[str, ...]] = [("number", "from the left", "from the foot", "long side")]
    side = "across" if found.bed_turned else "up"
    places = [(left, foot) for foot in found.up for left in found.across]
    for number, (left, foot) in enumerate(places, start=1):
        table.append((str(number), length_text(left, "mm"), length_text(foot, "mm"), side))
    return table
