"""The command for an edition: its blanks, sheets and cost, what goes with it, its register."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetcut.cli.asking import (
    MOST_WANTED,
    asked_margin,
    asked_paper,
    in_figures,
    in_option,
    typed,
    weighted,
    weighted_option,
)
from sheetcut.cli.registering import register_document, register_line, register_table
from sheetcut.cli.shown import NO, YES, echo_json, json_option
from sheetcut.cli.studio import aligned, studio_job
from sheetcut.cli.written import output_options, table_makers, write_out

if TYPE_CHECKING:
    from sheetcut.answers.edition import Companion, Edition
    from sheetcut.answers.edition_plan import EditionPlan
    from sheetcut.answers.printing import PrintBlank
    from sheetcut.answers.register import Register
    from sheetcut.answers.several import Several
    from sheetcut.job import Job, Piece
    from sheetcut.read import Settings, Size, Studio

counted = click.IntRange(0, MOST_WANTED)


@click.command()
@click.argument("number", type=click.IntRange(1, MOST_WANTED))
@in_option
@click.option("--size", metavar="SIZE", help="Of the image; without it only blanks are counted.")
@click.option("--paper", metavar="NAME", help="As the drawer has it.")
@click.option(
    "--border",
    metavar="LENGTH",
    help='Round the image: one, or "left, right, top, foot".  [default: the studio\'s usual ones]',
)
@weighted_option
@click.option("--artists-proofs", type=counted, help="A.P.  [default: a tenth, rounded down]")
@click.option("--other-proofs", default=0, type=counted, help="Printer's proofs and the like.")
@click.option("--set-up", default=0, type=counted, help="Blanks before the first good print.")
@click.option(
    "--spoilage", default=5, show_default=True, type=click.IntRange(0, 99), help="Of 100 prints."
)
@click.option("--sold", type=counted, help="Printed as it is sold: how many are made now.")
@click.option(
    "--certificate", nargs=2, metavar="SIZE PAPER", help="One for each print, and their paper."
)
@click.option(
    "--interleave", nargs=2, metavar="LENGTH PAPER", help="How much larger each side, and paper."
)
@click.option(
    "--backing", nargs=2, metavar="LENGTH PAPER", help="Boards: how much larger, and their paper."
)
@click.option("--printed", default=0, type=counted, help="Numbered prints made so far.")
@click.option("--proofs-printed", default=0, type=counted, help="A.P. made so far.")
@json_option
@output_options(".csv or .xlsx, the register to keep")
def edition(number: int, folder: Path, **options: Any) -> None:
    """Say what an edition takes: blanks, sheets, cost, certificates.

    NUMBER is how many are numbered. Numbers, proofs and certificates as far as they are made
    are kept by the command register.
    """
    from sheetcut.answers.edition import Edition  # noqa: PLC0415
    from sheetcut.answers.register import Register  # noqa: PLC0415

    asked = Edition(
        number,
        options["artists_proofs"],
        options["other_proofs"],
        options["set_up"],
        Fraction(options["spoilage"], 100),
    )
    register = Register(asked).printed(options["printed"])
    register = register.printed(options["proofs_printed"], "A.P.")
    planned = _Planned(studio_job(folder), asked, options) if options["size"] else None
    if options["as_json"]:
        echo_json({**_document(asked, register, options["sold"]), **_paper_document(planned)})
    else:
        for line in _lines(asked, options["sold"]):
            click.echo(line)
        for line in planned.lines() if planned else ():
            click.echo(line)
        for line in _register_lines(register):
            click.echo(line)
    if options["output"]:
        makers = table_makers("register", lambda: register_table(register))
        write_out(options["output"], makers, over=options["over"])
    raise SystemExit(NO if planned and planned.fails else YES)


class _Planned:
    """An edition on paper: the print's blank, the plan for it, certificates to a sheet."""

    def __init__(self, studio: Studio, asked: Edition, options: dict[str, Any]) -> None:
        from sheetcut.answers.edition_plan import edition_plan  # noqa: PLC0415
        from sheetcut.answers.printing import blank_of  # noqa: PLC0415
        from sheetcut.answers.terms import printer_of  # noqa: PLC0415

        self.job, settings = studio.job, studio.settings
        self.print = _print_of(self.job, settings, options)
        printer = printer_of(settings, self.job.rules.printer_width)
        self.blank: PrintBlank = blank_of(self.print, printer)
        companions = tuple(_companions(self.job, settings, options))
        self.plan: EditionPlan = edition_plan(
            self.job, asked, self.print, companions, sold=options["sold"]
        )
        self.certificates = self._certificates(options)

    @property
    def fails(self) -> bool:
        """Whether something of it cannot be printed or cut."""
        return bool(self.blank.faults or self.plan.missing or self.plan.too_large)

    def _certificates(self, options: dict[str, Any]) -> Several | None:
        from sheetcut.answers.money import usual_sheet  # noqa: PLC0415
        from sheetcut.answers.several import several_to_a_sheet  # noqa: PLC0415

        if not options["certificate"]:
            return None
        piece = self.plan.lines.companions[0]
        full = [one for one in self.job.sheets_of(piece.paper) if one.kind == "full"]
        sheet = usual_sheet(full) or next(iter(full), None)
        return several_to_a_sheet(self.job, piece, sheet) if sheet else None

    def lines(self) -> Iterator[str]:
        """Yield the paper it takes, in words."""
        from sheetcut.drawer.tables import size_text  # noqa: PLC0415
        from sheetcut.printout.quoted import feeding_lines  # noqa: PLC0415

        yield ""
        size = size_text(self.print.width, self.print.height, self.print.unit)
        yield f"Print on {self.print.paper}: sheet size {size}"
        yield from (f"  {line}" for line in feeding_lines(self.blank))
        for paper in self.plan.missing:
            yield f"  not in the drawer: {paper}"
        for piece in self.plan.too_large:
            yield f"  fits no sheet of {piece.paper}: {_what(piece)}, {_size_of(piece)}"
        yield from self._papers()
        yield from self._positions()

    def _papers(self) -> Iterator[str]:
        if not self.plan.papers:
            return
        currency = self.job.currency
        yield ""
        yield "Paper"
        rows: list[tuple[str, ...]] = []
        for one in self.plan.papers:
            titles = {sheet.id: sheet.title for sheet in self.job.sheets}
            used: dict[str, int] = {}
            for name, _ in one.trees:
                used[name] = used.get(name, 0) + 1
            sheets = ", ".join(f"{n} x {titles[name]}" for name, n in used.items())
            buy = ", ".join(f"{n} x {titles[name]}" for name, n in one.supposed.items())
            in_cash = one.job.papers[0].aim == "least cost"
            what = " and ".join(f"{p.count} x {_what(p)}" for p in one.job.pieces)
            rows.append(
                (
                    one.job.papers[0].name,
                    what,
                    sheets,
                    in_figures(Fraction(one.value), currency) if in_cash else "-",
                    f"to buy: {buy}" if buy else "all on hand",
                )
            )
        for line in aligned(rows, right=(3,)):
            yield f"  {line}"
        n = self.plan.share_of
        yield ""
        yield f"paper in one print, over {n}: {in_figures(self.plan.per_print, currency)}"
        if self.plan.lines.companions:
            both = self.plan.with_companions
            said = "not known yet" if both is None else in_figures(both, currency)
            yield f"with all that goes with it: {said}"

    def _positions(self) -> Iterator[str]:
        found = self.certificates
        if found is None or not found.count:
            return
        from sheetcut.drawer.tables import length_text, size_text  # noqa: PLC0415

        unit = found.piece.unit
        yield ""
        yield (
            f"Certificates, {found.count} to a {found.sheet.title}: "
            f"{found.sheets} sheet{'' if found.sheets == 1 else 's'}, {found.spare} over"
        )
        yield "  print each here, from the sheet's left and top edge, and the cuts will meet it"
        rows: list[tuple[str, ...]] = [("", "left", "top", "size")]
        rows += [
            (
                str(one.number),
                length_text(one.left, unit),
                length_text(one.top, unit),
                size_text(one.width, one.height, unit),
            )
            for one in found.positions
        ]
        for line in aligned(rows, right=(0, 1, 2)):
            yield f"  {line}"


