"""Records of what is asked: paper, sheets, pieces, rules, and the job that joins them."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date
from typing import Literal, get_args

from sheetcut.errors import UnusableRecord
from sheetcut.grammage import usual_passes
from sheetcut.out_of_square import Measured
from sheetcut.units import (
    TICKS_PER_INCH,
    TICKS_PER_MM,
    Area,
    Cents,
    Edges,
    Length,
    in_mm,
    round_up,
)

Turn = Literal["yes", "no", "grain up", "grain across", "alike"]
Grain = Literal["along width", "along height", "none", "not known"]
Kind = Literal["drawing", "print", "card"]
SheetKind = Literal["full", "offcut"]
Side = Literal["one", "both"]
Edge = Literal["left", "right", "top", "foot"]
Unit = Literal["mm", "cm", "in"]
Aim = Literal["least cost", "fewest sheets"]
Preference = Literal["quicker to cut", "better leftover", "strips only"]
NarrowStrips = Literal["allowed", "refused"]
SheetCorner = Literal["top left", "top right", "foot left", "foot right"]

EDGES: tuple[Edge, ...] = get_args(Edge)
NO_EDGES = Edges()
LONGEST = 10_000 * TICKS_PER_MM  # 10 m: longer than any sheet of paper sold flat


@dataclass(frozen=True, slots=True)
class Pack:
    """So many sheets sold together for one price.

    Attributes:
        price: of all of them.
        or_more: whether any larger number is sold at the same price a sheet.
    """

    count: int
    price: Cents
    or_more: bool = False

    def __post_init__(self) -> None:
        _refuse_count("pack", "count", self.count, least=1)
        _refuse_count("pack", "price", self.price, least=0)
        if self.or_more and self.price % self.count:
            raise UnusableRecord(
                "pack",
                f"{self.price} cents for {self.count} or more are no whole cents a sheet",
                "give a price that the count divides",
            )


@dataclass(frozen=True, slots=True)
class Paper:
    """A kind of paper.

    Attributes:
        name: what drawer and orders call it.
        grammage: grams per square metre, or None where nobody has said.
        passes: knife strokes a cut needs, or None where nobody has said.
        aim: what a plan for this paper is judged by; None lets the prices decide.
    """

    name: str
    grammage: int | None = None
    passes: int | None = None
    aim: Aim | None = None


@dataclass(frozen=True, slots=True)
class Skew:
    """A sheet that is out of square.

    Attributes:
        measured: its four edges and a diagonal.
        along: the edge that its true rectangle lies along; the others are cut square to it.
        loss: what each edge loses besides, to a deckle or bruises, as it was typed.
    """

    measured: Measured
    along: Edge
    loss: Edges = NO_EDGES


@dataclass(frozen=True, slots=True)
class Sheet:
    """One size of one paper in the drawer.

    Attributes:
        id: what the drawer calls it; unique in a job.
        width, height: as measured, deckles and bruises included.
        on_hand: how many; None means as many as wanted.
        price: of one sheet; for an offcut its book value; None where not known.
        edge_loss: what each edge loses to deckle, squaring or bruises.
        deckles: the edges that carry a deckle.
        side: one or both sides can be worked on.
        grain: which way the fibres run.
        packs: how it is sold.
        kind: full as bought, or an offcut from one before.
        name: what its drawings call it; the id where empty.
        unit: the unit its size was typed in.
        leave: the deckles that stay on what touches them, outside its margin; one on a start
            edge is trimmed all the same, as nothing can be measured from it.
        keep: the deckles that are never trimmed, so they lie on no start edge.
        watermark: the corner it lies in, seen from the side that is worked on; None if not known.
        skew: how it is out of square, where that was measured; its width and height are then
            those of its true rectangle and all that comes off at the sides.
    """

    id: str
    paper: str
    width: Length
    height: Length
    on_hand: int | None = None
    price: Cents | None = None
    edge_loss: Edges = NO_EDGES
    deckles: tuple[Edge, ...] = ()
    side: Side = "both"
    grain: Grain = "not known"
    packs: tuple[Pack, ...] = ()
    kind: SheetKind = "full"
    name: str = ""
    unit: Unit = "mm"
    note: str = ""
    leave: tuple[Edge, ...] = ()
    keep: tuple[Edge, ...] = ()
    watermark: SheetCorner | None = None
    skew: Skew | None = None

    def __post_init__(self) -> None:
        who = f"sheet {self.id}"
        _refuse_sides(who, self.width, self.height)
        _refuse_edges(who, self.edge_loss)
        _refuse_word(who, "grain", self.grain, get_args(Grain))
        _refuse_word(who, "side", self.side, get_args(Side))
        _refuse_word(who, "kind", self.kind, get_args(SheetKind))
        _refuse_word(who, "unit", self.unit, get_args(Unit))
        _refuse_count(who, "on hand", self.on_hand, least=0)
        _refuse_count(who, "price", self.price, least=0)
        object.__setattr__(self, "edge_loss", Edges(*self.edge_loss))
        object.__setattr__(self, "deckles", tuple(self.deckles))
        object.__setattr__(self, "packs", tuple(self.packs))
        object.__setattr__(self, "leave", tuple(self.leave))
        object.__setattr__(self, "keep", tuple(self.keep))
        _refuse_deckles(who, self.deckles, self.leave, self.keep)
        if self.watermark is not None:
            _refuse_word(who, "watermark", self.watermark, get_args(SheetCorner))
        if self.usable_width <= 0 or self.usable_height <= 0:
            raise UnusableRecord(
                who,
                f"its edge losses leave no paper to use of {_size(self)}",
                "give losses that leave some",
            )

    @property
    def usable_width(self) -> Length:
        """The width that is left inside the edge losses."""
        return self.width - self.edge_loss.across

    @property
    def usable_height(self) -> Length:
        """The height that is left inside the edge losses."""
        return self.height - self.edge_loss.up

    @property
    def area(self) -> Area:
        """The measured area, edge losses included."""
        return self.width * self.height

    @property
    def title(self) -> str:
        """The name its drawings carry."""
        return self.name or self.id


def offcut_of(
    sheet: Sheet, name: str, width: Length, height: Length, *, on_hand: int | None = 1
) -> Sheet:
    """Return what a sheet leaves as a sheet of its own: every edge is cut, and none lost."""
    return replace(
        sheet,
        id=name,
        width=width,
        height=height,
        on_hand=on_hand,
        edge_loss=NO_EDGES,
        kind="offcut",
        deckles=(),
        leave=(),
        keep=(),
        skew=None,
    )


@dataclass(frozen=True, slots=True)
class Piece:
    """One order line: a rectangle somebody wants, so many times.

    Attributes:
        order: the order line's name; unique in a job.
        label: what is drawn or printed on it.
        width, height: the finished size; for a print, image and borders together.
        count: how many are wanted, at least 1.
        turn: which way it may lie on the sheet; see ``ways``.
        kind: drawing, print or card.
        margin: paper added outside the finished size.
        border: for a print, what lies between its image and its edge, inside the finished size.
        deckles: edges on which a deckle is to be kept.
        due: the day it is promised for; None is after every day.
        price: what the customer pays for one.
        unit: the unit its size was typed in.
        if_room: whether it is cut only from what the other lines leave over, as many as have
            room there; it never costs a sheet and is never short.
    """

    order: str
    label: str
    paper: str
    width: Length
    height: Length
    count: int = 1
    turn: Turn = "yes"
    kind: Kind = "drawing"
    margin: Edges = NO_EDGES
    border: Edges = NO_EDGES
    client: str = ""
    deckles: tuple[Edge, ...] = ()
    due: date | None = None
    price: Cents | None = None
    unit: Unit = "mm"
    note: str = ""
    if_room: bool = False

    def __post_init__(self) -> None:
        who = f"order {self.order}"
        _refuse_sides(who, self.width, self.height)
        _refuse_edges(who, self.margin)
        _refuse_edges(who, self.border)
        _refuse_word(who, "turn", self.turn, get_args(Turn))
        _refuse_word(who, "kind", self.kind, get_args(Kind))
        _refuse_word(who, "unit", self.unit, get_args(Unit))
        _refuse_count(who, "count", self.count, least=1)
        _refuse_count(who, "price", self.price, least=0)
        object.__setattr__(self, "margin", Edges(*self.margin))
        object.__setattr__(self, "border", Edges(*self.border))
        object.__setattr__(self, "deckles", tuple(self.deckles))
        if self.if_room and (self.due is not None or self.deckles):
            raise UnusableRecord(
                who,
                "it is cut only if there is room, and has a day or keeps a deckle",
                "leave one of them out",
            )
        if self.border.across >= self.width or self.border.up >= self.height:
            raise UnusableRecord(
                who,
                f"its borders leave no room for an image in {_size(self)}",
                "give borders that leave some",
            )

    @property
    def asked_width(self) -> Length:
        """Finished width and margins, before any rounding."""
        return self.width + self.margin.across

    @property
    def asked_height(self) -> Length:
        """Finished height and margins, before any rounding."""
        return self.height + self.margin.up

    @property
    def asked_area(self) -> Area:
        """The area that a paper share is worked out by."""
        return self.asked_width * self.asked_height


@dataclass(frozen=True, slots=True)
class Rules:
    """How a studio cuts.

    Attributes:
        reading_step: what the ruler is read to; None follows the sheets: 1/16 in where a
            paper's sheets were all typed in inches, else 1 mm.
        narrowest_strip: narrower than this is not cut off on purpose; None is not limited.
        keep_short, keep_long: the smallest sides an offcut must have to be kept.
        mat: width and height of the cutting mat, if known.
        ruler: the longest ruler, if known.
        printer_width: the widest sheet the printer takes, if known.
        aim: what every plan is judged by, unless its paper says otherwise.
        preference: what decides between plans that cost the same; it may be named for each of
            the kinds of alternative plan.
        narrow_strips: whether a strip under the narrowest may be cut off where it cannot be
            left on a drawing: "allowed" only flags it.
    """

    reading_step: Length | None = None
    narrowest_strip: Length | None = None
    keep_short: Length = 150 * TICKS_PER_MM  # our proposal: a size that an A5 comes out of
    keep_long: Length = 200 * TICKS_PER_MM
    mat: tuple[Length, Length] | None = None
    ruler: Length | None = None
    printer_width: Length | None = None
    aim: Aim | None = None
    preference: Preference = "quicker to cut"
    narrow_strips: NarrowStrips = "allowed"

    def __post_init__(self) -> None:
        if self.reading_step is not None and not 0 < self.reading_step <= LONGEST:
            raise UnusableRecord(
                "rules",
                f"the reading step is {in_mm(self.reading_step)} mm",
                "give more than 0 and at most 10 m",
            )
        if self.keep_short > self.keep_long:
            raise UnusableRecord(
                "rules",
                f"the keep size is {in_mm(self.keep_short)} by {in_mm(self.keep_long)} mm",
                "give its short side first",
            )


@dataclass(frozen=True, slots=True)
class Job:
    """Everything a plan starts from.

    Attributes:
        sheets: the drawer, in its own order.
        pieces: the order lines, in their own order.
        rules: how the studio cuts.
        papers: what is known of each paper; papers not listed are plain names.
        studio: the studio's name, for title lines.
        currency: the sign money is written with.
    """

    sheets: tuple[Sheet, ...]
    pieces: tuple[Piece, ...]
    rules: Rules = field(default_factory=Rules)
    papers: tuple[Paper, ...] = ()
    studio: str = ""
    currency: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "sheets", tuple(self.sheets))
        object.__setattr__(self, "pieces", tuple(self.pieces))
        object.__setattr__(self, "papers", tuple(self.papers))
        _refuse_repeats("sheet", [sheet.id for sheet in self.sheets])
        _refuse_repeats("order", [piece.order for piece in self.pieces])
        _refuse_repeats("paper", [paper.name for paper in self.papers])

    def sheets_of(self, paper: str) -> tuple[Sheet, ...]:
        """Return the drawer's sheets of one paper, in drawer order."""
        return tuple(sheet for sheet in self.sheets if sheet.paper == paper)

    def pieces_of(self, paper: str) -> tuple[Piece, ...]:
        """Return the order lines on one paper, in their own order."""
        return tuple(piece for piece in self.pieces if piece.paper == paper)

    def paper(self, name: str) -> Paper:
        """Return what is known of a paper."""
        return next((paper for paper in self.papers if paper.name == name), Paper(name))

    @property
    def papers_ordered(self) -> tuple[str, ...]:
        """The papers that something must be cut from, in the order they first appear."""
        return tuple(dict.fromkeys(piece.paper for piece in self.pieces if not piece.if_room))


