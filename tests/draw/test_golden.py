"""The drawings as they were looked at and kept; a change of look has to be looked at again."""

import pytest

from tests.draw.cases import CASES
from tests.draw.keep_golden import GOLDEN, golden_svg


@pytest.mark.parametrize("name", CASES)
def test_a_drawing_is_as_it_was_when_somebody_looked(name):
    kept = (GOLDEN / f"pinup-{name}.svg").read_text(encoding="utf-8")
    assert golden_svg(CASES[name]()) == kept, (
        f"pinup-{name}.svg is drawn differently now: look at it, then keep it with "
        "python -m tests.draw.keep_golden"
    )
