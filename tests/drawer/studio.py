"""A small studio and hand-made plans for it, so that the drawer is tested without the engine."""

from __future__ import annotations

import json
import random
import sqlite3
from collections import Counter
from datetime import datetime
from pathlib import Path

from sheetcut.cost import shares, waste_of
from sheetcut.drawer import Store, csv_bytes, drawer_rows, order_rows, work_list
from sheetcut.drawer.intake import SourceFile, take_in
from sheetcut.drawer.reading import STATE_TABLES
from sheetcut.job import Job, Pack, Paper, Piece, Rules, Sheet, reading_step
from sheetcut.layout import Bound, Keeper, Layout, PaperPlan, Placement, Plan, Squaring
from sheetcut.units import Edges, mm, round_up

NOW = datetime(2026, 11, 25, 14, 3)
SMOOTH, RAG = "Slatehouse Smooth", "Marram Rag"

FILES = {
    "sheets": SourceFile("drawer.csv", "a"),
    "orders": SourceFile("orders.csv", "b"),
    "settings": SourceFile("studio.toml", "c"),
}


def drawing(order: str, width: int, height: int, count: int = 1, margin: int = 15) -> Piece:
    """Return an order line for a drawing; sizes in mm."""
    return Piece(
        order, order, SMOOTH, mm(width), mm(height), count, margin=Edges(*[mm(margin)] * 4)
    )


def demo_drawing_paper() -> Job:
    """Return the drawing paper of the demo studio (TRADE 10.1 and 10.2)."""
    trim = Edges(*[mm(8)] * 4)
    return Job(
        sheets=(
            Sheet("HP-IMP", SMOOTH, mm(560), mm(760), 3, 1520, trim, grain="along height",
                  packs=(Pack(5, 7600),)),
            Sheet("HP-DE", SMOOTH, mm(686), mm(1016), 1, 2980, trim, grain="along height"),
            Sheet("heron 7", SMOOTH, mm(268), mm(540), 1, 517, grain="along height",
                  kind="offcut"),
        ),
        pieces=(
            drawing("D01", 297, 420), drawing("D02", 148, 210, 4, 12), drawing("D03", 210, 297),
            drawing("D04", 300, 300), drawing("D05", 210, 297, 2), drawing("D06", 297, 420),
            drawing("D07", 200, 500), drawing("D08", 148, 210, 3, 12), drawing("D09", 210, 297),
            drawing("D10", 550, 780), drawing("D11", 148, 210, 2, 12),
        ),
        rules=Rules(mat=(mm(600), mm(450)), ruler=mm(1000)),
        papers=(Paper(SMOOTH, 640, 4),),
        studio="Tern Point Drawing Room",
        currency="£",
    )  # fmt: skip


def demo_plan() -> Plan:
    """Return the good answer for the drawing paper, laid out by hand (TRADE 10.4)."""
    job = demo_drawing_paper()
    return plan_of(
        job,
        laid(job, "HP-IMP", [("D02", 0, 0), ("D02", 0, 234), ("D02", 0, 468),
                             ("D03", 172, 0, "turned"), ("D01", 172, 240)]),
        laid(job, "HP-IMP", [("D02", 0, 0), ("D08", 0, 234), ("D08", 0, 468),
                             ("D05", 172, 0, "turned"), ("D06", 172, 240)]),
        laid(job, "HP-IMP", [("D05", 0, 0), ("D09", 240, 0), ("D08", 0, 327), ("D04", 172, 327)]),
        laid(job, "HP-DE", [("D11", 0, 0, "turned"), ("D11", 234, 0, "turned"), ("D10", 0, 172)]),
        laid(job, "heron 7", [("D07", 0, 0)]),
    )  # fmt: skip


def laid(
    job: Job,
    sheet_id: str,
    blanks: list[tuple],
    *,
    keepers: tuple[tuple[int, int, int, int], ...] = (),
    names: tuple[str, ...] = (),
    copies: int = 1,
    squared: tuple[str, ...] = (),
) -> Layout:
    """Return a layout: blanks as order, x, y and perhaps "turned"; keepers as rectangles in mm.

    A keeper has the names of all its copies, one after the other.
    """
    sheet = next(one for one in job.sheets if one.id == sheet_id)
    kept = tuple(
        Keeper(names[n * copies : (n + 1) * copies], *(mm(side) for side in keeper))
        for n, keeper in enumerate(keepers)
    )
    placements = tuple(_placement(job, *blank) for blank in blanks)
    return Layout(
        sheet=sheet_id,
        copies=copies,
        twins=1,
        start=("left", "foot"),
        width=sheet.width,
        height=sheet.height,
        usable=(
            sheet.edge_loss.left,
            sheet.edge_loss.foot,
            sheet.usable_width,
            sheet.usable_height,
        ),
        squaring=tuple(Squaring(n, edge, mm(8)) for n, edge in enumerate(squared, start=1)),
        placements=placements,
        cuts=(),
        keepers=kept,
        leftovers=(),
        waste=waste_of(job, sheet, placements, kept),
    )


