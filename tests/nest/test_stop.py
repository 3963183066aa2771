"""When a search ends, by a clock that stands until it is told to go on."""

import pytest

from sheetcut.nest.stop import Stop


class Clock:
    def __init__(self):
        self.now = 1000.0

    def __call__(self):
        return self.now


@pytest.fixture
def clock():
    return Clock()


def test_it_is_due_when_its_seconds_are_over(clock):
    stop = Stop(5, clock=clock)
    clock.now += 4.5
    assert (stop.is_due(), stop.seconds_left()) == (False, 0.5)
    clock.now += 0.5
    assert (stop.is_due(), stop.seconds_left()) == (True, 0)


def test_without_seconds_only_a_word_ends_it(clock):
    stop = Stop(clock=clock)
    clock.now += 1e9
    assert (stop.is_due(), stop.seconds_left()) == (False, None)
    stop.finish()
    assert (stop.is_due(), stop.seconds_left()) == (True, 0)


def test_shares_are_equal_parts_of_what_is_left(clock):
    """Three papers and 9 s: 3 s; if the first takes but 1 s, the others have 4 s each."""
    whole = Stop(9, clock=clock)
    assert whole.share(of=3).seconds_left() == 3
    clock.now += 1
    second = whole.share(of=2)
    assert second.seconds_left() == 4
    clock.now += 4
    assert second.is_due()
    assert whole.share(of=1).seconds_left() == 4


def test_a_share_ends_with_the_whole(clock):
    """Even one that was given more: a part of endless time, say."""
    whole = Stop(clock=clock)
    part = whole.share(of=2)
    assert part.seconds_left() is None
    whole.finish()
    assert (part.is_due(), part.seconds_left()) == (True, 0)
    late = Stop(2, clock=clock).share(of=1)
    clock.now += 1
    assert late.seconds_left() == 1
