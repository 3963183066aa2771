"""Order lines: what each column does to a piece."""

from datetime import date

import pytest

from sheetcut.errors import ProblemsFound
from sheetcut.job import EDGES
from sheetcut.read import read_studio
from sheetcut.units import Edges, inch, mm

HEAD = "order,piece,paper,kind,size,margin,left,right,top,foot,count,turn,deckle,due,price\n"


@pytest.fixture
def pieces(make_studio):
    """Return a function that gives the pieces of some order rows."""

    def read(rows, settings=None, head=HEAD):
        return read_studio(make_studio(head + rows, None, settings)).job.pieces

    return read


def test_a_drawing_has_margins_outside_its_finished_size(pieces):
    (piece,) = pieces("1,Winch,Rag,drawing,210 x 297,15,,,,25,2,no,top,2026-12-03,160\n")
    assert (piece.width, piece.height) == (mm(210), mm(297))
    assert piece.margin == Edges(mm(15), mm(15), mm(15), mm(25))
    assert piece.border == Edges()
    assert (piece.asked_width, piece.asked_height) == (mm(240), mm(337))
    assert (piece.count, piece.turn, piece.kind, piece.deckles) == (2, "no", "drawing", ("top",))
    assert (piece.due, piece.price) == (date(2026, 12, 3), 16000)


def test_the_size_of_a_print_is_its_image_and_borders_lie_inside(pieces):
    """By hand: 200 x 250 with borders 25/25/25/35 is a sheet of 250 x 310."""
    (piece,) = pieces("1,Beacon,Rag,print,200 x 250,,25,25,25,35,3,,,,\n")
    assert (piece.width, piece.height) == (mm(250), mm(310))
    assert piece.border == Edges(mm(25), mm(25), mm(25), mm(35))
    assert piece.margin == Edges()


def test_empty_cells_mean_one_plain_drawing(pieces):
    (piece,) = pieces(",,Rag,,A4,,,,,,,,,,\n")
    assert (piece.order, piece.count, piece.turn, piece.kind) == ("row 2", 1, "yes", "drawing")
    assert (piece.margin, piece.deckles, piece.due, piece.price) == (Edges(), (), None, None)


def test_usual_margins_stand_in_only_where_a_row_gives_none(pieces):
    settings = '[usual-margins]\ndrawing = 15\nprint = [25, 25, 25, "3.5 cm"]\ncard = {top = 3}\n'
    rows = (
        "1,,Rag,drawing,A4,,,,,,,,,,\n2,,Rag,drawing,A4,0,,,,,,,,,\n3,,Rag,drawing,A4,,,,,20,,,,,\n"
        "4,,Rag,print,200 x 250,,,,,,,,,,\n5,,Laid,card,A6,,,,,,,,,,\n"
    )
    usual, none, foot, print_, card = pieces(rows, settings)
    assert usual.margin == Edges(*(mm(15),) * 4)
    assert none.margin == Edges()
    assert foot.margin == Edges(foot=mm(20))
    assert print_.border == Edges(mm(25), mm(25), mm(25), mm(35))
    assert card.margin == Edges(top=mm(3))


@pytest.mark.parametrize(
    ("typed", "rule"),
    [("yes", "yes"), ("Either way", "yes"), ("free", "yes"), ("no", "no"), ("as drawn", "no"),
     ("FIXED", "no"), ("grain up", "grain up"), ("Grain Across", "grain across"),
     ("alike", "alike"), ("same way", "alike")],
)  # fmt: skip
def test_turn_rules_have_plain_words(pieces, typed, rule):
    (piece,) = pieces(f"1,,Rag,,A4,,,,,,,{typed},,,\n")
    assert piece.turn == rule


def test_deckles_to_keep_are_edges(pieces):
    one, all_, none = pieces(
        "1,,Rag,,A4,,,,,,,,left right,,\n2,,Rag,,A4,,,,,,,,all,,\n3,,Rag,,A4,,,,,,,,none,,\n"
    )
    assert (one.deckles, all_.deckles, none.deckles) == (("left", "right"), EDGES, ())


def test_inches_stay_inches(pieces):
    (piece,) = pieces("1,,Rag,,11 x 14 in,1/2 in,,,,,,,,,\n")
    assert (piece.width, piece.unit) == (inch(11), "in")
    assert piece.margin.left == inch("0.5")


def test_a_bare_number_counts_the_studio_s_unit(make_studio):
    drawer = "sheet,paper,size\nL,Rag,22 x 30\n"
    orders = HEAD + "1,,Rag,,8-1/2 x 11,1/2,,,,,,,,,\n"
    (piece,) = read_studio(make_studio(orders, drawer, 'unit = "inches"\n')).job.pieces
    assert (piece.width, piece.margin.top, piece.unit) == (inch("8.5"), inch("0.5"), "in")


def test_the_unit_of_a_heading_holds_for_its_column(pieces):
    (piece,) = pieces("1,Rag,11 x 14,15\n", head="order,paper,size (in),margin (mm)\n")
    assert (piece.width, piece.margin.left, piece.unit) == (inch(11), mm(15), "in")


def test_width_and_height_may_have_columns_of_their_own(pieces):
    (piece,) = pieces("1,Rag,29.7 cm,420\n", head="order,paper,width,height\n")
    assert (piece.width, piece.height, piece.unit) == (mm(297), mm(420), "cm")


