from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from sheetcut.draw.lettering import width
from sheetcut.draw.running import Reading, in_column, in_rows, spread


@given(marks=st.lists(st.floats(0, 100), max_size=12), gap=st.floats(0, 8))
def test_values_moved_apart_keep_their_order_and_gaps(marks, gap):
    marks = sorted(marks)
    places = spread(marks, [gap] * (len(marks) - 1), -100, 300)
    assert all(b - a >= gap - 1e-9 for a, b in pairwise(places))
    if all(b - a >= gap for a, b in pairwise(marks)):
        assert all(abs(a - b) < 1e-9 for a, b in zip(marks, places, strict=True))


@given(at=st.lists(st.integers(0, 1000), min_size=1, max_size=14, unique=True))
def test_values_under_a_ruler_do_not_touch(at):
    standing = in_rows([Reading(str(mm), mm / 5, "") for mm in at], -20, 220)
    spans: dict[int, list[tuple[float, float]]] = {}
    for one, centre, row in zip(standing.readings, standing.centres, standing.rows, strict=True):
        half = width(one.text, standing.height_mm, "sans bold") / 2
        spans.setdefault(row, []).append((centre - half, centre + half))
    for row in spans.values():
        assert all(one[1] < other[0] for one, other in pairwise(sorted(row)))


@given(at=st.lists(st.integers(0, 1000), min_size=1, max_size=20, unique=True))
def test_values_beside_a_ruler_do_not_touch(at):
    standing = in_column([Reading(str(mm), mm / 5, "") for mm in at], -8, 208)
    assert all(b - a > standing.height_mm for a, b in pairwise(standing.centres))


def test_a_few_cuts_are_read_from_afar():
    """Cuts at 172 and 499 on 1:5 are 65 mm apart, room for figures 7 mm high."""
    standing = in_rows([Reading("172", 34.4, ""), Reading("499", 99.8, "")], -20, 112)
    assert standing.height_mm == 7.0
    assert standing.centres == (34.4, 99.8)
