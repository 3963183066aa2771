"""Margin steps against the trade's ladder, and the nearest smaller sizes against a plain search."""

import time
from itertools import pairwise

import pytest

from sheetcut.answers.margins import (
    last_place,
    margin_steps,
    smaller_margin,
    smaller_sizes,
    step_of,
)
from sheetcut.job import Edges, Piece, Sheet
from sheetcut.nest.gives import most_pieces
from sheetcut.units import TICKS_PER_INCH, TICKS_PER_MM, mm

A5, A4, A3 = (148, 210), (210, 297), (297, 420)

# Pieces: margins on every side in mm. From an exact search in whole mm, done apart from this
# project; the last run of each is cut off in the source, "36+" being every wider margin that
# still gives as many.
LADDER = {
    (560, 760): {
        A5: "11: 0-2, 10: 3-9, 9: 10-19, 8: 20-21, 6: 22-35",
        A4: "5: 0-13, 4: 14-35, 2: 36+",
        A3: "2: 0-41, 1: 42+",
    },
    (544, 744): {
        A5: "11: 0-0, 10: 1-6, 9: 7-16, 8: 17-19, 6: 20-31",
        A4: "5: 0-9, 4: 10-31, 2: 32+",
        A3: "2: 0-37, 1: 38+",
    },
    (686, 1016): {
        A5: "20: 0-2, 19: 3-5, 18: 6-9, 16: 10-11, 14: 12-19, 13: 20-22, 12: 23-27",
        A4: "10: 0-0, 9: 1-9, 8: 10-22, 6: 23-23, 5: 24-44",
        A3: "4: 0-23, 2: 24+",
    },
    (670, 1000): {
        A5: "20: 0-1, 19: 2-4, 18: 5-6, 17: 7-7, 16: 8-9, 14: 10-17",
        A4: "9: 0-6, 8: 7-19, 6: 20-20, 5: 21-40",
        A3: "4: 0-19, 2: 20+",
    },
    (610, 914): {
        A5: "16: 0-2, 14: 3-7, 13: 8-9, 12: 10-17, 10: 18-24",
        A4: "8: 0-4, 6: 5-9, 5: 10-25, 4: 26+",
        A3: "4: 0-4, 2: 5+",
    },
}
CASES = [(sheet, size, text) for sheet, row in LADDER.items() for size, text in row.items()]


def sheet_of(width, height):
    return Sheet("s", "Rag", mm(width), mm(height))


