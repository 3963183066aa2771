"""Drawer columns that few need: deckles that stay, the watermark, sheets out of square."""

import pytest

from sheetcut.check import faults_in
from sheetcut.errors import ProblemsFound
from sheetcut.out_of_square import Measured
from sheetcut.plan import make_plan
from sheetcut.read import read_studio
from sheetcut.units import mm

HEAD = "sheet,paper,size,edge loss,deckle,leave,keep,watermark,top width,right height,diagonal\n"


@pytest.fixture
def sheet(make_studio):
    """Return a function that gives the sheet of one drawer row, and what is said of it."""

    def read(row, head=HEAD, settings=None):
        studio = read_studio(make_studio("order,paper,size\n", f"{head}{row}\n", settings))
        return studio.job.sheets[0], studio.notes

    return read


def test_deckles_may_stay(sheet):
    found, _ = sheet("a,Rag,560 x 760,8,all,left right,top,,,,")
    assert (found.leave, found.keep) == (("left", "right"), ("top",))


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("a,Rag,560 x 760,8,left,right,,,,,", r"leave \(F2\): there is no deckle at right"),
        ("a,Rag,560 x 760,8,all,,left right,,,,", r"keep \(G2\): .* left and right are both kept"),
        ("a,Rag,560 x 760,8,all,,,middle,,,", r'watermark \(H2\): the watermark is "middle"'),
        ("a,Rag,560 x 760,8,all,,,,,,300", r"diagonal \(K2\): no sheet measures so"),
        ("a,Rag,560 x 760,8,all,,,,860,,", r"top width \(I2\): no sheet measures so"),
        ("a,Rag,560 x 760,8,all,,,,wide,,", r"top width \(I2\)"),
    ],
)
def test_what_cannot_be_is_told_by_cell(sheet, row, told):
    with pytest.raises(ProblemsFound, match=told):
        sheet(row)


@pytest.mark.parametrize(
    ("typed", "corner"),
    [
        ("top left", "top left"),
        ("right, bottom", "foot right"),
        ("Lower-left corner", "foot left"),
        ("", None),
    ],
)
def test_the_watermark_is_in_a_corner(sheet, typed, corner):
    found, _ = sheet(f'a,Rag,560 x 760,,,,,"{typed}",,,')
    assert found.watermark == corner


def test_a_sheet_out_of_square_leaves_a_true_rectangle(sheet):
    """600 wide, 800 high at the left, 803 at the right, square at the foot: 600 x 800 is left.

    The root of 600² + 3² is 600.0075 mm, of 600² + 803² it is 1002.4016 mm.
    """
    found, notes = sheet("a,Rag,600 x 800,,,,,,600.008,803,1002.402")
    assert (found.usable_width, found.usable_height) == (mm(600), mm(800))
    measured = Measured(mm(600), mm("600.008"), mm(800), mm(803), mm("1002.402"))
    assert found.skew.measured == measured
    assert abs(found.edge_loss.top - mm(3)) < mm("0.01")
    assert not any("square" in note for note in notes)


def test_without_a_diagonal_the_lower_left_corner_is_square(sheet):
    found, notes = sheet("a,Rag,600 x 800,,,,,,,803,")
    assert (found.usable_width, found.usable_height) == (mm(599), mm(800))
    assert any("taken to be square" in note for note in notes)


def test_a_size_alone_is_not_touched(sheet):
    found, _ = sheet("a,Rag,600 x 800,,,,,,,,")
    assert found.skew is None
    assert (found.width, found.height) == (mm(600), mm(800))


def test_a_plan_on_it_passes_and_one_that_takes_too_much_does_not(make_studio):
    from dataclasses import replace  # noqa: PLC0415

    head = "sheet,paper,size,top width,right height,diagonal,on hand\n"
    folder = make_studio(
        "order,piece,paper,size,count\nD,x,Rag,290 x 390,4\n",
        f"{head}a,Rag,600 x 800,598,803,1001,1\n",
    )
    plan = make_plan(read_studio(folder).job, rounds=20)
    assert not plan.short
    assert faults_in(plan) == ()
    (sheet,) = plan.job.sheets
    narrower = replace(sheet.skew.measured, top=mm(590))
    spoiled = replace(sheet, skew=replace(sheet.skew, measured=narrower))
    faults = faults_in(replace(plan, job=replace(plan.job, sheets=(spoiled,))))
    assert any("does not fit into the sheet, which is out of square" in str(f) for f in faults)
