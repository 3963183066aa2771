"""Slivers too narrow to cut cleanly are left on the drawings beside them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sheetcut.cuts.marks import marks_and_leaves
from sheetcut.cuts.regroup import ACROSS, without_needless_levels
from sheetcut.job import Job, Sheet
from sheetcut.layout import Axis, Part
from sheetcut.units import Length


def with_leave_ons(
    tree: Part, sheet: Sheet, job: Job, *, start: tuple[str, str] = ("left", "foot")
) -> Part:
    """Return a tree in which no leftover under the narrowest strip is cut off a drawing.

    Such a leftover goes to what it lies beside: to every blank along it, if all of them are
    drawings, and to the leftovers among them. A bigger margin harms no drawing; the borders of
    a print are as ordered, so beside a print the strip stays. So does a strip at a far edge
    that carries a loss which no blank needs trimmed: it comes off together with that.
    """
    narrowest = job.rules.narrowest_strip
    if not narrowest:
        return tree
    spared = frozenset(_losing_axes(tree, sheet, start))
    grower = _Grower(narrowest, job, spared)
    grown = grower.settled(tree, frozenset(("x", "y")))
    return tree if grown == tree else without_needless_levels(grown)


def _losing_axes(tree: Part, sheet: Sheet, start: tuple[str, str]) -> Iterator[Axis]:
    """Yield the axes whose far edge carries a loss that no blank touches."""
    _, leaves = marks_and_leaves(tree)
    blanks = [leaf for leaf in leaves if leaf.part.piece is not None]
    loss = sheet.edge_loss
    across = loss.right if start[0] == "left" else loss.left
    up = loss.top if start[1] == "foot" else loss.foot
    if across and all(leaf.x + leaf.part.width < tree.width for leaf in blanks):
        yield "x"
    if up and all(leaf.y + leaf.part.height < tree.height for leaf in blanks):
        yield "y"


@dataclass(frozen=True, slots=True)
class _Grower:
    """What may grow, and by how much at the most."""

    narrowest: Length
    job: Job
    spared: frozenset[Axis]

    def settled(self, part: Part, far: frozenset[Axis]) -> Part:
        """Return a part without narrow leftovers, as far as that can be.

        Args:
            far: the axes along which it reaches the far edge of the sheet.
        """
        if part.along is None:
            return part
        *before, last = part.parts
        is_spared = part.along in far & self.spared
        if before and last.is_leftover and not is_spared:
            rest = last.width if part.along == "x" else last.height
            wider = self.grown(before[-1], part.along, rest) if rest < self.narrowest else None
            if wider is not None:
                part = replace(part, parts=(*before[:-1], wider))
        inner = far - {part.along}
        *before, last = part.parts
        settled = (*(self.settled(one, inner) for one in before), self.settled(last, far))
        return settled[0] if len(settled) == 1 else replace(part, parts=settled)

    def grown(self, part: Part, along: Axis, by: Length) -> Part | None:
        """Return a part that is longer at its far end, or None if a blank there may not be."""
        wider = replace(
            part,
            width=part.width + (by if along == "x" else 0),
            height=part.height + (by if along == "y" else 0),
        )
        if part.piece is not None:
            return wider if self.job.pieces[part.piece].kind == "drawing" else None
        if part.along is None or part.is_leftover:
            return replace(wider, along=None, parts=())
        if part.along == ACROSS[along]:
            all_grown = [self.grown(one, along, by) for one in part.parts]
            parts = tuple(one for one in all_grown if one is not None)
            return replace(wider, parts=parts) if len(parts) == len(part.parts) else None
        # Only the last may grow: readings before it would fall between the marks of the ruler.
        last = self.grown(part.parts[-1], along, by)
        return None if last is None else replace(wider, parts=(*part.parts[:-1], last))
