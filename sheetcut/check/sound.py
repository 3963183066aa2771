"""Whether names and numbers in a plan can be relied on at all, before anything is computed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import get_args

from sheetcut.errors import Fault
from sheetcut.job import LONGEST, Aim, Edge
from sheetcut.layout import (
    Axis,
    Cut,
    Keeper,
    Layout,
    Measure,
    PaperPlan,
    Placement,
    Plan,
    Squaring,
    Waste,
    Why,
)

MOST_COPIES = 10_000_000  # more sheets than any shop has sold to one artist
MOST_CENTS = 10**15


def plan_troubles(plan: Plan) -> Iterator[Fault]:
    """Yield what makes the plan as a whole unreliable."""
    papers = Counter(paper.paper for paper in plan.papers)
    for name in [name for name, n in papers.items() if n > 1]:
        yield Fault(name, f"the paper has {papers[name]} plans; each paper has one")
    for short in plan.short:
        if not _counts(short.piece, 0, len(plan.job.pieces) - 1):
            yield Fault("short of paper", f"there is no order line number {short.piece!r}")
            continue
        where = f"short of paper, {plan.job.pieces[short.piece].order}"
        if not _counts(short.count, 1, MOST_COPIES):
            yield Fault(where, f"{short.count!r} pieces are said to be short; that is no count")
        if short.why not in get_args(Why):
            yield Fault(where, f"the reason {short.why!r} is not one of {_listed(get_args(Why))}")


def paper_troubles(plan: Plan, paper: PaperPlan) -> Iterator[Fault]:
    """Yield what makes one paper's names and sums unreliable, its layouts apart."""
    known = {sheet.id for sheet in plan.job.sheets}
    for name, count in paper.sheets_used.items():
        if name not in known:
            yield Fault(paper.paper, f"sheet {name!r} is said to be used and is not in the drawer")
        if not _counts(count, 0, MOST_COPIES):
            yield Fault(paper.paper, f"{count!r} sheets of {name} are said to be used")
    for number, cents in paper.shares.items():
        if not _counts(number, 0, len(plan.job.pieces) - 1):
            yield Fault(paper.paper, f"a paper share stands for order line number {number!r}")
        if not _counts(cents, 0, MOST_CENTS):
            yield Fault(paper.paper, f"a paper share is {cents!r} cents")
    if paper.cost is not None and not _counts(paper.cost, 0, MOST_CENTS):
        yield Fault(paper.paper, f"the cost is {paper.cost!r} cents")
    if not _counts(paper.bound.value, 0, MOST_CENTS):
        yield Fault(paper.paper, f"the bound is {paper.bound.value!r}")
    if not isinstance(paper.bound.reason, str):
        yield Fault(paper.paper, f"the bound's reason is {paper.bound.reason!r}")
    if paper.bound.measure not in get_args(Measure):
        yield Fault(paper.paper, f"the bound counts {paper.bound.measure!r}, not sheets or cost")
    if paper.aim not in get_args(Aim):
        yield Fault(paper.paper, f"the aim {paper.aim!r} is not one of {_listed(get_args(Aim))}")


def layout_troubles(plan: Plan, layout: Layout) -> Iterator[str]:
    """Yield what makes a layout's names and numbers unreliable."""
    yield from _sheet_troubles(plan, layout)
    for placement in layout.placements:
        yield from _placement_troubles(placement, len(plan.job.pieces))
    for square in layout.squaring:
        yield from _squaring_troubles(square)
    for cut in layout.cuts:
        yield from _cut_troubles(cut)
    for keeper in layout.keepers:
        yield from _keeper_troubles(keeper)
    for leftover in layout.leftovers:
        if len(leftover) != 4 or not _is_rectangle(*leftover):
            yield f"a leftover is given as {leftover!r} in ticks"
    yield from _waste_troubles(layout.waste)


