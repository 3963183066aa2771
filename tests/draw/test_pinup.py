"""What must hold for every pin-up sheet, whatever the layout."""

import re
from dataclasses import replace
from itertools import combinations, pairwise
from xml.etree import ElementTree

import pytest

from sheetcut.draw import (
    A3,
    A4,
    LETTER,
    Drawing,
    NoRoomOnPage,
    Shape,
    Text,
    pin_up,
    pin_up_pages,
    svg_text,
)
from sheetcut.draw.lettering import HEIGHTS, box
from sheetcut.draw.measures import is_read_in_inches, length_text
from sheetcut.draw.place import overlap
from sheetcut.draw.primitives import Dots, extent
from sheetcut.draw.weights import OUTLINE, SERIES
from sheetcut.errors import UnusableRecord
from sheetcut.units import TICKS_PER_MM, mm
from tests.draw.cases import (
    CASES,
    DRAWINGS,
    HOSTILE,
    IMPERIAL,
    Case,
    case,
    double_elephant,
    drawing,
    forty_small,
    imperial_twins,
    inches,
    layout_of,
    ninety_blanks,
    random_case,
)

SVG = "{http://www.w3.org/2000/svg}"
MARGIN_MM = 10  # what a poor office printer cannot reach

NOT_USED = {"kerf", "panel", "part", "remnant", "utilisation", "yield", "optimise", "optimiser"}
NOT_USED |= {"imposition", "bin", "nest", "job", "queue"}
"""Words that nobody at the cutter should meet (the project's own list)."""


def drawn(made: Case, **changed) -> Drawing:
    asked = {
        "title": made.title,
        "sheet_numbers": made.sheet_numbers,
        "made": "25 Nov 2026",
        "twins": made.twins,
    }
    return pin_up(made.plan, made.paper, made.layout, **(asked | changed))


def texts(page: Drawing) -> list[Text]:
    return [item for item in page.items if isinstance(item, Text)]


def roles(page: Drawing, kind: str) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for text in texts(page):
        if text.role.startswith(kind):
            found.setdefault(text.role, []).append(text.text)
    return found


@pytest.fixture(params=CASES, scope="module")
def made(request) -> Case:
    return CASES[request.param]()


@pytest.fixture(scope="module")
def page(made) -> Drawing:
    return drawn(made)


def test_no_two_words_overlap(page):
    clashes = [
        (one.text, other.text)
        for one, other in combinations(texts(page), 2)
        if overlap(box(one), box(other))
    ]
    assert not clashes


def test_all_ink_stays_where_a_printer_reaches(page):
    for item in page.items:
        match item:
            case Text():
                spans = box(item)
            case Dots():
                spans = extent(item.centres)
            case _:
                spans = extent(item.points)
        left, top, right, foot = spans
        assert left >= MARGIN_MM - 1e-6 and right <= A4.width_mm - MARGIN_MM + 1e-6, item
        assert top >= MARGIN_MM - 1e-6 and foot <= A4.height_mm - MARGIN_MM + 1e-6, item


def test_lettering_has_the_heights_of_the_standard(page):
    """ISO 3098-1:2015: 1.8, 2.5, 3.5, 5, 7, 10, 14, 20; the smallest for the caution only."""
    assert HEIGHTS == (1.8, 2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0)
    small = [text.text for text in texts(page) if text.height_mm not in HEIGHTS[1:]]
    assert all(text.height_mm in HEIGHTS for text in texts(page))
    assert len(small) == 2 and "Follow local rules and your own training." in small[1]


def test_pens_have_the_widths_of_the_standard(page):
    """ISO 128-2:2022: each width √2 times the one before."""
    assert all(1.35 < b / a < 1.45 for a, b in pairwise(SERIES))
    pens = {item.weight_mm for item in page.items if not isinstance(item, Text)} - {0.0}
    assert pens <= set(SERIES)


def test_every_reading_stands_once_in_the_drawing_and_once_in_the_steps(made, page):
    inch_ruler = is_read_in_inches(made.plan.job, made.paper.paper)
    readings = {
        cut.number: [length_text(cut.reading, inches=inch_ruler)] for cut in made.layout.cuts
    }
    steps = readings | {
        one.number: [length_text(one.reading, inches=inch_ruler)] for one in made.layout.squaring
    }
    assert roles(page, "cut-") == {f"cut-{n}": text for n, text in readings.items()}
    assert roles(page, "step-") == {f"step-{n}": text for n, text in steps.items()}
    assert roles(page, "flag-") == {f"flag-{n}": [str(n)] for n in steps}


def test_the_sheet_is_to_scale(made, page):
    stated = next(text.text for text in texts(page) if "scale 1 : " in text.text)
    n = int(re.search(r"scale 1 : (\d+)", stated)[1])
    outline = next(
        item for item in page.items if isinstance(item, Shape) and item.weight_mm == OUTLINE
    )
    left, top, right, foot = extent(outline.points)
    width, height = (side / TICKS_PER_MM for side in made.layout.usable[2:])
    assert (right - left) * n == pytest.approx(width, abs=1e-6)
    assert (foot - top) * n == pytest.approx(height, abs=1e-6)


