"""Large jobs of many alike."""

import random

from sheetcut.nest import Stop, lay_out
from tests.nest.jobs import assert_sound, job_of, value_of


def many(n, kinds, seed=5):
    chance = random.Random(seed)
    sizes = [(chance.randint(80, 500), chance.randint(80, 500)) for _ in range(kinds)]
    shares = [chance.randint(1, 9) for _ in sizes]
    pieces = [
        (w, h, max(1, n * share // sum(shares)))
        for (w, h), share in zip(sizes, shares, strict=True)
    ]
    return job_of(pieces, [(560, 760, 1520), (686, 1016, 2980)])


def test_a_thousand_pieces_come_within_two_per_cent_of_what_is_proved():
    """The figure asked of 10 000 pieces of 30 sizes, on a job a tenth as large."""
    job = many(1000, 8)
    answer = lay_out(job, "rag", rounds=200)
    assert_sound(job, answer)
    assert value_of(job, answer) <= 1.02 * answer.bound.value


def test_a_large_job_is_stopped_with_a_plan():
    job = many(4000, 30)
    answer = lay_out(job, "rag", rounds=200, stop=Stop(0))
    assert answer.stopped
    assert_sound(job, answer)
