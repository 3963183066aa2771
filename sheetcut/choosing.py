"""Which of several plans for one paper is chosen, equal as they are in sheets and cash."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import get_args

from sheetcut.cuts import First
from sheetcut.drawn import Drawn, drawn, layouts_of
from sheetcut.errors import SheetcutError
from sheetcut.handling import Figures, figures_of, is_strips_only, narrow_cuts, takes_no_more
from sheetcut.job import Job, Preference
from sheetcut.layout import Candidate, Layout
from sheetcut.nest.deal import counts_of
from sheetcut.units import TICKS_PER_MM, Length, in_mm

METRE = 1_000 * TICKS_PER_MM  # of the knife's way; nobody notices less
MOST_BLANKS = 100  # above this it is a matter of seconds, each sheet's cuts being many
MOST_CANDIDATES = 2  # of so many blanks
NOTICED = 20  # a largest keeper is better where it gains one part in so many


class NarrowStripsRefused(SheetcutError):
    """Every plan found cuts off a strip that the studio's settings refuse."""

    def __init__(self, paper: str, sheet: str, narrowest: Length, strips: Sequence[Length]) -> None:
        self.paper = paper
        self.strips = tuple(strips)
        widths = ", ".join(f"{in_mm(width):f}" for width in strips)
        super().__init__(
            f"{paper}, {sheet}: strips of {widths} mm would be cut, and less than "
            f"{in_mm(narrowest):f} mm is refused; widen a border, or set narrow-strips to allowed"
        )


@dataclass(frozen=True, slots=True)
class Way:
    """One way to cut a paper's blanks, with what it is judged by.

    Attributes:
        layouts: without names for their keepers.
    """

    sheets: tuple[Drawn, ...]
    layouts: tuple[Layout, ...]
    figures: Figures
    is_strips_only: bool


def ways_of(job: Job, candidates: Iterable[Candidate]) -> tuple[Way, ...]:
    """Return the candidates cut, each parted for settings, for cuts, and for its leftover.

    Of many blanks only the first candidates are taken, and for settings alone: each way takes
    a second or so, and somebody waits. None is among them that cuts off a strip that is refused.

    Raises:
        NarrowStripsRefused: if each of them does.
    """
    candidates, firsts = tuple(candidates), get_args(First)
    is_large = any(counts_of(candidate).total() > MOST_BLANKS for candidate in candidates)
    if is_large and job.rules.narrow_strips == "allowed":
        candidates, firsts = candidates[:MOST_CANDIDATES], firsts[:1]
    ways = [_way(job, candidate, first) for candidate in candidates for first in firsts]
    ways = [way for n, way in enumerate(ways) if way.layouts not in [w.layouts for w in ways[:n]]]
    if job.rules.narrow_strips == "allowed":
        return tuple(ways)
    fine = tuple(way for way in ways if not any(_narrow(job, one) for one in way.layouts))
    if not fine:
        worst = next(one for one in ways[0].layouts if _narrow(job, one))
        sheet = next(sheet for sheet in job.sheets if sheet.id == worst.sheet)
        narrowest = job.rules.narrowest_strip or 0
        raise NarrowStripsRefused(sheet.paper, sheet.title, narrowest, _narrow(job, worst))
    return fine


def preferred(job: Job, ways: Sequence[Way]) -> tuple[Drawn, ...]:
    """Return the way that the studio's preference puts first."""
    return min(ways, key=ORDERS[job.rules.preference]).sheets


def others(
    job: Job, chosen: Sequence[Layout], ways: Sequence[Way]
) -> Iterator[tuple[Preference, tuple[Drawn, ...]]]:
    """Yield for each kind the best of the other ways, where it is better than the chosen one.

    None of them takes more full sheets, more cash or more offcuts than what is chosen.
    """
    figures, given = figures_of(job, chosen), _given(chosen)
    fine = [
        way
        for way in ways
        if takes_no_more(job, way.layouts, chosen) and _given(way.layouts) == given
    ]
    taken: list[tuple[Drawn, ...]] = []
    for kind in get_args(Preference):
        best = min(fine, key=ORDERS[kind], default=None)
        if best is None or best.sheets in taken:
            continue
        if (
            _is_strips_only_instead(best, chosen)
            if kind == "strips only"
            else GAINS[kind](best.figures, figures)
        ):
            taken.append(best.sheets)
            yield kind, best.sheets


def _way(job: Job, candidate: Candidate, first: First) -> Way:
    sheets = drawn(job, candidate, first=first)
    layouts = layouts_of(job, sheets)
    is_strips = all(map(is_strips_only, layouts))
    return Way(sheets, layouts, figures_of(job, layouts), is_strips)


def _given(layouts: Iterable[Layout]) -> Counter[int]:
    """Return how many pieces of each order line some layouts give."""
    given: Counter[int] = Counter()
    for layout in layouts:
        for place in layout.placements:
            given[place.piece] += layout.copies
    return given


def _narrow(job: Job, layout: Layout) -> list[Length]:
    """Return the widths of the strips under the narrowest, each once, the narrowest first."""
    return sorted({width for _, width in narrow_cuts(job, layout)})


Rank = tuple[int, ...]


def _quicker(way: Way) -> Rank:
    one = way.figures
    return (
        one.cuts,
        one.settings,
        one.fresh_edges,
        one.over_mat,
        one.different,
        one.effort // METRE,
        -one.largest_area,
        one.least_load,
    )


def _better_leftover(way: Way) -> Rank:
    one = way.figures
    return (-one.largest_area, -one.kept, *_quicker(way))


def _strips_only(way: Way) -> Rank:
    return (not way.is_strips_only, *_quicker(way))


ORDERS: dict[Preference, Callable[[Way], Rank]] = {
    "quicker to cut": _quicker,
    "better leftover": _better_leftover,
    "strips only": _strips_only,
}
"""What puts one way before another; less is better, and the first figure counts most."""


def _is_quicker(one: Figures, than: Figures) -> bool:
    return (one.cuts, one.settings) < (than.cuts, than.settings)


def _leaves_better(one: Figures, than: Figures) -> bool:
    gain = one.largest_area - than.largest_area
    return gain > 0 and gain * NOTICED >= one.largest_area


GAINS: dict[Preference, Callable[[Figures, Figures], bool]] = {
    "quicker to cut": _is_quicker,
    "better leftover": _leaves_better,
}


def _is_strips_only_instead(way: Way, chosen: Sequence[Layout]) -> bool:
    return way.is_strips_only and not all(map(is_strips_only, chosen))
