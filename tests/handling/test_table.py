"""What is in hand and what lies on the table, against looking at every piece for every cut."""

import random
import time
from dataclasses import replace

import pytest

from sheetcut.handling import table_after
from sheetcut.handling.table import taken_in_hand
from sheetcut.layout import Cut, pieces_in_hand
from tests.check.plans import imperial_twins

LAYOUT = imperial_twins().layouts[0]
WIDE, HIGH = LAYOUT.usable[2:]


def cut_by_chance(seed, n):
    """Return a layout of cuts through pieces by chance, and by looking: in hand, and left."""
    chance = random.Random(seed)
    table, cuts, in_hand = [(0, 0, WIDE, HIGH)], [], []
    for number in range(1, n + 1):
        place = chance.randrange(len(table))
        x, y, width, height = table[place]
        along = chance.choice("xy")
        if along == "x":
            at, ends = x + chance.randrange(1, width), (y, y + height)
            halves = [(x, y, at - x, height), (at, y, x + width - at, height)]
        else:
            at, ends = y + chance.randrange(1, height), (x, x + width)
            halves = [(x, y, width, at - y), (x, at, width, y + height - at)]
        cuts.append(Cut(number, along, at, *ends, 1, number, "start", at))
        in_hand.append(table[place])
        table[place : place + 1] = halves
    return replace(LAYOUT, cuts=tuple(cuts)), in_hand, table


@pytest.mark.parametrize("seed", range(20))
def test_the_piece_a_cut_parts_is_found_and_its_halves_lie_in_its_place(seed):
    """The order on the table counts: what lies there is told in it."""
    layout, in_hand, table = cut_by_chance(seed, 60)
    assert list(pieces_in_hand(layout)) == in_hand
    assert [one.rectangle for one in taken_in_hand(layout)] == in_hand
    assert [one.rectangle for one in table_after(layout)] == table


def test_thousands_of_pieces_are_not_looked_at_one_by_one():
    """A plan of 2 000 blanks on a sheet took a minute, as every cut looked at every piece.

    Of a hundred bands with a hundred pieces each, a cut meets two hundred at the most.
    """
    step = 1_000
    sheet = replace(LAYOUT, usable=(0, 0, 100 * step, 100 * step))
    bands = [
        Cut(n, "y", (100 - n) * step, 0, 100 * step, 1, n, "start", step) for n in range(1, 100)
    ]
    cuts = [
        Cut(0, "x", (100 - n) * step, m * step, (m + 1) * step, 2, 0, "start", step)
        for m in range(100)
        for n in range(1, 100)
    ]
    began = time.process_time()
    found = pieces_in_hand(replace(sheet, cuts=(*bands, *cuts)))
    assert found[-1] == (0, 99 * step, 2 * step, step)
    assert time.process_time() - began < 2  # 0.04 s here, and 8 s when each was looked at


def test_what_lies_there_after_some_of_the_cuts():
    layout, _, _ = cut_by_chance(3, 30)
    before = replace(layout, cuts=layout.cuts[:10])
    assert table_after(layout, 10) == table_after(before)
    assert len(table_after(layout, 10)) == 11


def test_a_cut_that_runs_along_an_edge_parts_nothing():
    edge = Cut(1, "x", WIDE, 0, HIGH, 1, 1, "start", WIDE)
    with pytest.raises(ValueError, match="cut 1 runs edge to edge of no piece"):
        table_after(replace(LAYOUT, cuts=(edge,)))
