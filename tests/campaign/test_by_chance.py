"""A few of the campaign's jobs by chance, and every one that fell once."""

import pytest

from tests.campaign.differential import compared
from tests.campaign.laws import trial

FELL = {
    # The search freed a sheet after pieces had been left out for want of paper.
    5198: "short of paper beside a whole sheet",
    18629: "short of paper beside five whole sheets",
    # The same, freed when the plan was tidied.
    21227: "short of paper beside an offcut",
    # Hundreds of thousands of sheets at a cent were counted beside one that costs much.
    6888: "a proof too long to be repeated",
    25775: "a proof too long to be repeated",
    # A sheet narrower than a step of the ruler is in no proof.
    37940: "a proof without a sheet that carries nothing",
    # Whole numbers of no pattern left all of it over, again and again.
    18228: "planned from within itself without end",
    # The readings at a ruler were longer than the page.
    7424: "26 strips had no room on any page",
    # A deckle kept on a sheet that is no whole number of steps high: half a step came first.
    21789: "a cut between the marks above a kept deckle",
    25452: "a cut between the marks read from the top",
    # Slips of paper that carry next to nothing were counted on, long after it was given up.
    106915: "a minute spent on counting sheets",
}
"""Seeds whose jobs broke a law once, with what was wrong."""


@pytest.mark.parametrize("seed", range(32))
def test_every_law_holds(seed):
    assert trial(seed).broken == ()


@pytest.mark.parametrize("seed", FELL, ids=lambda seed: FELL[seed].replace(" ", "-"))
def test_what_fell_once_holds(seed):
    """Each by the law that it broke; 7424 divides by 64, so it is drawn."""
    assert trial(seed).broken == ()


@pytest.mark.parametrize("seed", range(24))
def test_no_plan_beats_or_misses_what_trying_every_way_gives(seed):
    one = compared(seed)
    assert (one.broken, one.worse, one.needlessly_short) == ((), 0, False)
