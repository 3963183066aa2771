"""The solver that tries every way, on papers small enough to be worked out by hand."""

import pytest

from sheetcut import Job, Piece, Rules, Sheet, mm
from tests.campaign.exact import least


def sheet(name, width, height, **more):
    return Sheet(name, "Rag", mm(width), mm(height), **more)


def piece(order, width, height, count=1, **more):
    return Piece(order, "", "Rag", mm(width), mm(height), count, **more)


def job_of(sheets, pieces, **rules):
    return Job(tuple(sheets), tuple(pieces), Rules(**rules))


def needed(job, **options):
    return least(job, "Rag", {n: one.count for n, one in enumerate(job.pieces)}, **options)


@pytest.mark.parametrize(
    ("pieces", "sheets"),
    [
        ([piece("a", 50, 100, 2)], 1),  # two halves
        ([piece("a", 51, 100, 2)], 2),  # a millimetre too much
        ([piece("a", 60, 40, 4)], 2),  # the wheel of four round a hole takes no straight cut
        ([piece("a", 60, 40, 2), piece("b", 40, 20, 2)], 1),  # 60 + 40 across, 40 + 40 up
        ([piece("a", 100, 51, turn="no"), piece("b", 49, 100, turn="no")], 2),  # 151 or 149 long
        ([piece("a", 100, 51, turn="no"), piece("b", 49, 100)], 1),  # turned it lies above
    ],
)
def test_a_square_of_a_hundred_gives_what_arithmetic_says(pieces, sheets):
    assert needed(job_of([sheet("s", 100, 100)], pieces)) == sheets


def test_the_cheaper_sheets_are_taken_as_far_as_they_go():
    """Two of four come from the small sheets there are, two from a large one: 2 + 5."""
    sheets = [
        sheet("small", 50, 50, price=100, on_hand=2),
        sheet("large", 100, 50, price=500),
    ]
    assert needed(job_of(sheets, [piece("a", 50, 50, 4)])) == 700


def test_an_offcut_costs_nothing_and_may_be_left_out():
    sheets = [sheet("s", 50, 50, price=100), sheet("o", 50, 50, kind="offcut", on_hand=1)]
    job = job_of(sheets, [piece("a", 50, 50, 2)])
    assert (needed(job), needed(job, offcuts=False)) == (100, 200)


def test_lines_that_lie_alike_lie_all_one_way():
    """Three fit only with two one over the other and the third turned beside them: 100 x 80."""
    three = [piece("a", 60, 40, 3, turn="alike")]
    along = sheet("s", 100, 80, grain="along height", on_hand=1)
    without = sheet("s", 100, 80, grain="none", on_hand=1)
    assert needed(job_of([along], three)) is None
    assert needed(job_of([without], three)) == 1


def test_a_blank_too_many_cannot_be_cut():
    assert needed(job_of([sheet("s", 50, 50, on_hand=1)], [piece("a", 50, 50, 2)])) is None
