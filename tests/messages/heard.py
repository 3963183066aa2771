"""Listens while messages are made: which lines of the package took part, and what they say."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import click
import pytest

from sheetcut.errors import Fault, Problem, SheetcutError
from tests.messages.places import PACKAGE


@dataclass
class Heard:
    """What was made while somebody listened.

    Attributes:
        lines: file and line of every frame of the package that took part.
        records: the problems and faults, in the order they were made.
        sentences: what faults say.
    """

    lines: set[tuple[str, int]] = field(default_factory=set)
    records: list[Problem | Fault] = field(default_factory=list)

    @property
    def sentences(self) -> list[str]:
        return [record.message for record in self.records if isinstance(record, Fault)]


@contextmanager
def listening() -> Iterator[Heard]:
    """Note every message that is made meanwhile, with the lines it came from."""
    heard = Heard()
    with pytest.MonkeyPatch.context() as patch:
        for record in (Problem, Fault):
            patch.setattr(record, "__init__", _noting(heard, record.__init__))
        for error in (SheetcutError, click.ClickException):
            patch.setattr(error, "__new__", _noting_new(heard), raising=False)
        yield heard


def _noting(heard: Heard, made):
    def init(self, *args, **kwargs):
        made(self, *args, **kwargs)
        heard.lines.update(_lines())
        heard.records.append(self)

    return init


def _noting_new(heard: Heard):
    def new(cls, *args, **_kwargs):
        heard.lines.update(_lines())
        return Exception.__new__(cls, *args)

    return new


def _lines() -> Iterator[tuple[str, int]]:
    frame = sys._getframe(2)
    while frame is not None:
        path = Path(frame.f_code.co_filename)
        if path.is_relative_to(PACKAGE):
            yield path.relative_to(PACKAGE).as_posix(), frame.f_lineno
        frame = frame.f_back
