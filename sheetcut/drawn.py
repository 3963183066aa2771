"""A candidate for one paper as sheets with their cuts in order, and as layouts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import repeat

from sheetcut.cost import waste_of
from sheetcut.cuts import (
    Corner,
    First,
    Ordered,
    Settled,
    arrange,
    cut_order,
    settled,
    with_leave_ons,
    without_needless_levels,
)
from sheetcut.job import Job, Sheet, reading_step
from sheetcut.layout import Candidate, Keeper, Layout
from sheetcut.units import Length


@dataclass(frozen=True, slots=True)
class Drawn:
    """A sheet of a candidate with its cuts in order, from a start corner."""

    sheet: Sheet
    ordered: Ordered
    start: Corner

    @property
    def pattern(self) -> tuple[object, ...]:
        """What is alike for twins: sheet, cuts and where the blanks lie."""
        places = tuple((p.x, p.y, p.width, p.height) for p in self.ordered.placements)
        squaring = self.ordered.squaring
        return (self.sheet.id, self.start, squaring, self.ordered.cuts, places)


def drawn(job: Job, candidate: Candidate, *, first: First = "settings") -> tuple[Drawn, ...]:
    """Return every sheet of a candidate, its cuts in the order they are made.

    Args:
        first: what decides first how the blanks of a sheet, as they lie, are parted.
    """
    sheets = {sheet.id: sheet for sheet in job.sheets}
    mat = max(job.rules.mat) if job.rules.mat else None
    arranged = [
        (sheet, arrange(tree, mat=mat, first=first, step=reading_step(job, sheet.paper)))
        for sheet, tree in ((sheets[name], tree) for name, tree in candidate.trees)
    ]
    # The way blanks are parted may have changed, and with it what can reach an edge.
    as_found = [(sheets[name], without_needless_levels(tree)) for name, tree in candidate.trees]
    trees = settled(arranged, job) or settled(as_found, job)
    if trees is None:
        raise AssertionError("a candidate without room for its deckles came this far")
    return tuple(
        Drawn(sheet, _cut(one, sheet, job), one.start)
        for (sheet, _), one in zip(arranged, trees, strict=True)
    )


def _cut(one: Settled, sheet: Sheet, job: Job) -> Ordered:
    if one.is_tied:
        return cut_order(one.tree, sheet, job, start=one.start, is_tied=True)
    tree = with_leave_ons(one.tree, sheet, job, start=one.start)
    return cut_order(tree, sheet, job, start=one.start)


def layouts_of(
    job: Job, sheets: Sequence[Drawn], tags: Iterator[str] | None = None
) -> tuple[Layout, ...]:
    """Return the layouts in drawer order, twins together, the fullest first.

    Args:
        tags: the names of keepers; None where only figures are wanted.
    """
    tags = repeat("") if tags is None else tags
    rank = {sheet.id: place for place, sheet in enumerate(job.sheets)}
    by_pattern: dict[tuple[object, ...], list[Drawn]] = {}
    for one in sorted(sheets, key=lambda one: (rank[one.sheet.id], -_blank_area(one))):
        by_pattern.setdefault(one.pattern, []).append(one)
    layouts: list[Layout] = []
    for twins, alike in enumerate(by_pattern.values(), start=1):
        for placements, copies in Counter(one.ordered.placements for one in alike).items():
            ordered = replace(alike[0].ordered, placements=placements)
            one = replace(alike[0], ordered=ordered)
            layouts.append(_layout(job, one, copies, twins, tags))
    return tuple(layouts)


def _blank_area(one: Drawn) -> int:
    return sum(place.width * place.height for place in one.ordered.placements)


def _layout(job: Job, one: Drawn, copies: int, twins: int, tags: Iterator[str]) -> Layout:
    sheet, ordered = one.sheet, one.ordered
    keepers = tuple(
        Keeper(tuple(next(tags) for _ in range(copies)), *leftover)
        for leftover in ordered.leftovers
        if is_keeper(job, leftover[2], leftover[3])
    )
    return Layout(
        sheet=sheet.id,
        copies=copies,
        twins=twins,
        start=one.start,
        width=sheet.width,
        height=sheet.height,
        usable=(
            sheet.edge_loss.left,
            sheet.edge_loss.foot,
            sheet.usable_width,
            sheet.usable_height,
        ),
        squaring=ordered.squaring,
        placements=ordered.placements,
        cuts=ordered.cuts,
        keepers=keepers,
        leftovers=ordered.leftovers,
        waste=waste_of(job, sheet, ordered.placements, keepers),
    )


def is_keeper(job: Job, width: Length, height: Length) -> bool:
    """Whether a leftover is at least the size the studio keeps, either way round."""
    short, long = sorted((width, height))
    return short >= job.rules.keep_short and long >= job.rules.keep_long
