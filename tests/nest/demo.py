"""The invented studio's week as records: drawer, orders, prices."""

from __future__ import annotations

from datetime import date

from sheetcut.job import Job, Piece, Sheet
from sheetcut.units import Edges, mm

DECKLES = Edges(mm(8), mm(8), mm(8), mm(8))


def _sheet(name, paper, width, height, loss, grain, on_hand, price, kind="full"):
    return Sheet(
        id=name,
        paper=paper,
        width=mm(width),
        height=mm(height),
        edge_loss=loss,
        grain=grain,
        on_hand=on_hand,
        price=price,
        kind=kind,
    )


SMOOTH, RAG, LAID = "Slatehouse Smooth", "Marram Rag", "Gullwing Laid"

SHEETS = (
    _sheet("HP-IMP", SMOOTH, 560, 760, DECKLES, "along height", 3, 1520),
    _sheet("HP-DE", SMOOTH, 686, 1016, DECKLES, "along height", 1, 2980),
    _sheet("heron 7", SMOOTH, 268, 540, Edges(), "along height", 1, 517, "offcut"),
    _sheet("RAG-L", RAG, 610, 914, Edges(), "along height", 4, 1140),
    _sheet("RAG-A2", RAG, 420, 594, Edges(), "along height", 1, 510),
    _sheet("plover 3", RAG, 300, 610, Edges(), "along width", 1, 374, "offcut"),
    _sheet("CERT", LAID, 320, 450, Edges(mm(5), mm(5), mm(17), mm(5)), "along height", 10, 48),
)

DRAWINGS = (  # finished size, margin on each side, count, day of the month it is due
    ("D01", 297, 420, 15, 1, 4),
    ("D02", 148, 210, 12, 4, 5),
    ("D03", 210, 297, 15, 1, 5),
    ("D04", 300, 300, 15, 1, 7),
    ("D05", 210, 297, 15, 2, 7),
    ("D06", 297, 420, 15, 1, 8),
    ("D07", 200, 500, 15, 1, 9),
    ("D08", 148, 210, 12, 3, 9),
    ("D09", 210, 297, 15, 1, 10),
    ("D10", 550, 780, 15, 1, 12),
    ("D11", 148, 210, 12, 2, 12),
)

PRINTS = (  # blank size and count
    ("P01", 360, 470, 2),
    ("P02", 200, 260, 4),
    ("P03", 250, 310, 3),
    ("P04", 210, 460, 3),
    ("P05", 250, 310, 2),
    ("P06", 360, 470, 1),
    ("P07", 200, 260, 2),
    ("P08", 250, 310, 1),
    ("P09", 360, 470, 1),
    ("P10", 250, 310, 1),
    ("P11", 200, 260, 1),
)

CARDS = (("C01", 3), ("C02", 6), ("C03", 9))


def demo_job() -> Job:
    """Return the studio's week."""
    drawings = [
        Piece(
            order=name, label=name, paper=SMOOTH, width=mm(w), height=mm(h), count=n,
            margin=Edges(mm(m), mm(m), mm(m), mm(m)), due=date(2026, 6, day),
        )
        for name, w, h, m, n, day in DRAWINGS
    ]  # fmt: skip
    prints = [
        Piece(name, name, RAG, mm(w), mm(h), count=n, kind="print") for name, w, h, n in PRINTS
    ]
    cards = [Piece(name, name, LAID, mm(105), mm(148), count=n, kind="card") for name, n in CARDS]
    return Job(sheets=SHEETS, pieces=(*drawings, *prints, *cards), currency="£")
