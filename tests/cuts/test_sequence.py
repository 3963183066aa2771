import random
from itertools import groupby

import pytest

from sheetcut.cuts import arrange
from sheetcut.cuts.marks import marks_and_leaves
from sheetcut.cuts.sequence import in_turn
from sheetcut.layout import Part
from tests.check.plans import random_tree


def orders(strips):
    """Yield every order in which each piece in hand has its farthest reading first."""
    if not any(strips):
        yield ()
    for n, strip in enumerate(strips):
        if strip:
            left = [*strips[:n], strip[1:], *strips[n + 1 :]]
            for order in orders(left):
                yield (strip[0], *order)


def runs(marks, key):
    return sum(1 for _ in groupby(marks, key))


def costs(marks):
    """Return placings of the ruler and pieces taken in hand."""
    return runs(marks, lambda mark: mark.ruler), runs(marks, lambda mark: mark.strip)


def by_strip(marks):
    found = {}
    for mark in sorted(marks, key=lambda mark: -mark.at):
        found.setdefault(mark.strip, []).append(mark)
    return list(found.values())


def small_levels():
    """Yield the cuts of one level of random trees, few enough for every order to be tried."""
    for seed in range(400):
        tree = arrange(random_tree(9, 12, 3, random.Random(seed), blank=0.85))
        marks, _ = marks_and_leaves(tree)
        for level in {mark.level for mark in marks}:
            chosen = tuple(mark for mark in marks if mark.level == level)
            shared = len({mark.ruler for mark in chosen}) < len(chosen)
            if shared and 3 <= len(chosen) <= 7:
                yield chosen


LEVELS = list(small_levels())


def test_there_are_levels_to_try():
    assert len(LEVELS) > 100


@pytest.mark.parametrize("part", range(4))
def test_no_order_needs_fewer_settings_or_fewer_changes(part):
    """Exhaustive search over every order that takes the farthest reading first."""
    for marks in LEVELS[part::4]:
        assert costs(in_turn(marks)) == min(map(costs, orders(by_strip(marks))))


@pytest.mark.parametrize("seed", range(30))
def test_the_rules_hold_on_large_trees(seed):
    marks, _ = marks_and_leaves(arrange(random_tree(60, 80, 4, random.Random(seed), blank=0.9)))
    order = in_turn(marks)
    assert sorted(order, key=marks.index) == list(marks)
    assert [mark.level for mark in order] == sorted(mark.level for mark in order)
    done = {}
    for mark in order:
        assert mark.at < done.get(mark.strip, mark.at + 1)
        done[mark.strip] = mark.at
    rulers = [(mark.level, mark.ruler) for mark in order]
    assert runs(rulers, lambda ruler: ruler) == len(set(rulers))


def test_a_strip_is_finished_before_the_next_unless_readings_line_up():
    """Cross cuts at 6, 4 and 2 in one strip, 7 and 3 in the other: two strips taken in hand."""
    one = Part(2, 9, "y", tuple(Part(2, side, piece=0) for side in (2, 2, 2, 3)))
    two = Part(5, 9, "y", tuple(Part(5, side, piece=0) for side in (3, 4, 2)))
    marks, _ = marks_and_leaves(Part(7, 9, "x", (one, two)))
    assert [mark.at for mark in in_turn(marks)] == [2, 7, 3, 6, 4, 2]


def test_very_many_strips_go_by_reading():
    """Fourteen strips of 4 cuts that all line up: too many states, so from the far side in."""
    strips = tuple(
        Part(2, 10, "y", tuple(Part(2, 2, piece=0) for _ in range(5))) for _ in range(14)
    )
    marks, _ = marks_and_leaves(Part(28, 10, "x", strips))
    cross = [mark.at for mark in in_turn(marks) if mark.level == 2]
    assert cross == [8] * 14 + [6] * 14 + [4] * 14 + [2] * 14
