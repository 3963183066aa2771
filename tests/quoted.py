"""Runs the commands that a page quotes, and fills in what they print."""

from __future__ import annotations

import contextlib
import re
import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from unittest import mock

from tests.cli.shell import here, write_studio

BLOCK = re.compile(r"(?<=```console\n).*?(?=```)", re.DOTALL)
PROMPT = "$ "
LEFT_OUT = "..."  # a line of its own: here stand lines that the page leaves out
A_DATE = re.compile(r"\d{4}-\d\d-\d\d(?=-[A-Z2-9]{4}\b)")
A_DAY = re.compile(r"^\d{4}-\d\d-\d\d$", re.MULTILINE)  # as the diary heads it
A_TIME = re.compile(r"^  \d\d:\d\d(?=  )", re.MULTILINE)
SHOWN_DATE = "2026-11-25"  # the day that pages show, whenever they are made
SHOWN_TIME = "  09:00"
LONG_ENOUGH = "60"  # seconds, so that no clock has a say in what is shown


@dataclass(frozen=True, slots=True)
class Step:
    """One command as a page quotes it.

    Attributes:
        typed: the line without its prompt.
        shown: what the page says it prints.
    """

    typed: str
    shown: str


class Terminal:
    """A folder in which the commands of a page run one after the other.

    It begins with the demo's files in `demo`, and what one command leaves the next one finds.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        write_studio(folder / "demo")

    def run(self, typed: str) -> str:
        """Return what a typed line prints: its words about the work stand after its data."""
        match shlex.split(self._dated(typed)):
            case ["cd", where]:
                self.folder = (self.folder / where).resolve()
                return ""
            case ["python3", "demo"]:
                return self._sheetcut("plan", "demo", words=False)
            case ["sheetcut", *arguments]:
                return self._sheetcut(*arguments)
        raise AssertionError(f"no page should ask for: {typed}")

    def _sheetcut(self, *arguments: str, words: bool = True) -> str:
        if arguments[0] == "plan":
            arguments = (*arguments, "--seconds", LONG_ENOUGH)
        with contextlib.chdir(self.folder), mock.patch.dict("os.environ", COLUMNS="110"):
            done = here(*arguments)
        # Words about the work come and go with the time it takes; the last of them stays.
        told = done.stderr if done.returncode else "".join(done.stderr.splitlines(True)[-1:])
        printed = done.stdout + (told if words else "")
        printed = A_DAY.sub(SHOWN_DATE, A_DATE.sub(SHOWN_DATE, printed))
        return A_TIME.sub(SHOWN_TIME, printed)

    def _dated(self, typed: str) -> str:
        """Return a line with the day of its plan folder as it is today."""

        def today(found: re.Match[str]) -> str:
            code = typed[found.end() : found.end() + 5]
            (plan,) = self.folder.glob(f"**/out/*{code}")
            return plan.name.removesuffix(code)

        return A_DATE.sub(today, typed)


def steps_of(block: str) -> Iterator[Step]:
    """Yield the commands of a block with what it shows after each."""
    for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
        typed, _, shown = part.partition("\n")
        yield Step(typed, shown)


def played(text: str, terminal: Terminal) -> str:
    """Return a page with what its commands print today; lines that it leaves out stay out."""

    def filled(found: re.Match[str]) -> str:
        parts = []
        for step in steps_of(found[0]):
            printed = terminal.run(step.typed)
            fits = is_alike(step.shown, printed)
            parts.append(f"{PROMPT}{step.typed}\n{step.shown if fits else printed}")
        return "".join(parts)

    return BLOCK.sub(filled, text)


def is_alike(shown: str, printed: str) -> bool:
    """Whether a page shows what was printed, but for lines it says that it leaves out.

    >>> is_alike("one\\n...\\nfour\\n", "one\\ntwo\\nthree\\nfour\\n")
    True
    >>> is_alike("one\\nfour\\n", "one\\ntwo\\nfour\\n")
    False
    """
    pieces = re.split(r"^\.\.\.\n", shown, flags=re.MULTILINE)
    pattern = r"(?:.*\n)*?".join(re.escape(piece) for piece in pieces)
    return re.fullmatch(pattern, printed) is not None
