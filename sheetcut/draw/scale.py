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


def largest_scale(fits: Callable[[int], bool]) -> int | None:
    """Return n of the largest drawing at 1:n that fits, a standard one where that costs little.

    >>> largest_scale(lambda n: n >= 4), largest_scale(lambda n: n >= 6)
    (5, 6)
    """
    largest = next((n for n in range(1, COARSEST + 1) if fits(n)), None)
    if largest is None:
        return None
    standard = (n for n in STANDARD if largest <= n <= largest * WORTH and fits(n))
    return next(standard, largest)


def scale_text(n: int) -> str:
    """Return a scale as a drawing states it.

    >>> scale_text(5)
    'scale 1 : 5'
    """
    return f"scale 1 : {n}"
