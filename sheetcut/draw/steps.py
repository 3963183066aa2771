"""The steps in words: what is in hand, which edge to measure from, the reading, and warnings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sheetcut.draw.measures import length_text, size_text, small_fractions
from sheetcut.draw.view import Rect, SeenCut, SeenSquaring, View
from sheetcut.layout import Axis
from sheetcut.units import Length

CutKind = Literal["squaring", "cut"]
LEVELS = {1: "long cut", 2: "cross cut"}
DEEPER = "deeper cut"
NEAR_SIDE: dict[Axis, Literal["left", "foot"]] = {"x": "left", "y": "foot"}


@dataclass(frozen=True, slots=True)
class Step:
    """One numbered step.

    Attributes:
        reading: as the ruler shows it.
        what, whence: the two halves of its words: "long cut", "from the left".
        hand: the piece in hand; for squaring, the sheet.
        along, at: where the cut lies in this view.
        edge: the side of the piece in hand to measure from; None where a deckle comes off.
        notes: what to mind, a few words each.
    """

    kind: CutKind
    number: int
    reading: str
    what: str
    whence: str
    hand: Rect
    hand_text: str
    along: Axis
    at: Length
    edge: Literal["left", "foot"] | None
    notes: tuple[str, ...]


def steps_of(view: View, *, inches: bool) -> tuple[Step, ...]:
    """Return the steps of a layout in the order they are made."""
    squaring = [
        _squaring(one, view, is_first=n == 0, inches=inches) for n, one in enumerate(view.squaring)
    ]
    settings: dict[int, int] = {}
    cuts = []
    for cut in view.cuts:
        first = settings.setdefault(cut.cut.setting, cut.cut.number)
        notes = _notes(view, cut.cut.number)
        if first != cut.cut.number:
            notes = (f"ruler as for {first}", *notes)
        cuts.append(_step(cut, notes, inches=inches))
    return (*squaring, *cuts)


def _squaring(one: SeenSquaring, view: View, *, is_first: bool, inches: bool) -> Step:
    along: Axis = "x" if one.edge in ("left", "right") else "y"
    is_start = one.edge in ("left", "foot")
    loss = "deckle" if one.edge in view.deckles else "edge"
    notes: tuple[str, ...] = ()
    told = _notes(view, one.number)
    if is_start and not told:
        notes = ("dead straight",) if is_first else ("square to it",)
    side = NEAR_SIDE[along]
    return Step(
        "squaring",
        one.number,
        length_text(one.reading, inches=inches),
        f"trim the {one.edge}",
        loss if is_start else f"{loss}, from the {side}",
        view.measured,
        "",
        along,
        0 if is_start else one.reading,
        None if is_start else side,
        (*notes, *told),
    )


def _step(cut: SeenCut, notes: tuple[str, ...], *, inches: bool) -> Step:
    side = NEAR_SIDE[cut.along]
    whence = f"from cut {cut.cut.edge}" if cut.is_fresh else f"from the {side}"
    return Step(
        "cut",
        cut.cut.number,
        length_text(cut.cut.reading, inches=inches),
        LEVELS.get(cut.cut.level, DEEPER),
        whence,
        cut.hand,
        size_text(cut.hand.width, cut.hand.height, inches=inches),
        cut.along,
        cut.at,
        side,
        notes,
    )


def _notes(view: View, number: int) -> tuple[str, ...]:
    return tuple(small_fractions(flag.words) for flag in view.flags if flag.number == number)
