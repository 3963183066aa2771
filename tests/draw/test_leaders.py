"""Where words go that have no room at their place, against a search of every spot by itself."""

import random

from sheetcut.draw.leaders import CLEAR_MM, CROWDED, OFFSETS, spot_near
from sheetcut.draw.place import Taken, grown, lies_in, overlap

WITHIN = (0.0, 0.0, 120.0, 160.0)


def scattered(chance, count, most):
    """Return so many small boxes on a page."""
    corners = [(chance.uniform(0, 118), chance.uniform(0, 158)) for _ in range(count)]
    return [(x, y, x + chance.uniform(1, most), y + 3.0) for x, y in corners]


def clear_spots(target, size, words, lines):
    """Return the spots clear of words and lines, the nearest first, one after the other."""
    x, y = target
    wide, high = size[0] / 2, size[1] / 2
    spots = [
        (x + dx - wide, y + dy - high, x + dx + wide, y + dy + high) for dx, dy in OFFSETS.tolist()
    ]
    return [
        spot
        for spot in spots
        if lies_in(spot, WITHIN)
        and not any(overlap(grown(spot, CLEAR_MM), word) for word in words)
        and not any(overlap(spot, line) for line in lines)
    ]


def test_the_spot_is_the_nearest_clear_one_where_no_words_lie_between():
    """With few words the nearest clear spot nearly always leads clear; it is never passed over."""
    chance = random.Random(5)
    nearest = 0
    for _ in range(60):
        words, lines = scattered(chance, 40, 9), scattered(chance, 30, 30)
        target = chance.uniform(20, 100), chance.uniform(20, 140)
        spot = spot_near(target, (7.0, 4.0), Taken(words), Taken(lines), WITHIN)
        clear = clear_spots(target, (7.0, 4.0), words, lines)
        assert spot in clear
        nearest += spot == clear[0]
    assert nearest > 40


def test_lines_are_crossed_where_they_must_be_and_words_never():
    """A page of lines a millimetre apart leaves no clear spot; a page of words leaves none."""
    lines = [(0.0, float(y), 120.0, y + 0.2) for y in range(160)]
    target = (60.0, 80.0)
    assert spot_near(target, (7.0, 4.0), Taken(), Taken(lines), WITHIN) is not None
    assert spot_near(target, (7.0, 4.0), Taken(lines), Taken(), WITHIN) is None


def test_nobody_looks_for_room_on_a_drawing_where_a_hundred_words_found_none():
    """A sheet of 2 000 cards took minutes to draw: thousands of readings looked in vain."""
    empty = Taken()
    empty.clashes = CROWDED - 1
    assert spot_near((60.0, 80.0), (7.0, 4.0), empty, Taken(), WITHIN) is not None
    empty.clashes = CROWDED
    assert spot_near((60.0, 80.0), (7.0, 4.0), empty, Taken(), WITHIN) is None


def test_room_taken_later_counts():
    """Boxes are looked through as rows, which follow every box that is added."""
    taken = Taken([(0.0, 0.0, 1.0, 1.0)])
    found = []
    for n in range(1, 9):
        found.append(len(taken.near((0.0, 0.0, 100.0, 100.0)).boxes))
        taken.add((10.0 * n, 0.0, 10.0 * n + 1, 1.0))
    assert found == list(range(1, 9))
