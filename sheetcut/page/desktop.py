"""The page on somebody's desktop: a file to double-click, beside what lies there, over nothing."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from itertools import count
from pathlib import Path

import platformdirs

from sheetcut.errors import SheetcutError
from sheetcut.page.launchers import Launcher, file_stem, launcher
from sheetcut.page.studio import Desk

PATIENCE_S = 5.0


class NoDesktop(SheetcutError):
    """This account has no desktop to put anything on."""

    def __init__(self, path: Path) -> None:
        super().__init__(
            f"{path}: there is no such folder, so there is no desktop to put anything on; "
            "open the page with: sheetcut page"
        )


@dataclass(frozen=True, slots=True)
class Put:
    """What lies on the desktop now, with a word about it."""

    path: Path
    says: tuple[str, ...]


def put_on_desktop(
    folder: Path, *, tablet: bool = False, system: str = sys.platform, desktop: Path | None = None
) -> Put:
    """Put a file on the desktop that opens a studio's page when it is double-clicked.

    Args:
        tablet: whether the page is served to a tablet, too.
        desktop: where that is; found for this account unless it is given.

    Raises:
        NoDesktop: if there is none.
    """
    where = desktop or Path(platformdirs.user_desktop_dir())
    if not where.is_dir():
        raise NoDesktop(where)
    folder = folder.absolute()
    title = Desk(folder).name()
    # -P: what lies in the folder it is started from is never taken for a part of the program.
    command = [sys.executable, "-P", "-m", "sheetcut.cli", "page", str(folder), "--double-click"]
    icon = str(files("sheetcut.page") / "static" / "sheet.svg")
    made = launcher(system, [*command, *(["--tablet"] if tablet else [])], title, icon)
    for path in _names(where, file_stem(title), made.ending):
        try:
            # A new file or none: what lies there already is somebody else's.
            with path.open("x", encoding="utf-8", newline="\n") as file:
                file.write(made.text)
        except FileExistsError:
            if _is_ours(path, made):
                return Put(path, ("It lies there already.",))
            continue
        if system != "win32":
            path.chmod(0o755)
        if made.ending == ".desktop":
            _trust(path)
        return Put(path, tuple(filter(None, ("A double click on it opens the page.", made.opens))))
    raise AssertionError("names never end")


def _names(where: Path, stem: str, ending: str) -> Iterator[Path]:
    yield where / f"{stem}{ending}"
    for number in count(2):
        yield where / f"{stem} {number}{ending}"


def _is_ours(path: Path, made: Launcher) -> bool:
    """Whether a file opens this very studio already."""
    try:
        return path.read_bytes() == made.text.encode()
    except OSError:
        return False


def _trust(path: Path) -> None:
    """Mark a desktop entry as wanted, where the desktop can be told; elsewhere it asks once."""
    tool = shutil.which("gio")
    if tool is None:
        return
    try:
        subprocess.run(
            [tool, "set", str(path), "metadata::trusted", "true"],
            capture_output=True,
            timeout=PATIENCE_S,
            check=False,
        )
    except (OSError, subprocess.TimeoutExpired):
        return
