"""Choosing among equals, against every way there is on small jobs."""

import random
from dataclasses import replace
from functools import cache
from itertools import combinations
from unittest import mock

import pytest
from hypothesis import HealthCheck, given, settings

from sheetcut.choosing import ORDERS, others, ways_of
from sheetcut.handling import figures_of, takes_no_more
from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.nest import lay_out
from sheetcut.plan import make_plan
from sheetcut.units import mm
from tests.laws.jobs import jobs

WIDE, HIGH = 20, 14
NEVER = 10**6
few = settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))


class Every:
    """Every way to cut a few blanks from a rectangle, tried one after the other.

    A cut that matters lies where blanks end that are pushed together, so at a sum of sides.
    """

    def __init__(self, blanks):
        self.blanks = blanks
        sides = [side for blank in blanks for side in blank]
        self.sums = sorted(
            {sum(some) for n in range(1, len(sides) + 1) for some in combinations(sides, n)}
        )
        self.fewest = cache(self._fewest)
        self.largest = cache(self._largest)

    def _fewest(self, some, wide, high):
        """Return the fewest cuts that take some of the blanks out of a rectangle."""
        if not some:
            return 0
        if len(some) == 1 and self._is_exactly(some, wide, high):
            return 0
        return min(
            (
                1 + self.fewest(one, *first) + self.fewest(other, *second)
                for one, first, other, second in self._cuts(some, wide, high)
            ),
            default=NEVER,
        )

    def _largest(self, some, wide, high):
        """Return the area of the largest leftover that can be had; -1 if it cannot be cut so."""
        if not some:
            return wide * high
        if len(some) == 1 and self._is_exactly(some, wide, high):
            return 0
        best = -1
        for one, first, other, second in self._cuts(some, wide, high):
            left, right = self.largest(one, *first), self.largest(other, *second)
            if min(left, right) >= 0:
                best = max(best, left, right)
        return best

    def _is_exactly(self, some, wide, high):
        (blank,) = (self.blanks[n] for n in some)
        return (wide, high) in (blank, blank[::-1])

    def _cuts(self, some, wide, high):
        """Yield every cut that leaves either part room for its blanks, by their areas."""
        names = sorted(some)
        for n in range(len(names) + 1):
            for one in map(frozenset, combinations(names, n)):
                other = some - one
                least, rest = self._area(one), self._area(other)
                for at in self.sums:
                    if at < wide and at * high >= least and (wide - at) * high >= rest:
                        yield one, (at, high), other, (wide - at, high)
                    if at < high and at * wide >= least and (high - at) * wide >= rest:
                        yield one, (wide, at), other, (wide, high - at)

    def _area(self, some):
        return sum(self.blanks[n][0] * self.blanks[n][1] for n in some)


def small_jobs(count):
    """Yield blanks that come out of one sheet, with every way there is."""
    chance = random.Random(8)
    while count:
        blanks = [(chance.randint(3, 11), chance.randint(3, 9)) for _ in range(4)]
        if sum(w * h for w, h in blanks) > WIDE * HIGH:
            continue
        every = Every(blanks)
        if every.fewest(frozenset(range(4)), WIDE, HIGH) < NEVER:
            count -= 1
            yield blanks, every


def job_of(blanks, preference):
    pieces = tuple(Piece(f"{n}", "", "rag", mm(w), mm(h)) for n, (w, h) in enumerate(blanks))
    sheet = Sheet("S", "rag", mm(WIDE), mm(HIGH), grain="none")
    rules = Rules(reading_step=mm(1), keep_short=mm(1), keep_long=mm(1), preference=preference)
    return Job((sheet,), pieces, rules)


