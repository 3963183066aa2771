"""Deckles on far edges: which stay, which are cut off, and which blank keeps which."""

from dataclasses import replace

import pytest

from sheetcut.check.case import LayoutCase
from sheetcut.check.squaring import (
    asked_edges,
    deckle_stays,
    kept_deckles_lie_at_their_edges,
    squared_where_needed,
    start_edges_first,
)
from sheetcut.job import Job, Piece, Sheet
from sheetcut.layout import Placement, Squaring
from sheetcut.units import Edges, mm
from tests.check.plans import PAPER, imperial_twins

PLAN = imperial_twins()
ALL = ("left", "right", "top", "foot")


def case_of(places, pieces, *, start=("left", "foot"), squaring=(), **more):
    """Return a layout on 10 x 8 mm within a loss of 1, 2, 3 and 4 mm on the edges."""
    loss = Edges(*map(mm, (1, 2, 3, 4)))
    sheet = Sheet("one", PAPER, mm(13), mm(15), edge_loss=loss, **more)
    layout = replace(
        PLAN.papers[0].layouts[0],
        placements=tuple(Placement(n, *map(mm, place)) for n, place in enumerate(places)),
        usable=(mm(1), mm(4), mm(10), mm(8)),
        start=start,
        squaring=tuple(
            Squaring(n, edge, mm(reading)) for n, (edge, reading) in enumerate(squaring, 1)
        ),
    )
    plan = replace(PLAN, job=Job((sheet,), pieces))
    return LayoutCase(plan, PLAN.papers[0], layout, sheet, "here")


def pieces_of(*kinds, deckles=()):
    return tuple(
        Piece(f"D{n}", "", PAPER, mm(1), mm(1), kind=kind, deckles=deckles if n == 0 else ())
        for n, kind in enumerate(kinds)
    )


def told(check, case):
    return [fault.message for fault in check(case)]


FULL = [(0, 0, 10, 8)]


@pytest.mark.parametrize(
    ("place", "start", "squaring"),
    [
        # far edges are cut at the whole width and height, start edges by what they lose
        ((0, 0, 10, 8), ("left", "foot"), [("left", 1), ("foot", 4), ("right", 10), ("top", 8)]),
        ((0, 0, 10, 8), ("right", "top"), [("right", 2), ("top", 3), ("left", 10), ("foot", 8)]),
        ((0, 0, 10, 8), ("right", "foot"), [("right", 2), ("foot", 4), ("left", 10), ("top", 8)]),
        # and only where a blank ends
        ((0, 0, 9, 7), ("left", "foot"), [("left", 1), ("foot", 4)]),
        ((0, 0, 10, 7), ("left", "foot"), [("left", 1), ("foot", 4), ("right", 10)]),
        ((0, 0, 9, 8), ("left", "foot"), [("left", 1), ("foot", 4), ("top", 8)]),
        ((1, 1, 9, 7), ("right", "top"), [("right", 2), ("top", 3)]),
        ((0, 1, 9, 7), ("right", "top"), [("right", 2), ("top", 3), ("left", 10)]),
        ((1, 0, 9, 7), ("right", "top"), [("right", 2), ("top", 3), ("foot", 8)]),
    ],
)
def test_edges_are_squared_where_a_blank_needs_it(place, start, squaring):
    pieces = pieces_of("drawing")
    assert not told(squared_where_needed, case_of([place], pieces, start=start, squaring=squaring))
    for n, (edge, reading) in enumerate(squaring):
        fewer = squaring[:n] + squaring[n + 1 :]
        (words,) = told(squared_where_needed, case_of([place], pieces, start=start, squaring=fewer))
        assert words == (
            f"the {edge} edge loses paper and is not squared; it wants a cut at {reading} mm"
        )


