"""Drawer rows: what each column does to a sheet."""

import pytest

from sheetcut.errors import ProblemsFound
from sheetcut.job import EDGES, Pack
from sheetcut.read import read_studio
from sheetcut.units import Edges, inch, mm

HEAD = (
    "sheet,paper,size,edge loss,left,right,top,foot,deckle,side,grain,on hand,price,packs,kind,"
    "name,note\n"
)


@pytest.fixture
def studio(make_studio):
    """Return a function that gives a studio with some drawer rows and no orders."""

    def read(rows, settings=None, head=HEAD):
        return read_studio(make_studio("order,paper,size\n", head + rows, settings))

    return read


def test_a_full_row_is_a_sheet(studio):
    (sheet,) = studio(
        "HP-IMP,Smooth,560 x 760,8,,,,10,all,one,along height,3,15.20,5 for 76.00; 20+ at 13.90,"
        "full,Imperial,note\n"
    ).job.sheets
    assert (sheet.id, sheet.paper, sheet.title) == ("HP-IMP", "Smooth", "Imperial")
    assert (sheet.width, sheet.height) == (mm(560), mm(760))
    assert sheet.edge_loss == Edges(mm(8), mm(8), mm(8), mm(10))
    assert (sheet.usable_width, sheet.usable_height) == (mm(544), mm(742))
    assert (sheet.deckles, sheet.side, sheet.grain) == (EDGES, "one", "along height")
    assert (sheet.on_hand, sheet.price) == (3, 1520)
    assert sheet.packs == (Pack(5, 7600), Pack(20, 27800, or_more=True))
    assert (sheet.kind, sheet.note) == ("full", "note")


def test_empty_cells_mean_a_plain_full_sheet(studio):
    (sheet,) = studio(",Smooth,A2,,,,,,,,,,,,,,\n").job.sheets
    assert (sheet.id, sheet.kind, sheet.side, sheet.grain) == ("row 2", "full", "both", "not known")
    assert (sheet.on_hand, sheet.price, sheet.packs) == (None, None, ())
    assert sheet.edge_loss == Edges()


@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        ("full", "full"),
        ("sheet", "full"),
        ("Offcut", "offcut"),
        ("off-cut", "offcut"),
        ("", "full"),
    ],
)
def test_kinds_have_plain_words(studio, typed, kind):
    (sheet,) = studio(f"a,Smooth,A2,,,,,,,,,1,,,{typed},,\n").job.sheets
    assert sheet.kind == kind


@pytest.mark.parametrize(
    ("typed", "grain"),
    [("along width", "along width"), ("Along Height", "along height"), ("none", "none"),
     ("not known", "not known"), ("?", "not known"), ("long grain", "along height"),
     ("short", "along width"), ("760", "along height"), ("along 560", "along width"),
     ("76 cm", "along height"), ("grain along height", "along height")],
)  # fmt: skip
def test_grain_is_told_in_many_ways(studio, typed, grain):
    (sheet,) = studio(f"a,Smooth,560 x 760,,,,,,,,{typed},1,,,,,\n").job.sheets
    assert sheet.grain == grain


@pytest.mark.parametrize("typed", ["750", "diagonal", "sideways-ish"])
def test_grain_that_fits_no_side_is_a_problem(studio, typed):
    with pytest.raises(ProblemsFound) as found:
        studio(f"a,Smooth,560 x 760,,,,,,,,{typed},1,,,,,\n")
    assert found.value.problems[0].cell == "K2"


def test_long_grain_on_a_square_says_nothing(studio):
    with pytest.raises(ProblemsFound, match="on a square sheet"):
        studio("a,Smooth,500 x 500,,,,,,,,long,1,,,,,\n")


def test_a_deckle_takes_the_usual_trim_where_the_drawer_is_silent(studio):
    rows = (
        "a,Smooth,560 x 760,,,,,,left right,,,,,,,,\nb,Smooth,560 x 760,0,,,,,all,,,,,,,,\n"
        "c,Smooth,560 x 760,,3,,,,all,,,,,,,,\n"
    )
    two, none, own = studio(rows, "deckle-trim = 8\n").job.sheets
    assert two.edge_loss == Edges(left=mm(8), right=mm(8))
    assert none.edge_loss == Edges()
    assert own.edge_loss == Edges(mm(3), mm(8), mm(8), mm(8))


def test_a_deckle_that_nobody_trims_is_noted(studio):
    found = studio("a,Smooth,560 x 760,,,,,,all,,,,,,,,\nb,Smooth,A2,,,,,,top,,,,,,,,\n")
    assert found.job.sheets[0].edge_loss == Edges()
    assert found.notes[1:3] == (
        "drawer.csv, row 2: nothing is trimmed from all four deckles; give an edge loss where you "
        "do trim",
        "drawer.csv, row 3: nothing is trimmed from the deckle at top; give an edge loss where you "
        "do trim",
    )


def test_a_traditional_name_is_noted_and_a_measured_one_is_not(studio):
    found = studio("a,Smooth,Royal,,,,,,,,,,,,,,\nb,Smooth,Imperial 560 x 760,,,,,,,,,,,,,,\n")
    assert (found.job.sheets[0].width, found.job.sheets[0].unit) == (inch(20), "in")
    (note,) = [note for note in found.notes if "drawer.csv, row" in note]
    assert note.startswith("drawer.csv, row 2: Royal: a name is not a measurement: measure yours")
    assert "19 x 24" in note


@pytest.mark.parametrize(
    ("losses", "cell"),
    [("300,,,,", "D2"), (",300,260,,", "E2"), (",,,400,400", "G2"), (",0,560,,", "E2")],
)
def test_losses_that_eat_the_sheet_are_a_problem(studio, losses, cell):
    with pytest.raises(ProblemsFound) as found:
        studio(f"a,Smooth,560 x 760,{losses},,,,,,,,,\n")
    assert found.value.problems[0].cell == cell
    assert "leave nothing" in found.value.problems[0].message


def test_sheet_ids_are_unique_and_papers_are_named(studio):
    with pytest.raises(ProblemsFound) as found:
        studio("a,Smooth,A2,,,,,,,,,,,,,,\na,,A2,,,,,,,,,,,,,,\n")
    assert [(problem.row, problem.cell) for problem in found.value.problems] == [
        (3, "A3"),
        (3, "B3"),
    ]


def test_sheets_typed_in_inches_say_so(studio):
    inches, metric = studio(
        "a,Smooth,22 x 30 in,,,,,,,,,,,,,,\nb,Smooth,A2,,,,,,,,,,,,,,\n"
    ).job.sheets
    assert (inches.unit, metric.unit) == ("in", "mm")
