"""Whether leftovers worth keeping are kept under names of their own, and twins are twins."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from sheetcut.check.case import (
    LayoutCase,
    LayoutCheck,
    PaperCase,
    PaperCheck,
    PlanCase,
    place,
    size,
)
from sheetcut.errors import Fault
from sheetcut.layout import Layout
from sheetcut.units import Length


def keepers_are_leftovers(case: LayoutCase) -> Iterator[Fault]:
    """Each keeper is one of the leftovers, large enough, with a name for every copy."""
    leftovers = Counter(tuple(leftover) for leftover in case.layout.leftovers)
    for keeper in case.layout.keepers:
        where = f"the keeper {', '.join(keeper.names)}".rstrip()
        rectangle = keeper.x, keeper.y, keeper.width, keeper.height
        if not leftovers[rectangle]:
            yield case.fault(
                f"{where}, {size(keeper.width, keeper.height)} at {place(keeper.x, keeper.y)}, "
                "is none of the leftovers, or one that is kept already"
            )
        leftovers[rectangle] -= 1
        if not _worth_keeping(case, keeper.width, keeper.height):
            yield case.fault(
                f"{where} is {size(keeper.width, keeper.height)}; the keep size is "
                f"{_keep_size(case)}"
            )
        if len(keeper.names) != case.layout.copies:
            yield case.fault(
                f"{where} has {len(keeper.names)} names for {case.layout.copies} copies"
            )


def nothing_thrown_away(case: LayoutCase) -> Iterator[Fault]:
    """Every leftover of the keep size is a keeper."""
    kept = Counter((one.x, one.y, one.width, one.height) for one in case.layout.keepers)
    for leftover in case.layout.leftovers:
        x, y, width, height = leftover
        if _worth_keeping(case, width, height) and not kept[leftover]:
            yield case.fault(
                f"the leftover {size(width, height)} at {place(x, y)} is worth keeping "
                f"(from {_keep_size(case)}) and is not a keeper"
            )
        kept[leftover] -= 1


KEEPER_CHECKS: tuple[LayoutCheck, ...] = (keepers_are_leftovers, nothing_thrown_away)


def twins_are_alike(case: PaperCase) -> Iterator[Fault]:
    """Layouts share a twins number exactly if they are cut alike."""
    for n, one in enumerate(case.layouts):
        for other in case.layouts[n + 1 :]:
            alike = _cut_alike(one.layout) == _cut_alike(other.layout)
            twins = one.layout.twins == other.layout.twins
            if alike and not twins:
                yield case.fault(
                    f"{one.where} and {other.where} are cut alike, and their twins numbers are "
                    f"{one.layout.twins} and {other.layout.twins}"
                )
            if twins and not alike:
                yield case.fault(
                    f"{one.where} and {other.where} share the twins number {one.layout.twins} "
                    "and are not cut alike"
                )


def twins_differ_in_names(case: PaperCase) -> Iterator[Fault]:
    """Sheets that are alike in names too are copies of one layout."""
    seen: dict[object, str] = {}
    for one in case.layouts:
        key = _cut_alike(one.layout), _names(one.layout)
        if key in seen:
            yield case.fault(
                f"{seen[key]} and {one.where} are alike, names included; they are copies of one"
            )
        seen.setdefault(key, one.where)


TWIN_CHECKS: tuple[PaperCheck, ...] = (twins_are_alike, twins_differ_in_names)


def names_stand_once(case: PlanCase) -> Iterator[Fault]:
    """A keeper's name is its own, in the whole plan and beside the drawer."""
    drawer = {name for sheet in case.plan.job.sheets for name in (sheet.id, sheet.name)}
    seen: dict[str, str] = {}
    for layout in (layout for paper in case.papers for layout in paper.layouts):
        for name in (name for keeper in layout.layout.keepers for name in keeper.names):
            if name in drawer:
                yield layout.fault(f"a keeper is named {name}, as a sheet in the drawer is")
            if name in seen:
                yield layout.fault(f"a keeper is named {name}, as one is on {seen[name]}")
            seen.setdefault(name, layout.where)


def _worth_keeping(case: LayoutCase, width: Length, height: Length) -> bool:
    rules = case.plan.job.rules
    return min(width, height) >= rules.keep_short and max(width, height) >= rules.keep_long


def _keep_size(case: LayoutCase) -> str:
    return size(case.plan.job.rules.keep_short, case.plan.job.rules.keep_long)


def _cut_alike(layout: Layout) -> tuple[object, ...]:
    """Return all that twins have in common: the sheet and everything the knife does."""
    blanks = sorted((one.x, one.y, one.width, one.height) for one in layout.placements)
    return layout.sheet, layout.start, layout.squaring, layout.cuts, tuple(blanks)


def _names(layout: Layout) -> tuple[object, ...]:
    return tuple(sorted((one.x, one.y, one.piece, one.turned) for one in layout.placements))
