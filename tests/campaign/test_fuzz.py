"""A few spoiled things of every kind, and those that fell once."""

import pytest

from tests.campaign.fuzz import TARGETS, failure

BY_NAME = {target.name: target for target in TARGETS}


@pytest.mark.parametrize("name", BY_NAME)
@pytest.mark.parametrize("number", range(12))
def test_what_is_spoiled_is_read_or_refused_in_words(name, number):
    assert failure(BY_NAME[name], number) is None
