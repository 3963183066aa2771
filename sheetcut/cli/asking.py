"""What the commands about money share: the size asked for, its margins, the studio's charges."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from sheetcut.cli.shown import WRONG, Shown

if TYPE_CHECKING:
    from sheetcut.answers.quote import Charging
    from sheetcut.job import Job, Kind
    from sheetcut.read import Settings, Size
    from sheetcut.units import Edges

T = TypeVar("T")
KINDS = ("drawing", "print", "card")
TURNS = ("yes", "no", "grain up", "grain across", "alike")
MOST_WANTED = 10_000  # of one size at once; more is a slip of the keyboard

in_option = click.option(
    "--folder",
    "--in",
    "folder",
    default=".",
    type=click.Path(path_type=Path, file_okay=False),
    help="The studio's folder.  [default: the current one]",
)
paper_option = click.option("--paper", metavar="NAME", help="As the drawer has it.")
margin_option = click.option(
    "--margin",
    metavar="LENGTH",
    help='Paper round a drawing, or the borders of a print: one length, or "left, right, top, '
    "foot\".  [default: the studio's usual one]",
)
kind_option = click.option(
    "--kind", type=click.Choice(KINDS), default="drawing", show_default=True, help="What it is."
)
turn_option = click.option(
    "--turn", type=click.Choice(TURNS), default="yes", show_default=True, help="How it may lie."
)
weighted_option = click.option(
    "--weighted", is_flag=True, help="A print's foot heavier than its top, with room to sign."
)


def typed(option: str, read: Callable[[str], T], text: str) -> T:
    """Return what was typed for an option; a refusal says which."""
    from sheetcut.read import Refused  # noqa: PLC0415

    try:
        return read(text)
    except Refused as refused:
        raise Shown(f"{option}: {refused}", WRONG) from refused


def asked_size(words: Sequence[str], settings: Settings) -> Size:
    """Return the size that was typed, with or without quotation marks; its name's note is told."""
    from sheetcut.read import read_size  # noqa: PLC0415

    size = typed("size", partial(read_size, unit=settings.unit), " ".join(words))
    if size.note:
        click.echo(f"note: {size.note}", err=True)
    return size


def asked_margin(
    text: str | None, kind: Kind, settings: Settings, *, option: str = "--margin"
) -> Edges:
    """Return the margins that were typed, else the studio's usual ones for that kind."""
    from sheetcut.read import Refused, read_length  # noqa: PLC0415
    from sheetcut.units import Edges  # noqa: PLC0415

    if text is None:
        return settings.usual_margins.get(kind, Edges())

    def read(text: str) -> Edges:
        parts = re.split(r"\s*;\s*|\s*,\s+", text.strip())
        if len(parts) not in (1, 4):
            raise Refused(f"there are {len(parts)} lengths", "write one, or left, right, top, foot")
        lengths = [read_length(part, unit=settings.unit) for part in parts]
        return Edges(*(lengths * 4 if len(lengths) == 1 else lengths))

    return typed(option, read, text)


def weighted(borders: Edges) -> Edges:
    """Return a print's borders with the foot made heavier than the top, never lighter."""
    from sheetcut.answers.printing import borders_round  # noqa: PLC0415

    return borders._replace(foot=max(borders.foot, borders_round(borders.top).foot))


def asked_paper(name: str | None, job: Job) -> str:
    """Return a paper as the drawer writes it; empty where none was typed."""
    if name is None:
        return ""
    plain = " ".join(name.split())
    papers = {sheet.paper.casefold(): sheet.paper for sheet in job.sheets}
    return papers.get(plain.casefold(), plain)


def charging_of(settings: Settings, hours: str | None = None) -> Charging:
    """Return how the studio makes a charge of a cost."""
    from sheetcut.answers.terms import charging_of as charging_said  # noqa: PLC0415
    from sheetcut.read.trading import read_hours  # noqa: PLC0415

    worked = None if hours is None else typed("--hours", read_hours, hours)
    if worked and settings.trading.rate is None:
        raise Shown(
            "--hours: an hour has no rate yet; write one in studio.toml, under [charging]: "
            "rate = 22.00",
            WRONG,
        )
    return charging_said(settings, worked)


def in_figures(cents: Any, currency: str) -> str:
    """Return a cost to the nearest cent; a stroke where it is not known."""
    from sheetcut.answers.money import half_up  # noqa: PLC0415
    from sheetcut.printout import money  # noqa: PLC0415

    return "-" if cents is None else money(half_up(cents), currency)