def steps_of(sheet, size):
    return [
        (one.count, one.least // TICKS_PER_MM, one.most // TICKS_PER_MM)
        for one in margin_steps(sheet_of(*sheet), mm(size[0]), mm(size[1]), step=TICKS_PER_MM)
    ]


@pytest.mark.parametrize(("sheet", "size", "ladder"), CASES)
def test_the_ladder_of_the_trade_is_met(sheet, size, ladder):
    steps = steps_of(sheet, size)
    for (count, least, most), words in zip(steps, ladder.split(", "), strict=False):
        wanted_count, _, margins = words.partition(": ")
        assert count == int(wanted_count)
        if margins.endswith("+"):
            assert least == int(margins.removesuffix("+"))
        else:
            assert (least, most) == tuple(map(int, margins.split("-")))


@pytest.mark.parametrize(("sheet", "size"), [((686, 1016), A5), ((560, 760), A4)])
def test_steps_follow_each_other_without_a_gap(sheet, size):
    steps = steps_of(sheet, size)
    assert steps[0][1] == 0
    for (count, _, most), (next_count, least, _) in pairwise(steps):
        assert least == most + 1
        assert next_count < count
    widest = steps[-1][2]
    fits = [most_pieces(*sheet, size[0] + 2 * m, size[1] + 2 * m) for m in (widest, widest + 1)]
    assert fits[0] == 1
    assert fits[1] == 0


def test_a_ladder_takes_less_than_a_third_of_a_second():
    began = time.process_time()  # the machine may be busy with other tests
    steps_of((686, 1016), A5)
    assert time.process_time() - began < 0.3


def test_a_deckle_is_no_part_of_what_gives():
    """Four deckles of 8 mm make 560 x 760 into 544 x 744: five A4 up to 9 mm, then four to 31."""
    sheet = Sheet("s", "Rag", mm(560), mm(760), edge_loss=Edges(*[mm(8)] * 4))
    steps = margin_steps(sheet, mm(210), mm(297), step=TICKS_PER_MM)
    at_nine, at_ten = step_of(steps, mm(9)), step_of(steps, mm(10))
    assert (at_nine.count, at_nine.most) == (5, mm(9))
    assert (at_ten.count, at_ten.least, at_ten.most) == (4, mm(10), mm(31))
    assert step_of(steps, mm(400)) is None


def test_steps_of_an_inch_ruler_are_sixteenths():
    """11 x 15 in from 22 x 30 in: four with no margin at all, and with 1/16 in no longer."""
    step = TICKS_PER_INCH // 16
    sheet = Sheet("s", "Rag", 22 * TICKS_PER_INCH, 30 * TICKS_PER_INCH, unit="in")
    first, second = margin_steps(sheet, 11 * TICKS_PER_INCH, 15 * TICKS_PER_INCH, step=step)[:2]
    assert (first.count, first.least, first.most) == (4, 0, 0)
    assert second.least == step


def piece_of(width, height, *margins):
    sides = Edges(*[mm(m) for m in (margins if len(margins) == 4 else margins * 4)])
    return Piece("p", "", "Rag", mm(width), mm(height), margin=sides)


def test_a_millimetre_of_margin_gives_the_fifth_a4():
    """560 x 760: five A4 with 13 mm on every side, four with 14."""
    found = smaller_margin(sheet_of(560, 760), piece_of(210, 297, 14), step=TICKS_PER_MM)
    assert found.margin == Edges(*[mm(13)] * 4)
    assert found.count == 5


def test_no_margin_helps_where_even_none_gives_as_many():
    assert smaller_margin(sheet_of(560, 760), piece_of(297, 420, 15), step=TICKS_PER_MM) is None


def test_unequal_margins_shrink_together_and_stop_at_nothing():
    """Two A3 out of 420 x 594: both margins must go, the smaller one first."""
    piece = piece_of(297, 418, 0, 0, 1, 4)
    found = smaller_margin(sheet_of(420, 594), piece, step=TICKS_PER_MM)
    # 297 x 420 is half of the sheet: top and foot may keep 2 mm in all.
    assert found.margin == Edges(0, 0, 0, mm(2))
    assert found.count == 2


@pytest.mark.parametrize(
    ("sheet", "piece"),
    [
        ((560, 760), piece_of(210, 297, 14)),
        ((544, 744), piece_of(148, 210, 12)),
        ((544, 744), piece_of(300, 300, 15)),
        ((610, 914), piece_of(160, 400, 25, 25, 25, 35)),
    ],
)
def test_the_nearest_smaller_sizes_are_those_of_a_plain_search(sheet, piece):
    step = TICKS_PER_MM
    width, height = piece.width // step, piece.height // step
    across, up = piece.margin.across // step, piece.margin.up // step
    wanted = most_pieces(*sheet, width + across, height + up) + 1
    expected = set()
    for by_width, by_height in ((1, 0), (0, 1), (1, 1)):
        for n in range(1, min(width, height) // 2):
            size = width - n * by_width, height - n * by_height
            if most_pieces(*sheet, size[0] + across, size[1] + up) >= wanted:
                expected.add(size)
                break
    found = smaller_sizes(sheet_of(*sheet), piece, step=step)
    sizes = {(one.width // step, one.height // step) for one in found}
    assert sizes <= expected
    for size in expected - sizes:
        assert any(size[0] <= one[0] and size[1] <= one[1] for one in sizes)
    areas = [one.width * one.height for one in found]
    assert areas == sorted(areas, reverse=True)


def test_the_last_place_of_nothing_is_before_the_first():
    assert last_place(lambda n: False, 3, 9) == 2
    assert last_place(lambda n: True, 3, 9) == 9
