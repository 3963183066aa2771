"""Cuts that part off less than can be cut cleanly."""

from __future__ import annotations

from collections.abc import Iterator

from sheetcut.handling.edges import still_losing
from sheetcut.handling.table import taken_in_hand
from sheetcut.job import Edge, Job
from sheetcut.layout import Cut, Layout
from sheetcut.units import Length


def narrow_cuts(job: Job, layout: Layout) -> Iterator[tuple[Cut, Length]]:
    """Yield the cuts that part off a strip under the narrowest, with its width.

    A strip at a far edge whose loss is still on it is as wide as both together, and comes off
    with deckle or bruises, which anybody trims: squaring has no narrowest strip.
    """
    narrowest = job.rules.narrowest_strip
    if narrowest is None:
        return
    losing = still_losing(job, layout)
    for cut, hand in zip(layout.cuts, taken_in_hand(layout), strict=True):
        widths = []
        for half in hand.halves(cut):
            low, high = half.ends(cut.along)
            edges: tuple[Edge, Edge] = ("left", "right") if cut.along == "x" else ("foot", "top")
            if not any(half.maker(edge) == 0 and edge in losing for edge in edges):
                widths.append(high - low)
        if widths and min(widths) < narrowest:
            yield cut, min(widths)