@pytest.mark.parametrize(
    ("kinds", "sheet", "deckles", "stays"),
    [
        (("drawing",), {}, (), False),
        (("drawing",), {"deckles": ("top",)}, (), False),
        (("print",), {"deckles": ("top",), "keep": ("top",)}, (), True),
        (("print",), {"deckles": ("top", "right"), "keep": ("right",)}, (), False),
        (("drawing", "drawing"), {"deckles": ("top",), "leave": ("top",)}, (), True),
        (("drawing", "print"), {"deckles": ("top",), "leave": ("top",)}, (), False),
        (("drawing",), {"deckles": ("top", "right"), "leave": ("right",)}, (), False),
        (("print", "print"), {"deckles": ("top",)}, ("top",), True),
        (("print", "print"), {"deckles": ("top", "left")}, ("left",), False),
        (("drawing",), {"deckles": ("right",)}, ("top",), False),
    ],
)
def test_a_far_deckle_stays_by_the_sheets_word_or_a_blanks(kinds, sheet, deckles, stays):
    """Two halves, both of which end at the top."""
    places = [(0, 0, 5, 8), (5, 0, 5, 8)][: len(kinds)]
    case = case_of(places, pieces_of(*kinds, deckles=deckles), **sheet)
    assert deckle_stays(case, "top", list(case.layout.placements)) == stays


@pytest.mark.parametrize(
    ("before", "after"),
    [("right", "top"), ("top", "left"), ("left", "foot"), ("foot", "right")],
)
def test_a_quarter_turn_takes_each_edge_to_the_next(before, after):
    case = case_of(FULL, pieces_of("drawing", deckles=(before,)))
    (place,) = case.layout.placements
    assert asked_edges(case, place) == [before]
    assert asked_edges(case, replace(place, turned=True)) == [after]


@pytest.mark.parametrize(
    ("place", "deckles", "squared", "words"),
    [
        ((0, 0, 10, 8), ("top",), (), []),
        ((0, 0, 10, 8), ("top", "right"), (), []),
        ((0, 0, 10, 7), ("top",), (), ["keeps a deckle at the top and does not lie there"]),
        ((0, 0, 9, 8), ("right",), (), ["keeps a deckle at the right and does not lie there"]),
        ((0, 0, 10, 8), ("left",), (), ["keeps a deckle at the left, which is cut off"]),
        ((0, 0, 10, 8), ("foot",), (), ["keeps a deckle at the foot, which is cut off"]),
        ((0, 0, 10, 8), ("top",), (("top", 8),), ["keeps a deckle at the top, which is cut off"]),
        ((1, 1, 9, 7), ("left", "foot"), (), ["at the left and does not", "at the foot and does"]),
    ],
)
def test_a_blank_lies_where_its_deckle_is(place, deckles, squared, words):
    case = case_of([place], pieces_of("drawing", deckles=deckles), squaring=squared, deckles=ALL)
    found = told(kept_deckles_lie_at_their_edges, case)
    assert len(found) == len(words)
    assert all(part in one for part, one in zip(words, found, strict=True))


def test_a_deckle_that_the_sheet_has_not_is_told():
    case = case_of(FULL, pieces_of("drawing", deckles=("top",)), deckles=("left",))
    (found,) = told(kept_deckles_lie_at_their_edges, case)
    assert found.endswith("keeps a deckle at the top; the sheet has none there")


@pytest.mark.parametrize(
    ("keep", "squared", "cut_off"),
    [
        (("top",), (), False),
        (("top",), (("top", 8),), True),
        (("foot",), (), True),
        (("right",), (("top", 8),), False),
    ],
)
def test_the_deckle_of_a_sheet_that_keeps_it_is_not_cut_off(keep, squared, cut_off):
    case = case_of(FULL, pieces_of("drawing"), squaring=squared, deckles=ALL, keep=keep)
    words = [f"the deckle at the {keep[0]} is kept, and it is cut off"]
    assert told(kept_deckles_lie_at_their_edges, case) == (words if cut_off else [])


def test_every_start_edge_after_a_far_one_is_told():
    squaring = [("left", 1), ("right", 10), ("foot", 4), ("top", 8)]
    case = case_of(FULL, pieces_of("drawing"), squaring=squaring)
    assert told(start_edges_first, case) == [
        "the foot edge is squared after the right edge, which is measured from start edges"
    ]
    case = case_of(FULL, pieces_of("drawing"), squaring=[*squaring[:1], squaring[2], squaring[1]])
    assert not told(start_edges_first, case)
