"""Bringing in what a studio's own files say: the differences first, then those and nothing else."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path

from sheetcut.drawer import (
    STUDIO_FILES,
    Difference,
    Part,
    SourceFile,
    Store,
    differences,
    newer_files,
    take_in,
)
from sheetcut.job import Job
from sheetcut.page.studio import Desk, clock
from sheetcut.read import read_studio

Sources = dict[Part, SourceFile | None]


def newer(at: Desk) -> tuple[str, ...]:
    """Return the files that say something not brought in yet."""
    if not at.is_kept():
        return ()
    with at.store() as store:
        return newer_files(store, at.folder)


@dataclass(frozen=True, slots=True)
class Said:
    """What the files of a studio say, read once: what is shown of them is what can come in."""

    job: Job
    sources: Sources

    @property
    def fingerprint(self) -> str:
        """What tells these files from other ones."""
        return " ".join(source.hash for source in self.sources.values() if source)


def said_in_files(at: Desk) -> Said:
    """Return what the files say now.

    Raises:
        ProblemsFound, FileMissing: if they cannot be read.
    """
    studio = read_studio(at.folder)
    sources: Sources = {"settings": None}
    for path in studio.files:
        sources[STUDIO_FILES[path.name.casefold()]] = SourceFile.of(path)
    return Said(studio.job, sources)


def what_differs(at: Desk, said: Said) -> tuple[Difference, ...]:
    """Return what bringing in would change, and change nothing."""
    job, sources = said.job, said.sources
    if at.is_kept():
        with at.store() as store:
            return differences(store, job, sources)
    with (
        tempfile.TemporaryDirectory(prefix="sheetcut-") as scratch,
        Store.open(Path(scratch), create=True) as store,
    ):
        return differences(store, job, sources)


def bring_in(at: Desk, said: Said | None = None) -> tuple[Difference, ...]:
    """Bring in what the files say, and return what that changed.

    Args:
        said: what was read and looked at; None to read the files now.
    """
    said = said or said_in_files(at)
    with Store.open(at.folder, create=True) as store:
        return take_in(store, said.job, said.sources, now=clock())
