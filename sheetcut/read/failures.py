"""What stops the reading of a studio before a single row is looked at."""

from __future__ import annotations

from pathlib import Path

from sheetcut.errors import Problem, ProblemsFound, SheetcutError


class NoFolder(SheetcutError):
    """The studio's folder is not there, or is not a folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        found = "is not a folder" if folder.exists() else "is not there"
        super().__init__(
            f"{folder}: this folder {found}; give the folder that holds orders and drawer, "
            "or make one with: sheetcut start FOLDER"
        )


class FileMissing(SheetcutError):
    """A studio lacks its orders or its drawer.

    Attributes:
        stem: "orders" or "drawer".
        instead: a file of that name that cannot be read here, such as orders.ods, or "".
    """

    def __init__(self, folder: Path, stem: str, instead: str = "") -> None:
        self.folder = folder
        self.stem = stem
        self.instead = instead
        remedy = (
            f"open {instead} and save it as {stem}.xlsx or {stem}.csv"
            if instead
            else f"put one there, or begin with: sheetcut start {folder}"
        )
        super().__init__(f"{folder}: there is no {stem}.csv and no {stem}.xlsx; {remedy}")


class TwoFiles(SheetcutError):
    """One table is there twice, so that nobody can tell which one holds."""

    def __init__(self, folder: Path, stem: str, names: tuple[str, ...], newest: str) -> None:
        self.folder = folder
        self.stem = stem
        self.names = names
        self.newest = newest
        both = " and ".join(names)
        super().__init__(
            f"{folder}: {both} are both there, and only one can hold; keep one and move the other "
            f"away ({newest} was changed last)"
        )


class FileUnreadable(SheetcutError):
    """A file is there and the system does not hand it over."""

    def __init__(self, path: Path, reason: str) -> None:
        self.path = path
        self.reason = reason
        super().__init__(
            f"{path}: the file cannot be read ({reason}); close it in other programs, and see "
            "that it is a file you may read"
        )


class FolderUnreadable(SheetcutError):
    """A folder is there and the system does not say what lies in it."""

    def __init__(self, path: Path, reason: str) -> None:
        self.path = path
        self.reason = reason
        super().__init__(
            f"{path}: the folder cannot be looked into ({reason}); see that it is one you may open"
        )


class FilesInTheWay(SheetcutError):
    """A new studio would have to write over files that are there."""

    def __init__(self, folder: Path, names: tuple[str, ...]) -> None:
        self.folder = folder
        self.names = names
        there = f"{names[0]} is" if len(names) == 1 else f"{', '.join(names)} are"
        super().__init__(
            f"{folder}: {there} already there and nothing was written; name another folder"
        )


class NotWritten(SheetcutError):
    """A new studio's files could not be written."""

    def __init__(self, folder: Path, reason: str) -> None:
        self.folder = folder
        self.reason = reason
        super().__init__(
            f"{folder}: nothing was written ({reason}); name a folder you may write into"
        )


def spoiled(
    source: str, message: str, remedy: str, *, row: int | None = None, cell: str | None = None
) -> ProblemsFound:
    """Return the error for one problem that makes the rest of its file unreadable."""
    return ProblemsFound((Problem(source, row, cell, "", message, remedy),))
