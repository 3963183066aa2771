"""Paper shares: the cash of a plan split over its pieces, to the last cent."""

from __future__ import annotations

from collections.abc import Mapping

from sheetcut.units import Area, Cents


def shares(cash: Cents, areas: Mapping[int, Area]) -> dict[int, Cents]:
    """Return the cents each key carries, in proportion to its area, adding up to the cash.

    Every share is its exact proportion rounded down, and the cents then missing go to the
    largest remainders (equal remainders: to the earlier key), the method of Hamilton.

    >>> shares(100, {0: 1, 1: 1, 2: 1})
    {0: 34, 1: 33, 2: 33}
    """
    whole = sum(areas.values())
    if not whole:
        return {}
    exact = {key: divmod(cash * area, whole) for key, area in areas.items()}
    given = {key: floor for key, (floor, _) in exact.items()}
    missing = cash - sum(given.values())
    for key in sorted(exact, key=lambda key: (-exact[key][1], key))[:missing]:
        given[key] += 1
    return given
