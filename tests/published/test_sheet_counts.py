"""Counts of pieces from a sheet as teachers, printers and painters have published them."""

from fractions import Fraction

import pytest

from sheetcut import Job, Piece, Rules, Sheet, inch, make_plan, mm
from sheetcut.answers.given import given, shown
from sheetcut.job import reading_step
from sheetcut.nest.gives import best_grid, most_pieces
from sheetcut.units import TICKS_PER_INCH, in_mm2

SIXTEENTH = TICKS_PER_INCH // 16


def in_sixteenths(*sides):
    return [inch(side) // SIXTEENTH for side in sides]


def test_seventeen_from_thirteen_by_eight():
    """Math Forum, "Maximizing the number of rectangles", Ask Dr. Math 51791, 2000.

    A grid gives 16, as do two blocks; 17 is all that the area allows (104 over 6 is 17.3).
    """
    assert best_grid(13, 8, 3, 2) == 16
    assert most_pieces(13, 8, 3, 2) == 17


def test_the_seventeen_can_be_cut_edge_to_edge():
    """The plan of the seventeen passes the checker, which replays its cuts."""
    sheet = Sheet("s", "Rag", mm(13), mm(8), on_hand=1)
    piece = Piece("p", "", "Rag", mm(3), mm(2))
    job = Job((sheet,), (piece,), Rules(reading_step=mm(1)))
    plan = shown(job, piece, given(job, sheet, piece))
    assert plan is not None
    assert len(plan.layouts[0].placements) == 17


# Sheet and piece in inches, the count, the share lost in per cent, where it stands.
PRINT_GUIDE = '"Finished size / bleeds" (a print guide, ecographics.com)'
PAINTER = '"Block, pad, or full sheet" (watercolorbeginnersandbeyond.com)'
INCHES = [
    ((23, 35), ("8 1/2", 11), 8, "7.08", PRINT_GUIDE),  # about 7 %, it says
    ((23, 35), (9, 12), 5, "32.92", PRINT_GUIDE),  # about 33 %
    ((22, 30), (5, 7), 18, None, PAINTER),
    ((22, 30), (11, 14), 4, None, PAINTER),
    ((22, 30), (11, 15), 4, "0", '"Sunday secrets" (watercolor365.com): quarter sheets'),
]


@pytest.mark.parametrize(("sheet", "piece", "count", "lost", "source"), INCHES)
def test_inch_sheets_give_what_is_published(sheet, piece, count, lost, source):
    sides = in_sixteenths(*sheet, *piece)
    assert most_pieces(*sides) == count, source
    if lost is not None:
        whole, each = sides[0] * sides[1], sides[2] * sides[3]
        share = Fraction(100 * (whole - count * each), whole)
        assert abs(share - Fraction(lost)) <= Fraction("0.01"), source


def test_nine_by_twelve_beats_its_grid():
    """Five come out of 23 x 35 in where rows and columns give four."""
    sides = in_sixteenths(23, 35, 9, 12)
    assert (most_pieces(*sides), best_grid(*sides)) == (5, 4)


def test_ten_of_two_sizes_come_out_of_one_sheet():
    """Six 8 x 10 in and four 5 x 7 in from 22 x 30 in: "Block, pad, or full sheet"."""
    sheet = Sheet("full", "Rag", inch(22), inch(30), unit="in")
    pieces = (
        Piece("a", "", "Rag", inch(8), inch(10), count=6, unit="in"),
        Piece("b", "", "Rag", inch(5), inch(7), count=4, unit="in"),
    )
    job = Job((sheet,), pieces)
    assert reading_step(job, "Rag") == SIXTEENTH
    plan = make_plan(job)
    assert plan.papers[0].sheets_used == {"full": 1}
    assert not plan.short


def test_sixteen_a4_from_a0_lose_2029_square_millimetres():
    """ISO 216: 841 x 1189 is 999 949, sixteen times 210 x 297 is 997 920."""
    assert most_pieces(841, 1189, 210, 297) == 16
    assert in_mm2(mm(841) * mm(1189) - 16 * mm(210) * mm(297)) == 2029
