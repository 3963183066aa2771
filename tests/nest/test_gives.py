"""What a sheet gives of one size, against the trade's table, published counts and plain search."""

import time
from collections import Counter
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from sheetcut.job import Edges, Sheet
from sheetcut.nest.gives import best_grid, most_pieces, sheet_gives
from sheetcut.units import TICKS_PER_MM, mm

# An exact search of every edge-to-edge pattern in whole mm, turning allowed, done apart from
# this project; in brackets the best plain grid where that gives less. The margin is on every
# side; 8 x 10 in is taken as 203 x 254 mm, 11 x 14 in as 279 x 356 mm.
PIECES = (
    (148, 210, 0), (210, 297, 0), (297, 420, 0), (420, 594, 0),
    (148, 210, 10), (210, 297, 10), (297, 420, 10),
    (148, 210, 15), (210, 297, 15), (297, 420, 15), (300, 300, 15), (203, 254, 15), (279, 356, 15),
)  # fmt: skip
TABLE = {
    (560, 760): "11(10) 5(4) 2 1 9 5(4) 2 9 4 2 2 5(4) 2",
    (544, 744): "11(10) 5(4) 2 1 9 4 2 9 4 2 2 5(4) 2",
    (686, 1016): "20(18) 10(9) 4 2 16 8 4 14(12) 8 4 6 8 4",
    (670, 1000): "20(18) 9 4 2 14(12) 8 4 14(12) 8 4 6 8 4",
    (700, 1000): "20(18) 9 4 2 17(16) 9 4 14(12) 8 4 6 9 5(4)",
    (610, 914): "16 8 4 2 12(10) 5(4) 2 12(10) 5(4) 2 2 6 2",
    (420, 594): "8 4 2 1 5(4) 2 1 5(4) 2 1 1 2 1",
    (432, 559): "6 3(2) 1 0 5(4) 2 1 5(4) 2 1 1 2 1",
    (320, 450): "4 2 1 0 2 1 1 2 1 0 0 1 1",
    (329, 483): "4 2 1 0 2 2 1 2 2 1 0 2 1",
}


def numbers(entry):
    """Return both numbers of an entry: "5(4)" is 5 and 4, "2" is 2 and 2."""
    most, _, grid = entry.strip(")").partition("(")
    return int(most), int(grid or most)


CASES = [
    (sheet, piece, *numbers(entry))
    for sheet, row in TABLE.items()
    for piece, entry in zip(PIECES, row.split(), strict=True)
]


@pytest.mark.parametrize(("sheet", "piece", "most", "grid"), CASES)
def test_the_trade_table_is_met(sheet, piece, most, grid):
    width, height, margin = piece
    size = width + 2 * margin, height + 2 * margin
    assert most_pieces(*sheet, *size) == most
    assert best_grid(*sheet, *size) == grid


def test_the_whole_table_is_timed(record_property):
    began = time.perf_counter()
    for sheet, (width, height, margin), *_ in CASES:
        most_pieces(*sheet, width + 2 * margin, height + 2 * margin)
    record_property("seconds for the whole table", round(time.perf_counter() - began, 3))


@cache
def searched(run, rise, wide, high):
    """Every cut at every whole step, however deep: the plain meaning of the words."""
    best = int((run >= wide and rise >= high) or (run >= high and rise >= wide))
    for at in range(1, run // 2 + 1):
        best = max(best, searched(at, rise, wide, high) + searched(run - at, rise, wide, high))
    for at in range(1, rise // 2 + 1):
        best = max(best, searched(run, at, wide, high) + searched(run, rise - at, wide, high))
    return best


@pytest.mark.parametrize(("wide", "high"), [(3, 2), (5, 2), (4, 3), (7, 4), (5, 5), (8, 3), (1, 6)])
def test_no_cut_at_any_step_does_better(wide, high):
    for run in range(1, 24):
        for rise in range(1, 24):
            assert most_pieces(run, rise, wide, high) == searched(run, rise, wide, high)


def blanks_in(part):
    """Yield every blank of a tree, after looking whether the parts fill it exactly."""
    if part.along is None:
        return [part] if part.piece is not None else []
    along, across = ("width", "height") if part.along == "x" else ("height", "width")
    assert sum(getattr(one, along) for one in part.parts) == getattr(part, along)
    assert all(getattr(one, across) == getattr(part, across) for one in part.parts)
    return [blank for one in part.parts for blank in blanks_in(one)]


@settings(max_examples=150, deadline=None)
@given(
    some.tuples(some.integers(20, 300), some.integers(20, 300)),
    some.tuples(some.integers(7, 120), some.integers(7, 120)),
    some.sampled_from([(False, True), (False,), (True,), ()]),
    some.integers(0, 9),
)
def test_the_tree_shows_as_many_blanks_as_are_counted(size, blank, ways, loss):
    sheet = Sheet("s", "Rag", mm(size[0]) + 5, mm(size[1]) + 7, edge_loss=Edges(0, mm(loss), 0, 0))
    given_ = sheet_gives(sheet, mm(blank[0]), mm(blank[1]), step=TICKS_PER_MM, ways=ways)
    assert (given_.tree.width, given_.tree.height) == (sheet.usable_width, sheet.usable_height)
    blanks = blanks_in(given_.tree)
    assert len(blanks) == given_.count >= given_.grid
    sizes = Counter((one.width, one.height) for one in blanks)
    assert set(sizes) <= {(mm(blank[t]), mm(blank[1 - t])) for t in ways}
    assert all((one.width == mm(blank[0])) != one.turned or blank[0] == blank[1] for one in blanks)


def test_a_piece_that_may_not_turn_comes_in_a_grid():
    """560 x 760: upright 2 x 2, lying 1 x 3; four at the most, not the five of a mixed sheet."""
    assert most_pieces(560, 760, 210, 297, ways=(False,)) == 4
    assert most_pieces(560, 760, 210, 297, ways=(True,)) == 3
    assert most_pieces(560, 760, 210, 297, ways=()) == 0