def _what(piece: Piece) -> str:
    return piece.label or "print"


def _size_of(piece: Piece) -> str:
    """Return a line's finished size as it was typed."""
    from sheetcut.drawer.tables import size_text  # noqa: PLC0415

    return size_text(piece.width, piece.height, piece.unit)


def _print_of(job: Job, settings: Settings, options: dict[str, Any]) -> Piece:
    from dataclasses import replace  # noqa: PLC0415

    from sheetcut.answers.edition import print_piece  # noqa: PLC0415

    size = _size("--size", options["size"], settings)
    ordered = [piece.paper for piece in job.pieces if piece.kind == "print"]
    there = [*ordered, *(sheet.paper for sheet in job.sheets)]
    paper = asked_paper(options["paper"], job) or next(iter(there), "")
    if not job.sheets_of(paper):
        from sheetcut.answers.quote import PaperNotThere  # noqa: PLC0415

        raise PaperNotThere(paper, tuple(dict.fromkeys(sheet.paper for sheet in job.sheets)))
    borders = asked_margin(options["border"], "print", settings, option="--border")
    borders = weighted(borders) if options["weighted"] else borders
    piece = print_piece("edition", "", paper, (size.width, size.height), borders)
    return replace(piece, unit=size.unit)


def _size(option: str, text: str, settings: Settings) -> Size:
    from sheetcut.read import read_size  # noqa: PLC0415

    return typed(option, partial(read_size, unit=settings.unit), text)


