"""What must hold for every cut tree and every way of spoiling what comes of it."""

import random
import time
from dataclasses import fields, is_dataclass, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetcut.check import faults_in
from sheetcut.cuts import arrange
from sheetcut.errors import Fault
from sheetcut.job import Rules
from sheetcut.layout import pieces_in_hand
from sheetcut.units import Edges
from tests.check.plans import blanks_of, imperial_twins, plan_of, random_tree

RULES = Rules(reading_step=1, keep_short=4, keep_long=7)
CORNERS = [(x, y) for x in ("left", "right") for y in ("foot", "top")]


@st.composite
def plans(draw):
    """Return a plan for a random tree, arranged or as it grew, from any start corner."""
    rng = random.Random(draw(st.integers(0, 2**32)))
    tree = random_tree(30, 40, draw(st.integers(0, 4)), rng)
    while not blanks_of(tree):
        tree = random_tree(30, 40, 2, rng)
    copies = draw(st.integers(1, 3))
    return plan_of(
        arrange(tree) if draw(st.booleans()) else tree,
        start=draw(st.sampled_from(CORNERS)),
        edge_loss=Edges(*draw(st.tuples(*[st.integers(0, 2)] * 4))),
        on_hand=copies,
        rules=RULES,
        copies=copies,
    )


@given(plan=plans())
def test_every_tree_gives_a_plan_without_faults(plan):
    assert faults_in(plan) == ()


@given(plan=plans())
def test_a_cutter_who_knows_only_the_steps_gets_every_blank(plan):
    """In hand, edge and reading are all that is told; where the cut lies is never looked at."""
    for layout in plan.layouts:
        width, height = layout.usable[2:]
        sides = dict.fromkeys(layout.start, "start")
        table = {(0, 0, width, height): sides}
        for cut, in_hand in zip(layout.cuts, pieces_in_hand(layout), strict=True):
            sides = table.pop(in_hand)
            axis = ("left", "right") if cut.along == "x" else ("foot", "top")
            (edge,) = [edge for edge in axis if sides.get(edge) == cut.edge]
            low, high = cut_in_two(in_hand, edge, cut.reading)
            assert low not in table
            assert high not in table
            table[low] = {**sides, axis[1]: cut.number}
            table[high] = {**sides, axis[0]: cut.number}
        for blank in layout.placements:
            table.pop((blank.x, blank.y, blank.width, blank.height))
        assert sorted(table) == sorted(layout.leftovers)


def cut_in_two(piece, edge, reading):
    """Return the two pieces that a cut makes at a reading from one edge."""
    x, y, width, height = piece
    if edge in ("left", "right"):
        near = reading if edge == "left" else width - reading
        return (x, y, near, height), (x + near, y, width - near, height)
    near = reading if edge == "foot" else height - reading
    return (x, y, width, near), (x, y + near, width, height - near)


SPOILT_FIELDS = [
    ("placements", "x"),
    ("placements", "y"),
    ("placements", "width"),
    ("placements", "height"),
    ("cuts", "number"),
    ("cuts", "at"),
    ("cuts", "start"),
    ("cuts", "stop"),
    ("cuts", "level"),
    ("cuts", "setting"),
    ("cuts", "reading"),
    ("squaring", "number"),
    ("squaring", "reading"),
    ("keepers", "x"),
    ("keepers", "width"),
]


@given(plan=plans(), field=st.sampled_from(SPOILT_FIELDS), data=st.data())
def test_one_wrong_number_is_a_fault(plan, field, data):
    (paper,) = plan.papers
    (layout,) = paper.layouts
    records = list(getattr(layout, field[0]))
    if not records:
        return
    place = data.draw(st.integers(0, len(records) - 1))
    by = data.draw(st.integers(-50, 50).filter(bool))
    records[place] = replace(records[place], **{field[1]: getattr(records[place], field[1]) + by})
    spoiled = replace(layout, **{field[0]: tuple(records)})
    assert faults_in(replace(plan, papers=(replace(paper, layouts=(spoiled,)),)))


@given(plan=plans(), name=st.sampled_from(["placements", "cuts", "squaring", "leftovers"]),
       data=st.data())  # fmt: skip
def test_a_record_lost_or_doubled_is_a_fault(plan, name, data):
    (paper,) = plan.papers
    (layout,) = paper.layouts
    records = getattr(layout, name)
    if not records:
        return
    place = data.draw(st.integers(0, len(records) - 1))
    middle = records[place : place + 1] * data.draw(st.sampled_from([0, 2]))
    spoiled = replace(layout, **{name: (*records[:place], *middle, *records[place + 1 :])})
    assert faults_in(replace(plan, papers=(replace(paper, layouts=(spoiled,)),)))


ABSURD = [0, -1, 1, 7, 10**9, -(10**9), 10**30, 0.5, True, None, "start", "left", "", (), ("a",)]


def leaves(value, path=()):
    """Yield the path to every number and word inside a record."""
    if is_dataclass(value):
        for field in fields(value):
            yield from leaves(getattr(value, field.name), (*path, field.name))
    elif isinstance(value, tuple) and value:
        for place, one in enumerate(value):
            yield from leaves(one, (*path, place))
    elif not isinstance(value, tuple | dict):
        yield path


def put(value, path, leaf):
    """Return a record with one plain value inside it changed."""
    if not path:
        return leaf
    first, *rest = path
    if is_dataclass(value):
        return replace(value, **{first: put(getattr(value, first), rest, leaf)})
    changed = [put(one, rest, leaf) if n == first else one for n, one in enumerate(value)]
    return type(value)(*changed) if hasattr(value, "_fields") else tuple(changed)


TWINS = imperial_twins()
PATHS = list(leaves(TWINS.papers))


@settings(max_examples=400)
@given(path=st.sampled_from(PATHS), leaf=st.sampled_from(ABSURD))
def test_no_spoiled_plan_makes_the_checker_stumble(path, leaf):
    """Whatever stands for one number or word of an answer: faults, or none, and no exception."""
    spoiled = replace(TWINS, papers=put(TWINS.papers, path, leaf))
    assert all(isinstance(fault, Fault) for fault in faults_in(spoiled))


@pytest.mark.parametrize("blanks", [40])
def test_checking_a_plan_of_forty_blanks_is_timed(blanks, record_property):
    """A busy sheet; the least of five runs, since the machine may do other things too."""
    rng = random.Random(3)
    tree = random_tree(400, 600, 4, rng)
    while len(list(blanks_of(tree).elements())) < blanks:
        tree = random_tree(400, 600, 4, rng)
    plan = plan_of(tree, rules=RULES)
    assert faults_in(plan) == ()
    times = []
    for _ in range(5):
        began = time.perf_counter()
        faults_in(plan)
        times.append(time.perf_counter() - began)
    record_property("ms for a plan of forty blanks", round(1000 * min(times), 1))