def _placement(job: Job, order: str, x: int, y: int, turned: str = "") -> Placement:
    index = next(n for n, piece in enumerate(job.pieces) if piece.order == order)
    piece = job.pieces[index]
    step = reading_step(job, piece.paper)
    sides = round_up(piece.asked_width, step), round_up(piece.asked_height, step)
    rounding = (sides[0] - piece.asked_width, sides[1] - piece.asked_height)
    lies = sides[::-1] if turned else sides
    return Placement(index, mm(x), mm(y), *lies, turned=bool(turned), rounding=rounding)


def plan_of(job: Job, *layouts: Layout, code: str = "K7QP", made: str = "") -> Plan:
    """Return a plan of these layouts, which follow each other by paper."""
    papers = []
    sheets = {sheet.id: sheet for sheet in job.sheets}
    for paper in dict.fromkeys(sheets[layout.sheet].paper for layout in layouts):
        own = tuple(layout for layout in layouts if sheets[layout.sheet].paper == paper)
        used: Counter[str] = Counter()
        areas: Counter[int] = Counter()
        for layout in own:
            used[layout.sheet] += layout.copies
            for place in layout.placements:
                areas[place.piece] += layout.copies * job.pieces[place.piece].asked_area
        prices = [(n, sheets[name].price) for name, n in used.items()
                  if sheets[name].kind == "full"]  # fmt: skip
        known = all(price is not None for _, price in prices)
        cost = sum(n * price for n, price in prices) if known else None
        papers.append(
            PaperPlan(
                paper=paper,
                aim="least cost",
                sheets_used=dict(used),
                cost=cost,
                bound=Bound("cost", 0, "laid out by hand"),
                layouts=own,
                shares={} if cost is None else shares(cost, areas),
            )
        )
    return Plan(job, tuple(papers), (), 0, 0, False, "0", code=code, made=made)


def begun(folder: Path, job: Job) -> Store:
    """Return a store that a job was just taken into."""
    store = Store.open(folder, create=True)
    take_in(store, job, FILES, now=NOW)
    return store


def exported(store: Store) -> tuple[bytes, bytes]:
    """Return drawer and orders as they would be exported."""
    with store.reading() as rows:
        return csv_bytes(drawer_rows(rows)), csv_bytes(order_rows(rows))


def state(store: Store) -> str:
    """Return every row of stock, orders, work and books, as text."""
    with store.reading() as rows:
        tables = {table: rows.all(table) for table in STATE_TABLES if table != "source"}
    return json.dumps([tables, [str(one) for one in work_list(store)]], sort_keys=True, indent=1)


def on_hand(store: Store) -> dict[str, int | None]:
    """Return how many of each drawer row are on hand."""
    return {sheet.id: sheet.on_hand for sheet in store.recorded().sheets}


def replayed(path: Path) -> None:
    """Assert that the file is whole and its rows are what its history says, no more, no less."""
    connection = sqlite3.connect(path)
    try:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        rows: dict[tuple[str, int], str | None] = {}
        for table, row, before, after in connection.execute(
            "SELECT place, row, before, after FROM row_change ORDER BY id"
        ):
            if table != "source":
                assert rows.get((table, row)) == before
                rows[table, row] = after
        for table in STATE_TABLES:
            if table == "source":
                continue
            found = connection.execute(f"SELECT * FROM {table} ORDER BY id")
            names = [column[0] for column in found.description]
            present = [dict(zip(names, values, strict=True)) for values in found]
            told = [json.loads(after) for (place, _), after in rows.items()
                    if place == table and after is not None]  # fmt: skip
            assert present == sorted(told, key=lambda row: row["id"])
    finally:
        connection.close()


def random_plan(store: Store, chance: random.Random, made: str) -> Plan | None:
    """Return a plan of one layout for what is to be planned: blanks side by side, rest kept."""
    job = store.job()
    sheets = [sheet for sheet in job.sheets if sheet.on_hand != 0]
    if not sheets or not job.pieces:
        return None
    sheet = chance.choice(sheets)
    x, tallest, blanks = 0, 0, []
    wide, high = sheet.usable_width // mm(1), sheet.usable_height // mm(1)
    for piece in job.pieces_of(sheet.paper):
        across, up = (-(-side // mm(1)) for side in (piece.asked_width, piece.asked_height))
        for _ in range(chance.randint(0, piece.count)):
            if up <= high and x + across <= wide:
                blanks.append((piece.order, x, 0))
                x, tallest = x + across, max(tallest, up)
    if not blanks:
        return None
    keepers = [(x, 0, wide - x, high)] if wide > x and chance.random() < 0.7 else []
    names = tuple(f"{chance.choice(['tern', 'knot'])} {chance.randint(1, 9)}" for _ in keepers)
    return plan_of(job, laid(job, sheet.id, blanks, keepers=tuple(keepers), names=names), made=made)
