"""The same blanks parted another way: which cuts are long and which are deeper."""

from __future__ import annotations

from collections.abc import Iterator, Set
from dataclasses import replace

from sheetcut.cuts.marks import Leaf, marks_and_leaves
from sheetcut.layout import Axis, Part
from sheetcut.units import Length

ACROSS: dict[Axis | None, Axis] = {"x": "y", "y": "x"}


def without_needless_levels(part: Part, *, but: Set[int] = frozenset()) -> Part:
    """Return a part without needless divisions: no part like its own, leftovers in one, last.

    Args:
        but: the ids of parts that are known to have none.
    """
    if part.piece is not None or id(part) in but:
        return part
    if part.along is None or part.is_leftover:
        return Part(part.width, part.height)
    kept: list[Part] = []
    for one in (without_needless_levels(one, but=but) for one in part.parts):
        kept.extend(one.parts if one.along == part.along else (one,))
    blanks = [one for one in kept if not one.is_leftover]
    rest = sum(_side(one, part.along) for one in kept if one.is_leftover)
    if rest:
        blanks.append(_leftover(part, part.along, rest))
    return blanks[0] if len(blanks) == 1 else replace(part, parts=tuple(blanks))


def other_groupings(tree: Part) -> Iterator[Part]:
    """Yield trees in which one piece in hand is parted another way, its blanks as they lie.

    The tree given has no needless levels, and none of those that come has.

    Either the leftover that all its strips end in comes off first, or every line that cuts no
    blank is used at once, in one direction or in the other:

    ┌────┬────┬──┐     ┌─────────┬──┐
    ├────┼────┤  │  →  ├────┬────┼──┤  →  and so on
    │    │    │  │     │    │    │  │
    └────┴────┴──┘     └────┴────┴──┘
    """
    as_they_were = set(map(id, _every(tree)))
    for other in _regrouped(tree):
        yield without_needless_levels(other, but=as_they_were)


def _every(part: Part) -> Iterator[Part]:
    yield part
    for one in part.parts:
        yield from _every(one)


def _regrouped(part: Part) -> Iterator[Part]:
    if not part.parts:
        return
    if (other := _leftovers_first(part)) is not None:
        yield other
    for along in ("x", "y"):
        if (other := _parted_anew(part, along)) is not None:
            yield other
    for n, one in enumerate(part.parts):
        for other in _regrouped(one):
            yield replace(part, parts=(*part.parts[:n], other, *part.parts[n + 1 :]))


def _leftovers_first(part: Part) -> Part | None:
    """Return a part whose strips lose their equal leftovers in one cut; None if they have none."""
    strips = [one for one in part.parts if not one.is_leftover]
    ends = [one.parts[-1] for one in strips if one.parts and one.parts[-1].is_leftover]
    across = ACROSS[part.along]
    depths = {_side(end, across) for end in ends}
    if len(ends) < len(strips) or len(depths) != 1:
        return None
    depth = depths.pop()
    inner = replace(
        _shortened(part, across, depth),
        parts=tuple(_shortened(one, across, depth) for one in part.parts),
    )
    return replace(part, along=across, parts=(inner, _leftover(part, across, depth)))


def _shortened(part: Part, along: Axis, depth: Length) -> Part:
    """Return a strip without the leftover at its far end."""
    width = part.width - depth if along == "x" else part.width
    height = part.height - depth if along == "y" else part.height
    return replace(part, width=width, height=height, parts=part.parts[:-1])


def _parted_anew(part: Part, along: Axis) -> Part | None:
    """Return a part's blanks parted at every line across an axis that cuts none of them.

    None if there is no such line, neither between blanks nor before a leftover.
    """
    _, leaves = marks_and_leaves(part)
    blanks = [leaf for leaf in leaves if leaf.part.piece is not None]
    groups = _groups(blanks, along)
    if len(groups) == 1 and _extent(groups[0], along) == _side(part, along):
        return None
    return _grown(part.width, part.height, groups, along)


def _grown(width: Length, height: Length, groups: list[list[Leaf]], along: Axis) -> Part:
    """Return a rectangle whose groups stand side by side, each parted again across."""
    across = ACROSS[along]
    parts = []
    for group in groups:
        extent = _extent(group, along)
        size = (extent, height) if along == "x" else (width, extent)
        below = _groups(group, across)
        if len(below) == 1 and _extent(below[0], across) == size[across == "y"]:
            parts.append(group[0].part)  # tight both ways, so it is a single blank
        else:
            parts.append(_grown(*size, below, across))
    whole = Part(width, height, along)
    rest = _side(whole, along) - sum(_side(one, along) for one in parts)
    if rest:
        parts.append(_leftover(whole, along, rest))
    return replace(whole, parts=tuple(parts))


def _groups(blanks: list[Leaf], along: Axis) -> list[list[Leaf]]:
    """Return the blanks in groups that no line parts, in order along an axis."""
    groups: list[list[Leaf]] = []
    end = -1
    for blank in sorted(blanks, key=lambda blank: _start(blank, along)):
        if _start(blank, along) >= end:
            groups.append([])
        groups[-1].append(blank)
        end = max(end, _stop(blank, along))
    return groups


def _extent(group: list[Leaf], along: Axis) -> Length:
    return max(_stop(one, along) for one in group) - min(_start(one, along) for one in group)


def _start(leaf: Leaf, along: Axis) -> Length:
    return leaf.x if along == "x" else leaf.y


def _stop(leaf: Leaf, along: Axis) -> Length:
    return _start(leaf, along) + _side(leaf.part, along)


def _side(part: Part, along: Axis) -> Length:
    return part.width if along == "x" else part.height


def _leftover(whole: Part, along: Axis, length: Length) -> Part:
    if along == "x":
        return Part(length, whole.height)
    return Part(whole.width, length)
