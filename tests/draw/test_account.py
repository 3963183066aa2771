from hypothesis import given
from hypothesis import strategies as st

from sheetcut.draw.account import where_it_went
from sheetcut.layout import Waste

AREAS = st.integers(0, 10**12)


@given(areas=st.tuples(AREAS, AREAS, AREAS, AREAS).filter(any), price=st.integers(0, 10**6))
def test_the_cents_of_a_sheet_add_up_to_its_price(areas, price):
    went = where_it_went(Waste(*areas, edges=0, extra=0), price)
    assert sum(part.cents for part in went) == price
    assert [part.area for part in went] == list(areas)
    assert all(part.area or not part.cents for part in went)


def test_the_imperial_twins_went_where_the_arithmetic_says():
    """560 x 760 = 425 600 mm² at 15.20, three A5 + A4 + A3 finished and their blanks.

    Finished 3 x 148 x 210 + 210 x 297 + 297 x 420 = 280 350; blanks 3 x 172 x 234 + 327 x 240
    + 327 x 450 = 346 374, so margins 66 024 and scrap 79 226. In cents 1001.25, 235.80 and
    282.95: rounded down 1001 + 235 + 282 = 1518, and the two cents go to .95 and .80.
    """
    went = where_it_went(Waste(280_350, 66_024, 0, 79_226, 0, 0), 1520)
    assert [part.cents for part in went] == [1001, 236, 0, 283]


def test_without_a_price_only_areas_are_said():
    assert [part.cents for part in where_it_went(Waste(1, 1, 1, 1, 0, 0), None)] == [None] * 4
