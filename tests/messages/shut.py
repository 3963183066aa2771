"""A folder in which nothing can be written, also for root, whom permissions do not stop."""

from __future__ import annotations

import builtins
import io
import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from sheetcut.drawer import store


@contextmanager
def shut(folder: Path, code: int) -> Iterator[None]:
    """Refuse every write below a folder with the system's own number for why."""

    def refuse_below(path: object) -> None:
        if isinstance(path, str | os.PathLike) and Path(path).absolute().is_relative_to(folder):
            raise OSError(code, os.strerror(code), str(path))

    def opened(real):
        def open_(path, mode="r", *args, **options):
            if set(mode) & set("wxa+"):
                refuse_below(path)
            return real(path, mode, *args, **options)

        return open_

    def by_flags(path, flags, *args, **options):
        if flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT):
            refuse_below(path)
        return os_open(path, flags, *args, **options)

    def named(real):
        def act(*paths, **options):
            for path in paths:
                refuse_below(path)
            return real(*paths, **options)

        return act

    def read_only(path, patience_s):
        """Open a store as the database does where it may read and not write."""
        if not path.absolute().is_relative_to(folder):
            return connected(path, patience_s)
        if not path.exists():
            error = sqlite3.OperationalError("unable to open database file")
            error.sqlite_errorcode = sqlite3.SQLITE_CANTOPEN
            raise error
        connection = connected(path, patience_s)
        connection.execute("PRAGMA query_only = ON")
        return connection

    os_open, connected = os.open, store._connected
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(io, "open", opened(io.open))
        patch.setattr(builtins, "open", opened(builtins.open))
        patch.setattr(os, "open", by_flags)
        for name in ("mkdir", "replace", "rename"):
            patch.setattr(os, name, named(getattr(os, name)))
        patch.setattr(store, "_connected", read_only)
        yield


def contents(folder: Path) -> dict[str, bytes | None]:
    """Return everything that lies in a folder, byte by byte."""
    return {
        str(path.relative_to(folder)): path.read_bytes() if path.is_file() else None
        for path in sorted(folder.rglob("*"))
    }
