"""No bound is above a proved optimum, and no plan below one.

By default on the problems kept in ``problems.py``; with ``--all-published`` on all proved
problems of the ten classes, which the package of the benchmark extra carries.
"""

import pytest

from sheetcut.nest import lay_out
from tests.bench import families
from tests.nest.jobs import job_of, sizes, value_of
from tests.published.optima import OPTIMA, optimum
from tests.published.problems import problems


def test_the_table_has_every_proved_optimum():
    """743 of 1000: 344 as written and 399 turned, as the source counts them."""
    proved = {
        turn: sum(
            one != "-" for key, row in OPTIMA.items() if key[0] == turn for one in row.split()
        )
        for turn in ("fixed", "rotated")
    }
    assert proved == {"fixed": 344, "rotated": 399}


@pytest.mark.parametrize("problem", problems(), ids=lambda problem: problem.file)
def test_small_published_problems(problem):
    job = job_of(sizes(problem.pieces), problem.sheets, problem.turn)
    answer = lay_out(job, "rag", rounds=600)
    assert answer.bound.value <= problem.least <= value_of(job, answer)


def test_all_published_classes(pytestconfig):
    if not pytestconfig.getoption("--all-published"):
        pytest.skip("takes minutes: give --all-published, with the benchmark extra installed")
    wrong = []
    for one in families.read_family(families.CLASSES, None):
        for orientation, turned in (("fixed", False), ("rotated", True)):
            least = optimum(one.name, orientation)
            if least is None:
                continue
            job = one.job(turned=turned)
            answer = lay_out(job, families.PAPER, rounds=600)
            if not answer.bound.value <= least <= value_of(job, answer):
                wrong.append((one.name, orientation, answer.bound.value, least))
    assert not wrong
