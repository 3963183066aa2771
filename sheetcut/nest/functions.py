"""Dual feasible functions: other measures of width and height under which the sheet still holds.

A function of lengths is usable when lengths that fit side by side into a run still fit after
each is replaced by its value. Measuring widths with one and heights with another gives every
blank a weight that no sheet can exceed.

Source:
    S. P. Fekete and J. Schepers, "A general framework for bounds for higher-dimensional
    orthogonal packing problems", Mathematical Methods of Operations Research 60 (2004),
    311-329; J. Carlier, F. Clautiaux and A. Moukrim, "New reduction procedures and lower
    bounds for the two-dimensional bin packing problem with fixed orientation", Computers &
    Operations Research 34 (2007).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate

import numpy as np
from numpy.typing import NDArray

EVERY_LENGTH = 300  # up to this run every parameter is tried, beyond it those that matter
MOST_PARAMETERS = 260


@dataclass(frozen=True, slots=True)
class Measure:
    """One function at the lengths that matter.

    Attributes:
        values: at each of the lengths it was made for.
        whole: at the run itself.
    """

    values: tuple[int, ...]
    whole: int


def measures(run: int, lengths: tuple[int, ...], counts: tuple[int, ...]) -> list[Measure]:
    """Return the functions of all families for one run, each different one once.

    Args:
        lengths: distinct, none longer than the run.
        counts: how many blanks have each length; the data-dependent family looks at them.
    """
    x = np.array(lengths, dtype=np.int64)
    found: dict[tuple[tuple[int, ...], int], None] = {}
    rows = [(x, run)]
    for k in parameters(run, lengths):
        rows.append(threshold(x, run, k))
        rows.append(rounding(x, run, k))
        rows.append(counting(x, run, k, counts))
    rows.extend(stepped(x, run, k) for k in range(2, 101))
    for values, whole in rows:
        shared = int(np.gcd.reduce(np.append(values, whole)))
        if shared:
            found[tuple((values // shared).tolist()), whole // shared] = None
    return [Measure(values, whole) for values, whole in found if whole > 0 and any(values)]


def parameters(run: int, lengths: tuple[int, ...]) -> list[int]:
    """Return the whole numbers up to half the run that are worth trying."""
    half = run // 2
    if run <= EVERY_LENGTH:
        return list(range(1, half + 1))
    near = {n for x in lengths for n in (x, run - x, run - x + 1, x + 1)}
    parts = {x // j for x in (*lengths, run) for j in (1, 2, 3, 4)}
    rest = {(run - x) // j + 1 for x in lengths for j in (1, 2, 3, 4)}
    worth = sorted(k for k in near | parts | rest if 1 <= k <= half)
    stride = -(-len(worth) // MOST_PARAMETERS) or 1
    return worth[::stride]


def threshold(x: NDArray[np.int64], run: int, k: int) -> tuple[NDArray[np.int64], int]:
    """Lengths below k count nothing, lengths above run - k the whole run."""
    return np.where(x < k, 0, np.where(x > run - k, run, x)), run


def rounding(x: NDArray[np.int64], run: int, k: int) -> tuple[NDArray[np.int64], int]:
    """Lengths count in multiples of k, the large ones by what they leave."""
    whole = run // k
    large = 2 * (whole - (run - x) // k)
    values = np.where(2 * x > run, large, np.where(2 * x == run, whole, 2 * (x // k)))
    return values, 2 * whole


def counting(
    x: NDArray[np.int64], run: int, k: int, counts: tuple[int, ...]
) -> tuple[NDArray[np.int64], int]:
    """A length from k to half the run counts one, a longer one as many as it keeps out."""
    small = sorted(
        length
        for length, n in zip(x.tolist(), counts, strict=True)
        for _ in range(n if k <= length and 2 * length <= run else 0)
    )
    sums = np.array(list(accumulate(small)), dtype=np.int64)
    most = np.searchsorted(sums, np.array([run]), side="right")[0]
    kept = np.searchsorted(sums, run - x, side="right")
    values = np.where(2 * x > run, most - kept, np.where(x >= k, 1, 0))
    return values.astype(np.int64), int(most)


def stepped(x: NDArray[np.int64], run: int, k: int) -> tuple[NDArray[np.int64], int]:
    """Lengths count in k-ths of the run, those that hit a step exactly as they are."""
    times = (k + 1) * x
    return np.where(times % run == 0, k * x, times // run * run), k * run


def greatest(run: int, lengths: tuple[int, ...], values: tuple[int, ...]) -> int:
    """Return the greatest sum of values of lengths that fit side by side, each as often as liked.

    >>> greatest(10, (3, 4), (3, 5))
    11
    """
    best = [0] * (run + 1)
    useful = [(x, v) for x, v in zip(lengths, values, strict=True) if v > 0 and x <= run]
    for room in range(1, run + 1):
        top = best[room - 1]
        for x, v in useful:
            if x <= room and best[room - x] + v > top:
                top = best[room - x] + v
        best[room] = top
    return best[run]
