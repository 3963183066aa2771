"""Numbers that can be relied on, to the last that can and the first that cannot."""

from dataclasses import replace

import pytest

from sheetcut.check import faults_in
from sheetcut.check.sound import (
    MOST_CENTS,
    MOST_COPIES,
    layout_troubles,
    paper_troubles,
    plan_troubles,
)
from sheetcut.job import LONGEST
from sheetcut.layout import Bound, Keeper, Short
from sheetcut.units import Edges
from tests.check.plans import imperial_twins
from tests.check.test_faults import with_paper

PLAN = imperial_twins()
LAYOUT = PLAN.layouts[0]
LINES = len(PLAN.job.pieces)


def of_layout(**changes):
    return len(list(layout_troubles(PLAN, replace(LAYOUT, **changes))))


def of_one(field, **changes):
    first, *others = getattr(LAYOUT, field)
    return of_layout(**{field: (replace(first, **changes), *others)})


def of_waste(term, value):
    return of_layout(waste=replace(LAYOUT.waste, **{term: value}))


def of_paper(**changes):
    return len(list(paper_troubles(PLAN, replace(PLAN.papers[0], **changes))))


def of_short(**changes):
    one = replace(Short(0, 1, "paper ran out"), **changes)
    return len(list(plan_troubles(replace(PLAN, short=(one,)))))


def of_keeper(**changes):
    keeper = replace(Keeper(("owl 1",), 0, 0, 1, 1), **changes)
    return of_layout(keepers=(keeper,))


RANGES = {
    # what takes the number, the least that will do, the most
    "copies": (lambda n: of_layout(copies=n), 1, MOST_COPIES),
    "twins": (lambda n: of_layout(twins=n), -MOST_COPIES, MOST_COPIES),
    "sheet's width": (lambda n: of_layout(width=n), 1, LONGEST),
    "sheet's height": (lambda n: of_layout(height=n), 1, LONGEST),
    "usable x": (lambda n: of_layout(usable=(n, 0, 1, 1)), -LONGEST, LONGEST),
    "usable y": (lambda n: of_layout(usable=(0, n, 1, 1)), -LONGEST, LONGEST),
    "usable width": (lambda n: of_layout(usable=(0, 0, n, 1)), 1, LONGEST),
    "usable height": (lambda n: of_layout(usable=(0, 0, 1, n)), 1, LONGEST),
    "leftover's height": (lambda n: of_layout(leftovers=((0, 0, 1, n),)), 1, LONGEST),
    "piece": (lambda n: of_one("placements", piece=n), 0, LINES - 1),
    "blank's x": (lambda n: of_one("placements", x=n), -LONGEST, LONGEST),
    "blank's y": (lambda n: of_one("placements", y=n), -LONGEST, LONGEST),
    "blank's width": (lambda n: of_one("placements", width=n), 1, LONGEST),
    "blank's height": (lambda n: of_one("placements", height=n), 1, LONGEST),
    "rounding": (lambda n: of_one("placements", rounding=(0, n)), 0, LONGEST),
    "leave-on": (lambda n: of_one("placements", leave_on=Edges(foot=n)), 0, LONGEST),
    "squaring's number": (lambda n: of_one("squaring", number=n), 1, MOST_COPIES),
    "squaring's reading": (lambda n: of_one("squaring", reading=n), -LONGEST, LONGEST),
    "cut's number": (lambda n: of_one("cuts", number=n), 1, MOST_COPIES),
    "cut's place": (lambda n: of_one("cuts", at=n), -LONGEST, LONGEST),
    "cut's reading": (lambda n: of_one("cuts", reading=n), -LONGEST, LONGEST),
    "cut's start": (lambda n: of_one("cuts", start=n, stop=LONGEST), -LONGEST, LONGEST - 1),
    "cut's end": (lambda n: of_one("cuts", start=-LONGEST, stop=n), 1 - LONGEST, LONGEST),
    "cut's level": (lambda n: of_one("cuts", level=n), 1, MOST_COPIES),
    "cut's setting": (lambda n: of_one("cuts", setting=n), 1, MOST_COPIES),
    "cut's edge": (lambda n: of_one("cuts", edge=n), 1, MOST_COPIES),
    "keeper's x": (lambda n: of_keeper(x=n), -LONGEST, LONGEST),
    "keeper's width": (lambda n: of_keeper(width=n), 1, LONGEST),
    **{
        f"waste: {term}": (lambda n, term=term: of_waste(term, n), 0, LONGEST**2)
        for term in ("finished", "margins", "keepers", "scrap", "edges", "extra")
    },
    "sheets used": (lambda n: of_paper(sheets_used={"HP-IMP": n}), 0, MOST_COPIES),
    "share's line": (lambda n: of_paper(shares={n: 1}), 0, LINES - 1),
    "share": (lambda n: of_paper(shares={0: n}), 0, MOST_CENTS),
    "cost": (lambda n: of_paper(cost=n), 0, MOST_CENTS),
    "bound": (lambda n: of_paper(bound=Bound("cost", n, "so")), 0, MOST_CENTS),
    "short's line": (lambda n: of_short(piece=n), 0, LINES - 1),
    "short": (lambda n: of_short(count=n), 1, MOST_COPIES),
}