def test_the_svg_is_sound_and_one_unit_is_a_millimetre(page):
    root = ElementTree.fromstring(svg_text(page))
    assert (root.get("width"), root.get("height")) == ("210mm", "297mm")
    assert root.get("viewBox") == "0 0 210 297"
    assert len(root.findall(f"{SVG}text")) == len(texts(page))


def test_the_same_plan_gives_the_same_svg(made, page):
    assert svg_text(drawn(made)) == svg_text(page)


def test_colour_carries_nothing(page):
    colours = set(re.findall(r'(?:fill|stroke)="([^"]+)"', svg_text(page)))
    assert colours <= {"none", "#fff", "#000"}


def test_no_word_is_used_that_the_trade_does_not_know(page):
    words = set(re.findall(r"[a-z]+", " ".join(text.text.lower() for text in texts(page))))
    assert not words & NOT_USED


HOSTILE_AS_LETTERED = (
    "The long and winding title",
    'Rope & <Tackle> "knots" ���',
    "סירה על המזח",
    "قارب على الرصيف",
    "🦆🦆 ducks 🦆",
    "漁船と灯台の図",
    "line break and override",
    "� lone",
)


def test_what_was_typed_never_breaks_the_drawing():
    """Control characters, markup, scripts from the right, emoji, lone surrogates."""
    pieces = tuple(
        replace(drawing(f"H{n}", label, 510, 80, 5), client="\x02")
        for n, label in enumerate((*HOSTILE, "\ud800 lone"))
    )
    lying = [(n, 0, 90 * n, False) for n in range(8)]
    lines = [
        ("y", 720, 0, 544, 1),
        *(("y", 90 * n, 0, 544, 1) for n in range(7, 0, -1)),
        *(("x", 520, 90 * n, 90 * n + 90, 2) for n in range(8)),
    ]
    layout = layout_of(IMPERIAL, pieces, lying, lines)
    page = drawn(case(IMPERIAL, pieces, layout, "\x01]]>&<!--", "\ud800"))
    root = ElementTree.fromstring(svg_text(page))
    said = [element.text for element in root.iter(f"{SVG}text")]
    whole = " ".join(text or "" for text in said)
    for label in HOSTILE_AS_LETTERED:
        assert label in whole


def test_twins_have_every_name_on_their_blanks():
    said = [text.text for text in texts(drawn(imperial_twins()))]
    assert {"1: Ketch on the slip", "2: Harbour at low water"} <= set(said)
    assert {"1: Tender, stern view", "2: Winch, detail"} <= set(said)
    assert said.count("Four buoys, set") == 2  # the same on both sheets, so said once a blank


def test_the_keepers_of_twins_have_all_their_tags():
    made = double_elephant()
    tagged = replace(made.layout.keepers[0], names=("gannet 2",))
    twin = replace(made.layout, keepers=(tagged,))
    said = [text.text for text in texts(drawn(made, twins=(twin,)))]
    assert "gannet 1, gannet 2" in said


def test_long_cuts_stand_at_the_ruler_seven_millimetres_high():
    """Read at 1.2 m by the rule of thumb height = distance / 200."""
    heights = {text.role: text.height_mm for text in texts(drawn(imperial_twins()))}
    assert heights["cut-3"] == heights["cut-4"] == 7.0


def test_the_reminders_say_what_the_sheet_must_measure():
    """Imperial squared to 544 x 744: the diagonal is √(544² + 744²) = 921.7."""
    said = " ".join(text.text for text in texts(drawn(imperial_twins())))
    assert "mark to mark is 922." in said
    assert "Holds if the sheet measures at least 499 × 702 inside the deckle." in said
    assert "Four light passes a cut; 2.66 m of cutting." in said  # 2658 mm


def test_cuts_longer_than_the_mat_are_flagged():
    """The double elephant's cuts of 670 and 810 mm are longer than a 600 x 450 mat."""
    said = " ".join(text.text for text in texts(drawn(double_elephant())))
    assert said.count("slide the sheet at 335") == 2
    assert said.count("slide the sheet at 405") == 1


def test_a_reading_from_a_fresh_edge_has_a_ring_on_that_edge():
    page = drawn(CASES["imperial-3"]())
    rings = [item for item in page.items if isinstance(item, Dots) and item.fill == "paper"]
    said = [text.text for text in texts(page)]
    assert len(rings) == 2
    assert said.count("from cut 3") == 2


def test_inches_are_set_with_small_fractions():
    said = [text.text for text in texts(drawn(inches()))]
    assert said.count("21¹⁄₁₆") == 2  # at the ruler and in its step
    assert any("figures in inches" in text for text in said)


def test_small_blanks_get_letters_and_a_key():
    said = [text.text for text in texts(drawn(forty_small()))]
    assert said.count("A") + said.count("B") == 40 + 2
    assert "Tide card, 50 × 70" in said and "Star card, 50 × 70" in said


