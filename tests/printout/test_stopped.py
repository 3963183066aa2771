"""What stopped cuts would save, in sums that are taken by hand: no more is said than was found."""

import pytest

from sheetcut.answers.stopped_cuts import StoppedCuts
from sheetcut.printout.stopped import stopped_line


@pytest.mark.parametrize(
    ("measure", "value", "least", "found", "line"),
    [
        # 45.60 less 38.00 is 7.60, and 34.20 was not reached
        (
            "cost", 4560, 3420, 3800,
            "£7.60: a way with stopped cuts takes £38.00, and none less than £34.20",
        ),
        ("cost", 4560, 3420, 3420, "£11.40: a way with stopped cuts takes £34.20"),
        (
            "cost", 4560, 3420, None,
            "£11.40 at the most: even with stopped cuts it takes at least £34.20; "
            "no such way was found",
        ),
        (
            "sheets", 5, 2, 3,
            "two sheets: a way with stopped cuts takes three, and none less than two",
        ),
        (
            "sheets", 1, 1, None,
            "nothing: with stopped cuts too it takes at least one sheet (proved)",
        ),
    ],
)  # fmt: skip
def test_no_more_is_said_than_was_found(measure, value, least, found, line):
    assert stopped_line(StoppedCuts("Rag", measure, value, least, found), "£") == line
