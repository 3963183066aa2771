"""Records of what is answered: cut trees, placements, cuts, layouts, bounds and the plan."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from sheetcut.job import NO_EDGES, Aim, Edge, Job, Piece, Preference, Sheet
from sheetcut.units import Area, Cents, Edges, Length, in_mm

Axis = Literal["x", "y"]
Measure = Literal["sheets", "cost"]
Why = Literal["fits no sheet", "paper ran out"]
Rectangle = tuple[Length, Length, Length, Length]
"""x, y, width and height, from the lower left corner of the usable area."""


@dataclass(frozen=True, slots=True)
class Part:
    """A rectangle of a cut tree: a blank, a leftover, or parts that stand side by side.

    Attributes:
        width, height: as it lies on the sheet.
        along: "x" where its parts follow each other from left to right, so that the cuts
            between them are upright; "y" where they follow from the foot up; None for a leaf.
        parts: fill the rectangle exactly, in order from the start corner.
        piece: for a blank, the place of its order line in ``Job.pieces``; None elsewhere.
        turned: for a blank, whether the piece lies a quarter turn anticlockwise.
    """

    width: Length
    height: Length
    along: Axis | None = None
    parts: tuple[Part, ...] = ()
    piece: int | None = None
    turned: bool = False

    @property
    def area(self) -> Area:
        """Its whole area."""
        return self.width * self.height

    @property
    def is_leftover(self) -> bool:
        """Whether no blank lies anywhere in it."""
        return self.piece is None and all(part.is_leftover for part in self.parts)


@dataclass(frozen=True, slots=True)
class Bound:
    """A number that no plan can beat, with the reason.

    Attributes:
        measure: "sheets" counts full sheets; "cost" is cash for full sheets, in cents.
        value: the least that any plan for the same pieces needs.
        reason: why, in words for the person who buys the paper.
        certificate: what a checker needs to work it out again; None where the reason suffices.
    """

    measure: Measure
    value: int
    reason: str
    certificate: dict[str, Any] | None = None


@dataclass(frozen=True, slots=True)
class Short:
    """Pieces of one order line that are not in the plan."""

    piece: int
    count: int
    why: Why


@dataclass(frozen=True, slots=True)
class Candidate:
    """Cut trees for one paper: one way to cut everything that can be cut.

    Attributes:
        trees: for each sheet that is cut, its id and the tree of its usable area.
    """

    trees: tuple[tuple[str, Part], ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """What the engine found for one paper.

    Attributes:
        candidates: equally good by the aim, best leftovers first; at least one.
        rounds: how many rounds of search were used.
        stopped: whether time or the user ended the search before it was done.
        notes: what the user should know, a sentence each.
    """

    paper: str
    aim: Aim
    candidates: tuple[Candidate, ...]
    bound: Bound
    short: tuple[Short, ...] = ()
    rounds: int = 0
    stopped: bool = False
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Placement:
    """A blank in its place.

    Attributes:
        piece: the place of its order line in ``Job.pieces``.
        x, y: its lower left corner, from the lower left corner of the usable area.
        width, height: as it lies, rounding and leave-on included.
        turned: whether the piece lies a quarter turn anticlockwise.
        rounding: what was added to the piece's own width and height to reach whole steps.
        leave_on: slivers left on it, as it lies.
    """

    piece: int
    x: Length
    y: Length
    width: Length
    height: Length
    turned: bool = False
    rounding: tuple[Length, Length] = (0, 0)
    leave_on: Edges = NO_EDGES


@dataclass(frozen=True, slots=True)
class Squaring:
    """A first cut along an edge that carries a loss.

    Attributes:
        number: its place among all the numbered cuts of the layout.
        edge: the edge that is made true.
        reading: for a start edge, how much comes off; for a far edge, the distance from the
            start edge opposite, which by then is true.
    """

    number: int
    edge: Edge
    reading: Length


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut, right across the piece in hand.

    Attributes:
        number: its place in the order of cutting.
        along: the axis its reading is measured along; with "x" the cut runs up and down.
        at: where it lies on that axis, from the corner of the usable area.
        start, stop: its ends on the other axis.
        level: 1 for a long cut, 2 for a cross cut, 3 and more for a deeper cut.
        setting: cuts that share one placing of the ruler share this number.
        edge: "start", or the number of the cut that made the edge the reading is taken from.
        reading: what the ruler shows, from that edge.
    """

    number: int
    along: Axis
    at: Length
    start: Length
    stop: Length
    level: int
    setting: int
    edge: Literal["start"] | int
    reading: Length


