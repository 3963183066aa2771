"""Paper shares: proportional, whole cents, and nothing lost."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from sheetcut.cost import shares

areas = st.dictionaries(st.integers(0, 40), st.integers(1, 10**15), min_size=1, max_size=40)


@given(cash=st.integers(0, 10**7), areas=areas)
def test_shares_add_up_to_the_cash(cash, areas):
    assert sum(shares(cash, areas).values()) == cash


@given(cash=st.integers(0, 10**7), areas=areas)
def test_a_share_is_within_a_cent_of_its_proportion(cash, areas):
    whole = sum(areas.values())
    for key, share in shares(cash, areas).items():
        assert abs(share - Fraction(cash * areas[key], whole)) < 1


def test_the_largest_remainders_get_the_missing_cents():
    """Seats of 10 by the method of Hamilton, worked by hand: quotas 1.5, 3.3 and 5.2.

    Floors 1, 3 and 5 leave one; the largest remainder is the first.
    """
    assert shares(10, {0: 15, 1: 33, 2: 52}) == {0: 2, 1: 3, 2: 5}


def test_nothing_placed_carries_nothing():
    assert shares(1520, {}) == {}
