from dataclasses import replace

import pytest

from sheetcut.draw.view import Rect, view_of
from sheetcut.units import Edges, mm
from tests.draw.cases import IMPERIAL, case, imperial_twins


def rect(x, y, width, height) -> Rect:
    return Rect(mm(x), mm(y), mm(width), mm(height))


def seen(start, **loss):
    made = imperial_twins()
    return view_of(made.plan, replace(made.layout, start=start))


def test_from_the_lower_left_nothing_moves():
    view = seen(("left", "foot"))
    assert view.usable == rect(0, 0, 544, 744)
    assert view.measured == rect(-8, -8, 560, 760)
    assert view.blanks[4].edge == rect(172, 240, 327, 450)
    assert view.blanks[4].finished == rect(187, 255, 297, 420)
    assert [cut.at for cut in view.cuts[:2]] == [mm(499), mm(172)]


@pytest.mark.parametrize(
    ("start", "usable", "first_cut", "large"),
    [
        # A quarter turn clockwise brings the right side to the foot: x becomes 544 - x, upwards.
        (("right", "foot"), (744, 544), ("y", 45), (240, 45, 450, 327)),
        # Half a turn: x becomes 544 - x and y becomes 744 - y.
        (("right", "top"), (544, 744), ("x", 45), (45, 54, 327, 450)),
        # A quarter turn anticlockwise: y becomes 744 - y to the right, x goes up.
        (("left", "top"), (744, 544), ("y", 499), (54, 172, 450, 327)),
    ],
)
def test_the_sheet_is_turned_until_its_start_corner_is_lower_left(start, usable, first_cut, large):
    view = seen(start)
    assert view.usable == rect(0, 0, *usable)
    assert (view.cuts[0].along, view.cuts[0].at) == (first_cut[0], mm(first_cut[1]))
    assert view.blanks[4].edge == rect(*large)


def test_turning_is_never_mirroring():
    """The left edge's loss lies left of the foot's when seen from inside, whatever the corner."""
    on = replace(IMPERIAL, edge_loss=Edges(mm(1), mm(2), mm(3), mm(4)))
    around = [mm(1), mm(3), mm(2), mm(4)]  # left, top, right, foot: clockwise
    for start in (("left", "foot"), ("right", "foot"), ("right", "top"), ("left", "top")):
        base = imperial_twins()
        layout = replace(
            base.layout,
            start=start,
            usable=(mm(1), mm(4), mm(557), mm(753)),
            cuts=(),
            placements=(),
        )
        view = view_of(case(on, (), layout, "").plan, layout)
        clockwise = [view.loss.left, view.loss.top, view.loss.right, view.loss.foot]
        turns = {tuple(around[n:] + around[:n]) for n in range(4)}
        assert tuple(clockwise) in turns


def test_grain_turns_with_the_sheet():
    assert seen(("left", "foot")).grain == "y"
    assert seen(("right", "foot")).grain == "x"
    assert seen(("right", "top")).grain == "y"


def test_a_deckle_that_stays_is_no_outline_and_is_said():
    """Its foot kept, the blank lies at the foot; readings begin at the top, drawn as the left."""
    from sheetcut import Edges, Job, Piece, Sheet, make_plan, mm  # noqa: PLC0415
    from sheetcut.draw.sheet import sheet_picture  # noqa: PLC0415
    from sheetcut.draw.weights import MARGIN_DASHES, OUTLINE  # noqa: PLC0415

    sheet = Sheet(
        "S", "Rag", mm(316), mm(416), on_hand=1,
        edge_loss=Edges(mm(8), mm(8), mm(8), mm(8)), deckles=("left", "right", "top", "foot"),
    )  # fmt: skip
    piece = Piece("D", "", "Rag", mm(200), mm(300), deckles=("foot",), turn="no")
    plan = make_plan(Job((sheet,), (piece,)), rounds=10)
    view = view_of(plan, plan.layouts[0])
    assert plan.layouts[0].start == ("left", "top")
    assert view.staying == {"right"}
    assert [flag.words for flag in view.flags] == ["D keeps its deckle at the right"]
    items = sheet_picture(view, 3, (("D",),), inches=False).items
    right = mm(400) / 3 / 8000  # of a usable 400 x 300 at 1:3, in mm
    edges = [one for one in items if getattr(one, "weight_mm", 0) == OUTLINE and one.points]
    ends = [
        one
        for one in items
        if getattr(one, "dashes", None) == MARGIN_DASHES
        and all(abs(x - right) < 1e-6 for x, _ in one.points)
    ]
    assert len(ends) == 1
    assert not any(all(abs(x - right) < 1e-6 for x, _ in one.points) for one in edges)
