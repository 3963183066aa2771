"""What to mind while cutting a layout, in a few words each, with the cut it belongs to."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from sheetcut.handling.creep import ORDINARY, READING_ERROR, Doubt, doubts
from sheetcut.handling.edges import kept_edges, staying_deckles, still_losing, touches
from sheetcut.handling.narrow import narrow_cuts
from sheetcut.handling.table import OnTable, table_after
from sheetcut.job import EDGES, Edge, Job, Sheet, reading_step
from sheetcut.layout import Cut, Layout, Placement
from sheetcut.units import TICKS_PER_INCH, Length, in_inch, in_mm, inch_text

Kind = Literal[
    "square", "mat", "ruler", "narrow", "creep", "printer", "deckle", "kept", "watermark"
]

FINEST_INCH = 64


@dataclass(frozen=True, slots=True)
class Flag:
    """Something to mind.

    Attributes:
        number: of the cut it belongs to; None for the layout as a whole.
        kind: what it is about.
        words: without a full stop; figures are in the unit the layout is read in.
    """

    number: int | None
    kind: Kind
    words: str


@dataclass(frozen=True, slots=True)
class _Case:
    """A layout with all that is asked of it."""

    job: Job
    layout: Layout
    sheet: Sheet
    named: Callable[[Edge], Edge]

    def shown(self, length: Length) -> str:
        """Return a length as the layout's ruler shows it."""
        step = reading_step(self.job, self.sheet.paper)
        is_in_inches = step % (TICKS_PER_INCH // FINEST_INCH) == 0
        if not is_in_inches:
            return f"{in_mm(length):f}"
        if FINEST_INCH % in_inch(length).denominator:
            return f"{in_mm(length):f} mm"
        return inch_text(length, finest=FINEST_INCH)

    def order(self, placement: Placement) -> str:
        """Return the order a blank belongs to."""
        return self.job.pieces[placement.piece].order


def _as_it_is(edge: Edge) -> Edge:
    return edge


def flags(
    job: Job, layout: Layout, *, named: Callable[[Edge], Edge] = _as_it_is
) -> tuple[Flag, ...]:
    """Return what to mind of one layout: of its cuts in their order, then of the whole.

    Of a layout that cannot be cut there is nothing to mind; its check says what is wrong.

    Args:
        named: what an edge of the sheet is called, for a drawing that turns the sheet.
    """
    sheet = next((sheet for sheet in job.sheets if sheet.id == layout.sheet), None)
    if sheet is None or not _can_be_cut(layout):
        return ()
    case = _Case(job, layout, sheet, named)
    found = [flag for look in _LOOKS for flag in look(case)]
    found.sort(key=lambda flag: (flag.number is None, flag.number or 0))
    return tuple(dict.fromkeys(found))


def _can_be_cut(layout: Layout) -> bool:
    try:
        table_after(layout)
    except ValueError:
        return False
    return True


def _square_to(case: _Case) -> Iterator[Flag]:
    """How an out-of-square sheet is made true: all is cut to the edge its rectangle lies along."""
    skew = case.sheet.skew
    for one in case.layout.squaring if skew else ():
        if skew and one.edge != skew.along:
            is_opposite = {one.edge, skew.along} in ({"left", "right"}, {"top", "foot"})
            how = "parallel to" if is_opposite else "square to"
            most = "; most comes off at one end" if one.edge in case.layout.start else ""
            yield Flag(one.number, "square", f"{how} the {case.named(skew.along)} edge{most}")


def _longer_than_the_mat(case: _Case) -> Iterator[Flag]:
    """Where the sheet must be slid along, and at which place of the cut."""
    mat = case.job.rules.mat
    for cut in case.layout.cuts if mat else ():
        stops = _even_stops(case, cut, max(mat)) if mat else []
        if stops:
            yield Flag(cut.number, "mat", f"slide the sheet at {_and(case, stops)}")


def _longer_than_the_ruler(case: _Case) -> Iterator[Flag]:
    """Where the ruler must be set again: a mark there keeps both settings in line."""
    ruler = case.job.rules.ruler
    for cut in case.layout.cuts if ruler else ():
        stops = _even_stops(case, cut, ruler) if ruler else []
        if stops:
            yield Flag(
                cut.number,
                "ruler",
                f"set the ruler again at {_and(case, stops)}",
            )


def _even_stops(case: _Case, cut: Cut, longest: Length) -> list[Length]:
    """Return where a cut is interrupted so that no stretch is too long, in whole steps."""
    length = cut.stop - cut.start
    stretches = -(-length // longest)
    step = reading_step(case.job, case.sheet.paper)
    stops = [length * n // stretches // step * step for n in range(1, stretches)]
    if any(stop - before > longest for before, stop in pairwise([0, *stops, length])):
        return [length * n // stretches for n in range(1, stretches)]
    return stops


def _and(case: _Case, lengths: list[Length]) -> str:
    words = [case.shown(length) for length in lengths]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _narrow_strips(case: _Case) -> Iterator[Flag]:
    """Cuts that part off less than the narrowest strip."""
    for cut, width in narrow_cuts(case.job, case.layout):
        yield Flag(cut.number, "narrow", f"narrow strip: {case.shown(width)}")


def _creeping(case: _Case) -> Iterator[Flag]:
    """Blanks whose size depends on many readings, and leftovers that may not be enough."""
    blanks = {
        (one.x, one.y, one.width, one.height): one for one in case.layout.placements
    }  # fmt: skip
    starts = {cut.number: cut.edge == "start" for cut in case.layout.cuts}
    for doubt in doubts(case.layout):
        blank = blanks.get(doubt.piece.rectangle)
        for along in (0, 1):
            flag = (
                _creeping_blank(case, doubt, along, blank)
                if blank
                else _creeping_leftover(case, doubt, along, starts)
            )
            if flag:
                yield flag


def _creeping_blank(case: _Case, doubt: Doubt, along: int, blank: Placement) -> Flag | None:
    spare = (blank.leave_on.across, blank.leave_on.up)[along]
    creep = doubt.creep[along]
    if creep - spare <= ORDINARY * READING_ERROR:
        return None
    lies_across = case.named(("left", "foot")[along]) in ("left", "right")
    side = "width" if lies_across else "height"
    count = (doubt.across, doubt.up)[along]
    return Flag(
        _last_maker(doubt.piece, along),
        "creep",
        f"the {side} of {case.order(blank)} depends on {count} readings and may be "
        f"{case.shown(creep)} out",
    )


def _creeping_leftover(
    case: _Case, doubt: Doubt, along: int, starts: dict[int, bool]
) -> Flag | None:
    """Return a flag where a strip that ends in a leftover may be short of it altogether."""
    number = _last_maker(doubt.piece, along)
    extent, creep = doubt.piece.rectangle[2 + along], doubt.creep[along]
    if number is None or starts[number] or extent >= creep:
        return None
    return Flag(
        number,
        "creep",
        f"the {case.shown(extent)} left over here may be {case.shown(creep)} out",
    )


def _last_maker(piece: OnTable, along: int) -> int | None:
    edges = (piece.left, piece.right) if along == 0 else (piece.foot, piece.top)
    return max(edges) or None


def _too_wide_for_the_printer(case: _Case) -> Iterator[Flag]:
    """Prints are cut before they are printed, so each must go through the printer."""
    widest = case.job.rules.printer_width
    for one in case.layout.placements if widest else ():
        piece = case.job.pieces[one.piece]
        if piece.kind == "print" and min(one.width, one.height) > (widest or 0):
            yield Flag(
                None,
                "printer",
                f"{piece.order} is {case.shown(min(one.width, one.height))} wide; "
                f"the printer takes {case.shown(widest or 0)}",
            )


def _deckle_on_a_print(case: _Case) -> Iterator[Flag]:
    """A print that lies at a deckle which stays, without having asked for it."""
    losing = still_losing(case.job, case.layout) & set(case.sheet.deckles)
    for one in case.layout.placements:
        piece = case.job.pieces[one.piece]
        for edge in sorted(losing):
            asked = edge in kept_edges(piece.deckles, turned=one.turned)
            if piece.kind == "print" and not asked and touches(case.layout, one, edge):
                words = f"{piece.order} carries the deckle at the {case.named(edge)}: trim it"
                yield Flag(None, "deckle", words)


def _kept_deckles(case: _Case) -> Iterator[Flag]:
    """Which deckles stay, and on whose blanks they are the finished edge."""
    staying = set(staying_deckles(case.job, case.layout))
    for one in case.layout.placements:
        piece = case.job.pieces[one.piece]
        for edge in kept_edges(piece.deckles, turned=one.turned):
            yield Flag(None, "kept", f"{piece.order} keeps its deckle at the {case.named(edge)}")
            staying.discard(edge)
    drawings = [one for one in case.layout.placements if case.job.pieces[one.piece].kind != "print"]
    for edge in (edge for edge in EDGES if edge in staying):
        if any(touches(case.layout, one, edge) for one in drawings):
            yield Flag(None, "kept", f"the deckle at the {case.named(edge)} is left on")


def _watermark(case: _Case) -> Iterator[Flag]:
    """Which blank carries the watermark, so that it can be set aside or turned."""
    corner = case.sheet.watermark
    if corner is None:
        return
    up: Edge = "top" if corner.startswith("top") else "foot"
    across: Edge = "left" if corner.endswith("left") else "right"
    there = [
        one
        for one in case.layout.placements
        if touches(case.layout, one, across) and touches(case.layout, one, up)
    ]
    whose = f"on {case.order(there[0])}" if there else "on what is left over"
    lies = sorted((case.named(up), case.named(across)), key=("top", "foot", "left", "right").index)
    yield Flag(None, "watermark", f"the watermark, at the {' '.join(lies)}, is {whose}")


_LOOKS: tuple[Callable[[_Case], Iterator[Flag]], ...] = (
    _square_to,
    _longer_than_the_mat,
    _longer_than_the_ruler,
    _narrow_strips,
    _creeping,
    _too_wide_for_the_printer,
    _deckle_on_a_print,
    _kept_deckles,
    _watermark,
)