@pytest.mark.parametrize("name", RANGES)
def test_a_number_is_relied_on_from_its_least_to_its_most(name):
    troubles, least, most = RANGES[name]
    assert [troubles(n) for n in (least - 1, least, most, most + 1)] == [1, 0, 0, 1]
    for odd in (True, 0.5, "1", None):
        if (name, odd) != ("cost", None):  # not known
            assert troubles(odd) == 1, odd


WORDS = {
    "sheet": (lambda word: of_layout(sheet=word), ["HP-IMP"]),
    "start": (
        lambda word: of_layout(start=word),
        [("left", "foot"), ("left", "top"), ("right", "foot"), ("right", "top")],
    ),
    "turned": (lambda word: of_one("placements", turned=word), [True, False]),
    "squared edge": (
        lambda word: of_one("squaring", edge=word),
        ["left", "right", "top", "foot"],
    ),
    "along": (lambda word: of_one("cuts", along=word), ["x", "y"]),
    "cut's edge": (lambda word: of_one("cuts", edge=word), ["start", 1]),
    "keeper's names": (lambda word: of_keeper(names=word), [("owl 1",), ("owl 1", "owl 2")]),
    "why": (lambda word: of_short(why=word), ["fits no sheet", "paper ran out"]),
    "sheet used": (lambda word: of_paper(sheets_used={word: 1}), ["HP-IMP"]),
    "reason": (lambda word: of_paper(bound=Bound("cost", 1, word)), ["so", ""]),
    "measure": (lambda word: of_paper(bound=Bound(word, 1, "so")), ["cost", "sheets"]),
    "aim": (lambda word: of_paper(aim=word), ["least cost", "fewest sheets"]),
    "usable area": (lambda word: of_layout(usable=word), [(0, 0, 1, 1)]),
    "leftover": (lambda word: of_layout(leftovers=(word,)), [(0, 0, 1, 1)]),
}


@pytest.mark.parametrize("name", WORDS)
def test_a_word_is_one_of_those_there_are(name):
    troubles, good = WORDS[name]
    assert [troubles(word) for word in good] == [0] * len(good)
    for odd in (("owl", " "), ("foot", ""), (1, 2, 3), (0, 0, 1, 1, 1)):
        assert troubles(odd) == 1, odd


def test_a_blank_has_two_roundings_and_four_leave_ons():
    assert of_one("placements", rounding=(0, 0, 0)) == 1
    assert of_one("placements", rounding=(0,), leave_on=(0, 0, 0, 0, 0)) == 0
    assert of_one("placements", leave_on=(0, 0, 0)) == 1


def test_a_cost_that_is_not_known_is_no_trouble():
    assert of_paper(cost=None) == 0


def test_each_paper_has_one_plan():
    (trouble,) = plan_troubles(replace(PLAN, papers=PLAN.papers * 3))
    assert trouble.message == "the paper has 3 plans; each paper has one"


def test_what_cannot_be_relied_on_is_not_looked_at_further():
    """A share of nobody, and a cost that is wrong besides: the sums are not made."""
    (only,) = faults_in(with_paper(PLAN, shares={LINES: 1}, cost=1))
    assert only.message == f"a paper share stands for order line number {LINES}"