def test_tiny_widths_and_heights_need_their_unit(pieces):
    with pytest.raises(ProblemsFound) as found:
        pieces("1,Rag,11,14\n", head="order,paper,width,height\n")
    (problem,) = found.value.problems
    assert (problem.cell, problem.field) == ("C2", "width")
    assert "may be inches or cm" in problem.message
    (piece,) = pieces("1,Rag,11,14\n", head="order,paper,width (in),height (in)\n")
    assert (piece.width, piece.unit) == (inch(11), "in")


def test_a_paper_is_found_whatever_its_capitals(pieces):
    (piece,) = pieces("1,,RAG,,A4,,,,,,,,,,\n")
    assert piece.paper == "Rag"


def test_where_the_drawer_has_one_paper_it_need_not_be_named(make_studio):
    drawer = "sheet,paper,size\nL,Rag,A1\nM,rag,A2\n"
    job = read_studio(make_studio("order,size\n1,A4\n", drawer)).job
    assert {job.pieces[0].paper, *(sheet.paper for sheet in job.sheets)} == {"Rag"}


@pytest.mark.parametrize(
    ("typed", "remedy"),
    [("Ragg", 'did you mean "Rag"?'), ("heron 7", 'did you mean "Rag"?'),
     ("Vellum", 'write one of "Rag", "Laid", or give the drawer a row for it'),
     ("", 'write one of "Rag", "Laid"')],
)  # fmt: skip
def test_a_paper_that_is_not_in_the_drawer_is_a_problem(pieces, typed, remedy):
    with pytest.raises(ProblemsFound) as found:
        pieces(f"1,,{typed},,A4,,,,,,,,,,\n")
    (problem,) = found.value.problems
    assert (problem.source, problem.row, problem.cell) == ("orders.csv", 2, "C2")
    assert problem.remedy == remedy


def test_order_names_are_unique(pieces):
    with pytest.raises(ProblemsFound) as found:
        pieces("1,,Rag,,A4,,,,,,,,,,\n1,,Rag,,A4,,,,,,,,,,\n")
    (problem,) = found.value.problems
    assert (problem.row, problem.cell) == (3, "A3")
    assert '"1" stands in row 2 too' in problem.message


def test_text_is_kept_as_it_was_typed_but_for_its_spaces(pieces):
    (piece,) = pieces('1,"  Café, <b>½</b>\n& ""co""",Rag,,A4,,,,,,,,,,\n')
    assert piece.label == 'Café, <b>½</b> & "co"'


def test_headings_alone_are_no_orders(make_studio):
    studio = read_studio(make_studio(HEAD))
    assert studio.job.pieces == ()
    assert "orders.csv has no rows below its headings" in studio.notes


def test_a_missing_column_is_told_once_and_not_for_every_row(make_studio):
    with pytest.raises(ProblemsFound) as found:
        read_studio(make_studio("order,size\n1,A4\n2,A5\n"))
    (problem,) = found.value.problems
    assert (problem.row, problem.field) == (1, "paper")
    with pytest.raises(ProblemsFound) as found:
        read_studio(make_studio("order,papper,count\n1,Rag,2\n2,Rag,3\n", "sheet,size\na,A2\n"))
    assert [(problem.source, problem.row) for problem in found.value.problems] == [
        ("orders.csv", 1), ("orders.csv", 1), ("drawer.csv", 1),
    ]  # fmt: skip


def test_a_unit_in_the_heading_settles_small_sizes(pieces):
    (piece,) = pieces("1,Rag,40 x 50\n", head="order,paper,size (mm)\n")
    assert piece.width == mm(40)


@pytest.mark.parametrize(
    ("width", "height", "cells"),
    [("", "297", ["C2"]), ("", "", ["C2", "D2"]), ("0", "0 mm", ["C2", "D2"]),
     ("21O", "-1", ["C2", "D2"])],
)  # fmt: skip
def test_widths_and_heights_have_problems_of_their_own(pieces, width, height, cells):
    with pytest.raises(ProblemsFound) as found:
        pieces(f"1,Rag,{width},{height}\n", head="order,paper,width,height\n")
    assert [problem.cell for problem in found.value.problems][: len(cells)] == cells


@pytest.mark.parametrize(
    ("typed", "waits"), [("yes", True), ("x", True), ("", False), ("No", False), ("if room", True)]
)
def test_a_line_may_wait_for_room(pieces, typed, waits):
    head = HEAD.replace("\n", ",only if room\n")
    (piece,) = pieces(f"1,a,Rag,drawing,100 x 200,0,,,,,1,yes,,,,{typed}\n", head=head)
    assert piece.if_room is waits


def test_what_waits_for_room_has_no_day(pieces):
    head = HEAD.replace("\n", ",if room\n")
    with pytest.raises(ProblemsFound) as told:
        pieces("1,a,Rag,drawing,100 x 200,0,,,,,1,yes,,2026-12-03,,yes\n", head=head)
    assert [str(one) for one in told.value.problems] == [
        "orders.csv, row 2, if room (P2): it is cut only if there is room, and has a day or keeps "
        "a deckle; leave one of them out"
    ]
