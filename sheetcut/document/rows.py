"""The rows of the plan document: its keys, in the order they are written."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import msgspec

from sheetcut.job import (
    Aim,
    Edge,
    Grain,
    Kind,
    NarrowStrips,
    Preference,
    SheetCorner,
    SheetKind,
    Side,
    Turn,
    Unit,
)
from sheetcut.layout import Axis, Measure, Why

FORM = "sheetcut plan 1"
"""Names the shape of the document; a reader refuses any other."""

Four = tuple[Decimal, Decimal, Decimal, Decimal]
Two = tuple[Decimal, Decimal]


class RulesRow(msgspec.Struct):
    """Rules, as written."""

    reading_step: Decimal | None
    narrowest_strip: Decimal | None
    keep_size: Two
    mat: Two | None
    ruler: Decimal | None
    printer_width: Decimal | None
    aim: Aim | None
    preference: Preference
    narrow_strips: NarrowStrips = "allowed"


class PaperRow(msgspec.Struct):
    """What is known of a paper, as written."""

    name: str
    grammage: int | None
    passes: int | None
    aim: Aim | None


class SkewRow(msgspec.Struct):
    """How a sheet is out of square, as written."""

    foot: Decimal
    top: Decimal
    left: Decimal
    right: Decimal
    diagonal: Decimal
    along: Edge
    loss: Four


class SheetRow(msgspec.Struct):
    """A drawer row, as written."""

    id: str
    name: str
    paper: str
    width: Decimal
    height: Decimal
    on_hand: int | None
    price: Decimal | None
    edge_loss: Four
    deckles: tuple[Edge, ...]
    side: Side
    grain: Grain
    packs: tuple[tuple[int, Decimal], ...]
    or_more: tuple[int, ...]
    kind: SheetKind
    unit: Unit
    note: str
    leave: tuple[Edge, ...] = ()
    keep: tuple[Edge, ...] = ()
    watermark: SheetCorner | None = None
    skew: SkewRow | None = None


class OrderRow(msgspec.Struct, omit_defaults=True):
    """An order line, as written; that it waits for room stands there only where it does."""

    order: str
    client: str
    piece: str
    paper: str
    kind: Kind
    width: Decimal
    height: Decimal
    margin: Four
    border: Four
    count: int
    turn: Turn
    deckles: tuple[Edge, ...]
    due: date | None
    price: Decimal | None
    unit: Unit
    note: str
    if_room: bool = False


class BoundRow(msgspec.Struct):
    """A bound, as written: sheets, or money in the studio's currency."""

    measure: Measure
    value: Decimal
    reason: str
    certificate: dict[str, Any] | None


class SquaringRow(msgspec.Struct):
    """A squaring cut, as written."""

    number: int
    edge: Edge
    reading: Decimal


class BlankRow(msgspec.Struct):
    """A blank in its place, as written."""

    order: str
    piece: str
    x: Decimal
    y: Decimal
    width: Decimal
    height: Decimal
    turned: bool
    finished: Two
    margin: Four
    rounding: Two
    leave_on: Four


class CutRow(msgspec.Struct, rename={"start": "from", "stop": "to"}):
    """A cut, as written."""

    number: int
    along: Axis
    at: Decimal
    start: Decimal
    stop: Decimal
    level: int
    setting: int
    edge: str | int
    reading: Decimal


class KeeperRow(msgspec.Struct):
    """A keeper, as written."""

    names: tuple[str, ...]
    x: Decimal
    y: Decimal
    width: Decimal
    height: Decimal


class WasteRow(msgspec.Struct):
    """Where one copy of a sheet goes, in square millimetres."""

    finished: Decimal
    margins: Decimal
    keepers: Decimal
    scrap: Decimal
    edges: Decimal
    extra: Decimal


class FlagRow(msgspec.Struct):
    """Something to mind, as written; its figures are in the unit the layout is read in."""

    number: int | None
    kind: str
    words: str


class MarkRow(msgspec.Struct):
    """The marks of one cut on the whole sheet, measured from the start edges, as written."""

    number: int
    along: Axis
    at: Decimal
    ends: Two
    middle: Decimal | None
    why_not: str


class LayoutRow(msgspec.Struct):
    """A layout, as written."""

    sheet: str
    copies: int
    twins: int
    start: tuple[str, str]
    width: Decimal
    height: Decimal
    usable: Four
    squaring: tuple[SquaringRow, ...]
    blanks: tuple[BlankRow, ...]
    cuts: tuple[CutRow, ...]
    keepers: tuple[KeeperRow, ...]
    leftovers: tuple[Four, ...]
    waste: WasteRow
    slack: Two | None = None
    fresh_readings: int | None = None
    marks: tuple[MarkRow, ...] = ()
    flags: tuple[FlagRow, ...] = ()


class FiguresRow(msgspec.Struct):
    """What layouts ask of the hands and leave, as written: effort in mm, scrap in mm²."""

    cuts: int
    settings: int
    fresh_edges: int
    effort: Decimal
    largest_keeper: Two | None
    kept: Decimal
    scrap: Decimal


class AlternativeRow(msgspec.Struct):
    """Another way to cut the same, as written; its figures stand beside those of the plan."""

    kind: Preference
    sheets_used: dict[str, int]
    cost: Decimal | None
    figures: FiguresRow
    layouts: tuple[LayoutRow, ...]


class PaperPlanRow(msgspec.Struct):
    """The plan for one paper, as written."""

    paper: str
    aim: Aim
    sheets_used: dict[str, int]
    cost: Decimal | None
    currency: str
    bound: BoundRow
    proved: bool
    alternatives: tuple[AlternativeRow, ...]
    layouts: tuple[LayoutRow, ...]
    shares: dict[str, Decimal]
    rounds: int
    stopped: bool
    notes: tuple[str, ...]
    kind: Preference = "quicker to cut"
    figures: FiguresRow | None = None


class ShortRow(msgspec.Struct):
    """Pieces that are not in the plan, as written."""

    order: str
    piece: str
    count: int
    why: Why


class JobRows(msgspec.Struct):
    """The part of the document that was asked."""

    studio: str
    rules: RulesRow
    paper_facts: tuple[PaperRow, ...]
    sheets: tuple[SheetRow, ...]
    orders: tuple[OrderRow, ...]


class PlanDocument(msgspec.Struct):
    """The whole document, keys in the order they are written."""

    form: str
    version: str
    code: str
    made: str
    input_hash: str
    unit: str
    studio: str
    currency: str
    seed: int
    rounds: int
    stopped: bool
    rules: RulesRow
    paper_facts: tuple[PaperRow, ...]
    sheets: tuple[SheetRow, ...]
    orders: tuple[OrderRow, ...]
    papers: tuple[PaperPlanRow, ...]
    short: tuple[ShortRow, ...]
