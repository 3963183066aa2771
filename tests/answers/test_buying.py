"""The cheapest purchase: the demo's packs, hand-made cases, and an exhaustive search beside it."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from sheetcut.answers.buying import Carriage, NotForSale, Offer, cheapest, offers_of
from sheetcut.job import Pack, Sheet
from sheetcut.units import mm


def sheet(job, name):
    return next(one for one in job.sheets if one.id == name)


@pytest.mark.parametrize(
    ("name", "n", "cost", "surplus"),
    [
        ("HP-IMP", 2, 7600, 3),  # what the shelf habit runs out of: a pack of five
        ("RAG-L", 1, 11400, 9),  # and a pack of ten
        ("HP-DE", 1, 2980, 0),  # sold single
        ("HP-IMP", 16, 27800, 4),  # 20 at 13.90 are less than four packs of five, 304.00
        ("HP-IMP", 15, 22800, 0),  # three packs of five
    ],
)
def test_the_packs_of_the_demo(demo_job, name, n, cost, surplus):
    found = cheapest({name: n}, offers_of(sheet(demo_job, name)))
    assert found.cost == found.goods == cost
    assert sum(found.surplus.values()) == surplus


def test_nothing_needed_is_nothing_bought(demo_job):
    assert cheapest({"HP-IMP": 0}, offers_of(sheet(demo_job, "HP-IMP"))).lines == ()


def test_a_price_break_sells_any_number_from_its_start():
    """22 at 13.90 are 305.80; at 15.20 each they would be 334.40."""
    offers = [Offer("s", 1, 1520), Offer("s", 20, 1390, is_break=True)]
    found = cheapest({"s": 22}, offers)
    assert (found.cost, found.surplus) == (30580, {})
    # 18 at 15.20 are 273.60, 20 at the break 278.00; 19 at 15.20 are 288.80.
    assert cheapest({"s": 18}, offers).cost == 27360
    assert cheapest({"s": 19}, offers).cost == 27800


def test_free_carriage_can_be_worth_a_sheet_more():
    """Nine at 15.20 are 136.80 and 14.50 of carriage; ten are 152.00 and nothing."""
    carriage = Carriage(((0, 1450), (15000, 0)))
    found = cheapest({"s": 9}, [Offer("s", 1, 1520)], carriage)
    assert (found.cost, found.carriage, found.surplus) == (15130, 1450, {})
    dearer = Carriage(((0, 1550), (15000, 0)))
    found = cheapest({"s": 9}, [Offer("s", 1, 1520)], dearer)
    assert (found.cost, found.carriage, found.surplus) == (15200, 0, {"s": 1})


def test_of_equal_costs_the_fewest_sheets_come():
    """A pack of three for 30.00 costs what two single sheets at 15.00 do."""
    found = cheapest({"s": 2}, [Offer("s", 3, 3000), Offer("s", 1, 1500)])
    assert (found.cost, found.surplus) == (3000, {})


def test_a_sheet_without_price_cannot_be_bought():
    bare = Sheet("s", "Rag", mm(100), mm(100))
    with pytest.raises(NotForSale, match="s: neither"):
        cheapest({"s": 1}, offers_of(bare))


def test_a_sheet_with_nothing_but_a_price_break_is_sold_singly_too():
    """Two came to 278.00: "20+ at 13.90" alone was taken for the only way to buy the sheet.

    At 15.20 two are 30.40, eighteen 273.60; nineteen are 288.80, and twenty at the break 278.00.
    """
    sheet = Sheet("s", "Rag", mm(560), mm(760), price=1520, packs=(Pack(20, 27800, or_more=True),))
    offers = offers_of(sheet)
    found = {n: cheapest({"s": n}, offers) for n in (2, 18, 19, 21)}
    assert {n: one.cost for n, one in found.items()} == {2: 3040, 18: 27360, 19: 27800, 21: 29190}
    assert {n: dict(one.surplus) for n, one in found.items() if one.surplus} == {19: {"s": 1}}


def test_a_break_without_a_price_is_the_only_way_to_buy():
    """Nobody has said what a single sheet costs, so three cost what twenty do."""
    sheet = Sheet("s", "Rag", mm(560), mm(760), packs=(Pack(20, 27800, or_more=True),))
    assert cheapest({"s": 3}, offers_of(sheet)).cost == 27800


@pytest.mark.parametrize("packs", [(), (Pack(1, 1520),), (Pack(5, 7600), Pack(20, 27800, True))])
def test_a_pack_says_how_a_sheet_is_sold(packs):
    """The price stands for one more only where no pack does."""
    sheet = Sheet("s", "Rag", mm(560), mm(760), price=1520, packs=packs)
    singles = [offer for offer in offers_of(sheet) if offer.count == 1 and not offer.is_break]
    assert len(singles) == (0 if len(packs) == 2 else 1)


def test_carriage_begins_at_nothing():
    with pytest.raises(ValueError, match="from 0"):
        Carriage(((100, 5),))


def exhaustive(needs, offers, carriage):
    """Try every number of every offer up to more than can be worth while."""
    most = [
        max(needs.values()) + offer.count + -(-carriage.bands[-1][0] // offer.price)
        if offer.is_break
        else -(-max(needs.values()) // offer.count) + -(-carriage.bands[-1][0] // offer.price)
        for offer in offers
    ]
    best = None
    for numbers in product(*(range(n + 1) for n in most)):
        lines = list(zip(offers, numbers, strict=True))
        if any(offer.is_break and 0 < n < offer.count for offer, n in lines):
            continue
        if any(
            sum(n * (1 if o.is_break else o.count) for o, n in lines if o.sheet == name) < need
            for name, need in needs.items()
        ):
            continue
        goods = sum(offer.price * n for offer, n in lines)
        sheets = sum(n * (1 if offer.is_break else offer.count) for offer, n in lines)
        cost = goods + carriage.charge(goods)
        best = min(best or (cost, sheets), (cost, sheets))
    return best


offer = some.builds(
    Offer,
    some.sampled_from(["a", "b"]),
    some.integers(1, 4),
    some.integers(3, 40),
    some.booleans(),
)


@settings(max_examples=60, deadline=None)
@given(
    some.integers(0, 5),
    some.integers(1, 5),
    some.lists(offer, min_size=0, max_size=2),
    some.lists(some.tuples(some.integers(1, 40), some.integers(0, 12)), max_size=2),
    some.integers(0, 12),
)
def test_no_other_purchase_costs_less(need_a, need_b, more, bands, first):
    offers = [Offer("a", 2, 17), Offer("b", 1, 11), *more]
    carriage = Carriage(((0, first), *sorted(dict(bands).items())))
    needs = {"a": need_a, "b": need_b}
    found = cheapest(needs, offers, carriage)
    sheets = sum(line.sheets for line in found.lines)
    assert (found.cost, sheets) == exhaustive(needs, offers, carriage)
    assert found.goods == sum(line.cost for line in found.lines)
    for line in found.lines:
        assert not line.offer.is_break or line.number >= line.offer.count


sold = some.builds(
    Sheet,
    some.just("s"),
    some.just("Rag"),
    some.just(mm(100)),
    some.just(mm(100)),
    price=some.integers(3, 30),
    packs=some.lists(
        some.one_of(
            some.builds(Pack, some.integers(2, 4), some.integers(5, 60)),
            some.builds(
                lambda n, each: Pack(n, n * each, or_more=True),
                some.integers(2, 6),
                some.integers(1, 20),
            ),
        ),
        max_size=3,
    ).map(tuple),
)


@settings(max_examples=60, deadline=None)
@given(sold, some.integers(1, 9), some.integers(0, 9), some.integers(20, 60))
def test_no_way_to_buy_a_sheet_as_it_is_sold_costs_less(sheet, need, fee, free_from):
    """Packs, breaks and single sheets as a drawer has them, against every number of each."""
    offers = offers_of(sheet)
    carriage = Carriage(((0, fee), (free_from, 0)))
    found = cheapest({"s": need}, offers, carriage)
    assert (found.cost, sum(line.sheets for line in found.lines)) == exhaustive(
        {"s": need}, offers, carriage
    )


def test_a_price_for_so_many_or_more_holds_for_any_larger_number():
    """The demo's Imperial: 5 for 76.00; 20 and more at 13.90 each.

    21 sheets are 21 x 13.90 = 291.90; four packs of five and one more would be five packs,
    380.00.
    """
    sheet = Sheet(
        "HP-IMP", "Rag", mm(560), mm(760), packs=(Pack(5, 7600), Pack(20, 27800, or_more=True))
    )
    bought = cheapest({"HP-IMP": 21}, offers_of(sheet))
    assert sum(line.cost for line in bought.lines) == 21 * 1390
    assert bought.surplus == {}