@dataclass(frozen=True, slots=True)
class Keeper:
    """A leftover worth keeping, with a name for each copy of the layout."""

    names: tuple[str, ...]
    x: Length
    y: Length
    width: Length
    height: Length


@dataclass(frozen=True, slots=True)
class Waste:
    """Where one copy of a sheet goes, in square ticks.

    ``finished + margins + keepers + scrap`` is the measured sheet. ``edges`` repeats what of
    the scrap is edge loss, ``extra`` what of the margins is rounding and leave-on.
    """

    finished: Area
    margins: Area
    keepers: Area
    scrap: Area
    edges: Area
    extra: Area


@dataclass(frozen=True, slots=True)
class Layout:
    """One sheet with its blanks and cuts, in the order they are made.

    Attributes:
        sheet: the id of its drawer row.
        copies: how many sheets are cut just so, names included.
        twins: layouts that differ only in the names on the blanks share this number.
        start: the corner that readings begin at.
        width, height: the sheet as measured.
        usable: x, y, width and height of the usable area within it.
        leftovers: every leftover rectangle, as x, y, width, height; keepers among them.
    """

    sheet: str
    copies: int
    twins: int
    start: tuple[Literal["left", "right"], Literal["foot", "top"]]
    width: Length
    height: Length
    usable: tuple[Length, Length, Length, Length]
    squaring: tuple[Squaring, ...]
    placements: tuple[Placement, ...]
    cuts: tuple[Cut, ...]
    keepers: tuple[Keeper, ...]
    leftovers: tuple[tuple[Length, Length, Length, Length], ...]
    waste: Waste


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another way to cut all that a paper's plan cuts, from no more sheets and for no more cash.

    Attributes:
        kind: how it differs.
        layouts: all of its sheets; keepers have names that nothing else in the plan has.
    """

    kind: Preference
    layouts: tuple[Layout, ...]


@dataclass(frozen=True, slots=True)
class PaperPlan:
    """The plan for one paper.

    Attributes:
        sheets_used: for each sheet id that is cut, how many, offcuts too.
        cost: cash for the full sheets used, or None where one has no price.
        shares: for each order line on this paper (its place in ``Job.pieces``), the cents of
            that cash its cut pieces carry, in all; empty where the cost is not known.
        proved: that ``value`` is the bound, so no plan for the same pieces does better.
        kind: what was preferred among equals.
        alternatives: other ways to cut the same, each of another kind.
        notes: what the user should know, a sentence each.
    """

    paper: str
    aim: Aim
    sheets_used: dict[str, int]
    cost: Cents | None
    bound: Bound
    layouts: tuple[Layout, ...]
    shares: dict[int, Cents]
    proved: bool = False
    rounds: int = 0
    stopped: bool = False
    kind: Preference = "quicker to cut"
    alternatives: tuple[Alternative, ...] = ()
    notes: tuple[str, ...] = ()

    def value(self, job: Job) -> int:
        """Return what the bound speaks of, for this plan: full sheets, or cents."""
        full = {sheet.id: sheet for sheet in job.sheets if sheet.kind == "full"}
        used = [(full[name], n) for name, n in self.sheets_used.items() if name in full]
        if self.bound.measure == "sheets":
            return sum(n for _, n in used)
        return sum(n * (sheet.price or 0) for sheet, n in used)


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole answer to a job.

    Attributes:
        code: a few letters and figures that name this plan.
        made: the day and hour it was made, as ISO 8601 text; empty where nobody said.
        input_hash: SHA-256 of everything the plan started from.
    """

    job: Job
    papers: tuple[PaperPlan, ...]
    short: tuple[Short, ...]
    seed: int
    rounds: int
    stopped: bool
    version: str
    code: str = ""
    made: str = ""
    input_hash: str = ""

    @property
    def layouts(self) -> tuple[Layout, ...]:
        """Every layout of every paper."""
        return tuple(layout for paper in self.papers for layout in paper.layouts)

    @property
    def is_proved(self) -> bool:
        """Whether every paper's plan is proved."""
        return all(paper.proved for paper in self.papers)

    def __str__(self) -> str:
        return "\n".join(line for paper in self.papers for line in self._paper_lines(paper))

    def _paper_lines(self, paper: PaperPlan) -> Iterator[str]:
        used = ", ".join(f"{n} x {name}" for name, n in paper.sheets_used.items()) or "no sheets"
        value, bound = paper.value(self.job), paper.bound.value
        proof = "proved" if paper.proved else "not proved"
        yield f"{paper.paper}: {used}; {paper.bound.measure} {value}, at least {bound}, {proof}"
        for layout in paper.layouts:
            readings = ", ".join(f"{in_mm(cut.reading)}" for cut in layout.cuts) or "none"
            yield f"  {layout.copies} x {layout.sheet}; ruler readings in mm: {readings}"
            for place in layout.placements:
                size = f"{in_mm(place.width)} x {in_mm(place.height)}"
                corner = f"{in_mm(place.x)}, {in_mm(place.y)}"
                turned = ", turned" if place.turned else ""
                yield f"    {self.job.pieces[place.piece].order}: {size} at {corner}{turned}"

    @property
    def bound(self) -> Bound:
        """The bounds of all papers in one: cash where every paper counts cash, else full sheets."""
        bounds = [paper.bound for paper in self.papers]
        if len(bounds) == 1:
            return bounds[0]
        measure: Measure = "cost" if all(one.measure == "cost" for one in bounds) else "sheets"
        if measure == "cost":
            value = sum(one.value for one in bounds)
        else:
            value = sum(self._least_sheets(paper) for paper in self.papers)
        reasons = "; ".join(f"{paper.paper}: {paper.bound.reason}" for paper in self.papers)
        return Bound(measure, value, reasons)

    def _least_sheets(self, paper: PaperPlan) -> int:
        if paper.bound.measure == "sheets":
            return paper.bound.value
        # Cash is at most the dearest price a sheet, so that many sheets at the least.
        full = [sheet for sheet in self.job.sheets_of(paper.paper) if sheet.kind == "full"]
        dearest = max((sheet.price or 0 for sheet in full), default=0)
        return -(-paper.bound.value // dearest) if dearest else 0

    def piece(self, index: int) -> Piece:
        """Return an order line by its place in the job."""
        return self.job.pieces[index]

    def sheet(self, name: str) -> Sheet:
        """Return a drawer row by its id."""
        return next(sheet for sheet in self.job.sheets if sheet.id == name)


def pieces_in_hand(layout: Layout) -> tuple[Rectangle, ...]:
    """Return, for each cut in order, the piece of paper that is in hand when it is made.

    The usable area lies whole on the table at first. A cut divides the one piece that ends
    where the cut ends and holds it strictly inside; both parts stay on the table.

    Raises:
        ValueError: if a cut divides no piece. A layout that passed its check has none such.
    """
    table = _Table((0, 0, layout.usable[2], layout.usable[3]))
    in_hand = []
    for cut in layout.cuts:
        piece = table.parted_by(cut)
        if piece is None:
            raise ValueError(f"cut {cut.number} runs edge to edge of no piece on the table")
        in_hand.append(piece)
        table.take(piece)
        for part in _divided(piece, cut):
            table.lay(part)
    return tuple(in_hand)


class _Table:
    """Pieces on the table in bands: all that reach from one line to another.

    A cut across a band may part any piece of it. They never overlap, so the one it parts is
    the last that begins before it; with thousands of pieces nobody could look at each.
    """

    def __init__(self, whole: Rectangle) -> None:
        self._bands: dict[tuple[Axis, Length, Length], list[Rectangle]] = {}
        self.lay(whole)

    def lay(self, piece: Rectangle) -> None:
        """Put a piece on the table."""
        for band in _bands_of(piece):
            insort(self._bands.setdefault(band, []), piece)

    def take(self, piece: Rectangle) -> None:
        """Take a piece that lies there off the table."""
        for band in _bands_of(piece):
            self._bands[band].remove(piece)

    def parted_by(self, cut: Cut) -> Rectangle | None:
        """Return the piece that a cut runs through from edge to edge, or None."""
        band = self._bands.get((cut.along, cut.start, cut.stop), [])
        # All of a band have the same x, or the same y, so it lies in order of the other.
        here = (cut.at,) if cut.along == "x" else (cut.start, cut.at)
        last = bisect_left(band, here) - 1
        return band[last] if last >= 0 and _divides(cut, band[last]) else None


def _bands_of(piece: Rectangle) -> tuple[tuple[Axis, Length, Length], ...]:
    x, y, width, height = piece
    return ("x", y, y + height), ("y", x, x + width)


def _divides(cut: Cut, piece: Rectangle) -> bool:
    x, y, width, height = piece
    return x < cut.at < x + width if cut.along == "x" else y < cut.at < y + height


def _divided(piece: Rectangle, cut: Cut) -> tuple[Rectangle, Rectangle]:
    x, y, width, height = piece
    if cut.along == "x":
        return (x, y, cut.at - x, height), (cut.at, y, x + width - cut.at, height)
    return (x, y, width, cut.at - y), (x, cut.at, width, y + height - cut.at)
