"""Layouts of a plan that stands: which can stay as they are, and their cut trees again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sheetcut.job import Job, Piece, Sheet, Turn, reading_step
from sheetcut.layout import Cut, Keeper, Layout, PaperPlan, Part, Placement, Plan, Rectangle


@dataclass(frozen=True, slots=True)
class Stays:
    """What stays of one paper's plan.

    Attributes:
        layouts: with as many copies as stay, their blanks by the lines of the new job.
        places: for each of them, its place among the layouts there were.
        gone: places of the layouts of which a copy does not stay.
        left: for each line of the new job on this paper, how many are still to be cut.
        used: sheets that they take, by drawer row.
    """

    layouts: tuple[Layout, ...]
    places: tuple[int, ...]
    gone: tuple[int, ...]
    left: Mapping[int, int]
    used: Mapping[str, int]


def staying(job: Job, plan: Plan, paper: PaperPlan) -> Stays:
    """Return which layouts of one paper's plan still hold in a job.

    One stays if its sheet is there as it was, every blank on it is wanted in the same size,
    and nothing has changed in how leftovers are judged.
    """
    lines = dict(_lines(job, plan))
    left = Counter({n: one.count for n, one in enumerate(job.pieces) if one.paper == paper.paper})
    sheets = {sheet.id: sheet for sheet in job.sheets}
    used: Counter[str] = Counter()
    layouts, places, gone = [], [], []
    alike = _judged_by(job, paper.paper) == _judged_by(plan.job, paper.paper)
    for place, layout in enumerate(paper.layouts):
        there = sheets.get(layout.sheet)
        fits = alike and there is not None and _is_same_sheet(there, plan.sheet(layout.sheet))
        copies = 0
        while fits and there is not None and copies < layout.copies:
            blanks = Counter(lines.get(one.piece, -1) for one in layout.placements)
            is_left = there.on_hand is None or used[there.id] < there.on_hand
            if not is_left or any(left[line] < n for line, n in blanks.items()):
                break
            left -= blanks
            used[there.id] += 1
            copies += 1
        if copies:
            layouts.append(_with_copies(_renamed(layout, lines), copies))
            places.append(place)
        if copies < layout.copies:
            gone.append(place)
    return Stays(tuple(layouts), tuple(places), tuple(gone), {**left}, used)


def _lines(job: Job, plan: Plan) -> Iterator[tuple[int, int]]:
    """Yield the lines of a plan that a job still has alike, with their places in both."""
    places = {piece.order: n for n, piece in enumerate(job.pieces)}
    for old, piece in enumerate(plan.job.pieces):
        new = places.get(piece.order)
        if new is not None and _asked(job.pieces[new]) == _asked(piece):
            yield old, new


def _asked(piece: Piece) -> tuple[object, ...]:
    """Return all that decides how a piece's blank may be cut."""
    return (
        *(piece.paper, piece.width, piece.height, piece.turn, piece.kind),
        *(piece.margin, piece.border, piece.deckles),
    )


def _is_same_sheet(one: Sheet, other: Sheet) -> bool:
    return replace(one, on_hand=1, price=None, packs=(), note="", name="") == replace(
        other, on_hand=1, price=None, packs=(), note="", name=""
    )


def _judged_by(job: Job, paper: str) -> tuple[object, ...]:
    rules = job.rules
    step = reading_step(job, paper)
    return rules.keep_short, rules.keep_long, rules.narrowest_strip, step


def _renamed(layout: Layout, lines: Mapping[int, int]) -> Layout:
    placements = tuple(replace(one, piece=lines[one.piece]) for one in layout.placements)
    return replace(layout, placements=placements)


def as_it_was(job: Job, plan: Plan, paper: PaperPlan) -> PaperPlan | None:
    """Return a paper's plan by the lines of a job that asks for just the same; None if it does not.

    So its bound, its alternatives and all its figures still hold.
    """
    name = paper.paper
    alike = job.rules == plan.job.rules and job.paper(name) == plan.job.paper(name)
    if (
        not alike
        or job.sheets_of(name) != plan.job.sheets_of(name)
        or job.pieces_of(name) != plan.job.pieces_of(name)
    ):
        return None
    lines = dict(_lines(job, plan))
    return replace(
        paper,
        layouts=tuple(_renamed(one, lines) for one in paper.layouts),
        shares={lines[line]: cents for line, cents in paper.shares.items()},
        alternatives=tuple(
            replace(one, layouts=tuple(_renamed(layout, lines) for layout in one.layouts))
            for one in paper.alternatives
        ),
    )


