"""What a job can never be is refused when its record is made; the last that can be is not."""

import pytest

from sheetcut.errors import UnusableRecord
from sheetcut.job import LONGEST, Pack, Piece, Rules, Sheet
from sheetcut.units import mm

A4 = (mm(210), mm(297))


def sheet(*sides, **more):
    return Sheet("HP", "rag", *(sides or A4), **more)


def piece(**more):
    return Piece("D1", "", "rag", *A4, **more)


MAKES = {
    # what is made of one value, the last that will do, and the first that will not
    "longest side": (lambda x: sheet(x, mm(1)), LONGEST, LONGEST + 1),
    "shortest side": (lambda x: sheet(mm(1), x), 1, 0),
    "side in whole ticks": (lambda x: sheet(mm(1), x), mm(1), 1.5),
    "side that is no yes": (lambda x: sheet(mm(1), x), 1, True),
    "edges": (lambda x: sheet(edge_loss=x), (0, 0, 0, 0), (0, 0, 0)),
    "edge": (lambda x: piece(margin=(0, 0, 0, x)), LONGEST, LONGEST + 1),
    "edge not below nought": (lambda x: piece(margin=(0, 0, 0, x)), 0, -1),
    "edge in whole ticks": (lambda x: piece(margin=(0, 0, 0, x)), 1, 0.5),
    # 210 less 104 and 105 is one millimetre of image; less 105 and 105 is none.
    "borders across": (
        lambda x: piece(border=(mm(105), x, 0, 0)), mm(104), mm(105),
    ),
    "borders up": (lambda x: piece(border=(0, 0, mm(200), x)), mm(96), mm(97)),
    "turn": (lambda x: piece(turn=x), "grain up", "sideways"),
    # 13.90 for one; 20 for 278.00 is 13.90 each, and 277.99 is no whole cent each.
    "price of so many or more": (lambda x: Pack(20, x, or_more=True), 27_800, 27_799),
    "price of a pack": (lambda x: Pack(20, x), 0, -1),
    "pack": (lambda x: Pack(x, 100), 1, 0),
    "reading step": (lambda x: Rules(reading_step=x), LONGEST, LONGEST + 1),
    "reading step above nought": (lambda x: Rules(reading_step=x), 1, 0),
    "keep size": (lambda x: Rules(keep_short=x, keep_long=mm(200)), mm(200), mm(201)),
}  # fmt: skip


@pytest.mark.parametrize("name", MAKES)
def test_a_record_is_made_of_the_last_that_can_be_and_not_of_the_next(name):
    make, last, next_one = MAKES[name]
    make(last)
    with pytest.raises(UnusableRecord) as refused:
        make(next_one)
    assert refused.value.record in {"sheet HP", "order D1", "pack", "rules"}
    assert refused.value.message
    assert refused.value.remedy


def test_what_was_given_is_quoted():
    with pytest.raises(UnusableRecord, match="27799 cents for 20 or more"):
        Pack(20, 27_799, or_more=True)
    with pytest.raises(UnusableRecord, match="keep size is 201 by 200 mm; give its short side"):
        Rules(keep_short=mm(201), keep_long=mm(200))
