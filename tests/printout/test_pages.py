"""Pages to put on paper: true size, nothing cut off, every reading and every blank there."""

from collections import Counter
from dataclasses import replace
from itertools import combinations

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from sheetcut.draw import A3, A4, LETTER, Line, Text
from sheetcut.draw.lettering import box
from sheetcut.draw.mirror import mirrored
from sheetcut.draw.names import blank_names
from sheetcut.draw.place import overlap
from sheetcut.draw.primitives import Dots, Drawing, extent
from sheetcut.draw.sheet import sheet_picture
from sheetcut.draw.view import view_of
from sheetcut.layout import pieces_in_hand
from sheetcut.printout import drawings, sheaves
from sheetcut.printout.pages import KINDS, missing_words, pages, printed, usual_page
from sheetcut.units import in_mm, mm
from tests.draw.cases import (
    CASES,
    forty_small,
    imperial_twins,
    inches,
    ninety_blanks,
    random_case,
)

MM_PER_POINT = 25.4 / 72  # ISO 32000-1: a point is 1/72 in
EDGE_MM = 9.0  # a poor office printer reaches no nearer


def texts(page: Drawing) -> list[Text]:
    return [item for item in page.items if isinstance(item, Text)]


def lengths_mm(page: pypdfium2.PdfPage) -> list[float]:
    """Return the length of every single straight stroke of a page, as the file has it."""
    found = []
    for thing in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
        points = []
        for n in range(pdfium.FPDFPath_CountSegments(thing)):
            segment = pdfium.FPDFPath_GetPathSegment(thing, n)
            x, y = pdfium.c_float(), pdfium.c_float()
            pdfium.FPDFPathSegment_GetPoint(segment, x, y)
            points.append((x.value, y.value))
        if len(points) == 2:
            (x0, y0), (x1, y1) = points
            found.append(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 * MM_PER_POINT)
    return found


@pytest.mark.parametrize("on", [A4, A3, LETTER], ids=lambda page: page.name)
def test_the_check_line_measures_a_hundred_millimetres(demo_plan, on):
    made = pypdfium2.PdfDocument(printed(demo_plan, on=on, kinds=["strips"]).data)
    for page in made:
        lines = [length for length in lengths_mm(page) if 99 < length < 101]
        assert min(lines, key=lambda length: abs(length - 100)) == pytest.approx(100, abs=0.005)
        assert "100 mm" in page.get_textpage().get_text_range()


@pytest.mark.parametrize("on", [A4, A3, LETTER], ids=lambda page: page.name)
def test_arrows_of_a_strip_are_as_far_apart_as_their_readings(demo_plan, on):
    """A strip is laid on the paper itself: an arrow is as far along as its reading says."""
    for sheaf in sheaves(demo_plan):
        plan = replace(demo_plan, papers=(replace(sheaf.paper, layouts=sheaf.layouts),))
        for page in pages(plan, on=on, kinds=["strips"]):
            for arrow, reading, joint in _arrows(page):
                assert arrow == pytest.approx(reading - joint, abs=0.001)


def _arrows(page: Drawing):
    """Yield, for each reading on a strip, where its arrow is from the strip's first mark."""
    shapes = [item for item in page.items if type(item).__name__ == "Shape"]
    arrows = [shape for shape in shapes if shape.fill == "black" and _is_arrow(shape)]
    read = [text for text in texts(page) if text.role.startswith("strip-")]
    assert len(arrows) == len(read)
    for shape, text in zip(arrows, read, strict=True):
        x = shape.points[0][0] - 16  # the first mark stands 16 mm from the page's left
        reading = float(text.text)
        joint = reading - x
        assert joint == pytest.approx(round(joint / 10) * 10, abs=0.001)
        yield x, reading, round(joint / 10) * 10


def _is_arrow(shape) -> bool:
    (tip, one, other) = shape.points
    return one[1] == other[1] and one[0] - tip[0] == pytest.approx(tip[0] - other[0])


