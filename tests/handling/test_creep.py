"""The fault model: every reading may be half a millimetre out."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcut.cuts import arrange
from sheetcut.handling import READING_ERROR, doubts, flags, fresh_readings
from sheetcut.handling.creep import ORDINARY
from sheetcut.job import Rules
from sheetcut.layout import Part
from sheetcut.units import TICKS_PER_MM, mm
from tests.check.plans import blanks_of, imperial_twins, plan_of, random_tree
from tests.handling.cutter import cut_by_steps

CORNERS = [(x, y) for x in ("left", "right") for y in ("foot", "top")]


@st.composite
def layouts(draw):
    """Return a layout of whole centimetres, so that no reading error swallows a piece."""
    rng = random.Random(draw(st.integers(0, 2**32)))
    tree = random_tree(30, 40, draw(st.integers(1, 5)), rng)
    while not blanks_of(tree):
        tree = random_tree(30, 40, 2, rng)
    tree = larger(arrange(tree) if draw(st.booleans()) else tree, 10 * TICKS_PER_MM)
    return plan_of(tree, start=draw(st.sampled_from(CORNERS))).layouts[0]


def larger(part, times):
    parts = tuple(larger(one, times) for one in part.parts)
    return Part(part.width * times, part.height * times, part.along, parts, part.piece, part.turned)


def worst(layout, error):
    """Return by how much each piece's width and height are out."""
    width, height = layout.usable[2:]
    left = cut_by_steps(layout, width, height, error)
    return {piece: (true[2] - piece[2], true[3] - piece[3]) for piece, true in left.items()}


@given(layout=layouts(), seed=st.integers(0, 2**32))
def test_no_piece_is_out_by_more_than_predicted(layout, seed):
    rng = random.Random(seed)
    errors = {cut.number: rng.randint(-READING_ERROR, READING_ERROR) for cut in layout.cuts}
    out = worst(layout, lambda cut: errors[cut.number])
    for doubt in doubts(layout):
        across, up = out[doubt.piece.rectangle]
        assert abs(across) <= doubt.creep[0]
        assert abs(up) <= doubt.creep[1]


@given(layout=layouts())
def test_the_prediction_is_reached_when_all_errors_add_up(layout):
    """One error after the other at its full size: a piece is out by the sum of what each does."""
    sums = dict.fromkeys((doubt.piece.rectangle for doubt in doubts(layout)), (0, 0))
    for wrong in layout.cuts:
        out = worst(layout, lambda cut, wrong=wrong: READING_ERROR * (cut == wrong))
        for piece, (across, up) in out.items():
            sums[piece] = sums[piece][0] + abs(across), sums[piece][1] + abs(up)
    assert sums == {doubt.piece.rectangle: doubt.creep for doubt in doubts(layout)}


@given(layout=layouts())
def test_without_fresh_edges_every_blank_stays_within_a_millimetre(layout):
    if fresh_readings(layout):
        return
    for doubt in doubts(layout):
        assert max(doubt.across, doubt.up) <= ORDINARY
        assert max(doubt.creep) <= mm(1)


def test_the_twins_take_every_reading_from_a_start_edge():
    layout = imperial_twins().layouts[0]
    assert fresh_readings(layout) == 0
    assert max(max(doubt.creep) for doubt in doubts(layout)) == mm(1)


def strips(count, side):
    """Return so many equal strips side by side, as wide together as the sheet."""
    return Part(
        side * count, mm(300), "x", tuple(Part(side, mm(300), piece=0) for _ in range(count))
    )


def test_five_strips_from_one_edge_or_each_from_the_last():
    """Five 150 mm pieces at half a millimetre: 2.5 mm chained, 0.5 mm from the edge.

    Place of the last cut, k readings of ±e: ±ke when each begins at the one before. Here the
    five cuts lie at 150 to 750 mm, with a leftover behind them.
    """
    parts = (*strips(5, mm(150)).parts, Part(mm(100), mm(300)))
    (layout,) = plan_of(Part(mm(850), mm(300), "x", parts)).layouts
    left = cut_by_steps(layout, mm(850), mm(300), lambda cut: READING_ERROR)
    rest = left[mm(750), 0, mm(100), mm(300)]
    assert rest[0] - mm(750) == mm("0.5")
    places, at = [], 0
    for _ in range(5):
        at += mm(150) + READING_ERROR
        places.append(at)
    assert places[-1] - mm(750) == mm("2.5")


def column_in_a_row(leftover):
    """Return a strip between two long cuts, parted three levels deep: its last part ends it."""
    blank, width = Part(mm(50), mm(100), piece=0), mm(100) + leftover
    rest = (Part(leftover, mm(100)),) if leftover else ()
    row = Part(width, mm(100), "x", (blank, blank, *rest))
    column = Part(width, mm(300), "y", (row, Part(width, mm(200), piece=0)))
    first, last = Part(mm(80), mm(300), piece=0), Part(mm(90), mm(300))
    return Part(mm(170) + width, mm(300), "x", (first, column, last))


@pytest.mark.parametrize(
    ("leftover", "told"),
    [
        (0, ["the width of D2 depends on 3 readings and may be 1.5 out"]),
        (mm(1), ["the 1 left over here may be 1.5 out"]),
        (mm(2), []),
    ],
)
def test_slack_smaller_than_creep_is_told(leftover, told):
    """Two long cuts and the reading from the fresh edge meet where the strip ends: 3 x 0.5 mm."""
    plan = plan_of(column_in_a_row(leftover), rules=Rules(reading_step=TICKS_PER_MM))
    (layout,) = plan.layouts
    assert fresh_readings(layout) == (1 if not leftover else 2)
    assert [flag.words for flag in flags(plan.job, layout)] == told
