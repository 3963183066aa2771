from dataclasses import replace

from sheetcut.draw.names import blank_names
from tests.draw.cases import DRAWINGS, case, imperial_twins


def test_names_of_twins_follow_the_sheet_numbers():
    made = imperial_twins()
    names = blank_names(made.plan, made.layout, made.twins, "sheets 4, 7")
    assert names[4] == ("4: Ketch on the slip", "7: Harbour at low water")
    assert names[0] == ("Four buoys, set",)


def test_copies_of_a_twin_share_a_line():
    made = imperial_twins()
    thrice = replace(made.twins[0], copies=3)
    names = blank_names(made.plan, made.layout, (thrice,), "")
    assert names[3] == ("1: Tender, stern view", "2–4: Winch, detail")


def test_two_lines_of_one_label_are_told_apart_by_their_orders():
    pieces = (*DRAWINGS[:7], replace(DRAWINGS[7], label="Four buoys, set"), *DRAWINGS[8:])
    made = imperial_twins()
    other = case(made.plan.job.sheets[0], pieces, made.layout, "t")
    names = blank_names(other.plan, made.layout, (), "")
    assert names[0] == ("Four buoys, set (D02)",) and names[2] == ("Four buoys, set (D08)",)
