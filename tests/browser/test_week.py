"""A week in a real browser: from the files to the mat and back, quoted, taken, an edition, printed.

At a desk and beside the mat, with the page's script and without; some of it by keyboard alone.
"""

import re
import shutil
from pathlib import Path

import pytest

from tests.browser.conftest import opened, served

DEMO = Path(__file__).resolve().parent.parent.parent / "demo"
DESK = {"viewport": {"width": 1280, "height": 900}}
TABLET = {"viewport": {"width": 820, "height": 1180}, "has_touch": True}
NO_SCRIPT = {"java_script_enabled": False}
KINDS = {
    "desk": DESK,
    "tablet": TABLET,
    "desk without script": DESK | NO_SCRIPT,
    "tablet without script": TABLET | NO_SCRIPT,
}


@pytest.fixture
def filed(tmp_path):
    """Return a studio's folder with nothing in it but the files that its owner wrote."""
    for name in ("orders.csv", "drawer.csv", "studio.toml"):
        shutil.copy(DEMO / name, tmp_path / name)
    return tmp_path


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_the_week(chromium, filed, tmp_path_factory, kind):
    with served(filed) as address, opened(chromium, address, **kind) as tab:
        bring_in(tab)
        plan(tab)
        take_the_pages(tab, tmp_path_factory.mktemp("pages"))
        cut_the_first(tab)
        take_it_back(tab)
        cut_with_one_spoiled(tab)
        slip_and_book(tab)
        quote_and_take(tab)
        count_an_edition(tab)
        correct_in_place(tab)
        look_back(tab)


def bring_in(tab):
    """The files as they lie in the folder, seen first."""
    place(tab, "Drawer")
    tab.get_by_role("link", name="Bring the files in").click()
    assert tab.locator(".listing tbody tr").count() > 40
    tab.get_by_role("button", name="Bring this in").click()
    assert "rows were brought in" in tab.inner_text(".said")
    place(tab, "Orders")
    assert tab.locator(".orders > li").count() == 25  # the lines of demo/orders.csv


def plan(tab):
    """With or without script the page comes to the plan by itself."""
    place(tab, "Plan")
    tab.get_by_role("button", name="Plan 25 orders").click()
    tab.wait_for_selector(".papers", timeout=240_000)
    assert "£75.40" in tab.inner_text("main")  # three Imperial and a Double elephant


def take_the_pages(tab, folder):
    """The PDF for true size, and the page itself on paper."""
    with tab.expect_download() as download:
        tab.get_by_role("link", name="Pin-up sheets, PDF").click()
    download.value.save_as(folder / "pin-up.pdf")
    assert (folder / "pin-up.pdf").read_bytes().startswith(b"%PDF")
    tab.emulate_media(media="print")
    assert not tab.get_by_role("navigation").is_visible()
    assert tab.locator("svg.drawing").first.is_visible()
    assert tab.pdf().startswith(b"%PDF")
    tab.emulate_media(media="screen")


def cut_the_first(tab):
    """Every step of the first sheet, then booked as planned."""
    go_to_the_mat(tab, 1)
    steps = int(tab.locator(".where").inner_text().split(" of ")[1].split()[0])
    for _ in range(steps):
        tab.get_by_role("link", name="Cut, next").click()
    tab.get_by_role("button", name="Book as cut").click()
    assert "Cut plan" in tab.inner_text(".said")


def take_it_back(tab):
    """As it was before the knife."""
    place(tab, "Diary")
    tab.get_by_role("button", name="Take this back").click()
    assert tab.locator(".undone").count() == 1


def cut_with_one_spoiled(tab):
    """The same sheet again, one blank spoiled at once."""
    go_to_the_mat(tab, 1)
    last = re.sub(r"\d+$", lambda step: f"{1 + steps_in(tab) - 1 + int(step[0])}", tab.url)
    tab.goto(last)
    tab.get_by_text("Something went otherwise").click()
    tab.get_by_label("spoiled").first.select_option("1")
    tab.get_by_role("button", name="Book it so").click()
    assert "1 spoiled" in tab.inner_text(".said")
    place(tab, "Orders")
    assert tab.get_by_text(re.compile(r"to cut of \d")).count()