def _companions(job: Job, settings: Settings, options: dict[str, Any]) -> Iterator[Companion]:
    from sheetcut.answers.edition import Companion  # noqa: PLC0415
    from sheetcut.read import read_length  # noqa: PLC0415

    if options["certificate"]:
        text, paper = options["certificate"]
        size = _size("--certificate", text, settings)
        yield Companion("certificate", asked_paper(paper, job), size.width, size.height)
    for name in ("interleave", "backing"):
        if options[name]:
            text, paper = options[name]
            larger = typed(f"--{name}", partial(read_length, unit=settings.unit), text)
            word = "backing board" if name == "backing" else name
            yield Companion(word, asked_paper(paper, job), larger=larger)


def _lines(asked: Edition, sold: int | None) -> Iterator[str]:
    """Yield the blanks of an edition and what they are made up of."""
    if sold is not None:
        blanks = asked.blanks_for(sold)
        yield f"BLANKS {blanks} for {sold} sold of an edition of {asked.numbered}"
        yield f"  {sold} prints, {blanks - sold} for spoilage; proofs were counted before"
        return
    yield f"BLANKS {asked.blanks} for an edition of {asked.numbered}"
    rows: list[tuple[str, ...]] = [
        (str(asked.numbered), f"numbered 1/{asked.numbered} to {asked.numbered}/{asked.numbered}"),
        (str(asked.proofs), "artist's proofs, A.P."),
        (str(asked.other_proofs), "other proofs"),
        (str(asked.set_up), "to set up"),
        (str(asked.spoiled), f"for spoilage, {float(asked.spoilage * 100):g} in a hundred"),
    ]
    for line in aligned([row for row in rows if row[0] != "0"], right=(0,)):
        yield f"  {line}"
    yield f"certificates: {asked.certificates}, one for each print that may be sold"


def _register_lines(register: Register) -> Iterator[str]:
    yield ""
    yield f"Register: {register_line(register)}"


def _document(asked: Edition, register: Register, sold: int | None) -> dict[str, Any]:
    return {
        "form": "sheetcut edition 1",
        "unit": "mm",
        "numbered": asked.numbered,
        "artists_proofs": asked.proofs,
        "other_proofs": asked.other_proofs,
        "set_up": asked.set_up,
        "spoiled": asked.spoiled if sold is None else asked.blanks_for(sold) - sold,
        "sold": sold,
        "blanks": asked.blanks if sold is None else asked.blanks_for(sold),
        "certificates": asked.certificates if sold is None else sold,
        "register": register_document(register),
    }


def _paper_document(planned: _Planned | None) -> dict[str, Any]:
    """Return the paper's part of the document: empty where no size was given."""
    if planned is None:
        return {}
    from sheetcut.answers.documents import money, nearest, piece_row, sides  # noqa: PLC0415
    from sheetcut.units import in_mm  # noqa: PLC0415

    plan, several = planned.plan, planned.certificates
    return {
        "currency": planned.job.currency,
        "print": piece_row(planned.print),
        "leads": list(planned.blank.leads),
        "faults": list(planned.blank.faults),
        "papers": [
            {
                "paper": one.job.papers[0].name,
                "lines": [{"line": _what(p), "count": p.count} for p in one.job.pieces],
                "full_sheets": one.full_sheets,
                "to_buy": dict(one.supposed),
                "proved": one.proved,
                "cost": money(one.value) if one.job.papers[0].aim == "least cost" else None,
            }
            for one in plan.papers
        ],
        "missing": list(plan.missing),
        "fits_no_sheet": [piece.order for piece in plan.too_large],
        "paper_per_print": nearest(plan.per_print),
        "paper_with_companions": nearest(plan.with_companions),
        "certificate_sheet": None
        if several is None
        else {
            "sheet": several.sheet.id,
            "gives": several.count,
            "sheets": several.sheets,
            "spare": several.spare,
            "positions": [
                {
                    "number": one.number,
                    "left": in_mm(one.left),
                    "top": in_mm(one.top),
                    "foot": in_mm(one.foot),
                    "size": sides(one.width, one.height),
                    "turned": one.turned,
                }
                for one in several.positions
            ],
        },
    }
