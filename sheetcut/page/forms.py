"""What forms of rows share: cells as typed, what is wrong by field, and both versions of a row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from flask import render_template, request

from sheetcut.drawer.refusals import NameTaken
from sheetcut.errors import ProblemsFound
from sheetcut.kept_tables import Cells
from sheetcut.page.changing import version_of


def typed_cells(headings: Sequence[str]) -> Cells:
    """Return what was typed, by heading."""
    return {name: request.form.get(name.replace(" ", "-"), "").strip() for name in headings}


def by_field(error: ProblemsFound | NameTaken, headings: Sequence[str]) -> dict[str, list[str]]:
    """Return what is wrong by the field it stands under; the first heading is the row's name."""
    if isinstance(error, NameTaken):
        return {headings[0]: [str(error)]}
    found: dict[str, list[str]] = {}
    for problem in error.problems:
        where = problem.field if problem.field in headings else ""
        found.setdefault(where, []).append(f"{problem.message}; {problem.remedy}")
    return found


def is_overtaken(kept: Mapping[str, str]) -> bool:
    """Whether a row was changed after the form that was sent had been opened."""
    return request.form.get("version") != version_of(tuple(kept.values()))


def both_versions(name: str, typed: Cells, kept: Cells, place: str) -> str:
    """Return both versions of a row, side by side, to choose from.

    Args:
        typed: empty where the row was to be taken out.
        place: the row's own place, as "orders".
    """
    return render_template(
        "stale.html",
        name=name,
        place=place,
        rows=[
            (heading, kept[heading], typed.get(heading, "—"))
            for heading in kept
            if typed.get(heading, "—") != kept[heading]
        ],
        typed=typed,
        version=version_of(tuple(kept.values())),
    )
