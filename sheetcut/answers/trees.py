"""Cut trees of a whole plan, and one line taken out of them."""

from __future__ import annotations

from dataclasses import replace

from sheetcut.if_room import Trees, merged
from sheetcut.layout import Part


def without_line(trees: Trees, line: int) -> Trees:
    """Return the trees without the blanks of one order line, empty sheets put back."""
    left = ((name, _without(tree, line)) for name, tree in trees)
    return tuple((name, merged(tree)) for name, tree in left if not tree.is_leftover)


def _without(part: Part, line: int) -> Part:
    if part.piece == line:
        return Part(part.width, part.height)
    return replace(part, parts=tuple(_without(one, line) for one in part.parts))