@pytest.mark.parametrize("on", [A4, A3, LETTER])
def test_other_pages_are_filled_and_not_left(on):
    page = drawn(imperial_twins(), on=on)
    right, foot = on.width_mm - MARGIN_MM, on.height_mm - MARGIN_MM
    for text in texts(page):
        left, top, far, low = box(text)
        assert left >= MARGIN_MM - 1e-6 and top >= MARGIN_MM - 1e-6, text
        assert far <= right + 1e-6 and low <= foot + 1e-6, text


def test_a_larger_page_has_a_larger_drawing():
    scales = []
    for on in (A4, A3):
        stated = " ".join(text.text for text in texts(drawn(imperial_twins(), on=on)))
        scales.append(int(re.search(r"scale 1 : (\d+)", stated)[1]))
    assert scales[0] > scales[1]


@pytest.mark.parametrize("start", [("right", "foot"), ("right", "top"), ("left", "top")])
def test_every_start_corner_is_drawn_at_the_lower_left(start):
    """The drawing turns; readings and names stay, and nothing overlaps."""
    made = imperial_twins()
    turned = replace(made.layout, start=start)
    page = pin_up(made.plan, made.paper, turned, title="t", sheet_numbers="", made="")
    assert len(roles(page, "cut-")) == len(made.layout.cuts)
    assert not [1 for a, b in combinations(texts(page), 2) if overlap(box(a), box(b))]


def test_random_layouts_keep_their_words_apart():
    """Blanks down to 60 mm, up to forty of them, keepers and scrap between."""
    for seed in range(40):
        made = random_case(seed, least=60)
        page = drawn(made)
        clashes = [
            (one.text, other.text)
            for one, other in combinations(texts(page), 2)
            if overlap(box(one), box(other))
        ]
        assert not clashes, (seed, clashes)
        assert len(roles(page, "cut-")) == len(made.layout.cuts)


def test_steps_that_cannot_stand_on_a_page_are_refused_with_a_sentence():
    pieces = (drawing("T", "Tick", 20, 20, 0),)
    on = replace(IMPERIAL, edge_loss=replace_edges(), deckles=())
    lines = [("y", 20 * n, 0, 560, 1) for n in range(37, 0, -1)]
    for row in range(37):
        lines += [("x", 20 * n, 20 * row, 20 * row + 20, 2) for n in range(27, 0, -1)]
    lying = [(0, 20 * n, 20 * row, False) for row in range(37) for n in range(28)]
    made = case(on, pieces, layout_of(on, pieces, lying, lines), "Ticks")
    with pytest.raises(NoRoomOnPage, match="1036 steps has no room on A4; draw it on a larger"):
        drawn(made)


def replace_edges():
    return (0, 0, 0, 0)


def test_the_cases_are_cut_from_their_sheets():
    """A case with a cut that divides nothing would test nothing."""
    assert DRAWINGS[0].asked_width == mm(327)
    with pytest.raises(AssertionError, match="no piece for x"):
        layout_of(IMPERIAL, DRAWINGS, [], [("x", 172, 0, 700, 1)])
    with pytest.raises(UnusableRecord):
        replace(IMPERIAL, width=0)


def pages_of(made: Case, on=A4) -> tuple[Drawing, ...]:
    return pin_up_pages(
        made.plan,
        made.paper,
        made.layout,
        title=made.title,
        sheet_numbers=made.sheet_numbers,
        made="25 Nov 2026",
        twins=made.twins,
        on=on,
    )


@pytest.mark.parametrize("name", CASES)
def test_what_fits_one_page_is_the_same_drawing(name):
    made = CASES[name]()
    assert pages_of(made) == (drawn(made),)


@pytest.mark.parametrize("on", [A4, LETTER], ids=lambda page: page.name)
def test_steps_that_would_crowd_a_page_go_on_over_the_next(on):
    """Ninety-nine cuts: each has its step once, all in figures of 5 mm at least, in their order."""
    made = ninety_blanks()
    first, *rest = pages_of(made, on)
    assert rest
    assert not roles(first, "step-")
    told = [text for page in rest for text in texts(page) if text.role.startswith("step-")]
    cuts = {f"step-{cut.number}" for cut in made.layout.cuts}
    squaring = {f"step-{one.number}" for one in made.layout.squaring}
    assert sorted(text.role for text in told) == sorted(cuts | squaring)
    numbers = [int(text.role.removeprefix("step-")) for text in told]
    assert numbers == sorted(numbers)
    assert min(text.height_mm for text in told) >= 5
    for page in (first, *rest):
        assert f"of {1 + len(rest)}" in page.title
        for one, other in combinations(texts(page), 2):
            assert not overlap(box(one), box(other)), (one.text, other.text)
        for text in texts(page):
            left, top, right, foot = box(text)
            assert left >= MARGIN_MM - 1
            assert top >= MARGIN_MM - 1
            assert right <= on.width_mm - MARGIN_MM + 1
            assert foot <= on.height_mm - MARGIN_MM + 1
