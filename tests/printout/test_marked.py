"""The marking-out page: every cut once, from the edges that the pin-up sheet names."""

import pytest

from sheetcut.draw.lettering import box
from sheetcut.draw.place import overlap
from sheetcut.draw.primitives import A4, Text
from sheetcut.handling import marks
from sheetcut.printout import sheaves
from sheetcut.printout.pages import pages
from tests.draw.cases import CASES


@pytest.mark.parametrize("name", sorted(CASES))
def test_every_cut_has_its_marks_once(name):
    plan = CASES[name]().plan
    drawn = pages(plan, on=A4, kinds=("marks",))
    shown = [
        item.role for page in drawn for item in page.items if isinstance(item, Text) and item.role
    ]
    cuts = [cut for sheaf in sheaves(plan) for cut in sheaf.layouts[0].cuts]
    assert shown == [f"mark-{cut.number}" for cut in cuts]


@pytest.mark.parametrize("name", sorted(CASES))
def test_its_words_neither_overlap_nor_leave_the_page(name):
    for page in pages(CASES[name]().plan, on=A4, kinds=("marks",)):
        boxes = [box(item) for item in page.items if isinstance(item, Text)]
        assert all(right <= 200.01 for _, _, right, _ in boxes)
        for number, one in enumerate(boxes):
            assert not any(overlap(one, other) for other in boxes[number + 1 :])


def test_the_twins_of_the_trade_are_marked_as_worked_by_hand():
    """Long cuts at 499 and 172 over 744: marks at both ends and in the middle, 372."""
    plan = CASES["imperial-twins"]().plan
    (page,) = pages(plan, on=A4, kinds=("marks",))
    words = [item.text for item in page.items if isinstance(item, Text)]
    assert words.count("at 0, 372 and 744 up from the foot") == 2
    assert "at 172 and 499 in from the left" in words
    assert [mark.why_not for mark in marks(plan.layouts[0])] == [""] * len(plan.layouts[0].cuts)
