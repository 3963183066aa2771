"""The chart of figures over time: its bars are as high as what they stand for."""

from collections import Counter
from xml.etree import ElementTree

from sheetcut.draw import Shape, Text
from sheetcut.drawer import Figures
from sheetcut.printout.chart import BARS, chart, figures_chart
from sheetcut.units import mm

SQUARE_METRE = mm(1000) ** 2


def figures(month: str, paper: str, bought: float, used: float, wasted: float) -> Figures:
    """Return figures in square metres."""
    areas = [int(area * SQUARE_METRE) for area in (bought, used, wasted)]
    return Figures(paper, month, bought_area=areas[0], used_area=areas[1], wasted=areas[2])


def bars(found: list[Figures]) -> list[float]:
    """Return the heights of the bars in mm, those of the key left out."""
    shapes = [item for item in chart(found, "").items if isinstance(item, Shape)][3:]
    return [max(y for _, y in one.points) - min(y for _, y in one.points) for one in shapes]


def test_bars_share_one_scale():
    """At 5 square metres to the tallest mark, one of them is a fifth of the height."""
    heights = bars([figures("2026-11", "Rag", 5, 2.5, 1), figures("2026-11", "Smooth", 1, 0, 0.5)])
    assert [round(height / BARS, 6) for height in heights] == [1, 0.5, 0.2, 0.2, 0.1]


def test_months_without_paper_have_their_place_and_old_ones_none():
    found = [figures("2025-01", "Rag", 900, 1, 1), figures("2026-03", "Rag", 1, 1, 1),
             figures("2026-05", "Rag", 2, 1, 1)]  # fmt: skip
    words = Counter(item.text for item in chart(found, "").items if isinstance(item, Text))
    assert words["Jun 25"] == words["Apr 26"] == words["May 26"] == 1
    assert "Jan 25" not in words and "May 25" not in words
    assert words["2"] == 1  # the scale follows the months that are shown


def test_labels_can_be_anything_and_nothing_is_said_of_nothing():
    text = figures_chart([figures("2026-11", "<&> \x07", 1, 1, 1)], '"A & B"')
    ElementTree.fromstring(text)
    assert "Nothing was bought or cut yet." in figures_chart([], "")
