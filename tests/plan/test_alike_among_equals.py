"""Where nothing is kept, no way of cutting leaves more than another."""

from sheetcut import Job, Piece, Rules, Sheet, make_plan, mm


def planned(pieces, **rules):
    sheet = Sheet("S", "Rag", mm(210), mm(297), on_hand=1, price=100)
    return make_plan(Job((sheet,), pieces, Rules(**rules)), rounds=50, seconds=600)


def test_a_sheet_used_up_whole_has_no_better_leftover():
    """A plan failed its own check: nothing kept was taken for more than nothing kept."""
    whole = Piece("1", "Ketch", "Rag", mm(210), mm(297))
    (paper,) = planned((whole,), preference="better leftover").papers
    assert (paper.kind, paper.alternatives) == ("better leftover", ())


def test_a_plan_without_a_sheet_has_no_other_way():
    """The summary of such a plan divided by its area, which is nothing."""
    (paper,) = planned((Piece("1", "Ketch", "Rag", mm(300), mm(300)),)).papers
    assert (paper.layouts, paper.alternatives) == ((), ())
