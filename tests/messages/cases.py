"""What a case of the table is: a way to provoke a message, and what it has to say."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import NamedTuple

import click

from sheetcut.errors import Fault, Problem, SheetcutError
from tests.messages.heard import Heard, listening


class Says(NamedTuple):
    """The three parts of a message."""

    where: str
    found: str
    remedy: str


@dataclass(frozen=True)
class Case:
    """One message, provoked once.

    Attributes:
        provoke: does what is answered by the message, in a folder of its own; what it raises
            or returns is taken for the answer.
        says: the three parts of a problem, or else the whole sentence.
    """

    name: str
    provoke: Callable[[Path], object]
    says: Says | str


@dataclass(frozen=True)
class Outcome:
    """What a case was answered with."""

    told: str
    heard: Heard


@cache
def outcome(case: Case) -> Outcome:
    """Provoke a case; once, however many tests look at it."""
    with tempfile.TemporaryDirectory(prefix="sheetcut-") as folder, listening() as heard:
        try:
            told = str(case.provoke(Path(folder)))
        except (SheetcutError, click.ClickException) as error:
            told = str(error)
        return Outcome(told.replace(folder, "FOLDER"), heard)


def problems_of(outcome: Outcome) -> list[Problem]:
    """Return the problems that were made."""
    return [record for record in outcome.heard.records if isinstance(record, Problem)]


def faults_of(outcome: Outcome) -> list[Fault]:
    """Return the faults that were found."""
    return [record for record in outcome.heard.records if isinstance(record, Fault)]
