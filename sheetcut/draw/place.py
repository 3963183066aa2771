"""Where things stand: the drawing's corner and scale, and the room already taken."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sheetcut.draw.view import Rect
from sheetcut.units import TICKS_PER_MM, Length

Box = tuple[float, float, float, float]
"""Left, top, right and foot in mm on the page, y downwards."""

Boxes = NDArray[np.float64]
"""Boxes as rows: left, top, right, foot."""

EDGE = 1e-9  # boxes that share no more than this touch


@dataclass(frozen=True, slots=True)
class Place:
    """The start corner's place on the page, and the scale 1:n."""

    n: int
    x_mm: float = 0.0
    y_mm: float = 0.0

    def long(self, length: Length) -> float:
        """Return how long a length is drawn, in mm."""
        return length / TICKS_PER_MM / self.n

    def x(self, length: Length) -> float:
        """Return the page's x of a distance from the start corner to the right."""
        return self.x_mm + self.long(length)

    def y(self, length: Length) -> float:
        """Return the page's y of a distance from the start corner up."""
        return self.y_mm - self.long(length)

    def box(self, rect: Rect) -> Box:
        """Return a rectangle of paper as it is drawn."""
        return self.x(rect.x), self.y(rect.top), self.x(rect.right), self.y(rect.y)


class Taken:
    """Room on the page that something stands in already.

    Attributes:
        clashes: how often something had to be put where no room was.
        leaves_out: whether words that find no room on the spot are left out instead.
    """

    def __init__(self, boxes: Iterable[Box] = (), *, leaves_out: bool = False) -> None:
        self.boxes = list(boxes)
        self.clashes = 0
        self.leaves_out = leaves_out
        self._rows: Boxes = np.empty((0, 4))
        self._filled = 0  # rows that hold a box; the rest is room for boxes to come

    def add(self, box: Box) -> None:
        """Take room."""
        self.boxes.append(box)

    def near(self, box: Box) -> Taken:
        """Return only what reaches into a box, to look through quickly."""
        return Taken(self.boxes[n] for n in self._reaching(box))

    def rows_near(self, box: Box) -> Boxes:
        """Return what reaches into a box, as rows."""
        reaching = self._reaching(box)
        return self._rows[reaching]

    def _reaching(self, box: Box) -> NDArray[np.intp]:
        rows = self._all_rows()
        left, top, right, foot = box
        return np.flatnonzero(
            (left < rows[:, 2] - EDGE)
            & (rows[:, 0] < right - EDGE)
            & (top < rows[:, 3] - EDGE)
            & (rows[:, 1] < foot - EDGE)
        )

    def _all_rows(self) -> Boxes:
        """Return all boxes as rows; only those added since the last time are copied."""
        count = len(self.boxes)
        if count > len(self._rows):
            wider = np.empty((2 * count, 4))
            wider[: self._filled] = self._rows[: self._filled]
            self._rows = wider
        if count > self._filled:
            self._rows[self._filled : count] = self.boxes[self._filled :]
            self._filled = count
        return self._rows[:count]

    def is_free(self, box: Box) -> bool:
        """Whether nothing stands there yet; touching is allowed."""
        left, top, right, foot = box[0] + EDGE, box[1] + EDGE, box[2] - EDGE, box[3] - EDGE
        for other in self.boxes:
            if other[0] < right and left < other[2] and other[1] < foot and top < other[3]:
                return False
        return True


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes share room."""
    return (
        one[0] < other[2] - EDGE
        and other[0] < one[2] - EDGE
        and one[1] < other[3] - EDGE
        and other[1] < one[3] - EDGE
    )


def grown(box: Box, by: float) -> Box:
    """Return a box with so much more room on each side."""
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def lies_in(one: Box, room: Box) -> bool:
    """Whether a box lies in another; touching its sides is allowed."""
    return one[0] >= room[0] and one[1] >= room[1] and one[2] <= room[2] and one[3] <= room[3]
