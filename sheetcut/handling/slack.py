"""How much smaller a sheet may turn out than it was measured, before its layout fails."""

from __future__ import annotations

from sheetcut.layout import Layout
from sheetcut.units import Length


def slack(layout: Layout) -> tuple[Length, Length]:
    """Return how much narrower and how much shorter the usable area may be.

    Every reading is taken from the start corner's side, so a sheet that is too small lacks
    paper at its far edges alone: what no blank reaches into there can be missing. Of a
    leave-on nothing is asked, so it may be missing too. Keepers may come out smaller.
    """
    width, height = layout.usable[2:]
    across = up = 0
    for one in layout.placements:
        if layout.start[0] == "left":
            across = max(across, one.x + one.width - one.leave_on.right)
        else:
            across = max(across, width - one.x - one.leave_on.left)
        if layout.start[1] == "foot":
            up = max(up, one.y + one.height - one.leave_on.top)
        else:
            up = max(up, height - one.y - one.leave_on.foot)
    return width - across, height - up
