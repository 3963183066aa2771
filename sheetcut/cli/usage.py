"""What was typed and no command takes, told as everything else is: where, what, what to do."""

from __future__ import annotations

import re

import click

from sheetcut.cli.shown import WRONG, Shown

NOTHING_TYPED = (click.exceptions.NoArgsIsHelpError,)
"""Not wrong: whoever types a group's name alone is shown its help."""

_PLAINER = (
    (r"is not a valid float( range)?", "is not a number"),
    (r"is not a valid integer( range)?", "is not a whole number"),
    (r"is not in the range (\S+)<=x<=(\S+)", r"is outside \1 to \2"),
    (r"is not in the range x>=(\S+)", r"is less than \1"),
    (r"is not a valid ", "is no "),
)


def usage_refused(error: click.UsageError) -> Shown:
    """Return what the option parser refused, in a sentence that names the command.

    >>> command = click.Context(click.Command("plan"), info_name="sheetcut plan")
    >>> usage_refused(click.BadParameter("'x' is not a valid integer.", command)).message
    "sheetcut plan: 'x' is not a whole number; see sheetcut plan -h"
    """
    command = error.ctx.command_path if error.ctx else "sheetcut"
    near = getattr(error, "possibilities", None)
    remedy = f"did you mean {' or '.join(sorted(near))}?" if near else f"see {command} -h"
    where, found = command, error.message
    if isinstance(error, click.MissingParameter):
        found = error.format_message()
    elif isinstance(error, click.BadParameter) and error.param and error.ctx:
        hint = error.param.get_error_hint(error.ctx)
        where += ", " + re.sub(r"['\[\]]", "", hint)
    found = found.rstrip(".")
    for words, plainer in _PLAINER:
        found = re.sub(words, plainer, found)
    return Shown(f"{where}: {found[:1].lower()}{found[1:]}; {remedy}", WRONG)
