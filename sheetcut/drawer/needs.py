"""What layouts need of the drawer and the orders, and what of that is no longer so."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from sheetcut.drawer.as_cut import AsCut, Cutting
from sheetcut.drawer.lines import cut_of
from sheetcut.drawer.reading import Rows
from sheetcut.drawer.rows import Row, line_row, sheet_row
from sheetcut.drawer.tables import counted, length_text, words_of

# What of a sheet or an order line a plan stands on; price, client or note may change freely.
SHEET_FACTS = (
    "paper", "width", "height", "loss_left", "loss_right", "loss_top", "loss_foot", "side",
    "grain", "kind", "leave", "keep",
)  # fmt: skip
LINE_FACTS = (
    "paper", "width", "height", "margin_left", "margin_right", "margin_top", "margin_foot",
    "kind", "turn", "deckles",
)  # fmt: skip


def changes_since(cutting: Cutting, copies: Iterable[tuple[AsCut, list[int]]]) -> Iterator[str]:
    """Yield what is no longer as these layouts need it, a sentence each."""
    change, plan = cutting.change, cutting.plan
    sheets: Counter[str] = Counter()
    planned: set[str] = set()
    lines: Counter[str] = Counter()
    own: set[int] = set()
    for one, numbers in copies:
        layout = cutting.layout(one.layout)
        sheets[one.sheet or layout.sheet] += len(numbers)
        if one.sheet is None:
            planned.add(layout.sheet)
        wanted = Counter(plan.piece(place.piece).order for place in layout.placements)
        for order, n in wanted.items():
            skipped = sum(k for name, k in one.left_out if name == order)
            lines[order] += len(numbers) * n - skipped
        known = (cutting.known.get((one.layout, copy)) for copy in numbers)
        own |= {row["id"] for row in known if row}
    others = [row for row in change.all("sheet_cut", state="held") if row["id"] not in own]
    for name, n in sheets.items():
        fact = sheet_row(plan.sheet(name)) if name in planned else None
        yield from _sheet_changes(change, name, n, fact, others)
    cut = cut_of(change)
    facts = {piece.order: line_row(piece) for piece in plan.job.pieces}
    for order, n in lines.items():
        yield from _line_changes(change, order, n, facts[order], cut, others)


def _sheet_changes(
    rows: Rows, name: str, wanted: int, fact: Row | None, others: list[Row]
) -> Iterator[str]:
    row = rows.one("sheet", name=name)
    if row is None:
        yield f"{name} is no longer in the drawer"
        return
    if fact is not None:
        yield from _fact_changes(name, SHEET_FACTS, fact, row)
    if row["on_hand"] is None:
        return
    held = sum(one["sheet"] == name for one in others)
    if row["on_hand"] - held < wanted:
        pinned = f", {held} of them spoken for by what is pinned up" if held else ""
        yield f"{name}: {wanted} needed, {row['on_hand']} on hand{pinned}"


def _line_changes(
    rows: Rows, order: str, wanted: int, fact: Row, cut: Counter[int], others: list[Row]
) -> Iterator[str]:
    row = rows.one("order_line", name=order)
    if row is None:
        yield f"order {order} is no longer there"
        return
    yield from _fact_changes(f"order {order}", LINE_FACTS, fact, row)
    held = sum(dict(json.loads(one["wanted"])).get(order, 0) for one in others)
    left = row["count"] - cut[row["id"]] - held
    if left < wanted:
        pinned = f", {held} spoken for by what is pinned up" if held else ""
        yield (
            f"order {order}: {counted(wanted, 'blank')} in these layouts, {row['count']} wanted, "
            f"{cut[row['id']]} cut already{pinned}"
        )


def _fact_changes(who: str, facts: Sequence[str], planned: Row, present: Row) -> Iterator[str]:
    for fact in facts:
        if planned[fact] != present[fact]:
            name = fact.replace("_", " ").replace("loss", "edge loss")
            name = {"leave": "deckles left on", "keep": "deckles kept"}.get(name, name)
            yield f"{who}: {name} was {_text(fact, planned)}, is {_text(fact, present)}"


def _text(fact: str, row: Row) -> str:
    value = row[fact]
    if isinstance(value, int):
        return length_text(value, row["unit"])
    return words_of(value) if fact in ("deckles", "leave", "keep") else str(value)