def test_every_reading_of_a_start_edge_is_on_a_strip(demo_plan):
    """Cuts along x that begin at y = 0, and along y at x = 0, read from the start edge."""
    for sheaf in sheaves(demo_plan):
        layout = sheaf.layouts[0]
        assert layout.start == ("left", "foot")
        wanted = {
            (cut.along, cut.at) for cut in layout.cuts if cut.edge == "start" and cut.start == 0
        }
        plan = replace(demo_plan, papers=(replace(sheaf.paper, layouts=sheaf.layouts),))
        told = Counter(
            text.text
            for page in pages(plan, on=A4, kinds=["strips"])
            for text in texts(page)
            if text.role.startswith("strip-")
        )
        assert set(told) == {str(in_mm(at)) for _, at in wanted}


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("on", [A4, A3, LETTER], ids=lambda page: page.name)
def test_nothing_leaves_a_page_and_no_two_texts_overlap(name, on):
    made = CASES[name]()
    for page in pages(made.plan, on=on, kinds=[kind for kind in KINDS if kind != "pin-up"]):
        wide, high = page.page.width_mm, page.page.height_mm
        for item in page.items:
            if isinstance(item, Text):
                left, top, right, foot = box(item)
            elif isinstance(item, Dots):
                left, top, right, foot = extent(item.centres)
            else:
                left, top, right, foot = extent(item.points)
            assert left >= EDGE_MM, (page.title, item)
            assert top >= EDGE_MM, (page.title, item)
            assert right <= wide - EDGE_MM, (page.title, item)
            assert foot <= high - EDGE_MM, (page.title, item)
        boxes = [(text, box(text)) for text in texts(page) if text.text.strip()]
        for (one, its), (other, others) in combinations(boxes, 2):
            assert not overlap(its, others), (page.title, one.text, other.text)


def test_every_blank_has_a_label_and_every_keeper_a_tag(demo_plan):
    labels = [text.text for page in pages(demo_plan, kinds=["labels"]) for text in texts(page)]
    for n, piece in enumerate(demo_plan.job.pieces):
        cut = sum(
            layout.copies
            for layout in demo_plan.layouts
            for place in layout.placements
            if place.piece == n
        )
        told = [text for text in labels if text.split(" · ")[0] == piece.order]
        assert len(told) == cut, piece.order
    tags = [text.text for page in pages(demo_plan, kinds=["tags"]) for text in texts(page)]
    names = [
        name for layout in demo_plan.layouts for keeper in layout.keepers for name in keeper.names
    ]
    assert names
    for name in names:
        assert tags.count(name) == 1


def test_clients_can_be_left_off(demo_plan):
    def said(*, clients: bool) -> str:
        made = pages(demo_plan, kinds=["labels"], clients=clients)
        return " ".join(text.text for page in made for text in texts(page))

    clients = {piece.client for piece in demo_plan.job.pieces if piece.client}
    assert clients
    assert all(client in said(clients=True) for client in clients)
    assert not any(client in said(clients=False) for client in clients)


def test_the_sheet_from_behind_has_the_start_corner_at_the_lower_right():
    """A cut at 172 from the left of 544 is 372 from the left of the sheet turned over."""
    made = imperial_twins()
    (page,) = pages(made.plan, on=A4, kinds=["mirrored"])
    uprights = {
        (item.points[0][0], item.points[1][0])
        for item in page.items
        if isinstance(item, Line) and item.weight_mm == 0.7 and len(item.points) == 2
    }
    xs = sorted({one for one, other in uprights if one == other})
    far, near = xs[0], xs[-1]  # the cuts at 499 and at 172
    scale = (499 - 172) / (near - far)
    assert scale == pytest.approx(5)
    corner = near + 172 / scale  # to the right of both
    marks = [item.at[0] for item in texts(page) if item.text == "start"]
    assert marks
    assert marks[0] > corner
    rights = [text.text for text in texts(page) if text.text.startswith("from the")]
    assert rights.count("from the right") == 2
    assert "from the left" not in rights


@pytest.mark.parametrize("seed", range(12))
def test_from_behind_all_ink_changes_sides_and_no_word_is_reversed(seed):
    """A drawing turned over twice is as it was; each box of ink lies as far from the other side."""
    made = random_case(seed)
    view = view_of(made.plan, made.layout)
    names = blank_names(made.plan, made.layout, (), "")
    for item in sheet_picture(view, 5, names, inches=False).items:
        turned = mirrored(item)
        if isinstance(item, Text):
            left, top, right, foot = box(item)
            assert box(turned) == pytest.approx((-right, top, -left, foot))
            assert (turned.text, turned.angle) == (item.text, item.angle)
        elif isinstance(item, Dots):
            assert turned.centres == tuple((-x, y) for x, y in item.centres)
        else:
            assert turned.points == tuple((-x, y) for x, y in item.points)


