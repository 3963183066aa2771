"""What each blank is called: one line, or one for every sheet of a set of twins."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from sheetcut.draw.lettering import clean
from sheetcut.layout import Layout, Placement, Plan

Names = tuple[tuple[str, ...], ...]


def blank_names(plan: Plan, layout: Layout, twins: Sequence[Layout], sheet_numbers: str) -> Names:
    """Return, for each blank of the layout, the lines that name it.

    Where twins carry other names, each line begins with the sheets it holds for.
    """
    alike = (layout, *twins)
    numbers = sheets_numbered(sheet_numbers, sum(one.copies for one in alike))
    labels = _labels(plan)
    lookups = [{_spot(one): labels[one.piece] for one in each.placements} for each in alike]
    names = []
    for placement in layout.placements:
        sheets: dict[str, list[int]] = {}
        waiting = list(numbers)
        for each, lookup in zip(alike, lookups, strict=True):
            label = lookup.get(_spot(placement), "?")
            sheets.setdefault(label, []).extend(waiting[: each.copies])
            del waiting[: each.copies]
        names.append(_lines(sheets))
    return tuple(names)


def _spot(placement: Placement) -> tuple[int, int, int, int]:
    return placement.x, placement.y, placement.width, placement.height


def _lines(sheets: dict[str, list[int]]) -> tuple[str, ...]:
    if len(sheets) == 1:
        return tuple(sheets)
    return tuple(f"{_listed(numbers)}: {label}" for label, numbers in sheets.items())


def _listed(numbers: list[int]) -> str:
    """Return numbers as "1–3, 5"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    spans = (f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)
    return ", ".join(spans)


def sheets_numbered(sheet_numbers: str, copies: int) -> tuple[int, ...]:
    """Return a number for each copy: those written, if there are as many, else from 1.

    >>> sheets_numbered("sheets 2, 3", 2), sheets_numbered("3–5", 3), sheets_numbered("", 2)
    ((2, 3), (3, 4, 5), (1, 2))
    """
    found: list[int] = []
    text = re.sub(r"\bof\s+\d+", "", sheet_numbers)
    for first, last in re.findall(r"(\d{1,4})(?:\s*[–-]\s*(\d{1,4}))?", text):
        found += range(int(first), int(last or first) + 1)
    return tuple(found) if len(found) == copies else tuple(range(1, copies + 1))


def _labels(plan: Plan) -> tuple[str, ...]:
    """Return every order line's label, with its order where another line has the same.

    What is cut only because there was room says so: it may be left out at the mat.
    """
    labels = [clean(piece.label) or clean(piece.order) for piece in plan.job.pieces]
    often = Counter(labels)
    return tuple(
        (f"{label} ({clean(piece.order)})" if often[label] > 1 else label)
        + (", if room" if piece.if_room else "")
        for label, piece in zip(labels, plan.job.pieces, strict=True)
    )
