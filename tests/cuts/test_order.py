from dataclasses import replace

import pytest

from sheetcut.cuts import arrange, cut_order
from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.layout import Part, Squaring
from sheetcut.units import Edges, inch, mm
from tests.check.plans import IMPERIAL, JOB, LEFTOVERS, even, imperial_twins


def part(width, height, **more):
    return Part(mm(width), mm(height), **more)


def imperial_tree():
    small = tuple(part(172, 234, piece=2) for _ in range(3))
    return part(
        544,
        744,
        along="x",
        parts=(
            part(172, 744, along="y", parts=(*small, part(172, 42))),
            part(
                327,
                744,
                along="y",
                parts=(
                    part(327, 240, piece=1, turned=True),
                    part(327, 450, piece=0),
                    part(327, 54),
                ),
            ),
            part(45, 744),
        ),
    )


def test_the_studio_imperial_is_cut_as_its_worked_answer():
    """TRADE 10.4: seven cuts, 2658 mm of them, and 45 x 744, 54 x 327, 42 x 172 left over."""
    ordered = cut_order(arrange(imperial_tree()), IMPERIAL, JOB)
    by_hand = imperial_twins().layouts[0]
    assert ordered.cuts == by_hand.cuts
    assert ordered.squaring == by_hand.squaring
    assert set(ordered.placements) == set(by_hand.placements)
    assert sorted(ordered.leftovers) == sorted(tuple(map(mm, leftover)) for leftover in LEFTOVERS)
    assert len(ordered.cuts) == 7 == len({cut.setting for cut in ordered.cuts})
    assert all(cut.edge == "start" for cut in ordered.cuts)
    assert sum(cut.stop - cut.start for cut in ordered.cuts) == mm(2658)


def test_blanks_come_along_the_start_edge_first():
    ordered = cut_order(imperial_tree(), IMPERIAL, JOB)
    corners = [(blank.y, blank.x) for blank in ordered.placements]
    assert corners == sorted(corners)


def test_a_deeper_cut_away_from_the_start_edge_names_the_fresh_edge():
    """Strips 10 | 20; the second is halved across at 12, then its foot at 7 of its 20.

    The piece in hand for the last cut has its left side from cut 1, so 17 reads as 7.
    """
    foot = Part(20, 12, "x", (Part(7, 12, piece=0), Part(13, 12, piece=0)))
    right = Part(20, 24, "y", (foot, Part(20, 12, piece=0)))
    tree = Part(30, 24, "x", (Part(10, 24, piece=0), right))
    sheet = Sheet("one", "rag", 30, 24)
    job = Job((sheet,), (Piece("D01", "", "rag", 1, 1),), Rules(reading_step=1))
    cuts = cut_order(tree, sheet, job).cuts
    told = [(cut.number, cut.along, cut.at, cut.level, cut.edge, cut.reading) for cut in cuts]
    assert told == [
        (1, "x", 10, 1, "start", 10),
        (2, "y", 12, 2, "start", 12),
        (3, "x", 17, 3, 1, 7),
    ]
    assert (cuts[2].start, cuts[2].stop) == (0, 12)


def test_equal_readings_that_line_up_share_a_setting_and_stay_cuts():
    strips = tuple(
        Part(side, 9, "y", (Part(side, 4, piece=0), Part(side, 5, piece=0))) for side in (3, 5)
    )
    tree = Part(8, 9, "x", strips)
    sheet = Sheet("one", "rag", 8, 9)
    job = Job((sheet,), (Piece("D01", "", "rag", 1, 1),), Rules(reading_step=1))
    cuts = cut_order(tree, sheet, job).cuts
    assert [(cut.at, cut.start, cut.stop, cut.setting) for cut in cuts] == [
        (3, 0, 9, 1),
        (4, 3, 8, 2),
        (4, 0, 3, 2),
    ]


