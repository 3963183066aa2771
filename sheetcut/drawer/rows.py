"""Records as rows of the store, and back: the same record, to the last tick."""

from __future__ import annotations

import json
from dataclasses import asdict, fields
from datetime import date
from typing import Any

from sheetcut.job import Job, Pack, Paper, Piece, Rules, Sheet, Skew
from sheetcut.out_of_square import Measured
from sheetcut.units import Edges

Row = dict[str, Any]

IF_ROOM = "if room"
"""Stands for the day of a line that is cut only if there is room."""

SIDES = ("left", "right", "top", "foot")


def sheet_row(sheet: Sheet) -> Row:
    """Return a sheet as its row, without number and place."""
    return {
        "name": sheet.id,
        "title": sheet.name,
        "paper": sheet.paper,
        "width": sheet.width,
        "height": sheet.height,
        "on_hand": sheet.on_hand,
        "price": sheet.price,
        **_edge_columns("loss", sheet.edge_loss),
        "deckles": json.dumps(sheet.deckles),
        "side": sheet.side,
        "grain": sheet.grain,
        "packs": json.dumps([_pack(one) for one in sheet.packs]),
        "kind": sheet.kind,
        "unit": sheet.unit,
        "note": sheet.note,
        "leave": json.dumps(sheet.leave),
        "keep": json.dumps(sheet.keep),
        "watermark": sheet.watermark,
        "skew": None if sheet.skew is None else _skew_text(sheet.skew),
    }


def _pack(pack: Pack) -> list[int | bool]:
    return [pack.count, pack.price, *([True] if pack.or_more else [])]


def sheet_of(row: Row) -> Sheet:
    """Return the sheet that a row holds."""
    return Sheet(
        id=row["name"],
        paper=row["paper"],
        width=row["width"],
        height=row["height"],
        on_hand=row["on_hand"],
        price=row["price"],
        edge_loss=_edges_of(row, "loss"),
        deckles=tuple(json.loads(row["deckles"])),
        side=row["side"],
        grain=row["grain"],
        packs=tuple(Pack(*pack) for pack in json.loads(row["packs"])),
        kind=row["kind"],
        name=row["title"],
        unit=row["unit"],
        note=row["note"],
        leave=tuple(json.loads(row["leave"])),
        keep=tuple(json.loads(row["keep"])),
        watermark=row["watermark"],
        skew=None if row["skew"] is None else _skew_of(row["skew"]),
    )


def line_row(piece: Piece) -> Row:
    """Return an order line as its row, without number and place."""
    return {
        "name": piece.order,
        "label": piece.label,
        "paper": piece.paper,
        "width": piece.width,
        "height": piece.height,
        "count": piece.count,
        "turn": piece.turn,
        "kind": piece.kind,
        **_edge_columns("margin", piece.margin),
        **_edge_columns("border", piece.border),
        "client": piece.client,
        "deckles": json.dumps(piece.deckles),
        "due": _due_text(piece),
        "price": piece.price,
        "unit": piece.unit,
        "note": piece.note,
    }


def piece_of(row: Row) -> Piece:
    """Return the order line that a row holds."""
    return Piece(
        order=row["name"],
        label=row["label"],
        paper=row["paper"],
        width=row["width"],
        height=row["height"],
        count=row["count"],
        turn=row["turn"],
        kind=row["kind"],
        margin=_edges_of(row, "margin"),
        border=_edges_of(row, "border"),
        client=row["client"],
        deckles=tuple(json.loads(row["deckles"])),
        due=None if row["due"] in (None, IF_ROOM) else date.fromisoformat(row["due"]),
        price=row["price"],
        unit=row["unit"],
        note=row["note"],
        if_room=row["due"] == IF_ROOM,
    )


def _due_text(piece: Piece) -> str | None:
    if piece.if_room:
        return IF_ROOM
    return None if piece.due is None else piece.due.isoformat()


def paper_row(paper: Paper) -> Row:
    """Return what is known of a paper as its row, without number and place."""
    return {
        "name": paper.name,
        "grammage": paper.grammage,
        "passes": paper.passes,
        "aim": paper.aim,
    }


def paper_of(row: Row) -> Paper:
    """Return what a row knows of a paper."""
    return Paper(row["name"], row["grammage"], row["passes"], row["aim"])


def setting_rows(job: Job) -> list[Row]:
    """Return studio, currency and rules as rows, a value each."""
    values = {"studio": job.studio, "currency": job.currency}
    values |= {field.name: getattr(job.rules, field.name) for field in fields(Rules)}
    return [{"name": name, "value": json.dumps(value)} for name, value in values.items()]


def settings_of(rows: list[Row]) -> tuple[str, str, Rules]:
    """Return studio, currency and rules from their rows; what has none is as usual."""
    values = {row["name"]: json.loads(row["value"]) for row in rows}
    studio, currency = values.pop("studio", ""), values.pop("currency", "")
    if values.get("mat") is not None:
        values["mat"] = tuple(values["mat"])
    return studio, currency, Rules(**values)


def _skew_text(skew: Skew) -> str:
    return json.dumps({**asdict(skew.measured), "along": skew.along, "loss": skew.loss})


def _skew_of(text: str) -> Skew:
    values = json.loads(text)
    along, loss = values.pop("along"), values.pop("loss")
    return Skew(Measured(**values), along, Edges(*loss))


def _edge_columns(stem: str, edges: Edges) -> Row:
    return {f"{stem}_{side}": edge for side, edge in zip(SIDES, edges, strict=True)}


def _edges_of(row: Row, stem: str) -> Edges:
    return Edges(*(row[f"{stem}_{side}"] for side in SIDES))