def ways(turn: Turn, grain: Grain) -> tuple[bool, ...]:
    """Return the values of "turned" that a turn rule allows on a sheet with this grain.

    Turned is a quarter turn anticlockwise. ``alike`` allows both here: that all pieces of a
    line lie the same way relative to the grain is a matter of the whole plan.

    >>> ways("grain up", "along height"), ways("grain across", "along height")
    ((False,), (True,))
    >>> ways("grain up", "along width"), ways("grain up", "not known"), ways("no", "none")
    ((True,), (), (False,))
    """
    if turn == "yes":
        return (False, True)
    if turn == "no":
        return (False,)
    if grain == "none":
        return (False, True)
    if grain == "not known":
        return ()
    if turn == "alike":
        return (False, True)
    return ((turn == "grain up") == (grain == "along width"),)


def reading_step(job: Job, paper: str) -> Length:
    """Return what the ruler is read to for one paper.

    >>> reading_step(Job((Sheet("a", "Rag", 100, 100, unit="in"),), ()), "Rag") == 203_200 // 16
    True
    """
    if job.rules.reading_step is not None:
        return job.rules.reading_step
    sheets = job.sheets_of(paper)
    if sheets and all(sheet.unit == "in" for sheet in sheets):
        return TICKS_PER_INCH // 16
    return TICKS_PER_MM


