"""A cut tree put in order: blanks towards the start corner, leftovers at the far ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sheetcut.cuts.alignment import aligned
from sheetcut.layout import Axis, Part
from sheetcut.units import Area, Length

Tidiness = tuple[int, int, tuple[Area, ...]]


def arrange(tree: Part) -> Part:
    """Return a tree with the same blanks that is easier to cut and to read.

    Levels alternate, leftovers that touch are one and lie at the far end, equal parts stand
    together, and the order within each piece in hand lets readings line up. Where a corner of
    leftover can be parted in two ways, the levels decide, then the number of cuts, then the
    largest leftover.
    """
    tidy = without_needless_levels(tree)
    while better := min(_regrouped(tidy), key=_tidiness, default=None):
        if _tidiness(better) >= _tidiness(tidy):
            break
        tidy = better
    return aligned(tidy)


def without_needless_levels(part: Part) -> Part:
    """Return a part without needless divisions: no part like its own, leftovers in one, last."""
    if part.piece is not None:
        return part
    if part.along is None or part.is_leftover:
        return Part(part.width, part.height)
    kept: list[Part] = []
    for one in map(without_needless_levels, part.parts):
        kept.extend(one.parts if one.along == part.along else (one,))
    blanks = [one for one in kept if not one.is_leftover]
    rest = sum(side(one, part.along) for one in kept if one.is_leftover)
    if rest:
        blanks.append(_leftover(part, part.along, rest))
    return blanks[0] if len(blanks) == 1 else replace(part, parts=tuple(blanks))


def side(part: Part, along: Axis) -> Length:
    """Return a part's extent along an axis."""
    return part.width if along == "x" else part.height


def _leftover(whole: Part, along: Axis, length: Length) -> Part:
    if along == "x":
        return Part(length, whole.height)
    return Part(whole.width, length)


def _tidiness(tree: Part) -> Tidiness:
    """Return levels, cuts, and the leftovers from the largest down: less is tidier."""
    leaves = list(_leaves(tree))
    leftovers = sorted(-leaf.area for leaf in leaves if leaf.piece is None)
    return _levels(tree), len(leaves), tuple(leftovers)


def _leaves(part: Part) -> Iterator[Part]:
    if part.along is None:
        yield part
    for one in part.parts:
        yield from _leaves(one)


def _levels(part: Part) -> int:
    return 1 + max(map(_levels, part.parts)) if part.parts else 0


def _regrouped(part: Part) -> Iterator[Part]:
    """Yield every tree in which one leftover corner is parted the other way.

    ┌────┬────┬──┐     ┌─────────┬──┐     Where all strips of a piece in hand end in an
    ├────┼────┤  │     ├────┬────┼──┤     equal leftover, one cut can take them all off
    │    │    │  │  →  │    │    │  │     first; with a single strip this only settles
    └────┴────┴──┘     └────┴────┴──┘     who has the corner.
    """
    if (turned := _leftovers_first(part)) is not None:
        yield without_needless_levels(turned)
    for n, one in enumerate(part.parts):
        for other in _regrouped(one):
            parts = (*part.parts[:n], other, *part.parts[n + 1 :])
            yield without_needless_levels(replace(part, parts=parts))


def _leftovers_first(part: Part) -> Part | None:
    strips = [one for one in part.parts if not one.is_leftover]
    ends = [one.parts[-1] if one.parts else None for one in strips]
    if not strips or any(end is None or not end.is_leftover for end in ends):
        return None
    across: Axis = "y" if part.along == "x" else "x"
    depths = {side(end, across) for end in ends if end is not None}
    if len(depths) != 1:
        return None
    depth = depths.pop()
    parts = tuple(_shortened(one, across, depth) for one in part.parts)
    inner = replace(_shortened(Part(part.width, part.height), across, depth), along=part.along)
    return replace(
        part,
        along=across,
        parts=(replace(inner, parts=parts), _leftover(part, across, depth)),
    )


def _shortened(part: Part, along: Axis, depth: Length) -> Part:
    """Return a strip without the leftover at its far end."""
    width = part.width - depth if along == "x" else part.width
    height = part.height - depth if along == "y" else part.height
    return replace(part, width=width, height=height, parts=part.parts[:-1])