def _sheet_troubles(plan: Plan, layout: Layout) -> Iterator[str]:
    if layout.sheet not in {sheet.id for sheet in plan.job.sheets}:
        yield f"there is no sheet {layout.sheet!r} in the drawer"
    if not _counts(layout.copies, 1, MOST_COPIES):
        yield f"{layout.copies!r} copies are to be cut; 1 or more are wanted"
    if not _counts(layout.twins, -MOST_COPIES, MOST_COPIES):
        yield f"its twins are numbered {layout.twins!r}"
    if tuple(layout.start) not in {(x, y) for x in ("left", "right") for y in ("foot", "top")}:
        yield f"the start corner {layout.start!r} is not left or right, foot or top"
    if not _is_rectangle(0, 0, layout.width, layout.height):
        yield f"the sheet is given as {layout.width!r} by {layout.height!r} ticks"
    if len(layout.usable) != 4 or not _is_rectangle(*layout.usable):
        yield f"the usable area is given as {layout.usable!r} in ticks"


def _placement_troubles(placement: Placement, lines: int) -> Iterator[str]:
    if not _counts(placement.piece, 0, lines - 1):
        yield f"a blank belongs to order line number {placement.piece!r}, and there is none"
    rectangle = placement.x, placement.y, placement.width, placement.height
    if not _is_rectangle(*rectangle):
        yield f"a blank is given as {rectangle!r} in ticks"
    extras = (*placement.rounding, *placement.leave_on)
    if len(extras) != 6 or not all(_counts(extra, 0, LONGEST) for extra in extras):
        yield f"a blank's rounding and leave-on are {extras!r} in ticks"
    if not isinstance(placement.turned, bool):
        yield f"a blank is turned {placement.turned!r}; yes or no is wanted"


def _squaring_troubles(square: Squaring) -> Iterator[str]:
    if square.edge not in get_args(Edge):
        yield f"squaring {square.number!r} names the edge {square.edge!r}"
    if not _counts(square.number, 1, MOST_COPIES) or not _is_length(square.reading):
        yield f"squaring {square.number!r} has the reading {square.reading!r} ticks"


def _cut_troubles(cut: Cut) -> Iterator[str]:
    if not _counts(cut.number, 1, MOST_COPIES):
        yield f"a cut is numbered {cut.number!r}"
    if cut.along not in get_args(Axis):
        yield f"cut {cut.number!r} is measured along {cut.along!r}, not x or y"
    if not all(_is_length(one) for one in (cut.at, cut.start, cut.stop, cut.reading)):
        yield f"cut {cut.number!r} lies at {cut.at!r} from {cut.start!r} to {cut.stop!r} ticks"
    elif cut.start >= cut.stop:
        yield f"cut {cut.number!r} runs from {cut.start!r} to {cut.stop!r} ticks and has no length"
    if not _counts(cut.level, 1, MOST_COPIES) or not _counts(cut.setting, 1, MOST_COPIES):
        yield f"cut {cut.number!r} has the level {cut.level!r} and the setting {cut.setting!r}"
    if cut.edge != "start" and not _counts(cut.edge, 1, MOST_COPIES):
        yield f"cut {cut.number!r} is measured from {cut.edge!r}: neither a start edge nor a cut"


def _keeper_troubles(keeper: Keeper) -> Iterator[str]:
    rectangle = keeper.x, keeper.y, keeper.width, keeper.height
    if not _is_rectangle(*rectangle):
        yield f"a keeper is given as {rectangle!r} in ticks"
    if not all(isinstance(name, str) and name.strip() for name in keeper.names):
        yield f"a keeper has the names {keeper.names!r}; each copy needs a tag"


def _waste_troubles(waste: Waste) -> Iterator[str]:
    terms = (waste.finished, waste.margins, waste.keepers, waste.scrap, waste.edges, waste.extra)
    if not all(_counts(term, 0, LONGEST**2) for term in terms):
        yield f"a term of the waste is no area: {_listed(terms)} square ticks"


def _is_rectangle(*sides: object) -> bool:
    x, y, width, height = sides
    return (
        _is_length(x)
        and _is_length(y)
        and _counts(width, 1, LONGEST)
        and _counts(height, 1, LONGEST)
    )


def _is_length(value: object) -> bool:
    return _counts(value, -LONGEST, LONGEST)


def _counts(value: object, least: int, most: int) -> bool:
    """Whether a value is a whole number from one to another."""
    return isinstance(value, int) and not isinstance(value, bool) and least <= value <= most


def _listed(words: Iterable[object]) -> str:
    return ", ".join(str(word) for word in words)
