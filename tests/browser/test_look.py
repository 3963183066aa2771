"""Every place can be read and used: contrast, labels, landmarks, width, keyboard."""

from pathlib import Path

import pytest

from tests.browser.conftest import library, opened
from tests.browser.places import places_of

WIDTHS = ((1280, 900), (820, 1180), (360, 740))


@pytest.fixture(scope="session")
def axe():
    """Return the checker of accessibility as the registry's package has it, or skip by name."""
    package = library("axe_core_python")
    return (Path(package.__file__).parent / "axe.min.js").read_text(encoding="utf-8")


@pytest.mark.parametrize(("scheme", "size"), [("light", WIDTHS[0]), ("dark", WIDTHS[2])])
def test_nothing_stands_in_anybodys_way(chromium, planned, demo_plan, axe, scheme, size):
    """WCAG 2.2 AA, as far as axe-core can tell."""
    here = planned.split("/enter/")[0]
    found = []
    around = {"width": size[0], "height": size[1]}
    with opened(chromium, planned, color_scheme=scheme, viewport=around) as tab:
        for path in places_of(demo_plan.code):
            tab.goto(here + path)
            tab.evaluate(f"{axe}\n;null")
            answer = tab.evaluate("axe.run({ resultTypes: ['violations'] })")
            assert len(answer["passes"]) > 10, path
            found += [
                (path, one["id"], one["nodes"][0]["html"][:120]) for one in answer["violations"]
            ]
    assert found == []


@pytest.mark.parametrize("size", WIDTHS, ids=str)
def test_no_place_is_wider_than_the_screen(chromium, planned, demo_plan, size):
    here = planned.split("/enter/")[0]
    with opened(chromium, planned, viewport={"width": size[0], "height": size[1]}) as tab:
        for path in places_of(demo_plan.code):
            tab.goto(here + path)
            assert tab.evaluate("document.documentElement.scrollWidth") <= size[0], path


@pytest.mark.parametrize("size", [*WIDTHS, (1180, 820)], ids=str)
def test_a_step_fits_on_the_screen(chromium, planned, demo_plan, size):
    """Wet hands do not scroll: the buttons are in sight at every step."""
    here = planned.split("/enter/")[0]
    with opened(chromium, planned, viewport={"width": size[0], "height": size[1]}) as tab:
        for step in range(1, 11):
            tab.goto(f"{here}/mat/{demo_plan.code}/1/{step}")
            box = tab.get_by_role("link", name="Cut, next").bounding_box()
            assert box["y"] + box["height"] <= size[1], step


def test_everything_is_reached_by_keyboard(chromium, planned):
    with opened(chromium, planned, viewport={"width": 1280, "height": 900}) as tab:
        tab.keyboard.press("Tab")
        assert tab.evaluate("document.activeElement.textContent") == "To the content"
        tab.keyboard.press("Enter")
        tab.keyboard.press("Tab")
        assert tab.evaluate("document.activeElement.id") == "longest"
        outline = tab.evaluate("getComputedStyle(document.activeElement).outlineStyle")
        assert outline == "solid"
