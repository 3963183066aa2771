"""What is planned around: a plan that stands, and the day that orders are due by."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from sheetcut.cli.shown import WRONG, Shown

if TYPE_CHECKING:
    from datetime import date

    from sheetcut.answers.keeping import Kept
    from sheetcut.layout import Plan


def typed_day(text: str) -> date:
    """Return the day that is typed."""
    from sheetcut.read.dates import read_day  # noqa: PLC0415
    from sheetcut.read.refusal import Refused  # noqa: PLC0415

    try:
        return read_day(text)
    except Refused as refused:
        raise Shown(f"--due: {refused.message}; {refused.remedy}", WRONG) from refused


def kept_lines(before: Plan, kept: Kept) -> Iterator[str]:
    """Yield which layouts are as they were, which changed, which are new, which are gone."""
    from sheetcut.printout import layout_titles  # noqa: PLC0415

    titles = layout_titles(kept.plan)
    for word, says in (("stays", "as they were"), ("changed", "changed"), ("new", "new")):
        named = [title for title, one in zip(titles, kept.words, strict=True) if one == word]
        if named:
            yield f"{says}: {'; '.join(dict.fromkeys(named))}"
    old = layout_titles(before)
    if kept.gone:
        named = [old[place] for place in kept.gone]
        yield f"no longer as in plan {before.code}: {'; '.join(dict.fromkeys(named))}"
