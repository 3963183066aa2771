"""A layout as it lies on the mat: turned so that its start corner is at the lower left.

Everything is a rectangle in ticks from that corner, x to the right and y up. Coordinates in the
plan never move; only this view of them does.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sheetcut.handling import Flag, flags, slack, staying_deckles
from sheetcut.job import Edge, Piece, Sheet
from sheetcut.layout import Axis, Cut, Layout, Placement, Plan, pieces_in_hand
from sheetcut.units import Edges, Length

Start = tuple[Literal["left", "right"], Literal["foot", "top"]]


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle of paper by its lower left corner."""

    x: Length
    y: Length
    width: Length
    height: Length

    @property
    def right(self) -> Length:
        """Its right side."""
        return self.x + self.width

    @property
    def top(self) -> Length:
        """Its upper side."""
        return self.y + self.height


@dataclass(frozen=True, slots=True)
class SeenBlank:
    """A blank as it lies: its edge, the finished size in it and a print's image in that."""

    placement: Placement
    piece: Piece
    edge: Rect
    finished: Rect
    image: Rect


@dataclass(frozen=True, slots=True)
class SeenCut:
    """A cut as it lies.

    Attributes:
        cut: the plan's own record: number, level, setting, reading.
        along, at, start, stop: as in ``Cut``, in this view.
        hand: the piece in hand.
    """

    cut: Cut
    along: Axis
    at: Length
    start: Length
    stop: Length
    hand: Rect

    @property
    def is_fresh(self) -> bool:
        """Whether its reading is taken from an edge made by an earlier cut."""
        return self.cut.edge != "start"

    @property
    def at_ruler(self) -> bool:
        """Whether its reading stands at one of the rulers."""
        return not self.is_fresh and self.start == 0


@dataclass(frozen=True, slots=True)
class SeenSquaring:
    """A first cut along an edge, named as it lies."""

    number: int
    edge: Edge
    reading: Length


@dataclass(frozen=True, slots=True)
class View:
    """A layout as it lies on the mat.

    Attributes:
        usable: begins at 0, 0.
        measured: the sheet with its edge losses, so mostly it begins below 0.
        loss: what each edge as it lies loses.
        deckles: the edges as they lie that carry a deckle.
        staying: those of them that no step cuts off a blank.
        grain: whether the fibres run across ("x") or up ("y"); None where not known or none.
        keepers: with the names of all copies.
        slack: how much narrower and shorter the usable area may be, as it lies.
        flags: what to mind, with edges named as they lie.
    """

    usable: Rect
    measured: Rect
    loss: Edges
    deckles: tuple[Edge, ...]
    staying: frozenset[Edge]
    grain: Axis | None
    squaring: tuple[SeenSquaring, ...]
    blanks: tuple[SeenBlank, ...]
    cuts: tuple[SeenCut, ...]
    keepers: tuple[tuple[Rect, tuple[str, ...]], ...]
    scraps: tuple[Rect, ...]
    slack: tuple[Length, Length]
    flags: tuple[Flag, ...]


def view_of(plan: Plan, layout: Layout) -> View:
    """Return a layout as it lies with its start corner at the lower left."""
    turning = _Turning(layout)
    sheet = plan.sheet(layout.sheet)
    x, y, width, height = layout.usable
    loss = Edges(x, layout.width - x - width, layout.height - y - height, y)
    keepers = tuple(
        (turning.rect(keeper.x, keeper.y, keeper.width, keeper.height), keeper.names)
        for keeper in layout.keepers
    )
    kept = {rect for rect, _ in keepers}
    narrower, shorter = slack(layout)
    leftovers = (turning.rect(*leftover) for leftover in layout.leftovers)
    return View(
        usable=turning.rect(0, 0, width, height),
        measured=turning.rect(-x, -y, layout.width, layout.height),
        loss=turning.edges(loss),
        deckles=tuple(turning.edge(edge) for edge in sheet.deckles),
        staying=frozenset(map(turning.edge, staying_deckles(plan.job, layout))),
        grain=_grain(sheet, turning),
        squaring=tuple(
            SeenSquaring(one.number, turning.edge(one.edge), one.reading) for one in layout.squaring
        ),
        blanks=tuple(_blank(plan, one, turning) for one in layout.placements),
        cuts=_cuts(layout, turning),
        keepers=keepers,
        scraps=tuple(rect for rect in leftovers if rect not in kept),
        slack=(shorter, narrower) if turning.is_quarter else (narrower, shorter),
        flags=flags(plan.job, layout, named=turning.edge),
    )


