"""A cutter who knows the table of marks alone gets every blank, on the sheet's back as well."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.ops import split

from sheetcut.handling import marks, mirrored
from sheetcut.handling.marking import LONGEST_WITH_TWO
from sheetcut.layout import Part
from sheetcut.units import inch, mm
from tests.check.plans import imperial_twins, plan_of
from tests.handling.test_slack import layouts


def from_corner(layout, piece):
    """Return a rectangle as it lies from the start corner, which is where marks are made from."""
    x, y, width, height = piece
    x = x if layout.start[0] == "left" else layout.usable[2] - x - width
    y = y if layout.start[1] == "foot" else layout.usable[3] - y - height
    return shapely.box(x, y, x + width, y + height)


def cut_by_marks(table, width, height):
    """Return the pieces of a polygon cut along marks; where there are none, by its step."""
    pieces = [shapely.box(0, 0, width, height)]
    lines = {}
    for mark in table:
        at = mark.at
        if mark.why_not:
            edge = 0 if mark.edge == "start" else lines[mark.edge]
            at = edge + mark.reading
        lines[mark.number] = at
        (first, second) = ((at, end) if mark.along == "x" else (end, at) for end in mark.ends)
        line = shapely.LineString([first, second])
        (hand,) = [
            piece
            for piece in pieces
            if piece.intersection(line).length == line.length
            and not piece.boundary.intersection(line).length
        ]
        pieces.remove(hand)
        halves = split(hand, line).geoms
        assert len(halves) == 2
        pieces.extend(halves)
    return pieces


def gives_all(layout, table):
    width, height = layout.usable[2:]
    pieces = {piece.normalize().wkt for piece in cut_by_marks(table, width, height)}
    blanks = {
        from_corner(layout, (one.x, one.y, one.width, one.height)).normalize().wkt
        for one in layout.placements
    }
    return blanks <= pieces


@given(layout=layouts())
def test_marks_alone_give_every_blank(layout):
    table = marks(layout, step=1)
    assert not any(mark.why_not for mark in table)
    assert gives_all(layout, table)


@given(layout=layouts(), ruler=st.integers(1, 40))
def test_what_a_short_ruler_cannot_mark_is_cut_by_its_step(layout, ruler):
    table = marks(layout, step=1, ruler=ruler)
    assert [bool(mark.why_not) for mark in table] == [mark.at > ruler for mark in table]
    assert gives_all(layout, table)


@given(layout=layouts())
def test_the_back_of_the_sheet_takes_the_same_marks(layout):
    back = mirrored(layout)
    assert marks(back, step=1) == marks(layout, step=1)
    assert gives_all(back, marks(back, step=1))
    assert mirrored(back) == layout


@given(layout=layouts())
def test_on_the_back_every_blank_lies_as_far_from_its_side(layout):
    width = layout.usable[2]
    for one, other in zip(layout.placements, mirrored(layout).placements, strict=True):
        assert (one.y, one.width, one.height) == (other.y, other.width, other.height)
        assert one.x + one.width + other.x == width


def test_the_twins_are_marked_as_their_steps_read():
    """Every cut of Imperial 1 is read from a start edge, so mark and reading are one number.

    The long cuts run 744 mm and get a third mark, at 372.
    """
    layout = imperial_twins().layouts[0]
    table = marks(layout)
    assert [mark.at for mark in table] == [cut.reading for cut in layout.cuts]
    assert [mark.middle for mark in table] == [mm(372), mm(372), *[None] * 5]
    assert table[2].ends == (mm(172), mm(499))


@pytest.mark.parametrize(
    ("length", "third"), [(LONGEST_WITH_TWO, None), (LONGEST_WITH_TWO + mm(1), mm(250))]
)
def test_over_half_a_metre_a_third_mark_proves_the_two(length, third):
    tree = Part(mm(200), length, "x", (Part(mm(100), length, piece=0), Part(mm(100), length)))
    (mark,) = marks(plan_of(tree).layouts[0])
    assert mark.middle == third


def test_a_place_between_the_marks_of_the_ruler_is_said():
    tree = Part(
        inch(10),
        inch(4),
        "x",
        (Part(inch("3 1/16"), inch(4), piece=0), Part(inch("6 15/16"), inch(4))),
    )
    layout = plan_of(tree).layouts[0]
    assert not marks(layout, step=inch(1) // 16)[0].why_not
    assert "between two marks" in marks(layout, step=mm(1))[0].why_not
