"""After a slip of the knife: what is left in hand, and the rest of the layout laid out on it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from concurrent.futures import Executor
from dataclasses import dataclass, replace

from sheetcut.errors import SheetcutError
from sheetcut.handling import OnTable, table_after
from sheetcut.job import EDGES, Edge, Job, Piece, Sheet, Turn, reading_step
from sheetcut.layout import Layout, Placement, Plan, Rectangle
from sheetcut.plan import make_plan
from sheetcut.units import Edges, in_mm


class NoSuchSlip(SheetcutError):
    """A slip is told of at a step, or of a blank, that the layout does not have."""

    def __init__(self, what: str, found: int, most: int) -> None:
        whole = "plan" if what == "layout" else "layout"
        super().__init__(f"there is no {what} {found} in this {whole}; give one from 1 to {most}")


@dataclass(frozen=True, slots=True)
class Relay:
    """What a slip leaves.

    Attributes:
        done: the blanks that are parted already, and good.
        in_hand: what can still be cut, as it lay in the usable area.
        plan: the rest of the layout's blanks, the spoiled one among them, on what is in hand:
            each piece is an offcut there. What it is short of wants another sheet.
    """

    done: tuple[Placement, ...]
    in_hand: tuple[Rectangle, ...]
    plan: Plan


def relay(
    plan: Plan,
    layout: Layout,
    *,
    step: int,
    spoiled: int,
    seconds: float = 5,
    seed: int = 0,
    rounds: int | None = None,
    executor: Executor | None = None,
    made: str = "",
) -> Relay:
    """Return what is left after a slip, with a plan for it.

    Every step before the one that slipped has been made, and of the piece in hand the spoiled
    blank is lost, no more: what lies around it is parted off, in the way that gives more.

    Args:
        layout: of the plan; of its copies, the one being cut.
        step: the number of the squaring or cut that slipped; one past the last for a blank
            that was spoiled when all was cut.
        spoiled: which blank, counted from 1 as the layout has them.

    Raises:
        NoSuchSlip: if the layout has no such step or blank.
    """
    last = len(layout.squaring) + len(layout.cuts) + 1
    if not 1 <= step <= last:
        raise NoSuchSlip("step", step, last)
    if not 1 <= spoiled <= len(layout.placements):
        raise NoSuchSlip("blank", spoiled, len(layout.placements))
    lost = layout.placements[spoiled - 1]
    table = table_after(layout, step - 1)
    rectangles = {piece.rectangle for piece in table}
    done = tuple(
        one for one in layout.placements if one is not lost and _rectangle(one) in rectangles
    )
    finished = {_rectangle(one) for one in done}
    in_hand = [piece for piece in table if piece.rectangle not in finished]
    found = []
    for left in _without(lost, in_hand):
        job = _job(plan, layout, left, done, step)
        answer = make_plan(
            job, seconds=seconds, seed=seed, rounds=rounds, executor=executor, made=made
        )
        found.append(Relay(done, tuple(piece.rectangle for piece in left), answer))
    return min(found, key=_lack)


def _lack(found: Relay) -> tuple[int, int]:
    """Return how many pieces are short, then how little is kept; less is better."""
    kept = sum(
        keeper.width * keeper.height * layout.copies
        for layout in found.plan.layouts
        for keeper in layout.keepers
    )
    return sum(one.count for one in found.plan.short), -kept


def _rectangle(one: Placement) -> Rectangle:
    return one.x, one.y, one.width, one.height


def _without(lost: Placement, in_hand: list[OnTable]) -> Iterator[list[OnTable]]:
    """Yield what is left of the pieces in hand when a blank is cut out and thrown away.

    Two cuts part off what lies left and right of it, or below and above; then two more.
    """
    x, y, width, height = _rectangle(lost)
    holds = next(
        piece
        for piece in in_hand
        if piece.x <= x
        and piece.y <= y
        and x + width <= piece.x + piece.width
        and y + height <= piece.y + piece.height
    )
    others = [piece for piece in in_hand if piece is not holds]
    right, top = holds.x + holds.width, holds.y + holds.height
    sides = {
        "left": replace(holds, width=x - holds.x, right=CUT),
        "right": replace(holds, x=x + width, width=right - x - width, left=CUT),
        "foot": replace(holds, height=y - holds.y, top=CUT),
        "top": replace(holds, y=y + height, height=top - y - height, foot=CUT),
    }
    column = {"x": x, "width": width, "left": CUT, "right": CUT}
    row = {"y": y, "height": height, "foot": CUT, "top": CUT}
    ways = (
        [sides["left"], sides["right"], *(_within(sides[one], column) for one in ("foot", "top"))],
        [sides["foot"], sides["top"], *(_within(sides[one], row) for one in ("left", "right"))],
    )
    seen = []
    for way in ways:
        left = [*others, *(piece for piece in way if piece.width > 0 and piece.height > 0)]
        if left not in seen:
            seen.append(left)
            yield left


CUT = -1
"""Stands for a cut that no step of the layout numbers."""


def _within(piece: OnTable, sides: dict[str, int]) -> OnTable:
    """Return a piece no wider than a column, or no higher than a row, of its own.

    An edge that the column shares with the piece stays what it was.
    """
    kept = dict(sides)
    if "x" in sides:
        if sides["x"] == piece.x:
            kept["left"] = piece.left
        if sides["x"] + sides["width"] == piece.x + piece.width:
            kept["right"] = piece.right
    else:
        if sides["y"] == piece.y:
            kept["foot"] = piece.foot
        if sides["y"] + sides["height"] == piece.y + piece.height:
            kept["top"] = piece.top
    return replace(piece, **kept)


def _job(
    plan: Plan, layout: Layout, in_hand: list[OnTable], done: tuple[Placement, ...], step: int
) -> Job:
    """Return the job of cutting what is wanted still from the pieces in hand.

    The rest of the drawer is in it with nothing on hand, so that names and reasons hold.
    """
    sheet = plan.sheet(layout.sheet)
    wanted = Counter(one.piece for one in layout.placements)
    wanted.subtract(one.piece for one in done)
    pieces = tuple(
        replace(
            plan.job.pieces[line], count=n, turn=_turn(plan.job.pieces[line], layout, sheet, line)
        )
        for line, n in sorted(wanted.items())
        if n
    )
    if all(piece.if_room for piece in pieces):
        # Nothing else is wanted of what is in hand, so there is room for them alone.
        pieces = tuple(replace(piece, if_room=False) for piece in pieces)
    names = {one.id for one in plan.job.sheets}
    tags = [
        name
        for other in plan.layouts
        for keeper in other.keepers
        for name in keeper.names
        if name not in names
    ]
    gone = tuple(replace(one, on_hand=0) for one in plan.job.sheets)
    kept = tuple(replace(sheet, id=name, name="", kind="offcut", on_hand=0) for name in tags)
    there = tuple(
        _offcut(sheet, layout, piece, f"{sheet.title}, in hand {number}", step)
        for number, piece in enumerate(in_hand, 1)
    )
    rules = replace(plan.job.rules, reading_step=reading_step(plan.job, sheet.paper))
    return replace(plan.job, sheets=(*there, *gone, *kept), pieces=pieces, rules=rules)


def _turn(piece: Piece, layout: Layout, sheet: Sheet, line: int) -> Turn:
    """Return a piece's turn rule; what is to lie alike goes on lying as it does on this sheet."""
    if piece.turn != "alike" or sheet.grain not in ("along width", "along height"):
        return piece.turn
    turned = next(one.turned for one in layout.placements if one.piece == line)
    return "grain up" if turned == (sheet.grain == "along width") else "grain across"


def _offcut(sheet: Sheet, layout: Layout, piece: OnTable, name: str, step: int) -> Sheet:
    """Return a piece in hand as an offcut, with the edges of the sheet that are still on it."""
    squared = {one.edge for one in layout.squaring if one.number < step}
    raw: list[Edge] = [edge for edge in EDGES if piece.maker(edge) == 0 and edge not in squared]
    loss = Edges(**{edge: getattr(sheet.edge_loss, edge) if edge in raw else 0 for edge in EDGES})
    deckles = tuple(edge for edge in sheet.deckles if edge in raw)
    return replace(
        sheet,
        id=name,
        name="",
        width=piece.width + loss.across,
        height=piece.height + loss.up,
        on_hand=1,
        price=None,
        edge_loss=loss,
        deckles=deckles,
        leave=tuple(edge for edge in sheet.leave if edge in raw),
        keep=tuple(edge for edge in sheet.keep if edge in raw),
        packs=(),
        kind="offcut",
        watermark=None,
        skew=None,
        note=f"{in_mm(piece.width):f} x {in_mm(piece.height):f} mm, left by a slip",
    )