def slip_and_book(tab):
    """A slip at the third step of the second sheet: the rest is laid out again, cut and booked."""
    go_to_the_mat(tab, 2)
    for _ in range(2):
        tab.get_by_role("link", name="Cut, next").click()
    tab.get_by_role("link", name="It slipped").click()
    tab.locator("svg.lost a").first.click()
    assert "is lost" in tab.inner_text("h1")
    tab.locator(".sheet a.button").first.click()
    assert "in hand" in tab.inner_text(".where")
    tab.get_by_role("link", name="Leave the mat").click()
    tab.get_by_role("link", name="All cut, book the sheet").click()
    assert not tab.get_by_label("as planned:").is_checked()
    tab.get_by_role("button", name="Book it so").click()
    assert "Cut plan" in tab.inner_text(".said")


def quote_and_take(tab):
    """A4 with 12 mm on Imperial gives four, so 15.20 / 4 = 3.80."""
    place(tab, "Quote")
    tab.get_by_label("finished size").fill("210 x 297")
    tab.get_by_label("margin").fill("12")
    tab.get_by_role("button", name="Price it").click()
    assert tab.inner_text(".charge") == "£3.80"
    tab.get_by_label("order", exact=True).fill("Q1")
    tab.get_by_role("button", name="Take this order").click()
    assert "Q1" in tab.locator(".order").all_inner_texts()


def count_an_edition(tab):
    """Fifty numbered, a tenth more for the artist, a twentieth spoiled: 58 at the least."""
    place(tab, "Edition")
    tab.get_by_label("numbered prints").fill("50")
    tab.get_by_label("image").fill("300 x 400")
    tab.get_by_label("paper", exact=True).select_option("Marram Rag")
    tab.get_by_role("button", name="Count it").click()
    assert int(tab.locator(".charge").first.inner_text()) >= 58
    tab.get_by_label("order", exact=True).fill("E1")
    tab.get_by_role("button", name="Take them").click()
    place(tab, "Orders")
    assert any(name.startswith("E1") for name in tab.locator(".order").all_inner_texts())


def correct_in_place(tab):
    """What is wrong stands beside its field, and what was typed is still there."""
    place(tab, "Orders")
    tab.get_by_role("link", name="Correct Q1").click()
    tab.get_by_label("count", exact=True).first.fill("two")
    tab.get_by_role("button", name="Keep the correction").click()
    assert "two" in tab.inner_text(".wrong")
    tab.get_by_label("count", exact=True).first.fill("2")
    tab.get_by_role("button", name="Keep the correction").click()
    assert tab.get_by_text("2 to cut").count() >= 1


def look_back(tab):
    """The diary has it all, and adds it up."""
    place(tab, "Diary")
    assert tab.locator(".entries li").count() >= 8
    tab.get_by_role("link", name="Paper by month").click()
    assert "Slatehouse Smooth" in tab.inner_text("table")


def place(tab, name):
    """Go to a place by the links at the top."""
    tab.get_by_role("navigation", name="Places").get_by_role("link", name=name, exact=True).click()


def go_to_the_mat(tab, number):
    """Stand before the first step of a sheet."""
    place(tab, "At the mat")
    tab.locator(".lines a").nth(number - 1).click()


def steps_in(tab):
    """Return how many steps the sheet on the mat has."""
    return int(tab.locator(".where").inner_text().split(" of ")[1].split()[0])


def test_an_empty_folder_becomes_the_demo_studio(chromium, tmp_path):
    with served(tmp_path) as address, opened(chromium, address, **DESK) as tab:
        tab.get_by_role("button", name="demo studio").click()
        assert tab.locator(".orders > li").count() == 25


def test_a_sheet_is_cut_by_keyboard_alone(chromium, planned):
    """From the first page to the booking without a pointer; each place that is met shows it."""
    with opened(chromium, planned, **DESK) as tab:
        press_on(tab, "At the mat")
        press_on(tab, "Imperial, sheet 1")
        for _ in range(steps_in(tab)):
            press_on(tab, "Cut, next")
        press_on(tab, "Something went otherwise")
        reach(
            tab, lambda: tab.evaluate("document.activeElement.ariaLabel || ''").endswith("spoiled")
        )
        tab.keyboard.press("ArrowDown")
        press_on(tab, "Book it so")
        assert "1 spoiled" in tab.inner_text(".said")
        press_on(tab, "Diary")
        press_on(tab, "Take this back")
        assert tab.locator(".undone").count() == 1


