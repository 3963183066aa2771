"""A studio's folder: its files found, read once, and joined into one job."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from functools import partial
from pathlib import Path
from typing import TypeVar

from sheetcut.errors import Problem, ProblemsFound
from sheetcut.job import Job
from sheetcut.read.drawer import Drawer, read_drawer
from sheetcut.read.failures import FileMissing, FileUnreadable, FolderUnreadable, NoFolder, TwoFiles
from sheetcut.read.headings import DRAWER_MEANINGS, ORDER_MEANINGS, headed
from sheetcut.read.orders import Orders, read_orders
from sheetcut.read.refusal import quoted
from sheetcut.read.studio import Settings, read_settings
from sheetcut.read.tables import LARGEST_FILE, tables_in, too_large

T = TypeVar("T")

SETTINGS_FILE = "studio.toml"
_ENDINGS = (".csv", ".xlsx")


@dataclass(frozen=True, slots=True)
class Studio:
    """A studio as its files describe it.

    Attributes:
        files: the files that were read, in the order orders, drawer, settings.
        notes: what the user should know, a sentence each; nothing that stops a plan.
        input_hash: SHA-256 over the bytes of the files, in their order.
        settings: what studio.toml says besides the job.
    """

    job: Job
    folder: Path
    files: tuple[Path, ...]
    notes: tuple[str, ...]
    input_hash: str
    settings: Settings = field(default_factory=Settings)


def read_studio(folder: Path) -> Studio:
    """Return the studio in a folder.

    Nothing is written. The settings are read first, as they say how the tables are meant.

    Raises:
        NoFolder, FolderUnreadable, FileMissing, TwoFiles, FileUnreadable: if there is nothing to
            read.
        ProblemsFound: with every problem of every file, in order of file and row.
    """
    paths = _paths_in(folder)
    found = _Collected()
    contents = [found.part(rank, partial(bytes_of, path)) for rank, path in enumerate(paths)]
    settings = Settings()
    if len(paths) > 2:
        told = found.part(2, lambda: read_settings(SETTINGS_FILE, contents[2] or b""))
        settings, problems = told or (settings, [])
        found.add(2, problems)
    drawer = found.part(1, lambda: _drawer(paths[1].name, contents[1], settings))
    # Orders are not blamed for a drawer in which no paper could be found.
    named = drawer if drawer and (drawer.papers or not drawer.problems) else None
    orders = found.part(0, lambda: _orders(paths[0].name, contents[0], settings, named))
    found.add(1, drawer.problems if drawer else ())
    found.add(0, orders.problems if orders else ())
    if found.problems or drawer is None or orders is None:
        raise ProblemsFound(found.in_order())
    return Studio(
        job=_job(settings, drawer, orders),
        folder=folder,
        files=tuple(paths),
        notes=(*orders.notes, *drawer.notes, *_papers_without_sheets(settings, drawer)),
        input_hash=hashlib.sha256(b"".join(filter(None, contents))).hexdigest(),
        settings=settings,
    )


def _paths_in(folder: Path) -> list[Path]:
    """Return the files of a studio: orders, drawer, and the settings if there are any."""
    try:
        if not folder.is_dir():
            raise NoFolder(folder)
        there = sorted(folder.iterdir())
        paths = [_table_path(folder, there, stem) for stem in ("orders", "drawer")]
        return paths + [path for path in there if path.name == SETTINGS_FILE]
    except OSError as error:
        raise FolderUnreadable(folder, error.strerror or str(error)) from None


def _drawer(source: str, data: bytes | None, settings: Settings) -> Drawer | None:
    if data is None:
        return None
    return read_drawer(headed(source, tables_in(source, data), DRAWER_MEANINGS), settings)


def _orders(
    source: str, data: bytes | None, settings: Settings, drawer: Drawer | None
) -> Orders | None:
    if data is None:
        return None
    return read_orders(headed(source, tables_in(source, data), ORDER_MEANINGS), settings, drawer)


def _job(settings: Settings, drawer: Drawer, orders: Orders) -> Job:
    # The settings may write a paper in other capitals than the drawer; the drawer's hold.
    papers = tuple(
        replace(paper, name=drawer.papers.get(paper.name.casefold(), paper.name))
        for paper in settings.papers
    )
    return Job(
        sheets=tuple(drawer.sheets),
        pieces=tuple(orders.pieces),
        rules=settings.rules,
        papers=papers,
        studio=settings.name,
        currency=settings.currency,
    )


def _papers_without_sheets(settings: Settings, drawer: Drawer) -> Iterator[str]:
    for paper in settings.papers:
        if paper.name.casefold() in drawer.papers:
            continue
        near = get_close_matches(paper.name.casefold(), drawer.papers, 1, 0.7)
        hint = f"; did you mean {quoted(drawer.papers[near[0]])}?" if near else ""
        yield f"{SETTINGS_FILE}: the paper {quoted(paper.name)} has no sheet in the drawer{hint}"


class _Collected:
    """Problems of several files, each with the rank its file has in the answer."""

    def __init__(self) -> None:
        self.problems: list[tuple[int, Problem]] = []

    def add(self, rank: int, problems: Iterable[Problem]) -> None:
        self.problems.extend((rank, problem) for problem in problems)

    def part(self, rank: int, read: Callable[[], T]) -> T | None:
        """Return what is read, or None where the file as a whole cannot be."""
        try:
            return read()
        except ProblemsFound as found:
            self.add(rank, found.problems)
            return None

    def in_order(self) -> tuple[Problem, ...]:
        """Return the problems by file, row and column."""
        return tuple(problem for _, problem in sorted(self.problems, key=_place))


def _place(ranked: tuple[int, Problem]) -> tuple[int, int, int, str]:
    rank, problem = ranked
    letters = re.sub(r"\d", "", problem.cell or "")
    return rank, problem.row or 0, len(letters), letters


def _table_path(folder: Path, there: list[Path], stem: str) -> Path:
    """Return the one file of a table; capitals in its name do not matter."""
    there = [path for path in there if path.stem.casefold() == stem]
    paths = [path for path in there if path.suffix.casefold() in _ENDINGS]
    if not paths:
        raise FileMissing(folder, stem, there[0].name if there else "")
    if len(paths) > 1:
        newest = max(paths, key=lambda path: path.lstat().st_mtime)
        raise TwoFiles(folder, stem, tuple(path.name for path in paths), newest.name)
    return paths[0]


def bytes_of(path: Path) -> bytes:
    """Return what is in a file.

    Raises:
        FileUnreadable: if the system does not hand it over.
        ProblemsFound: if it is larger than any studio's table.
    """
    try:
        if not path.is_file():
            raise FileUnreadable(path, "it is not a file")
        size = path.stat().st_size
        if size > LARGEST_FILE:
            raise too_large(path.name, size)
        return path.read_bytes()
    except OSError as error:
        raise FileUnreadable(path, error.strerror or str(error)) from None