_TURNED_EDGE: dict[Start, dict[Edge, Edge]] = {
    ("left", "foot"): {"left": "left", "right": "right", "top": "top", "foot": "foot"},
    ("right", "foot"): {"foot": "left", "top": "right", "left": "top", "right": "foot"},
    ("right", "top"): {"right": "left", "left": "right", "foot": "top", "top": "foot"},
    ("left", "top"): {"top": "left", "foot": "right", "right": "top", "left": "foot"},
}
"""Where each edge of the sheet comes to lie when its start corner is brought to the lower left."""


class _Turning:
    """Brings a layout's start corner to the lower left by quarter turns, never by mirroring."""

    def __init__(self, layout: Layout) -> None:
        self.start: Start = layout.start
        self.width, self.height = layout.usable[2:]

    @property
    def is_quarter(self) -> bool:
        """Whether width and height change places."""
        return self.start in (("right", "foot"), ("left", "top"))

    def rect(self, x: Length, y: Length, width: Length, height: Length) -> Rect:
        """Return a rectangle as it lies."""
        match self.start:
            case ("right", "foot"):
                return Rect(y, self.width - x - width, height, width)
            case ("right", "top"):
                return Rect(self.width - x - width, self.height - y - height, width, height)
            case ("left", "top"):
                return Rect(self.height - y - height, x, height, width)
        return Rect(x, y, width, height)

    def edge(self, edge: Edge) -> Edge:
        """Return an edge's name as it lies."""
        return _TURNED_EDGE[self.start][edge]

    def edges(self, edges: Edges) -> Edges:
        """Return four values as they lie."""
        where = _TURNED_EDGE[self.start]
        return Edges(**{where[name]: getattr(edges, name) for name in where})


def _grain(sheet: Sheet, turning: _Turning) -> Axis | None:
    if sheet.grain not in ("along width", "along height"):
        return None
    runs_across = (sheet.grain == "along width") != turning.is_quarter
    return "x" if runs_across else "y"


def _blank(plan: Plan, placement: Placement, turning: _Turning) -> SeenBlank:
    piece = plan.piece(placement.piece)
    margin = piece.margin.turned() if placement.turned else piece.margin
    border = piece.border.turned() if placement.turned else piece.border
    width, height = (piece.height, piece.width) if placement.turned else (piece.width, piece.height)
    x = placement.x + placement.leave_on.left + margin.left
    y = placement.y + placement.leave_on.foot + margin.foot
    image = (x + border.left, y + border.foot, width - border.across, height - border.up)
    return SeenBlank(
        placement,
        piece,
        turning.rect(placement.x, placement.y, placement.width, placement.height),
        turning.rect(x, y, width, height),
        turning.rect(*image),
    )


def _cuts(layout: Layout, turning: _Turning) -> tuple[SeenCut, ...]:
    seen = []
    for cut, hand in zip(layout.cuts, pieces_in_hand(layout), strict=True):
        length = cut.stop - cut.start
        if cut.along == "x":
            line = turning.rect(cut.at, cut.start, 0, length)
        else:
            line = turning.rect(cut.start, cut.at, length, 0)
        if line.width:
            lies = SeenCut(cut, "y", line.y, line.x, line.right, turning.rect(*hand))
        else:
            lies = SeenCut(cut, "x", line.x, line.y, line.top, turning.rect(*hand))
        seen.append(lies)
    return tuple(seen)
