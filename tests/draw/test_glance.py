"""All sheets at a glance: every blank there once, nothing over anything else."""

from itertools import combinations
from xml.etree import ElementTree

import pytest

from sheetcut.draw import svg_text
from sheetcut.draw.glance import MARGIN_MM, glance
from sheetcut.draw.lettering import box
from sheetcut.draw.place import overlap
from sheetcut.draw.primitives import Shape, Text
from tests.draw.cases import CASES


@pytest.fixture(params=sorted(CASES))
def case(request):
    """Return a hand-made plan."""
    return CASES[request.param]().plan


def drawn(plan):
    """Return a plan's layouts at a glance."""
    return glance(plan, [(f"sheet {n}", one) for n, one in enumerate(plan.layouts)], title="A week")


def test_every_blank_is_outlined_once(case):
    blanks = sum(len(layout.placements) for layout in case.layouts)
    shapes = [one for one in drawn(case).items if isinstance(one, Shape) and one.fill == "paper"]
    assert len(shapes) == blanks


def test_no_words_overlap_or_leave_the_page(case):
    drawing = drawn(case)
    boxes = [box(one) for one in drawing.items if isinstance(one, Text)]
    for one, other in combinations(boxes, 2):
        assert not overlap(one, other)
    for left, top, right, foot in boxes:
        assert left >= MARGIN_MM - 2 and top >= 0
        assert right <= drawing.page.width_mm and foot <= drawing.page.height_mm


def test_all_sheets_have_one_scale(case):
    drawing = drawn(case)
    wide = [one for one in drawing.items if isinstance(one, Shape) and one.weight_mm == 0.7]
    ratios = {
        round((shape.points[1][0] - shape.points[0][0]) / layout.usable[2], 12)
        for shape, layout in zip(wide, case.layouts, strict=True)
    }
    assert len(ratios) == 1


def test_it_is_well_formed_whatever_the_labels(case):
    ElementTree.fromstring(svg_text(drawn(case)))
