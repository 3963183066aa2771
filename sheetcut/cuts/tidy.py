"""A cut tree put in order: blanks towards the start corner, leftovers at the far ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Literal

from sheetcut.cuts.alignment import aligned
from sheetcut.cuts.regroup import other_groupings, without_needless_levels
from sheetcut.layout import Part
from sheetcut.units import Area, Length

MOST_TRIED = 3  # groupings that are put in order before the search for a tidier one ends

First = Literal["settings", "cuts", "leftover"]
Found = tuple[int, int, int, int, tuple[Area, ...], int]
Tidiness = tuple[int, int, int, int, int, tuple[Area, ...], int]


def arrange(
    tree: Part, *, mat: Length | None = None, first: First = "settings", step: Length = 1
) -> Part:
    """Return a tree with the same blanks that is easier to cut and to read.

    Levels alternate, leftovers that touch are one and lie at the far end, equal parts stand
    together, and the order within each piece in hand lets readings line up. Where the blanks,
    as they lie, can be parted in several ways, the fewest ruler settings decide, then the
    fewest levels (turns of the paper), then the fewest cuts, then the fewest that are longer
    than the mat, then the largest leftover; or the fewest cuts or the largest leftover
    before everything else.
    Names have no say: sheets with the same sizes are cut alike, and each size is then given
    to its order lines in their order, from the start corner on.

    Args:
        mat: its long side, if known.
        first: what decides first.
        step: what the ruler is read to; see `aligned`.
    """
    blanks: dict[tuple[Length, Length], list[Part]] = {}
    for leaf in sorted(_blanks(tree), key=lambda leaf: (leaf.piece, leaf.turned)):
        blanks.setdefault((leaf.width, leaf.height), []).append(leaf)
    waiting = {size: iter(alike) for size, alike in blanks.items()}
    return _with_names(_arranged(_without_names(tree), mat, first, step), waiting)


def _blanks(part: Part) -> Iterator[Part]:
    if part.piece is not None:
        yield part
    for one in part.parts:
        yield from _blanks(one)


def _without_names(part: Part) -> Part:
    piece = None if part.piece is None else 0
    return replace(part, parts=tuple(map(_without_names, part.parts)), piece=piece, turned=False)


def _with_names(part: Part, waiting: dict[tuple[Length, Length], Iterator[Part]]) -> Part:
    if part.piece is not None:
        return next(waiting[part.width, part.height])
    return replace(part, parts=tuple(_with_names(one, waiting) for one in part.parts))


@lru_cache(maxsize=4096)  # an edition is cut from many sheets of few patterns
def _arranged(tree: Part, mat: Length | None, first: First, step: Length) -> Part:
    def tidiness(found: Found) -> Tidiness:
        cuts, leftovers = found[2], found[4]
        before = {"settings": 0, "cuts": cuts, "leftover": min(leftovers, default=0)}
        return (before[first], *found)

    tidy = aligned(without_needless_levels(tree), step=step)
    while True:
        others = sorted(_others(tidy, mat), key=lambda other: tidiness(other[0]))
        tried = [aligned(one, step=step) for _, one in others[:MOST_TRIED]]
        best = min(tried, key=lambda one: tidiness(_tidiness(one, mat)), default=tidy)
        if tidiness(_tidiness(best, mat)) >= tidiness(_tidiness(tidy, mat)):
            return tidy
        tidy = best


@lru_cache(maxsize=256)  # whatever decides first, the same ones are looked at
def _others(tree: Part, mat: Length | None) -> tuple[tuple[Found, Part], ...]:
    return tuple((_tidiness(other, mat), other) for other in other_groupings(tree))


def _tidiness(tree: Part, mat: Length | None) -> Found:
    """Return settings, levels, cuts, how many outgrow the mat, leftovers, fresh edges.

    Leftovers come from the largest down.
    """
    settings: set[tuple[int, Length, Length]] = set()
    levels = cuts = too_long = fresh = 0
    leftovers: list[Area] = []
    waiting = [(tree, 0, 0, 1)]
    for part, x, y, level in waiting:  # grows while it is read; no marks: it is read very often
        if part.along is None:
            if part.piece is None:
                leftovers.append(-part.area)
            continue
        is_across = part.along == "x"
        origin, long = (x, part.height) if is_across else (y, part.width)
        made = len(part.parts) - 1
        levels = max(levels, level if made else 0)
        cuts += made
        too_long += made if mat is not None and long > mat else 0
        fresh += made if origin > 0 else 0  # no edge but the start edge lies at 0
        at = origin
        for one in part.parts:
            if at > origin:
                settings.add((level, at, origin))
            if one.piece is None:
                waiting.append((one, at, y, level + 1) if is_across else (one, x, at, level + 1))
            at += one.width if is_across else one.height
    return len(settings), levels, cuts, too_long, tuple(sorted(leftovers)), fresh
