"""The command for what sheets give: gives."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetcut.cli.asking import (
    asked_margin,
    asked_paper,
    asked_size,
    in_figures,
    in_option,
    kind_option,
    margin_option,
    paper_option,
)
from sheetcut.cli.shown import WRONG, Shown, echo_json, json_option
from sheetcut.cli.studio import aligned, studio_job
from sheetcut.cli.written import output_options, table_makers, write_out

if TYPE_CHECKING:
    from sheetcut.answers.given import SheetGives, SizeGives
    from sheetcut.job import Job, Kind, Piece
    from sheetcut.read import Size
    from sheetcut.units import Edges

STEPS_TOLD = 5


@click.command()
@click.argument("size", nargs=-1)
@in_option
@paper_option
@margin_option
@kind_option
@click.option("--offcuts", is_flag=True, help="Offcuts too, and not full sheets alone.")
@json_option
@output_options(".csv or .xlsx; with SIZE .svg too, the margin stair")
def gives(
    size: tuple[str, ...],
    folder: Path,
    paper: str | None,
    margin: str | None,
    kind: Kind,
    *,
    offcuts: bool,
    **options: Any,
) -> None:
    """Show how many pieces every sheet gives, of all sizes sold.

    The plain grid stands beside it in brackets where it gives fewer. With SIZE, the margin
    steps of that size: where the number changes as the margin grows.
    """
    studio = studio_job(folder)
    papers, job = _papers(studio.job, paper), studio.job
    if not offcuts:
        job = replace(job, sheets=tuple(one for one in job.sheets if one.kind == "full"))
        papers = tuple(one for one in papers if job.sheets_of(one))
    if not papers:
        raise Shown("gives: there are only offcuts in the drawer; add --offcuts", WRONG)
    if size:
        _ladder(asked_size(size, studio.settings), job, papers, **options)
        return
    from sheetcut.answers.documents import gives_document  # noqa: PLC0415
    from sheetcut.answers.given import gives_table, price_list  # noqa: PLC0415

    settings = studio.settings
    if not settings.sizes_sold:
        raise Shown(
            "gives: no sizes sold are known; write them in studio.toml, as in "
            'sizes-sold = ["A5", "A4", "300 x 300"], or name one: sheetcut gives A4',
            WRONG,
        )
    around = asked_margin(margin, kind, settings)
    pieces = price_list(job, settings.sizes_sold, margin=around, kind=kind, papers=papers)
    rows = gives_table(job, pieces)
    if options["as_json"]:
        echo_json(gives_document(rows, job.currency))
    else:
        for line in _lines(rows, kind, around):
            click.echo(line)
    if options["output"]:
        makers = table_makers("gives", lambda: _table(rows))
        write_out(options["output"], makers, over=options["over"])


def _papers(job: Job, name: str | None) -> tuple[str, ...]:
    there = tuple(dict.fromkeys(sheet.paper for sheet in job.sheets))
    if name is None:
        return there
    paper = asked_paper(name, job)
    if paper not in there:
        from sheetcut.answers.quote import PaperNotThere  # noqa: PLC0415

        raise PaperNotThere(paper, there)
    return (paper,)


def _lines(rows: Sequence[SizeGives], kind: Kind, around: Edges) -> Iterator[str]:
    from sheetcut.printout.quoted import around_words  # noqa: PLC0415

    what = "border" if kind == "print" else "margin"
    yield f"Pieces from a sheet, {around_words(around, what, rows[0].piece.unit)}"
    for paper in dict.fromkeys(row.piece.paper for row in rows):
        mine = [row for row in rows if row.piece.paper == paper]
        yield ""
        yield paper
        heads = ("size", *(one.sheet.title for one in mine[0].sheets))
        cells = [(row.piece.label, *map(_cell, row.sheets)) for row in mine]
        for line in aligned([heads, *cells], right=tuple(range(1, len(heads)))):
            yield f"  {line}"
    if any(one.grid < one.count for row in rows for one in row.sheets):
        yield ""
        yield "in brackets: what a plain grid gives, where that is fewer"


def _cell(one: SheetGives) -> str:
    grid = f" ({one.grid})" if one.grid < one.count else ""
    return f"{one.count or '-'}{grid}"


def _table(rows: Sequence[SizeGives]) -> list[tuple[str, ...]]:
    from sheetcut.answers.money import half_up  # noqa: PLC0415
    from sheetcut.drawer.tables import money_text, size_text  # noqa: PLC0415

    table: list[tuple[str, ...]] = [
        ("paper", "size", "blank", "sheet", "gives", "plain grid", "paper each")
    ]
    table += [
        (
            row.piece.paper,
            row.piece.label,
            size_text(*row.blank, row.piece.unit),
            one.sheet.id,
            str(one.count),
            str(one.grid),
            "" if one.cost is None else money_text(half_up(one.cost)),
        )
        for row in rows
        for one in row.sheets
    ]
    return table


def _ladder(
    asked: Size, job: Job, papers: Sequence[str], *, as_json: bool, output: Path | None, over: bool
) -> None:
    """Show the margin steps of one size on every sheet."""
    from sheetcut.answers.documents import gives_document  # noqa: PLC0415
    from sheetcut.answers.given import SizeGives, given, price_list  # noqa: PLC0415
    from sheetcut.job import blank_size, reading_step  # noqa: PLC0415

    rows = [
        SizeGives(
            piece,
            blank_size(piece, reading_step(job, piece.paper)),
            tuple(
                given(job, sheet, piece, with_steps=True) for sheet in job.sheets_of(piece.paper)
            ),
        )
        for piece in price_list(job, [asked], papers=papers)
    ]
    if as_json:
        echo_json(gives_document(rows, job.currency))
    else:
        for line in _ladder_lines(rows, job):
            click.echo(line)
    if output:
        makers: dict[str, Any] = table_makers("margin steps", lambda: _steps_table(rows))
        write_out(output, {**makers, ".svg": lambda: _stairs(rows, job)}, over=over)


def _ladder_lines(rows: Sequence[SizeGives], job: Job) -> Iterator[str]:
    yield f"Pieces of {_named(rows[0].piece)} from a sheet, by the margin on every side"
    for row in rows:
        yield ""
        yield row.piece.paper
        cells = [tuple(_step_cells(row.piece, one, job)) for one in row.sheets]
        wide = max(map(len, cells))
        for line in aligned([cell + ("",) * (wide - len(cell)) for cell in cells]):
            yield f"  {line}"


def _named(piece: Piece) -> str:
    from sheetcut.drawer.tables import size_text  # noqa: PLC0415

    size = size_text(piece.width, piece.height, piece.unit)
    return size if piece.label in size else f"{piece.label}, {size},"


def _step_cells(piece: Piece, one: SheetGives, job: Job) -> Iterator[str]:
    """Yield a sheet's name, what one piece costs without a margin, and its first margin steps."""
    from sheetcut.drawer.tables import length_text  # noqa: PLC0415

    yield one.sheet.title
    if not one.steps:
        yield "none"
    for step in one.steps[:STEPS_TOLD]:
        least, most = (length_text(edge, piece.unit) for edge in (step.least, step.most))
        run = f"{least.removesuffix(' mm')} to {most}" if step.most > step.least else f"{most}"
        price = f", {in_figures(_each(one, step.count), job.currency)}" if one.cost else ""
        yield f"{step.count}: {run}{price}"
    if len(one.steps) > STEPS_TOLD:
        yield "then fewer"


