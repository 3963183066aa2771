"""Counts, money, packs, edges and words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcut.job import EDGES, Pack
from sheetcut.read.refusal import Refused
from sheetcut.read.values import (
    read_count,
    read_edges,
    read_money,
    read_on_hand,
    read_packs,
    read_word,
)


@pytest.mark.parametrize(("typed", "count"), [("4", 4), ("2.0", 2), (" 12 ", 12), ("3.", 3),
                                              ("４", 4), ("7,0", 7)])  # fmt: skip
def test_a_count_is_a_whole_number(typed, count):
    assert read_count(typed) == count


@pytest.mark.parametrize(
    ("typed", "found", "remedy"),
    [
        ("0", "0 pieces are wanted", "delete the row"),
        ("-1", "-1 pieces are wanted", "1 or more"),
        ("two", "not written in figures", "write 2"),
        ("2.5", "is not whole", "as in 4"),
        ("1,000", "is not whole", "as in 4"),
        ("x4", "is not a number", "as in 4"),
        ("4 pcs", "is not a number", "as in 4"),
        ("1000000", "more than 100000 pieces", "up to that"),
        ("1e3", "is not a number", "as in 4"),
        ("=2+2", "a formula", "result"),
        ("TRUE", "is not a number", "as in 4"),
        ("9" * 5000, "5000 characters", "as in 4"),
    ],
)
def test_what_is_no_count_is_refused(typed, found, remedy):
    with pytest.raises(Refused) as refused:
        read_count(typed)
    assert found in refused.value.message
    assert remedy in refused.value.remedy


def test_sheets_on_hand_may_be_any_number():
    assert [read_on_hand(text) for text in ("3", "0", "any", "Unlimited", "–")] == [
        3, 0, None, None, None,
    ]  # fmt: skip
    with pytest.raises(Refused, match="sheets are on hand"):
        read_on_hand("-2")
    with pytest.raises(Refused, match="not a number"):
        read_on_hand("lots")


@pytest.mark.parametrize(
    ("typed", "cents"),
    [
        ("290", 29000), ("290.00", 29000), ("290.5", 29050), ("15,20", 1520), ("0.48", 48),
        (".48", 48), ("0", 0), ("£290", 29000), ("£ 290", 29000), ("290 £", 29000),
        ("1,200.00", 120000), ("1.200,00", 120000), ("1 200,00", 120000), ("1'200.00", 120000),
        ("1,200", 120000), ("12,345.6", 1234560), ("290,-", 29000), ("GBP 290", 29000),
        ("290.", 29000), ("0.500", 50),
    ],
)  # fmt: skip
def test_money_is_read_to_the_penny(typed, cents):
    assert read_money(typed, "£") == cents


@pytest.mark.parametrize(
    ("typed", "found", "remedy"),
    [
        ("15.205", "three decimals, or thousands", "write 15205 or 15.20"),
        ("15.2051", "finer than a hundredth", "two decimals"),
        ("0.001", "finer than a hundredth", "two decimals"),
        ("$290", "not in £", "in £"),
        ("4 x 85", "is a sum", "85.00"),
        ("-3", "less than nothing", "0 or more"),
        ("free", "is not a price", "15.20"),
        ("=A1", "a formula", "result"),
        ("1,20,0", "is not a price", "15.20"),
        ("99999999", "more than a million", "what one costs"),
        ("2026-08-05", "is not a price", "15.20"),
    ],
)
def test_what_is_no_price_is_refused(typed, found, remedy):
    with pytest.raises(Refused) as refused:
        read_money(typed, "£")
    assert found in refused.value.message
    assert remedy in refused.value.remedy


def test_without_a_currency_any_sign_will_do():
    assert read_money("$12.50") == read_money("12.50 EUR") == read_money("kr 12,50") == 1250


@given(st.integers(0, 10**8))
def test_money_written_with_a_point_or_a_comma_is_read_back(cents):
    assert read_money(f"{cents // 100}.{cents % 100:02}") == cents
    assert read_money(f"{cents // 100},{cents % 100:02}") == cents
    assert read_money(f"£{cents / 100:,.2f}", "£") == cents


@pytest.mark.parametrize(
    ("typed", "packs"),
    [
        ("5 for 76.00; 20 for 278.00", (Pack(5, 7600), Pack(20, 27800))),
        ("5 for 76.00; 20+ at 13.90", (Pack(5, 7600), Pack(20, 27800, or_more=True))),
        ("5 for £76, 20 or more at £13.90 each", (Pack(5, 7600), Pack(20, 27800, or_more=True))),
        ("10 @ 11,40", (Pack(10, 11400),)),
        ("25 for 127.50", (Pack(25, 12750),)),
        ("single", (Pack(1, 1520),)),
        ("–", ()),
    ],
)
def test_packs_are_counts_with_their_price(typed, packs):
    assert read_packs(typed, 1520, "£") == packs


@pytest.mark.parametrize("typed", ["five for 76", "5", "for 76", "0 for 3", "5 for", "5 for 76; x",
                                   "5 for 76; 5 for 70", "5 for $76", "x" * 1000])  # fmt: skip
def test_what_is_no_pack_is_refused(typed):
    with pytest.raises(Refused):
        read_packs(typed, 1520, "£")


def test_a_single_sheet_needs_its_price():
    with pytest.raises(Refused, match="no price is given"):
        read_packs("single", None)


@pytest.mark.parametrize(
    ("typed", "edges"),
    [
        ("top", ("top",)), ("left right", ("left", "right")), ("right, left", ("left", "right")),
        ("top and bottom", ("top", "foot")), ("ALL", EDGES), ("4", EDGES), ("none", ()),
        ("no", ()), ("foot/top", ("top", "foot")), ("left + foot", ("left", "foot")),
        ("sides", ("left", "right")),
    ],
)  # fmt: skip
def test_edges_are_named(typed, edges):
    assert read_edges(typed) == edges


@pytest.mark.parametrize("typed", ["2", "two", "2 deckles", "north", "left outside", "top " * 50])
def test_what_names_no_edge_is_refused(typed):
    with pytest.raises(Refused):
        read_edges(typed)


def test_a_near_word_is_offered():
    words = {"grain up": "grain up", "yes": "yes"}
    assert read_word(" Grain  UP. ", "the turn rule", words, ("yes",)) == "grain up"
    with pytest.raises(Refused, match='did you mean "grain up"'):
        read_word("grain upp", "the turn rule", words, ("yes", "grain up"))
    with pytest.raises(Refused, match="write yes or grain up"):
        read_word("maybe", "the turn rule", words, ("yes", "grain up"))


@given(st.text(max_size=40))
def test_any_text_is_a_value_or_refused(text):
    for read in (read_count, read_on_hand, read_money, read_edges, lambda t: read_packs(t, 5)):
        try:
            read(text)
        except Refused as refused:
            assert str(refused).isprintable()