def test_every_cut_has_its_mark_on_the_sheet_from_behind(demo_plan):
    for sheaf, page in zip(
        sheaves(demo_plan), pages(demo_plan, on=A4, kinds=["mirrored"]), strict=True
    ):
        layout = sheaf.layouts[0]
        marks = {text.role: text.text for text in texts(page) if text.role.startswith("mark-")}
        wanted = {f"mark-{cut.number}": str(in_mm(cut.reading)) for cut in layout.cuts}
        wanted |= {f"mark-{one.number}": str(in_mm(one.reading)) for one in layout.squaring}
        assert marks == wanted


@pytest.mark.parametrize("seed", range(12))
def test_marks_from_behind_cut_the_sheet_turned_over(seed):
    """A cutter who has only the marks, and the sheet face down, gets every blank turned over.

    The piece in hand is the one the plan names; where the ruler goes, the marks alone say: from
    its right side, its foot, or the edge that an earlier cut made there.
    """
    made = random_case(seed)
    layout = made.layout
    width, height = layout.usable[2:]
    marks = _marks_in_words(pages(made.plan, on=A3, kinds=["mirrored"]))
    table = {(0, 0, width, height)}
    for cut, hand in zip(layout.cuts, pieces_in_hand(layout), strict=True):
        x, y, wide, high = (width - hand[0] - hand[2], *hand[1:])
        reading, whence = marks[cut.number]
        table.remove((x, y, wide, high))
        from_right = whence == "from the right" or (whence != "from the foot" and cut.along == "x")
        if from_right:
            at = x + wide - mm(reading)
            table |= {(x, y, at - x, high), (at, y, x + wide - at, high)}
        else:
            at = y + mm(reading)
            table |= {(x, y, wide, at - y), (x, at, wide, y + high - at)}
    for one in layout.placements:
        assert (width - one.x - one.width, one.y, one.width, one.height) in table


def _marks_in_words(drawn) -> dict[int, tuple[float, str]]:
    """Return each mark's reading, and the words that stand beside it."""
    found = {}
    for page in drawn:
        words = texts(page)
        for n, text in enumerate(words):
            if text.role.startswith("mark-"):
                number = int(text.role.removeprefix("mark-"))
                found[number] = float(text.text), words[n + 1].text
    return found


def test_the_summary_tells_the_cost_and_every_sheet(demo_plan):
    said = [text.text for page in pages(demo_plan, kinds=["summary"]) for text in texts(page)]
    assert "£122.44" in said  # the studio's worked answer: 75.40 + 45.60 + 1.44
    for cost in ("£75.40", "£45.60", "£1.44"):
        assert cost in said
    for sheaf in sheaves(demo_plan):
        assert sheaf.title in said


def test_a_studio_in_inches_prints_on_letter(demo_plan):
    assert usual_page(demo_plan) is A4
    assert usual_page(inches().plan) is LETTER
    (strip, *_) = pages(inches().plan, kinds=["strips"])
    said = [text.text for text in texts(strip)]
    assert "21¹⁄₁₆" in said
    assert "4 in" in said


def test_one_plan_gives_one_file(demo_plan):
    assert printed(demo_plan, kinds=KINDS).data == printed(demo_plan, kinds=KINDS).data


def test_kinds_come_in_one_order_whatever_is_asked_first(demo_plan):
    one = printed(demo_plan, kinds=["tags", "summary"]).data
    assert one == printed(demo_plan, kinds=["summary", "tags"]).data


def test_letters_no_font_has_are_told_in_a_sentence():
    made = forty_small()
    pieces = tuple(replace(piece, label="漁船") for piece in made.plan.job.pieces)
    plan = replace(made.plan, job=replace(made.plan.job, pieces=pieces))
    (first, *_) = printed(plan, kinds=["labels"]).missing
    assert missing_words(first) == (
        'Labels for the blanks, page 1 of 2: "漁船" has letters the printed font lacks (漁 船); '
        'each is printed as "?"'
    )


def test_a_sheet_of_several_pages_has_a_file_for_each():
    files = list(drawings(ninety_blanks().plan))
    assert files[0] == "imperial-1.svg"
    assert files[1:] == [f"imperial-1-page-{n}.svg" for n in range(2, len(files) + 1)]
    assert len(files) > 1
    assert list(drawings(forty_small().plan)) == ["imperial-1.svg"]