def passes_of(paper: Paper) -> int | None:
    """Return how many passes of the knife a cut needs: as the studio says, else by its weight.

    >>> passes_of(Paper("Rag", 640)), passes_of(Paper("Rag", 640, 6)), passes_of(Paper("Rag"))
    (4, 6, None)
    """
    if paper.passes is not None or paper.grammage is None:
        return paper.passes
    return usual_passes(paper.grammage)


def aim_for(job: Job, paper: str) -> Aim:
    """Return what a plan for one paper is judged by.

    The paper's own word comes first, then the rules'; without either it is least cost where
    every full sheet has a price, else fewest sheets.
    """
    said = job.paper(paper).aim or job.rules.aim
    if said:
        return said
    full = [sheet for sheet in job.sheets_of(paper) if sheet.kind == "full"]
    priced = bool(full) and all(sheet.price is not None for sheet in full)
    return "least cost" if priced else "fewest sheets"


def blank_size(piece: Piece, step: Length) -> tuple[Length, Length]:
    """Return the width and height of a piece's blank, before turning: enlarged to whole steps."""
    return round_up(piece.asked_width, step), round_up(piece.asked_height, step)


def _size(one: Sheet | Piece) -> str:
    return f"{in_mm(one.width)} x {in_mm(one.height)} mm"


