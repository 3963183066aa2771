import random

from hypothesis import given
from hypothesis import strategies as st

from sheetcut.cuts import arrange
from sheetcut.handling import slack
from sheetcut.units import mm
from tests.check.plans import blanks_of, imperial_twins, plan_of, random_tree
from tests.handling.cutter import cut_by_steps

CORNERS = [(x, y) for x in ("left", "right") for y in ("foot", "top")]


@st.composite
def layouts(draw, depth=4):
    """Return a layout for a random tree, arranged or as it grew, from any start corner."""
    rng = random.Random(draw(st.integers(0, 2**32)))
    tree = random_tree(30, 40, draw(st.integers(1, depth)), rng)
    while not blanks_of(tree):
        tree = random_tree(30, 40, 2, rng)
    tree = arrange(tree) if draw(st.booleans()) else tree
    (layout,) = plan_of(tree, start=draw(st.sampled_from(CORNERS))).layouts
    return layout


def gives_every_blank(layout, narrower, shorter):
    """Whether the steps, cut on a smaller sheet, still give every blank its size."""
    width, height = layout.usable[2:]
    left = cut_by_steps(layout, width - narrower, height - shorter)
    return all(
        left[one.x, one.y, one.width, one.height][2:] == (one.width, one.height)
        for one in layout.placements
    )


@given(layout=layouts())
def test_a_sheet_smaller_by_the_slack_still_gives_every_blank(layout):
    assert gives_every_blank(layout, *slack(layout))


@given(layout=layouts())
def test_one_tick_more_and_a_blank_is_missing(layout):
    narrower, shorter = slack(layout)
    assert not gives_every_blank(layout, narrower + 1, shorter)
    assert not gives_every_blank(layout, narrower, shorter + 1)


def test_the_twins_have_45_and_42_to_spare():
    """499 of 544 mm are used across; 3 x 234 = 702 of 744 mm up, 240 + 450 = 690 beside it."""
    assert slack(imperial_twins().layouts[0]) == (mm(45), mm(42))
