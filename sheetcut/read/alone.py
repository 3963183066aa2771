"""One file of a studio read by itself: its settings, or a table that lies elsewhere."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from sheetcut.errors import ProblemsFound
from sheetcut.job import Piece, Sheet
from sheetcut.read.drawer import Drawer, read_drawer
from sheetcut.read.failures import FolderUnreadable, NoFolder
from sheetcut.read.folder import SETTINGS_FILE, bytes_of
from sheetcut.read.headings import DRAWER_MEANINGS, ORDER_MEANINGS, headed
from sheetcut.read.orders import read_orders
from sheetcut.read.studio import Settings, read_settings
from sheetcut.read.tables import tables_in


def settings_in(folder: Path) -> Settings:
    """Return the settings of a studio; the usual ones where it has no file of them.

    Raises:
        NoFolder, FolderUnreadable, FileUnreadable: if there is nothing to read.
        ProblemsFound: with every problem of the file.
    """
    if not folder.is_dir():
        raise NoFolder(folder)
    try:
        path = folder / SETTINGS_FILE
        if not path.exists():
            return Settings()
    except OSError as error:
        raise FolderUnreadable(folder, error.strerror or str(error)) from None
    settings, problems = read_settings(SETTINGS_FILE, bytes_of(path))
    if problems:
        raise ProblemsFound(tuple(problems))
    return settings


def sheets_in(path: Path, settings: Settings) -> tuple[tuple[Sheet, ...], tuple[str, ...]]:
    """Return the sheets of a drawer's table, and what the user should know.

    Raises:
        FileUnreadable, ProblemsFound: as for a studio.
    """
    table = headed(path.name, tables_in(path.name, bytes_of(path)), DRAWER_MEANINGS)
    drawer = read_drawer(table, settings)
    if drawer.problems:
        raise ProblemsFound(tuple(drawer.problems))
    return tuple(drawer.sheets), tuple(drawer.notes)


def orders_in(
    path: Path, settings: Settings, sheets: Iterable[Sheet]
) -> tuple[tuple[Piece, ...], tuple[str, ...]]:
    """Return the order lines of a table, and what the user should know.

    Args:
        sheets: where the papers are that the lines may name.

    Raises:
        FileUnreadable, ProblemsFound: as for a studio.
    """
    table = headed(path.name, tables_in(path.name, bytes_of(path)), ORDER_MEANINGS)
    orders = read_orders(table, settings, drawer_of(sheets))
    if orders.problems:
        raise ProblemsFound(tuple(orders.problems))
    return tuple(orders.pieces), tuple(orders.notes)


def drawer_of(sheets: Iterable[Sheet]) -> Drawer:
    """Return sheets as a drawer that orders are read beside."""
    drawer = Drawer(sheets=list(sheets))
    for sheet in drawer.sheets:
        drawer.papers.setdefault(sheet.paper.casefold(), sheet.paper)
        drawer.ids[sheet.id.casefold()] = sheet.paper
    return drawer