def test_cuts_and_leftovers_come_within_three_per_cent_of_the_best_there_are():
    """The fewest cuts and the largest leftover of all ways, each added up over the jobs."""
    cuts = fewest = largest = most = 0
    for blanks, every in small_jobs(12):
        all_ = frozenset(range(len(blanks)))
        for preference in ("quicker to cut", "better leftover"):
            job = job_of(blanks, preference)
            plan = make_plan(job, rounds=200, seconds=600)
            figures = figures_of(job, plan.layouts)
            assert sum(one.copies for one in plan.layouts) == 1
            if preference == "quicker to cut":
                cuts += figures.cuts
                fewest += every.fewest(all_, WIDE, HIGH)
                assert figures.cuts >= every.fewest(all_, WIDE, HIGH)
            else:
                largest += figures.largest_area // mm(1) ** 2
                most += every.largest(all_, WIDE, HIGH)
                assert figures.largest_area // mm(1) ** 2 <= every.largest(all_, WIDE, HIGH)
    assert cuts <= 1.03 * fewest
    assert largest >= 0.97 * most


@few
@given(jobs(most_lines=4))
def test_an_alternative_never_takes_more_sheets_or_cash(job):
    for preference in ORDERS:
        rules = replace(job.rules, preference=preference)
        plan = make_plan(replace(job, rules=rules), rounds=20, seconds=600)
        for paper in plan.papers:
            for one in paper.alternatives:
                assert one.kind != preference
                assert takes_no_more(job, one.layouts, paper.layouts)


@pytest.mark.parametrize("preference", ORDERS)
def test_no_other_way_is_before_the_one_that_is_preferred(preference, demo_job):
    """Of all candidates of a paper, by the order that the preference stands for."""
    job = replace(demo_job, rules=replace(demo_job.rules, preference=preference))
    answer = lay_out(job, "Slatehouse Smooth", rounds=500)
    ways = ways_of(job, answer.candidates)
    order = ORDERS[preference]
    first = min(ways, key=order)
    assert all(order(first) <= order(way) for way in ways)
    kinds = [kind for kind, _ in others(job, first.layouts, ways)]
    assert preference not in kinds
    assert len(kinds) == len(set(kinds)) <= 2


def test_the_order_among_equals_is_the_one_that_is_written_down():
    """Cuts, settings, fresh edges, cuts over the mat, different layouts, effort; then keepers."""
    job = job_of([(5, 5), (7, 4)], "quicker to cut")
    way = ways_of(job, lay_out(job, "rag", rounds=50).candidates)[0]
    figures = way.figures
    better = ("cuts", "settings", "fresh_edges", "over_mat", "different", "effort")
    order = ORDERS["quicker to cut"]
    ranks = [order(way)]
    for name in reversed(better):
        less = mm(1000) if name == "effort" else 1
        changed = replace(figures, **{name: getattr(figures, name) - less})
        ranks.append(order(replace(way, figures=changed)))
    assert ranks == sorted(ranks, reverse=True)
    roomier = replace(figures, largest_keeper=(mm(99), mm(99)))
    assert order(replace(way, figures=roomier)) < order(way)
    emptier = replace(figures, least_load=figures.least_load - 1)
    assert order(replace(way, figures=emptier)) < order(way)
    leftover = ORDERS["better leftover"]
    costly = replace(roomier, cuts=figures.cuts + 5)
    assert leftover(replace(way, figures=costly)) < leftover(way)


@pytest.mark.parametrize("rule", ["allowed", "refused"])
def test_of_many_blanks_few_ways_are_cut_unless_strips_are_refused(rule):
    """A hundred and fifty blanks took half a minute after "That will do": each way was parted."""
    sizes = [(61 + 7 * n % 90, 83 + 11 * n % 120) for n in range(110)]
    job = Job(
        sheets=[Sheet("Full", "Rag", mm(610), mm(914))],
        pieces=[Piece(f"{n}", "", "Rag", mm(w), mm(h)) for n, (w, h) in enumerate(sizes)],
        rules=Rules(narrow_strips=rule),
    )
    answer = lay_out(job, "Rag", rounds=0)
    candidates = (*answer.candidates[:1], *answer.candidates[:1], *answer.candidates[:1])
    with mock.patch("sheetcut.choosing._way", return_value=mock.Mock(layouts=())) as cut:
        ways_of(job, candidates)
    assert cut.call_count == (2 if rule == "allowed" else 9)
