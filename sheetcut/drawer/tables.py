"""Drawer and orders as tables of text under the headings that a studio's files have."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence
from decimal import Decimal

from sheetcut.drawer.reading import Rows
from sheetcut.drawer.rows import piece_of, sheet_of
from sheetcut.job import EDGES, Edge, Pack, Piece, Sheet, Unit
from sheetcut.units import TICKS_PER_INCH, TICKS_PER_MM, Cents, Edges, Length, inch_text, plain

Table = list[tuple[str, ...]]

DRAWER_HEADINGS = (
    "sheet", "name", "paper", "size", "edge loss", "left", "right", "top", "foot", "deckle",
    "side", "grain", "on hand", "price", "packs", "kind", "note",
)  # fmt: skip
SELDOM_HEADINGS = ("leave", "keep", "watermark", "top width", "right height", "diagonal")
"""Of the drawer too, where any sheet has them."""

ORDER_HEADINGS = (
    "order", "client", "piece", "paper", "kind", "size", "margin", "left", "right", "top", "foot",
    "count", "turn", "deckle", "due", "if room", "price", "note",
)  # fmt: skip

FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What a cell may begin with and be worked out for it, in some spreadsheet or other.

Source:
    OWASP, "CSV Injection": the four signs, tab and carriage return, line feed, and the wide
    forms of the signs (from memory).
"""


def csv_bytes(table: Iterable[Sequence[str]]) -> bytes:
    """Return a table as CSV that spreadsheets open as it is."""
    text = io.StringIO(newline="")
    csv.writer(text).writerows([_inert(cell) for cell in row] for row in table)
    return text.getvalue().encode("utf-8-sig")


def _inert(cell: str) -> str:
    """Return a cell that no spreadsheet takes for a formula; a space before it is not read back.

    >>> _inert("=1+1"), _inert("Ketch")
    (' =1+1', 'Ketch')
    """
    return f" {cell}" if cell[:1] in FORMULA_SIGNS else cell


def drawer_rows(rows: Rows) -> Table:
    """Return the drawer as a table, headings first."""
    sheets = [sheet_of(row) for row in rows.all("sheet")]
    usual = [sheet_cells(sheet) for sheet in sheets]
    seldom = [seldom_cells(sheet) for sheet in sheets]
    if not any(map(any, seldom)):
        return [DRAWER_HEADINGS, *usual]
    return [
        (*DRAWER_HEADINGS, *SELDOM_HEADINGS),
        *((*one, *more) for one, more in zip(usual, seldom, strict=True)),
    ]


def order_rows(rows: Rows) -> Table:
    """Return the orders as a table, headings first; lines that are done with are left out."""
    done = lines_done(rows)
    open_lines = [row for row in rows.all("order_line") if row["id"] not in done]
    return [ORDER_HEADINGS, *(order_cells(piece_of(row)) for row in open_lines)]


def lines_done(rows: Rows) -> set[int]:
    """Return the order lines of which as many were sent as are wanted."""
    sent: dict[int, int] = {}
    for blank in rows.all("blank", state="sent"):
        sent[blank["line"]] = sent.get(blank["line"], 0) + 1
    return {row["id"] for row in rows.all("order_line") if sent.get(row["id"], 0) >= row["count"]}


def sheet_cells(sheet: Sheet) -> tuple[str, ...]:
    """Return a sheet as the cells of its row: one out of square as it was measured."""
    width, height, loss = sheet.width, sheet.height, sheet.edge_loss
    if sheet.skew is not None:
        measured, loss = sheet.skew.measured, sheet.skew.loss
        width, height = measured.foot, measured.left
    return (
        sheet.id,
        sheet.name,
        sheet.paper,
        size_text(width, height, sheet.unit),
        *_edge_cells(loss, sheet.unit),
        _edges_text(sheet.deckles),
        sheet.side,
        sheet.grain,
        "any" if sheet.on_hand is None else str(sheet.on_hand),
        money_text(sheet.price),
        "; ".join(map(_pack_text, sheet.packs)),
        sheet.kind,
        sheet.note,
    )


def _pack_text(pack: Pack) -> str:
    if pack.or_more:
        return f"{pack.count}+ at {money_text(pack.price // pack.count)}"
    return f"{pack.count} for {money_text(pack.price)}"


