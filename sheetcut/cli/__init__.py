"""The commands: each reads its arguments, calls the library and prints."""

from __future__ import annotations

import sys

import click

from sheetcut.cli.buying import buy
from sheetcut.cli.cutting import cut, hold, release, spoiled
from sheetcut.cli.editions import edition
from sheetcut.cli.giving import gives
from sheetcut.cli.ordering import orders
from sheetcut.cli.page import page
from sheetcut.cli.past import history, redo, undo
from sheetcut.cli.planning import check, plan, start
from sheetcut.cli.printing import print_pages
from sheetcut.cli.quoting import quote
from sheetcut.cli.registering import register
from sheetcut.cli.sending import parcel, scan
from sheetcut.cli.shown import Commands
from sheetcut.cli.sizes import sizes
from sheetcut.cli.slipped import relay
from sheetcut.cli.stock import drawer
from sheetcut.cli.working import work
from sheetcut.version import VERSION


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(VERSION, message="sheetcut %(version)s")
def main() -> None:
    """Plan how heavy paper is cut from large sheets by hand.

    Begin with `sheetcut start my-studio`, fill in the two tables it writes, then
    `sheetcut plan my-studio`.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


for command in (
    start, plan, check, print_pages, quote, gives, buy, edition, register, parcel, scan, drawer,
    orders, cut, spoiled, relay, hold, release, work, undo, redo, history, sizes, page,
):  # fmt: skip
    main.add_command(command)
