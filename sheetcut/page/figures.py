"""Small drawings of the page as numbers, for its templates: paper in hand, in the drawer, more."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sheetcut.answers.margins import MarginStep
from sheetcut.answers.several import Position
from sheetcut.draw.steps import Step
from sheetcut.draw.view import Rect, View
from sheetcut.job import Sheet
from sheetcut.units import Length, in_mm

HAND_LONG = 300.0
DRAWER_LONG = 208.0
STAIR_WIDE, STAIR_HIGH = 560.0, 150.0


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle with its upper left corner, as SVG has it."""

    x: float
    y: float
    width: float
    height: float
    words: str = ""
    is_upright: bool = False

    @property
    def middle(self) -> tuple[float, float]:
        """Where words stand in it."""
        return round(self.x + self.width / 2, 1), round(self.y + self.height / 2, 1)


@dataclass(frozen=True, slots=True)
class InHand:
    """The piece in hand with its cut.

    Attributes:
        edge: from x1, y1 to x2, y2: what to measure from; None where a deckle comes off.
        cut: where the knife goes.
        measure: from the edge to the cut, beside the paper.
        blanks: what comes out of it.
    """

    width: float
    height: float
    edge: tuple[float, float, float, float] | None
    cut: tuple[float, float, float, float]
    measure: tuple[float, float, float, float] | None
    is_across: bool
    blanks: tuple[Box, ...]


def in_hand(step: Step, view: View) -> InHand:
    """Return the drawing of one step: the long side of the paper always equally long."""
    hand = step.hand
    scale = HAND_LONG / max(hand.width, hand.height)
    width, height = hand.width * scale, hand.height * scale

    def across(x: Length) -> float:
        return round((x - hand.x) * scale, 1)

    def down(y: Length) -> float:
        return round(height - (y - hand.y) * scale, 1)

    over = 12.0
    upright = step.along == "x"
    if upright:
        at = across(step.at)
        cut = (at, -over, at, height + over)
        edge = (0.0, 0.0, 0.0, height)
        measure = (0.0, height + 30, at, height + 30)
    else:
        at = down(step.at)
        cut = (-over, at, width + over, at)
        edge = (0.0, height, width, height)
        measure = (-30.0, height, -30.0, at)
    if step.kind == "squaring" and step.edge:
        # On a squared start the ruler begins at the usable area's edge, not at the sheet's.
        x, y = across(0), down(0)
        edge = (x, 0.0, x, height) if upright else (0.0, y, width, y)
        measure = (x, height + 30, at, height + 30) if upright else (-30.0, y, -30.0, at)
    return InHand(
        width=round(width, 1),
        height=round(height, 1),
        edge=edge if step.edge else None,
        cut=cut,
        measure=measure if step.edge else None,
        is_across=upright,
        blanks=tuple(
            Box(
                across(blank.edge.x),
                down(blank.edge.top),
                round(blank.edge.width * scale, 1),
                round(blank.edge.height * scale, 1),
                blank.piece.order,
                blank.edge.width < blank.edge.height,
            )
            for blank in view.blanks
            if _lies_in(blank.edge, hand)
        ),
    )


