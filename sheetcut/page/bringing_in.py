"""Bringing in what a studio's own files say: the differences first, then those and nothing else."""

from __future__ import annotations

import tempfile
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


def what_differs(at: Desk) -> tuple[Difference, ...]:
    """Return what bringing in would change, and change nothing.

    Raises:
        ProblemsFound, FileMissing: if the files cannot be read.
    """
    job, sources = _said(at)
    if at.is_kept():
        with at.store() as store:
            return differences(store, job, sources)
    with (
        tempfile.TemporaryDirectory(prefix="sheetcut-") as scratch,
        Store.open(Path(scratch), create=True) as store,
    ):
        return differences(store, job, sources)


def bring_in(at: Desk) -> tuple[Difference, ...]:
    """Bring in what the files say, and return what that changed."""
    job, sources = _said(at)
    with Store.open(at.folder, create=True) as store:
        return take_in(store, job, sources, now=clock())


def fingerprint(at: Desk) -> str:
    """Return what tells these files from other ones, so that only what was shown comes in."""
    _, sources = _said(at)
    return " ".join(source.hash for source in sources.values() if source)


def _said(at: Desk) -> tuple[Job, Sources]:
    studio = read_studio(at.folder)
    sources: Sources = {"settings": None}
    for path in studio.files:
        sources[STUDIO_FILES[path.name.casefold()]] = SourceFile.of(path)
    return studio.job, sources
