"""A studio as the page meets it: its files or its store, its newest plan, and what to tell."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from pathlib import Path

from flask import current_app

from sheetcut.check import faults_in
from sheetcut.document import disagreements, job_bytes, read_plan
from sheetcut.drawer import FILE_NAME, Store
from sheetcut.errors import FaultsFound, SheetcutError
from sheetcut.job import Job
from sheetcut.layout import Plan
from sheetcut.read import Settings, read_studio, settings_in

TABLES = ("orders.csv", "orders.xlsx", "drawer.csv", "drawer.xlsx")


class NothingYet(SheetcutError):
    """The folder has neither a store nor tables."""

    def __init__(self, folder: Path) -> None:
        super().__init__(
            f"{folder}: there is no studio in it yet; begin one with: sheetcut start {folder}"
        )


class NotKept(SheetcutError):
    """Something was to be changed that is only in files."""

    def __init__(self) -> None:
        super().__init__(
            "Orders and drawer are still in your files; go to Drawer and bring them in"
        )


@dataclass(frozen=True, slots=True)
class Present:
    """What is wanted and on hand now.

    Attributes:
        job: what would be planned.
        is_kept: whether the store is the truth; else the files are.
        input_hash: tells whether a plan was made from this.
    """

    job: Job
    settings: Settings
    is_kept: bool
    input_hash: str
    notes: tuple[str, ...] = ()


class Desk:
    """One studio's folder, and the sentences to be shown on the next page."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._said: list[str] = []
        self._known: tuple[tuple[object, ...], Job, str] | None = None

    def tell(self, *sentences: str) -> None:
        """Have sentences shown on the next page."""
        self._said += sentences

    def told(self) -> tuple[str, ...]:
        """Return the sentences to be shown, once."""
        said, self._said = tuple(self._said), []
        return said

    def is_kept(self) -> bool:
        """Whether the store is the truth."""
        if not (self.folder / FILE_NAME).exists():
            return False
        with Store.open(self.folder) as store:
            return not store.is_new

    def has_tables(self) -> bool:
        """Whether there are files to read."""
        there = [path.name.casefold() for path in self.folder.iterdir()]
        return any(name in TABLES for name in there)

    def name(self) -> str:
        """Return the studio's name, for the top of the page."""
        try:
            return settings_in(self.folder).name or "Your studio"
        except (SheetcutError, OSError):
            return "Your studio"

    def present(self) -> Present:
        """Return what is wanted and on hand now.

        Raises:
            NothingYet: if nothing is there.
        """
        if not (self.folder / FILE_NAME).exists():
            return self._in_files()
        with Store.open(self.folder) as store:
            known = self._kept(store)
        if known is None:
            return self._in_files()
        job, digest = known
        return Present(job, settings_in(self.folder), True, digest)

    @contextmanager
    def store(self) -> Iterator[Store]:
        """Give the store; what it has to say is shown on the next page.

        Raises:
            NotKept: if the files are the truth.
        """
        if not (self.folder / FILE_NAME).exists():
            raise NotKept
        with Store.open(self.folder) as store:
            if store.is_new:
                raise NotKept
            yield store
            self.tell(*store.notices)

    def newest_plan(self) -> Plan | None:
        """Return the plan made last, or None.

        Raises:
            FaultsFound: if it fails its check.
        """
        out = self.folder / "out"
        paths = [path for path in out.glob("*/plan.json") if not path.parent.name.startswith(".")]
        if not paths:
            return None
        newest = max(paths, key=lambda path: path.stat().st_mtime_ns)
        return _sound_plan(newest, newest.stat().st_mtime_ns)

    def _kept(self, store: Store) -> tuple[Job, str] | None:
        """Return what the store wants planned, with its hash: worked out once for each moment.

        None where the store is not the truth yet.
        """
        # Asked before it is read: whatever is written in between is worked out again next time.
        moment, known = store.moment(), self._known
        if not moment[0]:
            return None
        if known is None or known[0] != moment:
            job = store.job()
            known = self._known = moment, job, hashlib.sha256(job_bytes(job)).hexdigest()
        return known[1:]

    def _in_files(self) -> Present:
        if not self.has_tables():
            raise NothingYet(self.folder)
        found = read_studio(self.folder)
        return Present(found.job, found.settings, False, found.input_hash, found.notes)


def desk() -> Desk:
    """Return the desk of the page that answers."""
    found: Desk = current_app.extensions["desk"]
    return found


def clock() -> datetime:
    """Return the time by the studio's clock."""
    return datetime.now().astimezone()


def present_in(folder: Path) -> Present:
    """Return what is wanted and on hand in a folder now.

    Raises:
        NothingYet: if nothing is there.
    """
    return Desk(folder).present()


@lru_cache(maxsize=4)
def _sound_plan(path: Path, _written: int) -> Plan:
    data = path.read_bytes()
    plan = read_plan(data, source=str(path))
    faults = (*faults_in(plan), *disagreements(data, plan))
    if faults:
        raise FaultsFound(faults)
    return plan
