"""The orders: what is wanted, line by line, out of their table."""

from __future__ import annotations

from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import partial
from typing import Any

from sheetcut.errors import Problem
from sheetcut.job import Edge, Kind, Piece, Turn
from sheetcut.read.dimensions import Size
from sheetcut.read.drawer import Drawer
from sheetcut.read.headings import Headed, no_column
from sheetcut.read.lines import Line, lines_of
from sheetcut.read.refusal import Refused, quoted
from sheetcut.read.studio import Settings
from sheetcut.read.values import read_count, read_edges, read_money, read_word
from sheetcut.units import Edges

_TURNS: dict[str, Turn] = {
    **dict.fromkeys(
        ("yes", "y", "true", "either", "either way", "any", "any way", "free", "may turn"), "yes"
    ),
    **dict.fromkeys(
        ("no", "n", "false", "fixed", "as drawn", "as is", "as written", "never", "not"), "no"
    ),
    **dict.fromkeys(("grain up", "up", "grain upright", "grain along height"), "grain up"),
    **dict.fromkeys(("grain across", "across", "grain along width"), "grain across"),
    **dict.fromkeys(("alike", "all alike", "same", "same way", "all the same way"), "alike"),
}
_KINDS: dict[str, Kind] = {
    **dict.fromkeys(("drawing", "drawings", "painting", "original", "commission"), "drawing"),
    **dict.fromkeys(("print", "prints", "edition", "proof"), "print"),
    **dict.fromkeys(("card", "cards", "certificate", "certificates", "label"), "card"),
}

_YES_OR_NO = {
    **dict.fromkeys(("yes", "y", "true", "x", "if room", "if there is room"), "yes"),
    **dict.fromkeys(("no", "n", "false", "never"), "no"),
}


@dataclass(slots=True)
class Orders:
    """What the orders' table holds, with what is wrong in it and what the user should know."""

    pieces: list[Piece] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def read_orders(table: Headed, settings: Settings, drawer: Drawer | None) -> Orders:
    """Return the order lines, the problems found in their rows, and what the user should know.

    Args:
        drawer: where the papers are; None where it could not be read, so that orders are not
            blamed for it.
    """
    orders = Orders(problems=list(table.problems), notes=list(table.notes))
    rows: dict[str, int] = {}
    if drawer and len(drawer.papers) != 1 and "paper" not in table.columns.present:
        orders.problems.append(no_column(table.source, table.columns.row, "paper"))
    for line in lines_of(table, settings.unit):
        piece = _piece(line, line.name("order", rows), settings, drawer)
        orders.problems.extend(line.problems)
        orders.notes.extend(line.notes)
        if piece:
            orders.pieces.append(piece)
    if not table.rows:
        orders.notes.append(f"{table.source} has no rows below its headings")
    return orders


def _piece(line: Line, order: str, settings: Settings, drawer: Drawer | None) -> Piece | None:
    paper = _paper(line, drawer)
    kind: Kind = line.take("kind", _kind, "drawing")
    size = line.size()
    around = line.edges("margin", settings.usual_margins.get(kind, Edges()))
    count = line.take("count", read_count, 1)
    turn: Turn = line.take("turn", _turn, "yes")
    deckles: tuple[Edge, ...] = line.take("deckle", read_edges, ())
    due = line.day("due")
    if_room: bool = line.take("if room", _yes_or_no, default=False)
    price = line.take("price", partial(read_money, currency=settings.currency), None)
    label, client, note = line.text("piece"), line.text("client"), line.text("note")
    if if_room and (due is not None or deckles):
        line.add(
            "if room",
            "it is cut only if there is room, and has a day or keeps a deckle",
            "leave one of them out",
        )
    if size is None:
        return None
    return line.build(
        lambda: Piece(
            order=order,
            label=label,
            paper=paper,
            count=count,
            turn=turn,
            kind=kind,
            client=client,
            deckles=deckles,
            due=due,
            price=price,
            note=note,
            if_room=if_room,
            **_sides(size, around, kind),
        )
    )


def _sides(size: Size, around: Edges, kind: Kind) -> dict[str, Any]:
    """Return the finished size: of a print, its image with the borders round it."""
    if kind == "print":
        width, height = size.width + around.across, size.height + around.up
        return {"width": width, "height": height, "border": around, "unit": size.unit}
    return {"width": size.width, "height": size.height, "margin": around, "unit": size.unit}


def _paper(line: Line, drawer: Drawer | None) -> str:
    """Return a paper's name as the drawer has it; an empty cell will do where it has but one."""
    if drawer is None:
        return line.text("paper")
    names = list(drawer.papers.values())
    if not line.has("paper") and len(names) == 1:
        return names[0]
    if not line.has_column("paper"):
        return ""
    if not line.has("paper"):
        remedy = f"write one of {_some(names)}" if names else "give the drawer a row for it"
        line.add("paper", "no paper is named", remedy)
        return ""
    typed = line.text("paper")
    return line.take("paper", partial(_named_paper, drawer=drawer), "") if typed else ""


def _named_paper(typed: str, *, drawer: Drawer) -> str:
    paper = " ".join(typed.split())
    key = paper.casefold()
    if key in drawer.papers:
        return drawer.papers[key]
    if key in drawer.ids:
        meant = drawer.ids[key]
        raise Refused(f"{quoted(paper)} is a sheet, not a paper", f"did you mean {quoted(meant)}?")
    near = get_close_matches(key[:200], drawer.papers, 1, 0.7)
    if near:
        raise Refused(
            f"{quoted(paper)} is not in the drawer",
            f"did you mean {quoted(drawer.papers[near[0]])}?",
        )
    names = list(drawer.papers.values())
    remedy = f"write one of {_some(names)}, or give" if names else "give"
    raise Refused(f"{quoted(paper)} is not in the drawer", f"{remedy} the drawer a row for it")


def _some(names: list[str]) -> str:
    return ", ".join(map(quoted, names[:5]))


def _kind(text: str) -> Kind:
    return read_word(text, "the kind", _KINDS, ("drawing", "print", "card"))


def _yes_or_no(text: str) -> bool:
    return read_word(text, "if room", _YES_OR_NO, ("yes", "no")) == "yes"


def _turn(text: str) -> Turn:
    offered = ("yes", "no", "grain up", "grain across", "alike")
    return read_word(text, "the turn rule", _TURNS, offered)
