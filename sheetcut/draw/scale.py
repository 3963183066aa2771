"""The scale of a drawing: a standard one where it fits, else the largest whole one.

Source:
    ISO 5455:1979, reduction scales 1:2, 1:5, 1:10, 1:20, 1:50 (from memory of the standard).
"""

from __future__ import annotations

from collections.abc import Callable

STANDARD = (1, 2, 5, 10, 20, 50)

WORTH = 1.3
"""A standard scale is taken while the drawing stays about four fifths as large (our taste)."""

COARSEST = 60


def standard_scale(largest: int, fits: Callable[[int], bool]) -> int:
    """Return n of the standard scale 1:n nearest to the largest that fits, else the largest.

    >>> standard_scale(4, lambda n: n >= 4), standard_scale(6, lambda n: n >= 6)
    (5, 6)
    """
    near = (n for n in STANDARD if largest <= n <= largest * WORTH and fits(n))
    return next(near, largest)


def scale_text(n: int) -> str:
    """Return a scale as a drawing states it.

    >>> scale_text(5)
    'scale 1 : 5'
    """
    return f"scale 1 : {n}"
