"""Whether the drawer holds what the plan takes."""

from __future__ import annotations

from collections.abc import Iterator

from sheetcut.check.case import PaperCase, PaperCheck
from sheetcut.errors import Fault


def enough_on_hand(case: PaperCase) -> Iterator[Fault]:
    """No more sheets are cut than lie in the drawer."""
    cut = case.sheets_cut
    for sheet in case.plan.job.sheets:
        if sheet.on_hand is not None and cut[sheet.id] > sheet.on_hand:
            yield case.fault(
                f"{cut[sheet.id]} of {sheet.title} are cut; the drawer holds {sheet.on_hand}"
            )


def sheets_used_agree(case: PaperCase) -> Iterator[Fault]:
    """The number of sheets used is the copies of the layouts, offcuts too."""
    cut = case.sheets_cut
    for name in dict.fromkeys((*cut, *case.paper.sheets_used)):
        said = case.paper.sheets_used.get(name, 0)
        if said != cut[name]:
            yield case.fault(f"{said} of {name} are said to be used; the layouts cut {cut[name]}")


STOCK_CHECKS: tuple[PaperCheck, ...] = (enough_on_hand, sheets_used_agree)
