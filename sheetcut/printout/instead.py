"""A paper's alternatives in words: what each asks of the hands and leaves, beside the plan."""

from __future__ import annotations

from collections.abc import Iterable

from sheetcut.cost import percent
from sheetcut.draw.measures import is_read_in_inches, size_text
from sheetcut.handling import figures_of
from sheetcut.layout import Layout, PaperPlan, Plan
from sheetcut.units import TICKS_PER_MM

TICKS_PER_METRE = 1_000 * TICKS_PER_MM
AS_PLANNED = "as planned"

Row = tuple[str, ...]
"""Which plan it is, cuts, ruler settings, cuts over the mat where that is known, how far the
knife travels, largest keeper, scrap."""


def alternative_rows(plan: Plan, paper: PaperPlan) -> tuple[Row, ...]:
    """Return the figures of a paper's plan and of each alternative; nothing where there is none."""
    if not paper.alternatives:
        return ()
    ways = [(AS_PLANNED, paper.layouts)]
    ways += [(one.kind, one.layouts) for one in paper.alternatives]
    return tuple(_row(plan, paper, word, layouts) for word, layouts in ways)


def _row(plan: Plan, paper: PaperPlan, word: str, layouts: Iterable[Layout]) -> Row:
    layouts = tuple(layouts)
    figures = figures_of(plan.job, layouts)
    inches = is_read_in_inches(plan.job, paper.paper)
    keeper = "keeps nothing"
    if figures.largest_keeper is not None:
        unit = "in" if inches else "mm"
        keeper = f"keeps {size_text(*figures.largest_keeper, inches=inches)} {unit}"
    measured = sum(one.copies * one.width * one.height for one in layouts)
    return (
        word,
        f"{figures.cuts} cuts",
        f"{figures.settings} settings",
        *([f"{figures.over_mat} over the mat"] if plan.job.rules.mat else []),
        f"{round(figures.effort / TICKS_PER_METRE)} m of knife",
        keeper.replace("×", "x"),
        f"{percent(figures.scrap, measured)} % scrap",
    )


def alternative_lines(plan: Plan, paper: PaperPlan) -> tuple[str, ...]:
    """Return the same as lines, figures one below the other."""
    rows = alternative_rows(plan, paper)
    columns = len(rows[0]) if rows else 0
    widths = [max(len(row[column]) for row in rows) for column in range(columns)]
    lines = []
    for row in rows:
        word, *figures, keeper, scrap = row
        cells = [f"{word:<{widths[0]}}"]
        cells += [f"{one:>{widths[n]}}" for n, one in enumerate(figures, start=1)]
        lines.append("   ".join((*cells, f"{keeper:<{widths[-2]}}", scrap)))
    return tuple(lines)


def alternative_sentences(plan: Plan, paper: PaperPlan) -> tuple[str, ...]:
    """Return the same as sentences, the plan's own figures first."""
    return tuple(
        f"{word[:1].upper()}{word[1:]}: {', '.join(figures).replace(' x ', ' × ')}."
        for word, *figures in alternative_rows(plan, paper)
    )
