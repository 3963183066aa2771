"""What the store refuses, each in a sentence: what was found, and what to do."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from difflib import get_close_matches
from pathlib import Path

from sheetcut.errors import SheetcutError

UNTOUCHED = "nothing was changed"


class NoStore(SheetcutError):
    """There is no store file yet."""

    def __init__(self, path: Path) -> None:
        super().__init__(f"{path}: there is no such file yet; make it with: sheetcut drawer import")


class NotAStore(SheetcutError):
    """A file of this name is there, but not one that a studio's stock is kept in."""

    def __init__(self, path: Path) -> None:
        super().__init__(
            f"{path}: this is not a file that sheetcut keeps stock in; move it elsewhere, "
            f"or bring back a copy from {path.parent / 'backups'}"
        )


class NewerStore(SheetcutError):
    """A newer sheetcut wrote the file."""

    def __init__(self, path: Path, found: int, known: int) -> None:
        self.found, self.known = found, known
        super().__init__(
            f"{path}: a newer sheetcut wrote it (version {found} of the file; this one knows "
            f"up to {known}); install the newer one. {UNTOUCHED.capitalize()}"
        )


class StoreBusy(SheetcutError):
    """Another program holds the file."""

    def __init__(self, path: Path) -> None:
        super().__init__(
            f"{path}: another sheetcut is writing to it; try again when it is done. "
            f"{UNTOUCHED.capitalize()}"
        )


class StoreNotWritten(SheetcutError):
    """The file cannot be written."""

    def __init__(self, path: Path, why: str, remedy: str) -> None:
        super().__init__(f"{path}: {why}; {remedy}. {UNTOUCHED.capitalize()}")


class StoreDamaged(SheetcutError):
    """The file is no longer whole."""

    def __init__(self, path: Path, found: str) -> None:
        super().__init__(
            f"{path}: the file is damaged ({found}); keep it as it is, and bring back the newest "
            f"good copy from {path.parent / 'backups'}"
        )


class NotKeepable(SheetcutError):
    """A text or number that the file cannot hold."""

    def __init__(self, what: str, found: object) -> None:
        shown = repr(found)
        super().__init__(
            f"{what}: {shown if len(shown) < 60 else shown[:59] + '…'} cannot be kept; "
            f"write it in ordinary characters and figures. {UNTOUCHED.capitalize()}"
        )


class NotThere(SheetcutError):
    """A sheet or order line that is not there."""

    def __init__(self, what: str, name: str, known: Iterable[str]) -> None:
        self.name = name
        near = get_close_matches(name, list(known), 1, 0.6)
        table = "orders" if what == "order" else "drawer"
        remedy = f'did you mean "{near[0]}"?' if near else f"look with: sheetcut {table}"
        super().__init__(f'there is no {what} "{name}"; {remedy}')


class NameTaken(SheetcutError):
    """A second sheet or order line of the same name."""

    def __init__(self, what: str, name: str) -> None:
        super().__init__(f'the {what} "{name}" is there already; correct it, or use a new name')


class LineInWork(SheetcutError):
    """An order line that blanks were cut for."""

    def __init__(self, name: str, blanks: int) -> None:
        super().__init__(
            f'order "{name}": {_blanks(blanks)} cut for it already, so it stays; lower its count, '
            "or undo the cut"
        )


class KeptAsAny(SheetcutError):
    """A sheet that nobody counts."""

    def __init__(self, name: str) -> None:
        super().__init__(
            f'"{name}" is kept as any number; give it a number on hand first, then book in what '
            "arrived"
        )


class WrongAmount(SheetcutError):
    """A number or size that cannot be, with what could."""

    def __init__(self, what: str, found: str, remedy: str) -> None:
        super().__init__(f"{what}: {found}; {remedy}. {UNTOUCHED.capitalize()}")


class PlanOutOfDate(SheetcutError):
    """Sheets or order lines of a plan are no longer what it was made from."""

    def __init__(self, code: str, changes: Sequence[str], still_good: Sequence[int]) -> None:
        self.changes, self.still_good = tuple(changes), tuple(still_good)
        rest = f", or cut only {layouts_text(still_good)}" if still_good else ""
        remedy = f"plan again{rest}"
        super().__init__(
            f"plan {code} no longer fits what is there: {'; '.join(changes)}. "
            f"{remedy[0].upper()}{remedy[1:]}. {UNTOUCHED.capitalize()}"
        )


class AlreadyCut(SheetcutError):
    """A layout that was cut before."""

    def __init__(self, code: str, layouts: Sequence[int]) -> None:
        self.layouts = tuple(layouts)
        super().__init__(
            f"plan {code}, {layouts_text(layouts)}: cut already; undo takes a cut back. "
            f"{UNTOUCHED.capitalize()}"
        )


class NotHeld(SheetcutError):
    """A layout that is not pinned up."""

    def __init__(self, code: str, layout: int) -> None:
        super().__init__(
            f"plan {code}, layout {layout}: it is not pinned up; name one that is. "
            f"{UNTOUCHED.capitalize()}"
        )


class NothingToUndo(SheetcutError):
    """There is no change left to take back."""

    def __init__(self) -> None:
        super().__init__("there is no change to take back; the diary has what was done")


class NothingToRedo(SheetcutError):
    """Nothing was taken back since the last change."""

    def __init__(self) -> None:
        super().__init__(
            "nothing was taken back that could be done again; the diary has what was done"
        )


def layouts_text(numbers: Sequence[int]) -> str:
    """Return the numbers of layouts in words.

    >>> layouts_text([1]), layouts_text([1, 3]), layouts_text([1, 2, 3, 5])
    ('layout 1', 'layouts 1, 3', 'layouts 1 to 3, 5')
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    words = ", ".join(
        f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs
    )
    return f"layout {words}" if len(numbers) == 1 else f"layouts {words}"


def _blanks(count: int) -> str:
    return "1 blank is" if count == 1 else f"{count} blanks are"


@contextmanager
def in_words(path: Path) -> Iterator[None]:
    """Turn what the database says into a sentence; our own mistakes keep their traceback."""
    try:
        yield
    except sqlite3.Error as error:
        sentence = _sentence(path, error)
        if sentence is None:
            raise
        raise sentence from error


def _sentence(path: Path, error: sqlite3.Error) -> SheetcutError | None:
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF  # the low byte is the kind of error
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return StoreBusy(path)
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_CANTOPEN):
        return StoreNotWritten(path, "it cannot be written here", "allow writing in its folder")
    if code == sqlite3.SQLITE_FULL:
        return StoreNotWritten(path, "the disk is full", "make room and try again")
    if code == sqlite3.SQLITE_IOERR:
        return StoreNotWritten(
            path, "the disk did not take it", "see whether it is full or was taken out"
        )
    if code == sqlite3.SQLITE_NOTADB:
        return NotAStore(path)
    if code == sqlite3.SQLITE_CORRUPT:
        return StoreDamaged(path, str(error))
    return None