def _each(one: SheetGives, count: int) -> Any:
    from sheetcut.answers.money import sheet_price  # noqa: PLC0415

    price = sheet_price(one.sheet)
    return None if price is None else price / count


def _steps_table(rows: Sequence[SizeGives]) -> list[tuple[str, ...]]:
    from sheetcut.drawer.tables import length_text  # noqa: PLC0415

    table: list[tuple[str, ...]] = [
        ("paper", "size", "sheet", "gives", "least margin", "most margin")
    ]
    table += [
        (
            row.piece.paper,
            row.piece.label,
            one.sheet.id,
            str(step.count),
            length_text(step.least, row.piece.unit),
            length_text(step.most, row.piece.unit),
        )
        for row in rows
        for one in row.sheets
        for step in one.steps
    ]
    return table


def _stairs(rows: Sequence[SizeGives], job: Job) -> bytes:
    from sheetcut.draw import svg_text  # noqa: PLC0415
    from sheetcut.draw.stair import Stair, Tread, stairs  # noqa: PLC0415
    from sheetcut.job import reading_step  # noqa: PLC0415

    drawn = [
        Stair(
            f"{one.sheet.title}, {row.piece.paper}",
            tuple(Tread(step.count, step.least, step.most) for step in one.steps),
        )
        for row in rows
        for one in row.sheets
    ]
    title = f"Pieces of {_named(rows[0].piece)} from a sheet, by the margin on every side"
    step = reading_step(job, rows[0].piece.paper)
    return svg_text(stairs(drawn, title=title, step=step)).encode()
