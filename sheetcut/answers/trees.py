"""Cut trees of a whole plan: one line taken out of them, and leftovers put together."""

from __future__ import annotations

from dataclasses import replace

from sheetcut.layout import Part

Trees = tuple[tuple[str, Part], ...]
"""Every sheet that is cut: its id and the tree of its usable area."""


def without_line(trees: Trees, line: int) -> Trees:
    """Return the trees without the blanks of one order line, empty sheets put back."""
    left = ((name, _without(tree, line)) for name, tree in trees)
    return tuple((name, merged(tree)) for name, tree in left if not tree.is_leftover)


def merged(part: Part) -> Part:
    """Return a tree in which the leftovers of every row are one, at its far end.

    >>> blank = Part(2, 5, piece=0)
    >>> [one.width for one in merged(Part(9, 5, "x", (Part(3, 5), blank, Part(4, 5)))).parts]
    [2, 7]
    """
    if part.is_leftover:
        return Part(part.width, part.height)
    if part.along is None:
        return part
    kept = [merged(one) for one in part.parts if not one.is_leftover]
    left = [one for one in part.parts if one.is_leftover]
    if left and part.along == "x":
        kept.append(Part(sum(one.width for one in left), part.height))
    elif left:
        kept.append(Part(part.width, sum(one.height for one in left)))
    return kept[0] if len(kept) == 1 else replace(part, parts=tuple(kept))


def _without(part: Part, line: int) -> Part:
    if part.piece == line:
        return Part(part.width, part.height)
    return replace(part, parts=tuple(_without(one, line) for one in part.parts))
