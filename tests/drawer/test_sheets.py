"""The drawer's rows, added to, corrected and received, with the books kept even."""

from dataclasses import replace

import pytest

from sheetcut.drawer import (
    FIGURE_HEADINGS,
    add_order,
    add_sheet,
    balances,
    correct_order,
    correct_sheet,
    figure_rows,
    figures,
    found_otherwise,
    free_tag,
    in_drawer,
    receive,
    remove_order,
    remove_sheet,
    watch_stock,
)
from sheetcut.drawer.refusals import KeptAsAny, NameTaken, NotThere, WrongAmount
from sheetcut.errors import UnusableRecord
from sheetcut.job import Sheet
from sheetcut.units import in_mm2, mm
from tests.drawer.studio import NOW, RAG, SMOOTH, drawing, on_hand, state

STOCK = 3 * 560 * 760 + 686 * 1016 + 268 * 540  # mm² of Slatehouse Smooth, TRADE 10.1


def paper(store, name=SMOOTH):
    """Return bought, corrected and on hand in mm², after asserting that the books are even."""
    balance = balances(store)[name]
    assert balance.is_even
    return tuple(in_mm2(area) for area in (balance.bought, balance.corrected, balance.on_hand))


def test_the_stock_that_is_counted_first_is_a_correction(store):
    assert paper(store) == (0, STOCK, STOCK)


def test_a_row_is_added_corrected_and_taken_out(store):
    rag = Sheet("RAG-L", RAG, mm(610), mm(914), 4)
    assert add_sheet(store, rag, now=NOW) == (
        "Added to the drawer: 4 x RAG-L, Marram Rag, 610 x 914 mm"
    )
    assert paper(store, RAG) == (0, 4 * 610 * 914, 4 * 610 * 914)
    correct_sheet(store, "RAG-L", now=NOW, on_hand=2, height=mm(900))
    assert paper(store, RAG) == (0, 2 * 610 * 900, 2 * 610 * 900)
    correct_sheet(store, "RAG-L", now=NOW, id="RAG-XL", name="Marram large")
    assert store.job().sheets[-1] == replace(
        rag, id="RAG-XL", name="Marram large", on_hand=2, height=mm(900)
    )
    remove_sheet(store, "RAG-XL", now=NOW)
    assert paper(store, RAG) == (0, 0, 0)
    assert on_hand(store) == {"HP-IMP": 3, "HP-DE": 1, "heron 7": 1}


def test_another_paper_moves_the_books_with_it(store):
    correct_sheet(store, "HP-DE", now=NOW, paper=RAG)
    assert paper(store) == (0, STOCK - 686 * 1016, STOCK - 686 * 1016)
    assert paper(store, RAG) == (0, 686 * 1016, 686 * 1016)


def test_from_a_number_to_any_and_back(store):
    correct_sheet(store, "HP-IMP", now=NOW, on_hand=None)
    assert paper(store)[2] == STOCK - 3 * 560 * 760
    with pytest.raises(KeptAsAny, match="give it a number on hand first"):
        receive(store, "HP-IMP", 5, now=NOW)
    correct_sheet(store, "HP-IMP", now=NOW, on_hand=4)
    assert paper(store)[2] == STOCK + 560 * 760


def test_sheets_that_arrive_are_bought(store):
    says = receive(store, "HP-IMP", 5, now=NOW, paid=7600, batch="B7")
    assert says == "Arrived: 5 x HP-IMP, batch B7, 76.00 paid"
    assert on_hand(store)["HP-IMP"] == 8
    assert paper(store)[0] == 5 * 560 * 760
    (figure,) = figures(store)
    assert (figure.bought, figure.spent) == (5, 7600)


def test_sheets_that_measure_otherwise_get_a_row_of_their_own(store):
    for _ in range(2):
        receive(store, "HP-IMP", 5, now=NOW, measured=(mm(559), mm(760)))
    receive(store, "HP-IMP", 1, now=NOW, measured=(mm(560), mm(760)))
    assert on_hand(store) == {
        "HP-IMP": 4, "HP-DE": 1, "heron 7": 1, "HP-IMP (2)": 5, "HP-IMP (3)": 5,
    }  # fmt: skip
    assert paper(store)[0] == 10 * 559 * 760 + 560 * 760


@pytest.mark.parametrize(
    ("act", "error", "says"),
    [
        (lambda s: receive(s, "HP-IMP", 0, now=NOW), WrongAmount, "0 sheets arrived"),
        (lambda s: receive(s, "HP-INP", 1, now=NOW), NotThere, 'did you mean "HP-IMP"?'),
        (lambda s: correct_sheet(s, "x", now=NOW, price=1), NotThere, 'no sheet "x"; look with'),
        (lambda s: correct_order(s, "D99", now=NOW, price=1), NotThere, 'no order "D99"'),
        (lambda s: remove_sheet(s, "", now=NOW), NotThere, 'no sheet ""'),
        (lambda s: remove_order(s, "HP-IMP", now=NOW), NotThere, 'no order "HP-IMP"'),
        (lambda s: watch_stock(s, "HP-IMP", -1, now=NOW), WrongAmount, "no number of sheets"),
        (lambda s: correct_sheet(s, "HP-IMP", now=NOW, id="HP-DE"), NameTaken, "already"),
        (lambda s: correct_order(s, "D01", now=NOW, order="D02"), NameTaken, "already"),
        (lambda s: add_order(s, drawing("D01", 1, 1), now=NOW), NameTaken, "already"),
        (lambda s: add_sheet(s, Sheet("HP-DE", RAG, 1, 1), now=NOW), NameTaken, "already"),
        (lambda s: correct_sheet(s, "HP-IMP", now=NOW, on_hand=-1), UnusableRecord, "on hand"),
        (lambda s: correct_sheet(s, "HP-IMP", now=NOW, width=mm(9)), UnusableRecord, "no paper"),
        (lambda s: correct_order(s, "D01", now=NOW, count=0), UnusableRecord, "count is 0"),
    ],
)
def test_what_cannot_be_is_refused_and_changes_nothing(store, act, error, says):
    before = state(store)
    with pytest.raises(error) as refused:
        act(store)
    assert says in str(refused.value)
    assert state(store) == before
    assert len(store.history()) == 1


def test_a_watched_sheet_is_no_longer_watched(store):
    watch_stock(store, "HP-IMP", 3, now=NOW)
    assert [one.sheet.id for one in in_drawer(store) if one.is_low] == ["HP-IMP"]
    watch_stock(store, "HP-IMP", None, now=NOW)
    assert [one.sheet.id for one in in_drawer(store) if one.is_low] == []


def test_a_free_tag_is_offered(store):
    assert free_tag(store) == "avocet 1"
    add_sheet(store, Sheet("Avocet 1", SMOOTH, 1, 1, kind="offcut"), now=NOW)
    assert free_tag(store) == "avocet 2"


def test_figures_as_a_table(store):
    """One five-pack bought in November, an Imperial sheet of 560 x 760 mm each."""
    receive(store, "HP-IMP", 5, now=NOW, paid=7600)
    assert figure_rows(figures(store)) == [
        FIGURE_HEADINGS,
        ("2026-11", SMOOTH, "5", "2128000", "76.00", "0", "0", "0.00", "0", "0", "0"),
    ]


def test_all_of_a_row_found_smaller_stay_one_row(store):
    says = found_otherwise(store, "heron 7", now=NOW, measured=(mm(266), mm(540)))
    assert says.endswith("kept as heron 7")
    assert on_hand(store) == {"HP-IMP": 3, "HP-DE": 1, "heron 7": 1}
    assert paper(store)[1] == STOCK - 2 * 540
