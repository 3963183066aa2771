import pytest

from sheetcut.draw.place import Place
from sheetcut.draw.primitives import Line, Text
from sheetcut.draw.ruler import foot_ruler, graduation
from sheetcut.units import inch, mm


def test_marks_at_one_to_five_are_five_millimetres_and_figures_fifty():
    """5 mm is 1 mm on paper and can be told apart; 1 mm would be 0.2 mm and runs together."""
    marks = graduation(5, inches=False)
    assert marks.steps[0] == mm(5)
    assert marks.numbered == mm(50)


def test_an_inch_ruler_is_marked_in_quarters_at_one_to_five():
    """1/4 in is 1.27 mm on paper; 1/8 in would be 0.635 mm."""
    marks = graduation(5, inches=True)
    assert marks.steps[0] == inch("1/4")
    assert marks.numbered == inch(2)


def test_an_inch_ruler_has_sixteenths_at_full_size():
    assert graduation(1, inches=True).steps[0] == inch("1/16")


@pytest.mark.parametrize("n", [1, 2, 5, 10])
def test_a_figure_stands_under_its_own_mark(n):
    items = foot_ruler(Place(n), 0, mm(550), inches=False)
    marks = {round(item.points[0][0], 6) for item in items if isinstance(item, Line)}
    figures = {item.text: item.at[0] for item in items if isinstance(item, Text)}
    assert figures
    for text, x in figures.items():
        assert x == pytest.approx(int(text) / n)
        assert round(x, 6) in marks


def test_longer_marks_stand_at_rounder_lengths():
    marks = graduation(5, inches=False)
    lengths = [marks.mark_mm(mm(at)) for at in (5, 10, 50, 100)]
    assert lengths == sorted(set(lengths))
