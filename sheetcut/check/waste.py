"""Whether every square millimetre is accounted for."""

from __future__ import annotations

from collections.abc import Iterator

from sheetcut.check.case import LayoutCase, LayoutCheck, surface
from sheetcut.errors import Fault


def terms_are_right(case: LayoutCase) -> Iterator[Fault]:
    """Each term of the waste is what the blanks, keepers and edge losses come to."""
    layout, waste = case.layout, case.layout.waste
    finished = asked = blanks = 0
    for placement in layout.placements:
        piece, margin = case.piece(placement), case.piece(placement).margin
        finished += piece.width * piece.height
        asked += (piece.width + margin.left + margin.right) * (
            piece.height + margin.top + margin.foot
        )
        blanks += placement.width * placement.height
    keepers = sum(keeper.width * keeper.height for keeper in layout.keepers)
    usable = layout.usable[2] * layout.usable[3]
    sheet = case.sheet.width * case.sheet.height
    for term, found, expected in (
        ("finished paper", waste.finished, finished),
        ("margins", waste.margins, blanks - finished),
        ("rounding and leave-on", waste.extra, blanks - asked),
        ("keepers", waste.keepers, keepers),
        ("edge losses", waste.edges, sheet - usable),
        ("scrap", waste.scrap, sheet - blanks - keepers),
    ):
        if found != expected:
            yield case.fault(
                f"the waste gives {surface(found)} for {term}; it comes to {surface(expected)}"
            )


def terms_add_up(case: LayoutCase) -> Iterator[Fault]:
    """Finished, margins, keepers and scrap together are the measured sheet."""
    waste = case.layout.waste
    total = waste.finished + waste.margins + waste.keepers + waste.scrap
    sheet = case.sheet.width * case.sheet.height
    if total != sheet:
        yield case.fault(
            f"finished, margins, keepers and scrap come to {surface(total)}; "
            f"the sheet has {surface(sheet)}"
        )


WASTE_CHECKS: tuple[LayoutCheck, ...] = (terms_are_right, terms_add_up)