def _lies_in(one: Rect, hand: Rect) -> bool:
    return (
        hand.x <= one.x
        and one.right <= hand.right
        and hand.y <= one.y
        and one.top <= hand.top
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Lying:
    """A sheet in the drawer, drawn to the drawer's one scale.

    Attributes:
        more: how many further sheets show under it.
        usable: inside its edge losses; None where nothing is lost.
        fibres: three strokes that show the grain.
    """

    width: float
    height: float
    more: tuple[float, ...]
    usable: Box | None
    fibres: tuple[tuple[float, float, float, float], ...]


def lying(sheet: Sheet, longest: Length) -> Lying:
    """Return a sheet to scale, the longest of the drawer as long as there is room."""
    scale = DRAWER_LONG / longest
    width, height = round(sheet.width * scale, 1), round(sheet.height * scale, 1)
    loss = sheet.edge_loss
    usable = None
    if any(loss):
        usable = Box(
            round(loss.left * scale, 1),
            round(loss.top * scale, 1),
            round(sheet.usable_width * scale, 1),
            round(sheet.usable_height * scale, 1),
        )
    under = 0 if sheet.on_hand is None else max(0, min(3, sheet.on_hand - 1))
    if sheet.on_hand is None:
        under = 3
    return Lying(
        width, height, tuple(3.0 * n for n in range(under, 0, -1)), usable,
        _fibres(sheet, width, height),
    )  # fmt: skip


def _fibres(
    sheet: Sheet, width: float, height: float
) -> tuple[tuple[float, float, float, float], ...]:
    """Return three strokes along the grain in the lower right corner."""
    if sheet.grain not in ("along width", "along height"):
        return ()
    right, foot, long = width - 10, height - 10, min(22.0, width / 3, height / 3)
    if sheet.grain == "along height":
        return tuple((right - 4 * n, foot - long, right - 4 * n, foot) for n in range(3))
    return tuple((right - long, foot - 4 * n, right, foot - 4 * n) for n in range(3))


@dataclass(frozen=True, slots=True)
class Stair:
    """Margin steps as a stair, the margin to the right.

    Attributes:
        path: of the stair itself.
        labels: x, y, how many from a sheet, and the widest margin that still gives them.
        yours: where the margin asked for lies; None off the stair.
    """

    path: str
    labels: tuple[tuple[float, float, int, str, float], ...]
    yours: tuple[float, float] | None


def stair(steps: Sequence[MarginStep], margin: Length, ends: Length) -> Stair:
    """Return the stair from no margin to the end of the second step after the one asked for."""
    shown = [one for one in steps if one.least <= ends]
    last = max(shown[-1].most if len(shown) == len(steps) else ends, 1)
    per = (STAIR_WIDE - 40) / last
    top = max(one.count for one in shown)
    rise = (STAIR_HIGH - 60) / max(1, top)
    left = 20.0
    path, labels = [], []
    here = None
    for n, one in enumerate(shown):
        # A stair rises where the step below it ends, so that it stands upright.
        x0 = left + (shown[n - 1].most if n else 0) * per
        x1 = left + min(one.most, last) * per
        y = round(24 + (top - one.count) * rise, 1)
        path.append(f"{'M' if n == 0 else 'L'}{x0:.1f} {y}L{x1:.1f} {y}")
        ends_at = f"{in_mm(one.most):f}" if one.most <= last else ""
        labels.append((round(x0, 1), y, one.count, ends_at, round(x1, 1)))
        if one.least <= margin <= one.most:
            here = (round(left + margin * per, 1), y)
    return Stair("".join(path), tuple(labels), here)


@dataclass(frozen=True, slots=True)
class Places:
    """A sheet with the places to print on it, as it goes into the printer.

    Attributes:
        usable: what the printer reaches; None where that is the whole sheet.
        across, down: along the left edge of each place and its top: where, and the figure.
    """

    width: float
    height: float
    usable: Box | None
    boxes: tuple[Box, ...]
    across: tuple[tuple[float, str], ...]
    down: tuple[tuple[float, str], ...]


def places_of(sheet: Sheet, positions: Sequence[Position]) -> Places:
    """Return the places on a sheet, the long side of the sheet always equally long."""
    scale = HAND_LONG / max(sheet.width, sheet.height)

    def at(length: Length) -> float:
        return round(length * scale, 1)

    def ticks(lengths: Iterable[Length]) -> tuple[tuple[float, str], ...]:
        return tuple((at(one), f"{in_mm(one):f}") for one in sorted(set(lengths)))

    loss = sheet.edge_loss
    usable = Box(at(loss.left), at(loss.top), at(sheet.usable_width), at(sheet.usable_height))
    return Places(
        width=at(sheet.width),
        height=at(sheet.height),
        usable=usable if any(loss) else None,
        boxes=tuple(
            Box(at(one.left), at(one.top), at(one.width), at(one.height), str(one.number))
            for one in positions
        ),
        across=ticks(one.left for one in positions),
        down=ticks(one.top for one in positions),
    )