@pytest.mark.parametrize(
    ("loss", "tree", "squaring"),
    [
        (Edges(), part(100, 80, piece=0), ()),
        # far edges are made true only for a blank that ends there
        (even(8), part(100, 80), (("left", 8), ("foot", 8))),
        (even(8), part(100, 80, piece=0), (("left", 8), ("foot", 8), ("right", 100), ("top", 80))),
        (
            Edges(0, mm(5), mm(6), mm(7)),
            part(100, 80, along="x", parts=(part(60, 80, piece=0), part(40, 80))),
            (("foot", 7), ("top", 80)),
        ),
        (Edges(mm(3), mm(5)), part(100, 80, piece=0), (("left", 3), ("right", 100))),
    ],
)
def test_squaring_makes_start_edges_then_touched_far_edges_true(loss, tree, squaring):
    sheet = Sheet("one", "rag", mm(100) + loss.across, mm(80) + loss.up, edge_loss=loss)
    job = Job((sheet,), (Piece("D01", "", "rag", mm(60), mm(80)),))
    found = cut_order(tree, sheet, job)
    assert found.squaring == tuple(
        Squaring(n, edge, mm(reading)) for n, (edge, reading) in enumerate(squaring, 1)
    )
    assert [cut.number for cut in found.cuts] == list(
        range(len(squaring) + 1, len(squaring) + 1 + len(found.cuts))
    )


def test_rounding_is_the_piece_own_and_before_turning():
    """209.5 + 30 is 239.5, rounded up by 0.5 to 240; 297 + 30 is 327 as it stands."""
    piece = Piece("D03", "", "rag", mm("209.5"), mm(297), margin=even(15))
    sheet = Sheet("one", "rag", mm(327), mm(240))
    tree = part(327, 240, piece=0, turned=True)
    (blank,) = cut_order(tree, sheet, Job((sheet,), (piece,))).placements
    assert blank.rounding == (mm("0.5"), 0)
    assert not any(blank.leave_on)


def test_inch_sheets_round_to_sixteenths():
    piece = Piece("D03", "", "rag", inch("8 1/2"), mm(279), unit="in")  # 10.984 in: 10 63/64
    sheet = Sheet("one", "rag", inch("8 1/2"), inch(11), unit="in")
    tree = Part(inch("8 1/2"), inch(11), piece=0)
    (blank,) = cut_order(tree, sheet, Job((sheet,), (piece,))).placements
    assert blank.rounding == (0, inch(11) - mm(279))


@pytest.mark.parametrize(
    ("start", "sliver"),
    [
        (("left", "foot"), Edges(right=mm(4), top=mm(3))),
        (("right", "top"), Edges(left=mm(4), foot=mm(3))),
    ],
)
def test_what_a_leaf_has_beyond_its_blank_is_left_on_at_the_far_side(start, sliver):
    piece = Piece("D03", "", "rag", mm(210), mm(297))
    sheet = Sheet("one", "rag", mm(214), mm(300))
    tree = part(214, 300, piece=0)
    (blank,) = cut_order(tree, sheet, Job((sheet,), (piece,)), start=start).placements
    assert blank.leave_on == sliver


def test_another_start_corner_mirrors_places_and_keeps_readings():
    here = cut_order(imperial_tree(), IMPERIAL, JOB)
    there = cut_order(imperial_tree(), IMPERIAL, JOB, start=("right", "top"))
    assert [cut.reading for cut in there.cuts] == [cut.reading for cut in here.cuts]
    assert [square.edge for square in there.squaring] == ["right", "top"]
    first, mirrored = here.cuts[2], there.cuts[2]
    assert mirrored.at == mm(744) - first.at
    assert (mirrored.start, mirrored.stop) == (mm(544) - first.stop, mm(544) - first.start)
    assert [cut.setting for cut in there.cuts] == [cut.setting for cut in here.cuts]


@pytest.mark.parametrize(
    ("start", "corners"),
    [
        (("left", "foot"), [(0, 0), (3, 0), (3, 4), (0, 9)]),
        (("right", "foot"), [(5, 0), (0, 0), (0, 4), (0, 9)]),
        (("left", "top"), [(0, 2), (3, 7), (3, 2), (0, 0)]),
        (("right", "top"), [(5, 2), (0, 7), (0, 2), (0, 0)]),
    ],
)
def test_blanks_and_leftovers_lie_as_seen_from_the_start_corner(start, corners):
    """3 x 9 beside 5 x 4 and 5 x 5, a strip 8 x 2 beyond them: all on 8 x 11."""
    right = Part(5, 9, "y", (Part(5, 4, piece=0), Part(5, 5, piece=0)))
    block = Part(8, 9, "x", (Part(3, 9, piece=0), right))
    tree = Part(8, 11, "y", (block, Part(8, 2)))
    sheet = Sheet("one", "rag", 8, 11)
    job = Job((sheet,), (Piece("D01", "", "rag", 1, 1),), Rules(reading_step=1))
    found = cut_order(tree, sheet, job, start=start)
    *blanks, leftover = corners
    assert [(blank.x, blank.y) for blank in found.placements] == blanks
    assert found.leftovers == ((*leftover, 8, 2),)


