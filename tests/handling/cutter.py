"""A cutter who knows the steps alone, on a sheet of any size, readings a little out."""

from __future__ import annotations

from sheetcut.layout import pieces_in_hand

NEAR_FAR = {"x": ("left", "right"), "y": ("foot", "top")}


def cut_by_steps(layout, width, height, error=lambda cut: 0):
    """Return, for each piece the plan leaves, its true left, foot, width and height.

    Only what a step says is used: what is in hand, the edge to measure from, the reading.
    Places are seen from the start corner, so what is missing is missing at the far edges.

    Args:
        width, height: of the usable area as it truly is.
        error: by how much the reading of a cut is out.
    """
    start = layout.start
    span = {"x": (0, width) if start[0] == "left" else (-width, 0),
            "y": (0, height) if start[1] == "foot" else (-height, 0)}  # fmt: skip
    table = {
        (0, 0, *layout.usable[2:]): {
            edge: (span[axis][n], 0) for axis in "xy" for n, edge in enumerate(NEAR_FAR[axis])
        }
    }
    for cut, hand in zip(layout.cuts, pieces_in_hand(layout), strict=True):
        piece = table.pop(hand)
        near, far = NEAR_FAR[cut.along]
        edge, sign = (near, 1) if start[cut.along == "y"] in ("left", "foot") else (far, -1)
        at, maker = piece[edge]
        assert maker == (0 if cut.edge == "start" else cut.edge)
        at += sign * (cut.reading + error(cut))
        at = min(max(at, piece[near][0]), piece[far][0])  # no cut where there is no paper
        low, high = halves(hand, cut)
        table[low] = {**piece, far: (at, cut.number)}
        table[high] = {**piece, near: (at, cut.number)}
    return {nominal: sides(piece) for nominal, piece in table.items()}


def halves(hand, cut):
    """Return the two pieces a cut makes of one, as the plan has them."""
    x, y, width, height = hand
    if cut.along == "x":
        return (x, y, cut.at - x, height), (cut.at, y, x + width - cut.at, height)
    return (x, y, width, cut.at - y), (x, cut.at, width, y + height - cut.at)


def sides(piece):
    """Return left, foot, width and height of a piece given by its edges."""
    left, foot = piece["left"][0], piece["foot"][0]
    return left, foot, piece["right"][0] - left, piece["top"][0] - foot
