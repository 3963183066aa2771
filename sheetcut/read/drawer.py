"""The drawer: every sheet and offcut on hand, out of its table."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import partial

from sheetcut.errors import Problem
from sheetcut.job import EDGES, Edge, Grain, Pack, Sheet, SheetCorner, SheetKind, Side
from sheetcut.read.characters import plain_text
from sheetcut.read.dimensions import Size
from sheetcut.read.headings import Headed
from sheetcut.read.lengths import read_typed
from sheetcut.read.lines import Line, lines_of
from sheetcut.read.refusal import Refused, quoted
from sheetcut.read.squareness import trued
from sheetcut.read.studio import Settings
from sheetcut.read.values import read_edges, read_money, read_on_hand, read_packs, read_word
from sheetcut.units import TICKS_PER_MM, Edges, in_mm

LEAST_BARE_SHEET = 120 * TICKS_PER_MM
"""Our judgement: sheets to 70 x 100 cm are asked for by bare numbers; none in mm is so small."""

_GRAINS: dict[str, Grain] = {
    "along width": "along width",
    "width": "along width",
    "across": "along width",
    "along height": "along height",
    "height": "along height",
    "up": "along height",
    "none": "none",
    "no": "none",
    "no grain": "none",
    "handmade": "none",
    "not known": "not known",
    "unknown": "not known",
    "?": "not known",
    "-": "not known",
}
_LONG_GRAIN = {"long", "long grain", "along long side", "long side"}
_SHORT_GRAIN = {"short", "short grain", "along short side", "short side"}
_SIDES: dict[str, Side] = {
    **dict.fromkeys(("one", "1", "one side", "one-sided", "coated one side", "front"), "one"),
    **dict.fromkeys(("both", "2", "two", "both sides", "two sides", "two-sided"), "both"),
}
_KINDS: dict[str, SheetKind] = {
    **dict.fromkeys(("full", "sheet", "full sheet", "whole", "as bought"), "full"),
    **dict.fromkeys(("offcut", "off-cut", "off cut", "keeper", "left over", "leftover"), "offcut"),
}
_CORNERS: dict[str, SheetCorner] = {
    "top left": "top left",
    "top right": "top right",
    "foot left": "foot left",
    "foot right": "foot right",
}
_UPRIGHT = {"upper": "top", "head": "top", "lower": "foot", "bottom": "foot"}


@dataclass(slots=True)
class Drawer:
    """What the drawer's table holds.

    Attributes:
        papers: every paper named in it, by its name in small letters; rows with problems too,
            so that orders are not blamed for those.
        ids: for each sheet's id in small letters, its paper.
        notes: what the user should know, a sentence each.
    """

    sheets: list[Sheet] = field(default_factory=list)
    papers: dict[str, str] = field(default_factory=dict)
    ids: dict[str, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def read_drawer(table: Headed, settings: Settings) -> Drawer:
    """Return the sheets, the problems found in their rows, and what the user should know."""
    drawer = Drawer(problems=list(table.problems), notes=list(table.notes))
    rows: dict[str, int] = {}
    for line in lines_of(table, settings.unit):
        name = line.name("sheet", rows)
        paper = line.text("paper")
        if line.has_column("paper") and not line.has("paper"):
            line.add("paper", "no paper is named", "write the paper's name, as the orders have it")
        if paper:
            # Whoever types it in other capitals means the same paper.
            paper = drawer.papers.setdefault(paper.casefold(), paper)
            drawer.ids[name.casefold()] = paper
        sheet = _sheet(line, name, paper, settings)
        drawer.problems.extend(line.problems)
        drawer.notes.extend(line.notes)
        if sheet:
            drawer.sheets.append(sheet)
    if not table.rows:
        drawer.notes.append(f"{table.source} has no rows below its headings")
    return drawer


def _sheet(line: Line, identity: str, paper: str, settings: Settings) -> Sheet | None:
    size = line.size(LEAST_BARE_SHEET)
    deckles: tuple[Edge, ...] = line.take("deckle", read_edges, ())
    loss = _edge_loss(line, deckles, settings)
    if size:
        _refuse_eaten(line, size, loss)
    leave: tuple[Edge, ...] = line.take("leave", read_edges, ())
    keep: tuple[Edge, ...] = line.take("keep", read_edges, ())
    _refuse_clean(line, deckles, leave, keep)
    watermark: SheetCorner | None = line.take("watermark", _corner, None)
    price = line.take("price", partial(read_money, currency=settings.currency), None)
    packs: tuple[Pack, ...] = line.take(
        "packs", partial(read_packs, price=price, currency=settings.currency), ()
    )
    on_hand = line.take("on hand", read_on_hand, None)
    side: Side = line.take("side", _side, "both")
    kind: SheetKind = line.take("kind", _kind, "full")
    grain: Grain = line.take("grain", partial(_grain, size=size, line=line), "not known")
    name, note = line.text("name"), line.text("note")
    if size is None:
        return None
    true = trued(line, size, loss, settings.rules.reading_step)
    return line.build(
        lambda: Sheet(
            id=identity,
            paper=paper,
            width=true.width,
            height=true.height,
            on_hand=on_hand,
            price=price,
            edge_loss=true.loss,
            deckles=deckles,
            side=side,
            grain=grain,
            packs=packs,
            kind=kind,
            name=name,
            unit=size.unit,
            note=note,
            leave=leave,
            keep=keep,
            watermark=watermark,
            skew=true.skew,
        )
    )


def _edge_loss(line: Line, deckles: tuple[Edge, ...], settings: Settings) -> Edges:
    """Return what each edge loses: as written, else the usual trim of a deckle, else nothing."""
    loss = line.edges("edge loss", Edges())
    if line.has("edge loss"):
        return loss
    bare = [edge for edge in deckles if not line.has(edge)]
    if not bare:
        return loss
    if settings.deckle_trim is not None:
        return loss._replace(**dict.fromkeys(bare, settings.deckle_trim))
    which = "all four deckles" if len(bare) == len(EDGES) else f"the deckle at {', '.join(bare)}"
    line.notes.append(
        line.sentence(f"nothing is trimmed from {which}; give an edge loss where you do trim")
    )
    return loss


def _refuse_clean(
    line: Line, deckles: tuple[Edge, ...], leave: tuple[Edge, ...], keep: tuple[Edge, ...]
) -> None:
    """Refuse deckles that are to stay where there are none, or where none can."""
    for column, edges in (("leave", leave), ("keep", keep)):
        clean = [edge for edge in edges if edge not in deckles]
        if clean:
            line.add(
                column,
                f"there is no deckle at {' or '.join(clean)}",
                "name the edge under deckle as well, or take it out here",
            )
    for one, other in (("left", "right"), ("top", "foot")):
        if one in keep and other in keep:
            line.add(
                "keep",
                f"the deckles at {one} and {other} are both kept, and readings need one true edge",
                "keep one of them, and take the other out",
            )


def _refuse_eaten(line: Line, size: Size, loss: Edges) -> None:
    for side, along, edges in (
        ("width", loss.across, ("left", "right")),
        ("height", loss.up, ("top", "foot")),
    ):
        if along < getattr(size, side):
            continue
        column = "edge loss" if line.has("edge loss") else next(filter(line.has, edges), "deckle")
        line.add(
            column,
            f"the losses at {' and '.join(edges)} come to {in_mm(along)} mm and leave nothing of "
            f"the {side}",
            "write what one edge loses, as in 8 mm",
        )


def _grain(text: str, *, size: Size | None, line: Line) -> Grain:
    """Return which way the fibres run; "long", "short" and a side's own length will do too."""
    plain = plain_text(text[:100]).casefold().removeprefix("grain ").strip(" .")
    if plain in _LONG_GRAIN | _SHORT_GRAIN and size:
        if size.width == size.height:
            raise Refused(
                f"the grain is {quoted(text.strip())} on a square sheet",
                "write along width or along height",
            )
        is_along_width = (plain in _LONG_GRAIN) == (size.width > size.height)
        return "along width" if is_along_width else "along height"
    if size and re.search(r"\d", plain):
        return _grain_along(text, plain.removeprefix("along "), size, line)
    offered = ("along width", "along height", "none", "not known")
    return read_word(plain, "the grain", _GRAINS, offered)


def _grain_along(text: str, plain: str, size: Size, line: Line) -> Grain:
    length = read_typed(plain, unit=size.unit if size.unit != line.unit else line.unit).length
    if size.width != size.height and length == size.width:
        return "along width"
    if size.width != size.height and length == size.height:
        return "along height"
    raise Refused(
        f"the grain runs along {quoted(text.strip())}, which is not one side of the sheet",
        "write along width or along height",
    )


def _side(text: str) -> Side:
    return read_word(text, "the side", _SIDES, ("one", "both"))


def _corner(text: str) -> SheetCorner:
    """Return a corner; "lower right" and "right, bottom" will do too."""
    said = re.split(r"[ ,;/-]+", plain_text(text[:100]).casefold())
    words = [_UPRIGHT.get(word, word) for word in said if word != "corner"]
    plain = " ".join(sorted(words, key=lambda word: word in ("left", "right")))
    return read_word(plain, "the watermark", _CORNERS, tuple(_CORNERS))


def _kind(text: str) -> SheetKind:
    return read_word(text, "the kind", _KINDS, ("full", "offcut"))