def seldom_cells(sheet: Sheet) -> tuple[str, ...]:
    """Return what few sheets have, as the cells that follow the others of a row."""
    measures = ("", "", "")
    if sheet.skew is not None:
        one = sheet.skew.measured
        top, right, diagonal = (
            length_text(length, sheet.unit) for length in (one.top, one.right, one.diagonal)
        )
        measures = (top, right, diagonal)
    return (
        " ".join(sheet.leave),
        " ".join(sheet.keep),
        sheet.watermark or "",
        *measures,
    )


def order_cells(piece: Piece) -> tuple[str, ...]:
    """Return an order line as the cells of its row: of a print, image and borders."""
    around = piece.border if piece.kind == "print" else piece.margin
    image = piece.border if piece.kind == "print" else Edges()
    return (
        piece.order,
        piece.client,
        piece.label,
        piece.paper,
        piece.kind,
        size_text(piece.width - image.across, piece.height - image.up, piece.unit),
        *_edge_cells(around, piece.unit),
        str(piece.count),
        piece.turn,
        _edges_text(piece.deckles),
        "" if piece.due is None else piece.due.isoformat(),
        "yes" if piece.if_room else "",
        money_text(piece.price),
        piece.note,
    )


def size_text(width: Length, height: Length, unit: Unit) -> str:
    """Return a size in the unit it was typed in, exactly.

    >>> size_text(TICKS_PER_MM * 560, TICKS_PER_MM * 760, "cm")
    '56 x 76 cm'
    >>> size_text(TICKS_PER_INCH * 177 // 8, TICKS_PER_INCH * 30, "in")
    '22 1/8 x 30 in'
    """
    one, other = _number(width, unit), _number(height, unit)
    if one is None or other is None:
        one, other, unit = _decimal(width, 1), _decimal(height, 1), "mm"
    return f"{one} x {other} {unit}"


def length_text(length: Length, unit: Unit) -> str:
    """Return a length in the unit it was typed in, exactly.

    >>> length_text(TICKS_PER_MM // 2, "mm"), length_text(TICKS_PER_MM * 5, "in")
    ('0.5 mm', '5 mm')
    """
    number = _number(length, unit)
    return f"{_decimal(length, 1)} mm" if number is None else f"{number} {unit}"


def money_text(cents: Cents | None) -> str:
    """Return money without its sign; empty where it is not known.

    >>> money_text(1520), money_text(5), money_text(None)
    ('15.20', '0.05', '')
    """
    return "" if cents is None else f"{cents // 100}.{cents % 100:02d}"


def counted(n: int, what: str) -> str:
    """Return a number of things.

    >>> counted(1, "blank"), counted(2, "blank")
    ('1 blank', '2 blanks')
    """
    return f"{n} {what}" if n == 1 else f"{n} {what}s"


def words_of(value: str) -> str:
    """Return a list kept as JSON in words, for telling people what changed in it."""
    items = json.loads(value)
    if all(isinstance(item, str) for item in items):
        return _edges_text(items)
    return "; ".join(_pack_text(Pack(*item)) for item in items)


def _edge_cells(edges: Edges, unit: Unit) -> tuple[str, ...]:
    """Return the cell for all edges, then one for each: the first alone where they are alike."""
    if len(set(edges)) == 1:
        return (length_text(edges.left, unit), "", "", "", "")
    return ("", *(length_text(edge, unit) for edge in edges))


def _edges_text(edges: Sequence[Edge] | Sequence[str]) -> str:
    if set(edges) == set(EDGES):
        return "all"
    return " ".join(edges) or "none"


def _number(length: Length, unit: Unit) -> str | None:
    if unit == "in":
        return _inches(length)
    return _decimal(length, 10 if unit == "cm" else 1)


def _inches(length: Length) -> str | None:
    """Return inches as a ruler shows them, else as a decimal; None where neither is exact."""
    if length % (TICKS_PER_INCH // 64) == 0:
        return inch_text(length)
    if length * 10**6 % TICKS_PER_INCH == 0:
        return str(plain(Decimal(length) / TICKS_PER_INCH))
    return None


def _decimal(length: Length, millimetres: int) -> str:
    return str(plain(Decimal(length) / (TICKS_PER_MM * millimetres)))
