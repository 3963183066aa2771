"""Headings matched by meaning, and near misses offered."""

import pytest

from sheetcut.errors import ProblemsFound
from sheetcut.read.headings import DRAWER_MEANINGS, ORDER_MEANINGS, headed, meaning
from sheetcut.read.tables import tables_in


def head(text, known=ORDER_MEANINGS, name="orders.csv"):
    return headed(name, tables_in(name, text.encode()), known)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ("size", "size"), ("SIZE", "size"), (" Finished  size ", "size"), ("Size (mm)", "size"),
        ("Size in inches", "size"), ("Size cm", "size"), ("Image size", "size"), ("qty", "count"),
        ("Qty.", "count"), ("Quantity", "count"), ("how many?", "count"), ("number", "count"),
        ("Paper:", "paper"), ("Due (day)", "due"), ("Price (£)", "price"), ("price each", "price"),
        ("Left margin", "left"), ("bottom", "foot"), ("border", "margin"), ("title", "piece"),
        ("may turn", "turn"), ("order_no", "order"), ("Notes", "note"), ("customer", "client"),
    ],
)  # fmt: skip
def test_a_heading_is_known_by_its_meaning(typed, field):
    assert meaning(typed, ORDER_MEANINGS) == field


@pytest.mark.parametrize(
    ("typed", "field"),
    [("id", "sheet"), ("In stock", "on hand"), ("grain along", "grain"), ("trim", "edge loss"),
     ("Sold in", "packs"), ("price each", "price"), ("called", "name"), ("deckles", "deckle"),
     ("edge-loss", "edge loss"), ("on_hand", "on hand")],
)  # fmt: skip
def test_the_drawer_has_its_own_meanings(typed, field):
    assert meaning(typed, DRAWER_MEANINGS) == field


@pytest.mark.parametrize("known", [ORDER_MEANINGS, DRAWER_MEANINGS])
def test_no_heading_means_two_things(known):
    words = [word for field, more in known.items() for word in (field, *more)]
    assert len(set(words)) == len(words)


def test_a_unit_in_a_heading_is_for_its_column():
    table = head('order,Size (in),Margin [mm],"Left, cm"\n1,11 x 14,15,1\n')
    assert table.columns.units == {"size": "in", "margin": "mm", "left": "cm"}


def test_a_title_above_the_headings_does_no_harm():
    table = head("Orders for November\n\norder,paper,size\n1,Rag,A4\n")
    assert table.columns.row == 3
    assert [row.number for row in table.rows] == [4]
    assert table.problems == ()


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("paperr", "paper"), ("quantitiy", "quantity"), ("Maring", "margin"), ("dekcle", "deckle"),
     ("custmer", "customer")],
)  # fmt: skip
def test_a_near_miss_is_offered(typed, meant):
    table = head(f"order,size,{typed}\n1,A4,x\n")
    (problem,) = table.problems
    assert (problem.row, problem.cell) == (1, "C1")
    assert f'did you mean "{meant}"' in problem.remedy


@pytest.mark.parametrize("typed", ["colour", "page", "framed", "invoice", "phone", "Ordered", "%"])
def test_a_column_near_nothing_is_left_alone_with_a_note(typed):
    table = head(f"order,size,{typed}\n1,A4,x\n")
    assert table.problems == ()
    assert table.notes == (f'orders.csv: the column "{typed}" (C1) is not used',)


def test_two_columns_with_one_meaning_are_a_problem():
    (problem,) = head("order,qty,size,count\n1,2,A4,3\n").problems
    assert (problem.cell, problem.field) == ("D1", "count")
    assert '"count" means the same as "qty" in B1' in problem.message


def test_a_table_without_sizes_is_a_problem_in_its_headings():
    (problem,) = head("order,paper\n1,Rag\n").problems
    assert (problem.row, problem.field) == (1, "size")
    assert head("order,paper,width,height\n1,Rag,210,297\n").problems == ()
    assert head("order,paper,width\n1,Rag,210\n").problems != ()


def test_headings_that_are_all_misspelt_are_still_found():
    table = head("oder,papper,siize\n1,Rag,A4\n")
    assert [problem.cell for problem in table.problems[:3]] == ["A1", "B1", "C1"]


def test_a_table_without_headings_is_refused():
    with pytest.raises(ProblemsFound, match="the headings are not there"):
        head("1,Rag,210 x 297\n2,Rag,A4\n")
    with pytest.raises(ProblemsFound, match="the headings are not there"):
        head("7\n")


def test_the_two_files_cannot_be_exchanged():
    drawer = "sheet,paper,size,edge loss,grain,on hand,price,packs\nL,Rag,A2,0,none,1,2,\n"
    orders = "order,client,piece,paper,size,margin,count,turn,due\n1,a,b,Rag,A4,15,1,yes,\n"
    with pytest.raises(ProblemsFound, match="those of the drawer"):
        head(drawer, ORDER_MEANINGS)
    with pytest.raises(ProblemsFound, match="those of the orders"):
        head(orders, DRAWER_MEANINGS, "drawer.csv")
    assert head(drawer, DRAWER_MEANINGS, "drawer.csv").problems == ()


def test_the_first_page_with_headings_is_taken(make_workbook):
    data = make_workbook(
        {"Read me": [["how to fill this in"]], "Week": [["order", "size"], [1, "A4"]],
         "Old": [["order", "size"], [9, "A5"]]}
    )  # fmt: skip
    table = headed("orders.xlsx", tables_in("orders.xlsx", data), ORDER_MEANINGS)
    assert [row.cells[0].text for row in table.rows] == ["1"]
