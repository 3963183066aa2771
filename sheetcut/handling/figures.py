"""What a paper's layouts ask of the hands, and what they leave: figures that plans are told by."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sheetcut.job import Job, passes_of
from sheetcut.layout import Cut, Layout, Rectangle, pieces_in_hand
from sheetcut.units import Area, Cents, Length


@dataclass(frozen=True, slots=True)
class Figures:
    """All sheets of some layouts together, squaring counted.

    Attributes:
        cuts: how many cuts.
        settings: how often the ruler is placed.
        fresh_edges: cuts whose reading is taken from an edge made by an earlier cut.
        over_mat: cuts that are longer than the mat, if that is known.
        different: how many ways of cutting a sheet there are, twins being one.
        effort: how far the knife travels, every pass counted.
        largest_keeper: width and height of the largest leftover that is kept; None for none.
        kept: the area of all keepers.
        scrap: the area of all scrap.
        least_load: the area of the blanks on the sheet that has the least on it.
    """

    cuts: int
    settings: int
    fresh_edges: int
    over_mat: int
    different: int
    effort: Length
    largest_keeper: tuple[Length, Length] | None
    kept: Area
    scrap: Area
    least_load: Area

    @property
    def largest_area(self) -> Area:
        """The area of the largest keeper, 0 where there is none."""
        return self.largest_keeper[0] * self.largest_keeper[1] if self.largest_keeper else 0


def figures_of(job: Job, layouts: Iterable[Layout]) -> Figures:
    """Return the figures of some layouts, every copy counted."""
    layouts = tuple(layouts)
    keepers = [(one.width, one.height) for layout in layouts for one in layout.keepers]
    return Figures(
        cuts=_sum(layouts, [len(one.squaring) + len(one.cuts) for one in layouts]),
        settings=_sum(layouts, [_settings(one) for one in layouts]),
        fresh_edges=_sum(
            layouts, [sum(cut.edge != "start" for cut in one.cuts) for one in layouts]
        ),
        over_mat=_sum(layouts, [_over_mat(job, one) for one in layouts]),
        different=len({(one.sheet, one.twins) for one in layouts}),
        effort=_sum(layouts, [_effort(job, one) for one in layouts]),
        largest_keeper=max(keepers, key=lambda size: (size[0] * size[1], min(size)), default=None),
        kept=_sum(layouts, [one.waste.keepers for one in layouts]),
        scrap=_sum(layouts, [one.waste.scrap for one in layouts]),
        least_load=min((_load(one) for one in layouts), default=0),
    )


def _sum(layouts: Sequence[Layout], each: Sequence[int]) -> int:
    return sum(layout.copies * one for layout, one in zip(layouts, each, strict=True))


def _settings(layout: Layout) -> int:
    return len(layout.squaring) + len({cut.setting for cut in layout.cuts})


def _over_mat(job: Job, layout: Layout) -> int:
    mat = job.rules.mat
    return sum(cut.stop - cut.start > max(mat) for cut in layout.cuts) if mat else 0


def _effort(job: Job, layout: Layout) -> Length:
    paper = next((sheet.paper for sheet in job.sheets if sheet.id == layout.sheet), "")
    edges = sum(
        layout.height if one.edge in ("left", "right") else layout.width for one in layout.squaring
    )
    length = edges + sum(cut.stop - cut.start for cut in layout.cuts)
    return length * (passes_of(job.paper(paper)) or 1)


def _load(layout: Layout) -> Area:
    return sum(one.width * one.height for one in layout.placements)


def sheets_cut(layouts: Iterable[Layout]) -> Counter[str]:
    """Return how many sheets of each drawer row some layouts take."""
    used: Counter[str] = Counter()
    for layout in layouts:
        used[layout.sheet] += layout.copies
    return used


def cash_for(job: Job, layouts: Iterable[Layout]) -> Cents | None:
    """Return the cash for the full sheets that are cut; None where one has no price."""
    used = sheets_cut(layouts)
    bought = [sheet for sheet in job.sheets if sheet.kind == "full" and used[sheet.id]]
    if any(sheet.price is None for sheet in bought):
        return None
    return sum(used[sheet.id] * (sheet.price or 0) for sheet in bought)


def takes_no_more(job: Job, one: Iterable[Layout], other: Iterable[Layout]) -> bool:
    """Whether some layouts take neither more full sheets, nor more cash, nor more offcuts."""
    first, second = tuple(one), tuple(other)
    cash, limit = cash_for(job, first), cash_for(job, second)
    if limit is not None and (cash is None or cash > limit):
        return False
    kinds = {sheet.id: sheet.kind for sheet in job.sheets}
    used, known = sheets_cut(first), sheets_cut(second)
    return all(
        sum(n for name, n in used.items() if kinds[name] == kind)
        <= sum(n for name, n in known.items() if kinds[name] == kind)
        for kind in ("full", "offcut")
    )


def is_strips_only(layout: Layout) -> bool:
    """Whether it is cut by long cuts and then cross cuts, and trimmed at the most besides.

    Of the levels of cuts a blank is reached by there are three at the most, and on two of them
    at the most a cut parts it from other blanks.
    """
    leftovers = set(layout.leftovers)
    whole = (0, 0, layout.usable[2], layout.usable[3])
    parted: dict[Rectangle, frozenset[int]] = {whole: frozenset()}
    for cut, hand in zip(layout.cuts, pieces_in_hand(layout), strict=True):
        halves = _halves(hand, cut)
        trims = not leftovers.isdisjoint(halves)
        levels = parted[hand] | (frozenset() if trims else {cut.level})
        if cut.level > 3 or len(levels) > 2:
            return False
        parted |= dict.fromkeys(halves, levels)
    return True


def _halves(hand: Rectangle, cut: Cut) -> tuple[Rectangle, Rectangle]:
    x, y, width, height = hand
    if cut.along == "x":
        return (x, y, cut.at - x, height), (cut.at, y, x + width - cut.at, height)
    return (x, y, width, cut.at - y), (x, cut.at, width, y + height - cut.at)
