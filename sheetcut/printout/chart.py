"""Figures over time as one drawing: paper bought, used and wasted, month by month."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from sheetcut.draw import Drawing, Line, Page, Primitive, Text, svg_text
from sheetcut.draw.primitives import Fill, rectangle
from sheetcut.draw.weights import FINE, RULE
from sheetcut.drawer import Figures
from sheetcut.units import Area, in_mm2

WIDTH_MM = 210.0  # of A4, so that it prints at its own size
LEFT, RIGHT = 26.0, 12.0
HEADING = 30.0  # above the first paper
BLOCK, BARS = 62.0, 36.0  # of one paper, and of its tallest bar
MOST_MONTHS = 12
FEWEST_SLOTS = 6  # so that a first month is no wider than a later one
BAR = 0.26  # of a month's width, so that three stand apart from the next three
STRIPE = 1.4
LARGE, SMALL = 3.5, 2.5  # lettering, from the series of ISO 3098

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
KINDS = ("bought", "used", "wasted")


def figures_chart(found: Sequence[Figures], studio: str) -> str:
    """Return a chart of the last twelve months as SVG: for each paper three bars a month.

    Bars are square metres: bought open, used striped, wasted black. All papers share one
    scale, so that they can be compared.
    """
    return svg_text(chart(found, studio))


def chart(found: Sequence[Figures], studio: str) -> Drawing:
    """Return the chart as a drawing; without figures it says so."""
    months = _months([one.month for one in found])
    papers = sorted({one.paper for one in found if one.month in months})
    title = f"{studio or 'The studio'}: paper by month"
    page = Page("figures", WIDTH_MM, HEADING + max(1, len(papers)) * BLOCK)
    return Drawing(page, title, tuple(_items(found, months, papers, title)))


def _items(
    found: Sequence[Figures], months: Sequence[str], papers: Sequence[str], title: str
) -> Iterator[Primitive]:
    yield Text(title, (LEFT, 12), LARGE, "sans bold")
    if not papers:
        yield Text("Nothing was bought or cut yet.", (LEFT, 24), SMALL)
        return
    yield from _key()
    highest = max(area for one in found if one.month in months for area in _areas(one))
    step = _step(highest)
    most = max(1, -(-highest // step)) * step
    for place, paper in enumerate(papers):
        foot = HEADING + place * BLOCK + 10 + BARS
        yield Text(paper, (LEFT, foot - BARS - 4), SMALL, "sans bold")
        yield from _scale(foot, step, most)
        for rank, month in enumerate(months):
            slot = (WIDTH_MM - LEFT - RIGHT) / max(FEWEST_SLOTS, len(months))
            left = LEFT + rank * slot
            yield Text(_month_text(month), (left + slot / 2, foot + 5), SMALL, anchor="middle")
            for one in found:
                if (one.paper, one.month) == (paper, month):
                    yield from _bars(one, left + slot * (0.5 - 1.5 * BAR), foot, slot * BAR, most)


def _key() -> Iterator[Primitive]:
    for place, kind in enumerate(KINDS):
        left = LEFT + 32 * place
        yield from _bar(kind, left, 22.5, 4, 4)
        yield Text(kind, (left + 6, 22), SMALL)
    yield Text("square metres", (WIDTH_MM - RIGHT, 22), SMALL, anchor="end")


def _scale(foot: float, step: Area, most: Area) -> Iterator[Primitive]:
    yield Line(((LEFT, foot), (WIDTH_MM - RIGHT, foot)), RULE)
    for mark in range(0, most + 1, step):
        y = foot - BARS * mark / most
        yield Line(((LEFT - 1.5, y), (LEFT, y)), FINE)
        yield Text(_metres(mark), (LEFT - 3, y + SMALL / 2), SMALL, anchor="end")


def _bars(one: Figures, left: float, foot: float, width: float, most: Area) -> Iterator[Primitive]:
    for place, (kind, area) in enumerate(zip(KINDS, _areas(one), strict=True)):
        if area > 0:
            yield from _bar(kind, left + place * width, foot, width, BARS * area / most)


def _bar(kind: str, left: float, foot: float, width: float, height: float) -> Iterator[Primitive]:
    fill: Fill = "black" if kind == "wasted" else "paper"
    yield rectangle(left, foot - height, width, height, fill=fill, weight_mm=FINE)
    if kind == "used":
        for n in range(1, int(height / STRIPE) + 1):
            y = foot - n * STRIPE
            if y > foot - height:
                yield Line(((left, y), (left + width, y)), FINE)


def _areas(one: Figures) -> tuple[Area, Area, Area]:
    return one.bought_area, one.used_area, one.wasted


def _months(seen: Sequence[str]) -> list[str]:
    """Return the months from the first to the last that something happened in, twelve at most.

    >>> _months(["2025-11", "2026-01"])
    ['2025-11', '2025-12', '2026-01']
    """
    if not seen:
        return []
    first, last = _count(min(seen)), _count(max(seen))
    return [
        f"{n // 12:04d}-{n % 12 + 1:02d}"
        for n in range(max(first, last - MOST_MONTHS + 1), last + 1)
    ]


def _count(month: str) -> int:
    return 12 * int(month[:4]) + int(month[5:7]) - 1


def _month_text(month: str) -> str:
    """Return a month for its bars.

    >>> _month_text("2026-11")
    'Nov 26'
    """
    return f"{MONTHS[int(month[5:7]) - 1]} {month[2:4]}"


def _step(highest: Area) -> Area:
    """Return a round area of which the highest takes five at most.

    >>> _metres(_step(_square_metre() * 7)), _metres(_step(_square_metre() // 3))
    ('2', '0.1')
    """
    step = _square_metre() // 1000
    while True:
        for times in (1, 2, 5):
            if highest <= 5 * times * step:
                return times * step
        step *= 10


def _square_metre() -> Area:
    return int(Decimal(10**6) / in_mm2(1))


def _metres(area: Area) -> str:
    return f"{(in_mm2(area) / 10**6).normalize():f}"
