"""Whether every blank has its proper size and lies the way its order line allows."""

from __future__ import annotations

from collections.abc import Iterator

from sheetcut.check.case import LayoutCase, LayoutCheck, PlanCase, in_words, named, size
from sheetcut.errors import Fault
from sheetcut.job import Grain, Piece, Turn, reading_step
from sheetcut.units import Length


def right_size(case: LayoutCase) -> Iterator[Fault]:
    """A blank is finished size, margins, rounding and leave-on, no more and no less."""
    for placement in case.layout.placements:
        piece = case.piece(placement)
        width, height = _blank(piece, reading_step(case.plan.job, case.paper.paper))
        if placement.turned:
            width, height = height, width
        width += placement.leave_on.left + placement.leave_on.right
        height += placement.leave_on.top + placement.leave_on.foot
        if (placement.width, placement.height) != (width, height):
            found = size(placement.width, placement.height)
            yield case.fault(
                f"the blank of {named(piece, placement)} is {found}; with its margins it is "
                f"{size(width, height)} as it lies"
            )


def right_rounding(case: LayoutCase) -> Iterator[Fault]:
    """The rounding said is what lifts the blank to whole steps of the ruler."""
    step = reading_step(case.plan.job, case.paper.paper)
    for placement in case.layout.placements:
        piece = case.piece(placement)
        width, height = _blank(piece, step)
        asked = _asked(piece)
        expected = width - asked[0], height - asked[1]
        if tuple(placement.rounding) != expected:
            found = size(*placement.rounding)
            yield case.fault(
                f"{named(piece, placement)} says it is rounded up by {found}; to the next "
                f"{in_words(step)} it takes {size(*expected)}"
            )


def no_leave_on_a_print(case: LayoutCase) -> Iterator[Fault]:
    """A print's borders are as ordered; only a drawing keeps a sliver."""
    for placement in case.layout.placements:
        piece = case.piece(placement)
        if any(placement.leave_on) and piece.kind == "print":
            yield case.fault(f"{named(piece, placement)} is a print and has a leave-on")


def turned_as_allowed(case: LayoutCase) -> Iterator[Fault]:
    """A blank lies the way its turn rule and the sheet's grain allow."""
    for placement in case.layout.placements:
        piece = case.piece(placement)
        reason = _why_not(piece.turn, case.sheet.grain, turned=placement.turned)
        if reason:
            yield case.fault(f"{named(piece, placement)} {reason}")


BLANK_CHECKS: tuple[LayoutCheck, ...] = (
    right_size,
    right_rounding,
    no_leave_on_a_print,
    turned_as_allowed,
)


def lies_alike(case: PlanCase) -> Iterator[Fault]:
    """All pieces of a line that asks for it lie the same way relative to the grain."""
    ways: dict[int, dict[bool, str]] = {}
    for layout in (layout for paper in case.papers for layout in paper.layouts):
        if layout.sheet.grain not in ("along width", "along height"):
            continue
        for placement in layout.layout.placements:
            if layout.piece(placement).turn == "alike":
                up = _height_along_grain(layout.sheet.grain, turned=placement.turned)
                ways.setdefault(placement.piece, {}).setdefault(up, layout.where)
    for number, found in sorted(ways.items()):
        if len(found) > 1:
            piece = case.plan.job.pieces[number]
            yield Fault(
                f"{piece.order} {piece.label}".strip(),
                f"its pieces are to lie alike; on {found[True]} the grain runs along their "
                f"height, on {found[False]} along their width",
            )


def way_allowed(turn: Turn, grain: Grain, *, turned: bool) -> bool:
    """Whether a blank may lie so, as far as one blank can tell."""
    return not _why_not(turn, grain, turned=turned)


def _why_not(turn: Turn, grain: Grain, *, turned: bool) -> str:
    """Return why a blank may not lie so, or nothing."""
    if turn == "yes":
        return ""
    if turn == "no":
        return "is turned and may not be" if turned else ""
    if grain == "none":
        return ""
    if grain == "not known":
        return f'has the rule "{turn}", and the grain of this sheet is not known'
    if turn == "alike":
        return ""
    up = _height_along_grain(grain, turned=turned)
    if up == (turn == "grain up"):
        return ""
    found, asked = ("height", "width") if up else ("width", "height")
    return f'lies with the grain along its {found}; "{turn}" asks for it along its {asked}'


def _height_along_grain(grain: Grain, *, turned: bool) -> bool:
    """Whether the grain runs along the piece's own height: up the sheet unless it is turned."""
    return grain == ("along width" if turned else "along height")


def _asked(piece: Piece) -> tuple[Length, Length]:
    margin = piece.margin
    return (
        piece.width + margin.left + margin.right,
        piece.height + margin.top + margin.foot,
    )


def _blank(piece: Piece, step: Length) -> tuple[Length, Length]:
    """Return the blank before turning: asked for, then up to the next whole step."""
    width, height = _asked(piece)
    return width + -width % step, height + -height % step


def blank_as_it_lies(piece: Piece, step: Length, *, turned: bool) -> tuple[Length, Length]:
    """Return the smallest blank of a piece, as it lies."""
    width, height = _blank(piece, step)
    return (height, width) if turned else (width, height)
