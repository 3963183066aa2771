"""What to know before the first cut: the check for squareness, what must hold, how to cut."""

from __future__ import annotations

from math import hypot

from sheetcut.draw.measures import length_text, rounded_text, size_text, small_fractions
from sheetcut.draw.view import View
from sheetcut.job import Paper, Sheet, passes_of
from sheetcut.units import TICKS_PER_INCH, TICKS_PER_MM

COUNTED = ("no", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten")


def reminders(
    view: View, sheet: Sheet, paper: Paper, *, inches: bool, has_grain: bool
) -> tuple[str, ...]:
    """Return the sentences that stand under the drawing."""
    said = [_square(view, inches=inches), _slack(view, inches=inches)]
    if view.cuts:
        said.append(_cutting(view, paper, inches=inches))
    if view.grain and not has_grain:
        said.append(f"The grain runs {'up' if view.grain == 'y' else 'across'} the sheet.")
    if sheet.side == "one":
        said.append("Only one side can be used: turn pieces on the table, never over.")
    said += [
        f"{_capital(small_fractions(flag.words))}." for flag in view.flags if flag.number is None
    ]
    return tuple(said)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _square(view: View, *, inches: bool) -> str:
    width, height = view.usable.width, view.usable.height
    across, up = length_text(width, inches=inches), length_text(height, inches=inches)
    diagonal = rounded_text(hypot(width, height), inches=inches)
    return f"Square? Mark {across} along the foot and {up} up the left; mark to mark is {diagonal}."


def _slack(view: View, *, inches: bool) -> str:
    right, top = view.usable.width - view.slack[0], view.usable.height - view.slack[1]
    inside = " inside the deckle" if view.deckles else ""
    if not inside and any(view.loss):
        inside = " inside its edge losses"
    return f"Holds if the sheet measures at least {size_text(right, top, inches=inches)}{inside}."


def _cutting(view: View, paper: Paper, *, inches: bool) -> str:
    ticks = sum(cut.stop - cut.start for cut in view.cuts)
    long = f"{ticks / TICKS_PER_MM / 1000:.2f} m"
    if inches:
        long = f"{round(ticks / TICKS_PER_INCH)} in"
    count, told = passes_of(paper), ""
    if count is None:
        strokes = "Several light passes"
    else:
        word = COUNTED[count] if 0 < count < len(COUNTED) else str(count)
        strokes = f"{word} light pass{'es' if count != 1 else ''}"
        told = "" if paper.passes is not None else " (by its weight; try it)"
    return f"{strokes} a cut{told}; {long} of cutting. Do not measure from this drawing."