def turn_as_laid(job: Job, line: int, layouts: Iterable[Layout]) -> Turn:
    """Return a line's turn rule; what is to lie alike lies as it does on layouts that stay."""
    turn = job.pieces[line].turn
    grains = {sheet.id: sheet.grain for sheet in job.sheets}
    for layout in layouts if turn == "alike" else ():
        grain = grains[layout.sheet]
        for one in layout.placements:
            if one.piece == line and grain in ("along width", "along height"):
                return "grain up" if one.turned == (grain == "along width") else "grain across"
    return turn


def fewer_copies(layout: Layout) -> Layout:
    """Return a layout with one copy less, the last one's keepers gone; with none, none."""
    return _with_copies(layout, layout.copies - 1)


def _with_copies(layout: Layout, copies: int) -> Layout:
    keepers = tuple(replace(one, names=one.names[:copies]) for one in layout.keepers)
    return replace(layout, copies=copies, keepers=keepers)


def tree_of(job: Job, layout: Layout, filled: Mapping[Rectangle, Part] | None = None) -> Part:
    """Return the cut tree of a layout again, seen from its start corner.

    Args:
        filled: leftovers that are cut further now, with the trees they become.
    """
    whole = (0, 0, layout.usable[2], layout.usable[3])
    return _Grower(job, layout, filled or {}).part(whole, layout.cuts)


class _Grower:
    """Puts the cuts of one layout back into a tree."""

    def __init__(self, job: Job, layout: Layout, filled: Mapping[Rectangle, Part]) -> None:
        self.job = job
        self.layout = layout
        self.filled = filled
        self.blanks = {(one.x, one.y, one.width, one.height): one for one in layout.placements}

    def part(self, rectangle: Rectangle, cuts: Sequence[Cut]) -> Part:
        """Return the tree of one piece in hand."""
        x, y, width, height = rectangle
        for n, cut in enumerate(cuts):
            ends = cut.start, cut.stop
            if cut.along == "x" and ends == (y, y + height) and x < cut.at < x + width:
                halves = (x, y, cut.at - x, height), (cut.at, y, x + width - cut.at, height)
            elif cut.along == "y" and ends == (x, x + width) and y < cut.at < y + height:
                halves = (x, y, width, cut.at - y), (x, cut.at, width, y + height - cut.at)
            else:
                continue
            parts = tuple(self.part(half, cuts[n + 1 :]) for half in halves)
            far = ("right", "top")["xy".index(cut.along)]
            ordered = parts[::-1] if far in self.layout.start else parts
            return Part(width, height, cut.along, ordered)
        if rectangle in self.blanks:
            return self._blank(self.blanks[rectangle])
        return self.filled.get(rectangle, Part(width, height))

    def _blank(self, one: Placement) -> Part:
        """Return a blank, with what was left on it as a leftover again."""
        across, up = one.leave_on.across, one.leave_on.up
        tree = Part(one.width - across, one.height - up, piece=one.piece, turned=one.turned)
        if up:
            tree = Part(tree.width, one.height, "y", (tree, Part(tree.width, up)))
        if across:
            tree = Part(one.width, one.height, "x", (tree, Part(across, one.height)))
        return tree


def together(job: Job, layouts: Iterable[Layout]) -> tuple[Layout, ...]:
    """Return layouts in drawer order, those that are cut alike together, copies made one."""
    rank = {sheet.id: place for place, sheet in enumerate(job.sheets)}
    alike: dict[tuple[object, ...], list[Layout]] = {}
    for layout in sorted(layouts, key=lambda one: rank[one.sheet]):
        alike.setdefault(_pattern(layout), []).append(layout)
    found = []
    for twins, group in enumerate(alike.values(), start=1):
        by_names: dict[tuple[object, ...], Layout] = {}
        for layout in group:
            key = _names(layout)
            before = by_names.get(key)
            by_names[key] = layout if before is None else _joined(before, layout)
        found += [replace(layout, twins=twins) for layout in by_names.values()]
    return tuple(found)


def likeness(layout: Layout) -> tuple[object, ...]:
    """Return what copies of one layout have in common: how they are cut, names included."""
    return _pattern(layout), _names(layout)


def _pattern(layout: Layout) -> tuple[object, ...]:
    blanks = sorted((one.x, one.y, one.width, one.height) for one in layout.placements)
    return layout.sheet, layout.start, layout.squaring, layout.cuts, tuple(blanks)


def _names(layout: Layout) -> tuple[object, ...]:
    return tuple(sorted((one.x, one.y, one.piece, one.turned) for one in layout.placements))


def _joined(one: Layout, other: Layout) -> Layout:
    """Return two layouts that are alike, names included, as copies of one."""
    names = {(keeper.x, keeper.y): keeper.names for keeper in other.keepers}
    keepers: tuple[Keeper, ...] = tuple(
        replace(keeper, names=keeper.names + names[keeper.x, keeper.y]) for keeper in one.keepers
    )
    return replace(one, copies=one.copies + other.copies, keepers=keepers)
