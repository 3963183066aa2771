"""A sheet of the drawer as it is named and typed in commands."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetcut.cli.typing_in import corrected_cells

if TYPE_CHECKING:
    from sheetcut.drawer import Store
    from sheetcut.job import Sheet

EDGE_LOSS = ("edge loss", "left", "right", "top", "foot")
OUT_OF_SQUARE = ("top width", "right height", "diagonal")
SHAPE = ("width", "height", "edge_loss", "skew")
FIELDS: Mapping[str, tuple[str, ...]] = {
    "sheet": ("id",),
    "size": (*SHAPE, "unit"),
    **dict.fromkeys((*EDGE_LOSS, *OUT_OF_SQUARE), SHAPE),
    "deckle": ("deckles",),
    "on hand": ("on_hand",),
    **{name: (name,) for name in ("name", "paper", "side", "grain", "price", "packs", "kind",
                                  "note", "leave", "keep", "watermark")},
}  # fmt: skip
"""For each heading of the drawer's table, the fields of a sheet that it fills."""

sheet_argument = click.argument("sheet", nargs=-1, required=True)


def read_sheet(store: Store, typed: Mapping[str, str], folder: Path, where: str) -> Sheet:
    """Return the sheet that typed values make; what its owner should know is told."""
    from sheetcut.read import settings_in, typed_sheet  # noqa: PLC0415

    told = typed_sheet(typed, settings_in(folder), store.recorded().sheets, where=where)
    for note in told.notes:
        click.echo(f"note: {note}", err=True)
    assert told.sheet is not None
    return told.sheet


def corrected_row(sheet: Sheet, typed: Mapping[str, str]) -> dict[str, str]:
    """Return a sheet's row with what was typed in its place."""
    from sheetcut.drawer.tables import (  # noqa: PLC0415
        DRAWER_HEADINGS,
        SELDOM_HEADINGS,
        seldom_cells,
        sheet_cells,
    )

    headings = (*DRAWER_HEADINGS, *SELDOM_HEADINGS)
    cells = dict(zip(headings, (*sheet_cells(sheet), *seldom_cells(sheet)), strict=True))
    return corrected_cells(cells, typed, "edge loss")


def sheet_named(store: Store, name: str) -> Sheet:
    """Return a sheet in the drawer by its name."""
    from sheetcut.drawer.rows import sheet_of  # noqa: PLC0415
    from sheetcut.drawer.sheets import named_sheet  # noqa: PLC0415

    with store.reading() as rows:
        return sheet_of(named_sheet(rows, name))