def press_on(tab, words):
    """Go on with the tabulator until something that says these words has the focus; press it."""
    reach(tab, lambda: tab.evaluate("document.activeElement.textContent").strip() == words)
    if words == "Something went otherwise":
        tab.keyboard.press("Enter")
        return
    with tab.expect_navigation():
        tab.keyboard.press("Enter")


def reach(tab, is_there, most=200):
    """Go on with the tabulator until something is reached, which then shows that it is."""
    for _ in range(most):
        tab.keyboard.press("Tab")
        if is_there():
            style = "const s = getComputedStyle(document.activeElement);"
            assert tab.evaluate(f"() => {{ {style} return s.outlineStyle !== 'none'; }}")
            return
    raise AssertionError("the tabulator never comes to it")


def test_the_mat_is_turned_by_keyboard(chromium, planned, demo_plan):
    with opened(chromium, planned, **DESK) as tab:
        here = planned.split("/enter/")[0]
        tab.goto(f"{here}/mat/{demo_plan.code}/1/1")
        tab.keyboard.press("ArrowRight")
        tab.wait_for_url("**/1/2")
        tab.keyboard.press("PageDown")
        tab.wait_for_url("**/1/3")
        tab.keyboard.press("ArrowLeft")
        tab.wait_for_url("**/1/2")


def test_a_plan_can_be_ended_with_what_was_found(chromium, planned):
    with opened(chromium, planned, **DESK) as tab:
        tab.get_by_label("search for at most").select_option("120")
        tab.get_by_role("button", name="Plan again").click()
        if tab.get_by_role("button", name="That will do").count():
            tab.get_by_role("button", name="That will do").click()
        tab.wait_for_selector(".papers", timeout=240_000)


def test_two_tabs_do_not_lose_each_others_changes(chromium, planned):
    here = planned.split("/enter/")[0]
    with opened(chromium, planned, **DESK) as one:
        other = one.context.new_page()
        for tab in (one, other):
            tab.goto(f"{here}/orders?order=D02")
        one.get_by_label("client").first.fill("First tab")
        one.get_by_role("button", name="Keep the correction").click()
        other.get_by_label("client").first.fill("Second tab")
        other.get_by_role("button", name="Keep the correction").click()
        both = other.inner_text("main")
        assert "First tab" in both
        assert "Second tab" in both
        other.get_by_role("button", name="Keep mine").click()
        assert "Second tab" in other.inner_text(".orders")


def test_a_table_is_chosen_and_brought_in(chromium, planned, tmp_path):
    here = planned.split("/enter/")[0]
    with opened(chromium, planned, **DESK) as tab:
        copy = copied_orders(tab, here, tmp_path)
        tab.get_by_label("a table of orders").set_input_files(copy)
        tab.get_by_role("button", name="See what it would change").click()
        assert tab.locator(".listing tbody tr").count() == 2  # D03 and D05 are Ottery's
        tab.get_by_role("button", name="Bring this in").click()
        assert "rows changed: 2" in tab.inner_text(".said")


DROPS = """([name, text]) => {
  const dropped = new DataTransfer();
  dropped.items.add(new File([text], name));
  document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: dropped, bubbles: true }));
}"""


def test_a_table_is_dropped_anywhere_on_the_page(chromium, planned, tmp_path):
    here = planned.split("/enter/")[0]
    with opened(chromium, planned, **DESK) as tab:
        copy = copied_orders(tab, here, tmp_path)
        tab.evaluate(DROPS, [copy.name, copy.read_text(encoding="utf-8-sig")])
        tab.get_by_role("heading", name="What orders-copy.csv would change").wait_for()
        assert tab.locator(".listing tbody tr").count() == 2


def copied_orders(tab, here, folder):
    """Take a copy of the orders, and return it with one client's name changed."""
    tab.goto(f"{here}/orders")
    with tab.expect_download() as download:
        tab.get_by_role("link", name="Take a copy").click()
    copy = folder / "orders-copy.csv"
    download.value.save_as(copy)
    copy.write_bytes(copy.read_bytes().replace(b"Ottery", b"Otter"))
    return copy


def test_the_page_is_closed_by_its_own_button(chromium, tmp_path):
    with served(tmp_path) as address, opened(chromium, address, **DESK) as tab:
        tab.get_by_role("button", name="Begin your own studio").click()
        tab.get_by_role("button", name="Close").click()
        assert "The studio is closed" in tab.inner_text("h1")
