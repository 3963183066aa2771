"""Out-of-square sheets, against polygons: the rectangle fits, and turning finds none larger."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from sheetcut.out_of_square import HAIR, SIDES, Measured, square_corner_diagonal, squared
from sheetcut.units import Edges, mm

STEP = mm(1)


def quadrilateral(sheet):
    """Return the sheet as a polygon, its lower left corner at 0, 0, by the cosine rule."""
    foot, top, left, right, diagonal = (
        sheet.foot, sheet.top, sheet.left, sheet.right, sheet.diagonal,
    )  # fmt: skip
    first = math.acos((foot**2 + diagonal**2 - right**2) / (2 * foot * diagonal))
    second = first + math.acos((left**2 + diagonal**2 - top**2) / (2 * left * diagonal))
    return shapely.Polygon(
        [
            (0, 0),
            (foot, 0),
            (diagonal * math.cos(first), diagonal * math.sin(first)),
            (left * math.cos(second), left * math.sin(second)),
        ]
    )


@st.composite
def sheets(draw):
    """Return a sheet whose corners are up to 6 mm off a rectangle's, measured to a tick."""
    width, height = draw(st.integers(200, 900)), draw(st.integers(200, 900))
    off = st.floats(-6, 6)
    corners = [
        (0.0, 0.0),
        (width + draw(off), 0.0),
        (width + draw(off), height + draw(off)),
        (draw(off), height + draw(off)),
    ]
    a, b, c, d = [(x * 8000, y * 8000) for x, y in corners]
    ways = [(a, b), (d, c), (a, d), (b, c), (a, c)]
    return Measured(*(round(math.dist(one, other)) for one, other in ways))


def inside_losses(sheet, losses):
    """Return what of a sheet is as far from each of its edges as that loses."""
    left_over = quadrilateral(sheet)
    corners = list(left_over.exterior.coords)
    for (x0, y0), (x1, y1), loss in zip(corners, corners[1:], losses, strict=False):
        edge = shapely.LineString([(2 * x0 - x1, 2 * y0 - y1), (2 * x1 - x0, 2 * y1 - y0)])
        left_over = left_over.difference(edge.buffer(loss, cap_style="flat"))
    return left_over


def upright(sheet, along, part=None):
    """Return a sheet, or a part of it, turned so that an edge lies along the foot, from 0, 0."""
    polygon = quadrilateral(sheet)
    n = SIDES.index(along)
    (x0, y0), (x1, y1) = list(polygon.exterior.coords)[n : n + 2]
    moved = affinity.translate(polygon if part is None else part, -x0, -y0)
    return affinity.rotate(moved, -math.degrees(math.atan2(y1 - y0, x1 - x0)), origin=(0, 0))


def room_across(polygon, low, high):
    """Return from where to where an upright rectangle between two heights may reach."""
    chords = [polygon.intersection(shapely.LineString([(-1e9, y), (1e9, y)])) for y in (low, high)]
    if any(chord.is_empty for chord in chords):
        return 0.0, 0.0
    return max(one.bounds[0] for one in chords), min(one.bounds[2] for one in chords)


@settings(deadline=None)
@given(sheet=sheets(), loss=st.tuples(*[st.integers(0, 10)] * 4))
def test_the_rectangle_lies_in_the_sheet_inside_its_losses(sheet, loss):
    edges = Edges(*map(mm, loss))
    found = squared(sheet, edges, STEP)
    assert found is not None
    width = found.width - found.loss.across
    height = found.height - found.loss.up
    assert width % STEP == height % STEP == 0
    if found.along in ("left", "right"):
        width, height = height, width
    inner = inside_losses(sheet, [getattr(edges, side) for side in SIDES])
    low = getattr(edges, found.along)
    laid = upright(sheet, found.along, inner)
    left, right = room_across(laid, low + HAIR, low + height - 2 * HAIR)
    assert right - left >= width - 2 * HAIR


def test_a_corner_that_the_far_edge_cuts_is_no_loss_at_the_near_one():
    """The test above took both together, and called this rectangle of 204 x 199 mm too wide.

    Along the left edge the far edge rises from 198.96 to 202 mm, and meets 199 mm half a
    millimetre from the corner. The rectangle begins a whole one from it, for the top's loss.
    """
    sheet = Measured(1_616_000, 1_591_770, 1_648_021, 1_656_077, 2_302_680)
    edges = Edges(top=mm(1))
    assert squared(sheet, edges, STEP).along == "left"
    inner = inside_losses(sheet, [getattr(edges, side) for side in SIDES])
    left, right = room_across(upright(sheet, "left", inner), HAIR, mm(199) - 2 * HAIR)
    assert mm(204) <= right - left < mm(205)


@settings(deadline=None, max_examples=40)
@given(sheet=sheets())
def test_turning_the_rectangle_finds_none_that_is_larger_by_half_a_percent(sheet):
    """The largest upright rectangle is sought in the sheet turned a little, again and again.

    Rounding to whole millimetres costs up to 1 mm a side, two at the start corner.
    """
    found = squared(sheet, Edges(), 1)
    area = (found.width - found.loss.across) * (found.height - found.loss.up)
    best = 0.0
    for tenths in range(-40, 41):
        turned = affinity.rotate(quadrilateral(sheet), tenths / 20, origin=(0, 0))
        best = max(best, largest_upright(turned))
    assert area >= 0.995 * best


def largest_upright(polygon):
    """Return the area of the largest upright rectangle, on a grid of foot and top."""
    _, low, _, high = polygon.bounds
    margin = (high - low) * 0.06
    best = 0.0
    for foot in range(7):
        y0 = low + margin * foot / 6 + 1
        for top in range(7):
            y1 = high - margin * top / 6 - 1
            left, right = room_across(polygon, y0, y1)
            best = max(best, (right - left) * (y1 - y0))
    return best


def test_a_true_sheet_loses_nothing():
    """560 x 760 has the diagonal 944.0339 mm; 944.034 leaves less than a step."""
    diagonal = square_corner_diagonal(mm(560), mm(560), mm(760), mm(760))
    assert diagonal == math.isqrt(mm(560) ** 2 + mm(760) ** 2)
    found = squared(Measured(mm(560), mm(560), mm(760), mm(760), diagonal), Edges(), 1)
    assert found.width - found.loss.across > mm(560) - 10
    assert found.height - found.loss.up > mm(760) - 10


def test_a_wedge_comes_off_where_the_sheet_is_longer():
    """600 wide, 800 high at the left and 803 at the right, square at the foot.

    Along the foot a rectangle of 600 x 800 is left, and a wedge of 3 mm comes off the top. The
    top is the root of 600² + 3² = 600.0075 mm, the diagonal that of 600² + 803² = 1002.4016.
    """
    sheet = Measured(mm(600), mm("600.008"), mm(800), mm(803), mm("1002.402"))
    found = squared(sheet, Edges(), mm(1))
    assert found.along in ("foot", "left")  # these two are square to each other
    assert (found.width - found.loss.across, found.height - found.loss.up) == (mm(600), mm(800))
    assert (found.loss.left, found.loss.foot) == (0, 0)
    assert abs(found.loss.top - mm(3)) < mm("0.01")


@pytest.mark.parametrize("diagonal", [100, 1400, 400])
def test_lengths_no_sheet_can_have_are_refused(diagonal):
    sheet = Measured(mm(560), mm(560), mm(760), mm(760), mm(diagonal))
    assert squared(sheet, Edges(), STEP) is None
