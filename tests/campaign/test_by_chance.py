"""A few of the campaign's jobs by chance, and every one that fell once."""

import pytest

from tests.campaign.differential import compared
from tests.campaign.laws import trial

FELL: tuple[int, ...] = ()
"""Seeds whose jobs broke a law once."""


@pytest.mark.parametrize("seed", [*range(0, 48), *FELL])
def test_every_law_holds(seed):
    assert trial(seed).broken == ()


@pytest.mark.parametrize("seed", range(24))
def test_no_plan_beats_or_misses_what_trying_every_way_gives(seed):
    one = compared(seed)
    assert (one.broken, one.worse, one.needlessly_short) == ((), 0, False)