PLAIN = Piece("D1", "", "rag", mm(50), mm(80))
OTHER = replace(PLAIN, order="D2")
PRINT = Piece("P1", "", "rag", mm(50), mm(80), kind="print")


@pytest.mark.parametrize(
    ("pieces", "deckles", "squared"),
    [
        ((PLAIN, OTHER), {}, True),
        ((PLAIN, OTHER), {"deckles": ("top",)}, True),
        # the sheet's owner never trims it
        ((PLAIN, PRINT), {"deckles": ("top",), "keep": ("top",)}, False),
        # it is left on drawings, and not on a print
        ((PLAIN, OTHER), {"deckles": ("top",), "leave": ("top",)}, False),
        ((PLAIN, PRINT), {"deckles": ("top",), "leave": ("top",)}, True),
        ((PLAIN, OTHER), {"deckles": ("top", "right"), "leave": ("right",)}, True),
        # one of the two asks for it
        ((replace(PLAIN, deckles=("top",)), PRINT), {"deckles": ("top",)}, False),
        ((PRINT, replace(PLAIN, deckles=("top",))), {"deckles": ("top",)}, False),
        ((replace(PLAIN, deckles=("left",)), OTHER), {"deckles": ("top", "left")}, True),
        ((replace(PLAIN, deckles=("top",)), OTHER), {"deckles": ("left",)}, True),
    ],
)
def test_a_far_deckle_that_stays_is_not_squared(pieces, deckles, squared):
    """100 x 80 within a loss of 6 at the top, two blanks of 50 x 80 that both end there."""
    sheet = Sheet("one", "rag", mm(100), mm(86), edge_loss=Edges(top=mm(6)), **deckles)
    tree = part(100, 80, along="x", parts=(part(50, 80, piece=0), part(50, 80, piece=1)))
    found = cut_order(tree, sheet, Job((sheet,), pieces))
    assert [cut.edge for cut in found.squaring] == ["top"] * squared


@pytest.mark.parametrize("turned", [False, True])
def test_a_turned_blank_keeps_the_deckle_where_it_lies(turned):
    """A quarter turn anticlockwise brings its right side to the top."""
    piece = Piece("D1", "", "rag", mm(80), mm(80), deckles=("right",))
    sheet = Sheet("one", "rag", mm(80), mm(86), edge_loss=Edges(top=mm(6)), deckles=("top",))
    tree = part(80, 80, piece=0, turned=turned)
    squaring = cut_order(tree, sheet, Job((sheet,), (piece,))).squaring
    assert [cut.edge for cut in squaring] == ([] if turned else ["top"])


@pytest.mark.parametrize(
    ("start", "squaring"),
    [
        (("left", "foot"), [("left", 2), ("foot", 5), ("right", 10), ("top", 8)]),
        (("right", "top"), [("right", 3), ("top", 4), ("left", 10), ("foot", 8)]),
        (("right", "foot"), [("right", 3), ("foot", 5), ("left", 10), ("top", 8)]),
    ],
)
def test_far_edges_are_those_opposite_the_start(start, squaring):
    sheet = Sheet("one", "rag", 15, 17, edge_loss=Edges(left=2, right=3, top=4, foot=5))
    job = Job((sheet,), (Piece("D1", "", "rag", 10, 8),), Rules(reading_step=1))
    full = cut_order(Part(10, 8, piece=0), sheet, job, start=start)
    assert [(cut.edge, cut.reading) for cut in full.squaring] == squaring
    short = Part(10, 8, "x", (Part(9, 8, "y", (Part(9, 7, piece=0), Part(9, 1))), Part(1, 8)))
    apart = cut_order(short, sheet, job, start=start)
    assert [(cut.edge, cut.reading) for cut in apart.squaring] == squaring[:2]
