"""The drawer and the orders as tables that are typed into: one record for each, used alike."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Generic, TypeVar

from sheetcut.drawer import (
    DRAWER_HEADINGS,
    ORDER_HEADINGS,
    Store,
    add_order,
    add_sheet,
    correct_order,
    correct_sheet,
    remove_order,
    remove_sheet,
)
from sheetcut.drawer.lines import named_line
from sheetcut.drawer.reading import Rows
from sheetcut.drawer.rows import Row, piece_of, sheet_of
from sheetcut.drawer.sheets import named_sheet
from sheetcut.drawer.tables import SELDOM_HEADINGS, order_cells, seldom_cells, sheet_cells
from sheetcut.job import Piece, Sheet
from sheetcut.read import Settings, Told, typed_order, typed_sheet

Kept = TypeVar("Kept", Sheet, Piece)
Cells = dict[str, str]

ONE_BY_ONE = ("left", "right", "top", "foot")
SIZES = ("width", "height", "margin", "border")
SHAPE = ("width", "height", "edge_loss", "skew")


@dataclass(frozen=True, slots=True)
class KeptTable(Generic[Kept]):
    """What is done with the rows of one table, whichever it is.

    Attributes:
        headings: of its columns; the first is a row's name.
        all_round: the heading of one length for every edge, which the edges' own stand against.
        fields: for each heading, the fields of the record that it fills.
        read: reads a row's cells, as ``read.typed_sheet`` does.
        told: the record out of what was read.
        cells: a record's cells, as many as there are headings.
        named: a record's row in the store, by its name.
        record: the record out of its row.
        add, correct, remove: what the drawer does with it, each said in a sentence.
    """

    headings: tuple[str, ...]
    all_round: str
    fields: Mapping[str, tuple[str, ...]]
    read: Callable[..., Told]
    told: Callable[[Told], Kept | None]
    cells: Callable[[Kept], tuple[str, ...]]
    named: Callable[[Rows, str], Row]
    record: Callable[[Row], Kept]
    add: Callable[..., str]
    correct: Callable[..., str]
    remove: Callable[..., str]

    def find(self, store: Store, name: str) -> Kept:
        """Return a record as it is kept.

        Raises:
            NotThere: if there is none of that name.
        """
        with store.reading() as rows:
            return self.record(self.named(rows, name))

    def row(self, record: Kept) -> Cells:
        """Return a record's cells by their headings."""
        return dict(zip(self.headings, self.cells(record), strict=True))

    def typed(
        self, store: Store, cells: Mapping[str, str], settings: Settings, *, where: str
    ) -> tuple[Kept, tuple[str, ...]]:
        """Return the record that a row's cells make, and what its owner should know.

        Args:
            where: what was typed into, for the messages.

        Raises:
            ProblemsFound: with every value that cannot be read.
        """
        told = self.read(cells, settings, store.recorded().sheets, where=where)
        record = self.told(told)
        assert record is not None
        return record, told.notes

    def retyped(self, record: Kept, typed: Mapping[str, str]) -> Cells:
        """Return a record's cells with others in their place.

        A new length for every edge stands instead of those for single edges.
        """
        edges = dict.fromkeys(ONE_BY_ONE, "") if self.all_round in typed else {}
        return {**self.row(record), **edges, **typed}

    def give(
        self, store: Store, name: str, record: Kept, headings: Iterable[str], *, now: datetime
    ) -> str:
        """Give a kept record the values that these headings speak of, and say so.

        Raises:
            NotThere, NameTaken: as the drawer has it.
        """
        fields: dict[str, Any] = {
            field: getattr(record, field) for heading in headings for field in self.fields[heading]
        }
        return self.correct(store, name, now=now, **fields)


DRAWER: KeptTable[Sheet] = KeptTable(
    headings=(*DRAWER_HEADINGS, *SELDOM_HEADINGS),
    all_round="edge loss",
    fields={
        "sheet": ("id",),
        "size": (*SHAPE, "unit"),
        **dict.fromkeys(("edge loss", *ONE_BY_ONE), SHAPE),
        **dict.fromkeys(("top width", "right height", "diagonal"), SHAPE),
        "deckle": ("deckles",),
        "on hand": ("on_hand",),
        **{name: (name,) for name in ("name", "paper", "side", "grain", "price", "packs", "kind",
                                      "note", "leave", "keep", "watermark")},
    },
    read=typed_sheet,
    told=lambda told: told.sheet,
    cells=lambda sheet: (*sheet_cells(sheet), *seldom_cells(sheet)),
    named=named_sheet,
    record=sheet_of,
    add=add_sheet,
    correct=correct_sheet,
    remove=remove_sheet,
)  # fmt: skip

ORDERS: KeptTable[Piece] = KeptTable(
    headings=ORDER_HEADINGS,
    all_round="margin",
    fields={
        "order": ("order",),
        "piece": ("label",),
        "size": (*SIZES, "unit"),
        **dict.fromkeys(("margin", *ONE_BY_ONE), SIZES),
        "kind": ("kind", *SIZES),
        "deckle": ("deckles",),
        "if room": ("if_room",),
        **{name: (name,) for name in ("client", "paper", "count", "turn", "due", "price", "note")},
    },
    read=typed_order,
    told=lambda told: told.piece,
    cells=order_cells,
    named=named_line,
    record=piece_of,
    add=add_order,
    correct=correct_order,
    remove=remove_order,
)