def _refuse_sides(who: str, width: Length, height: Length) -> None:
    for name, side in (("width", width), ("height", height)):
        if not isinstance(side, int) or isinstance(side, bool):
            raise UnusableRecord(
                who, f"its {name} is {side!r}", "give a whole number of ticks, as mm(297)"
            )
        if not 0 < side <= LONGEST:
            raise UnusableRecord(
                who, f"its {name} is {in_mm(side)} mm", "give more than 0 and at most 10 m"
            )


def _refuse_edges(who: str, edges: Edges) -> None:
    if len(edges) != len(EDGES):
        raise UnusableRecord(
            who, f"{len(edges)} lengths are given for its edges", "give left, right, top and foot"
        )
    for edge in edges:
        if not isinstance(edge, int) or not 0 <= edge <= LONGEST:
            raise UnusableRecord(
                who, f"{edge!r} is given for an edge", "give ticks from 0 to 10 m, as mm(15)"
            )


def _refuse_deckles(
    who: str, deckles: tuple[Edge, ...], leave: tuple[Edge, ...], keep: tuple[Edge, ...]
) -> None:
    for edge in (*leave, *keep):
        if edge not in deckles:
            raise UnusableRecord(
                who,
                f"its {edge} has no deckle to leave or keep",
                "name that edge among the deckles as well",
            )
    for one, other in (("left", "right"), ("top", "foot")):
        if one in keep and other in keep:
            raise UnusableRecord(
                who,
                f"deckles are kept at {one} and {other}, and readings need one true edge",
                "trim one of the two",
            )


def _refuse_word(who: str, name: str, word: str, words: tuple[str, ...]) -> None:
    if word not in words:
        raise UnusableRecord(who, f"its {name} is {word!r}", f"give one of {', '.join(words)}")


def _refuse_count(who: str, name: str, count: int | None, *, least: int) -> None:
    if count is None and name != "count":
        return
    if not isinstance(count, int) or isinstance(count, bool) or count < least:
        unit = " (money is in whole cents)" if name == "price" else ""
        raise UnusableRecord(
            who, f"its {name} is {count!r}", f"give a whole number from {least}{unit}"
        )


def _refuse_repeats(what: str, names: list[str]) -> None:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            raise UnusableRecord(
                f"{what} {name}", "the name stands there twice", "give each its own"
            )
        seen.add(name)
