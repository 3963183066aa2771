"""A week in a real browser: begun, planned, cut, undone, quoted, with and without script."""

import pytest

from tests.browser.conftest import opened, served

DESK = {"viewport": {"width": 1280, "height": 900}}
TABLET = {"viewport": {"width": 820, "height": 1180}, "has_touch": True}
NO_SCRIPT = {**TABLET, "java_script_enabled": False}


@pytest.mark.parametrize("kind", [DESK, NO_SCRIPT], ids=["desk", "tablet without script"])
def test_the_week(chromium, tmp_path, kind):
    with served(tmp_path) as address, opened(chromium, address, **kind) as tab:
        tab.get_by_role("button", name="demo studio").click()
        assert tab.locator(".orders > li").count() == 25

        tab.get_by_role("link", name="Plan", exact=True).click()
        tab.get_by_role("button", name="Plan 25 orders").click()
        _wait_for_the_plan(tab)
        assert "£75.40" in tab.inner_text("main")

        tab.locator(".sheet a.button").first.click()
        steps = int(tab.locator(".where").inner_text().split(" of ")[1].split()[0])
        for _ in range(steps):
            tab.get_by_role("link", name="Cut, next").click()
        tab.get_by_role("button", name="Book as cut").click()
        assert "Cut plan" in tab.inner_text(".said")

        tab.get_by_role("link", name="Diary").click()
        tab.get_by_role("button", name="Take this back").click()
        assert tab.locator(".undone").count() == 1

        tab.get_by_role("link", name="Quote").click()
        tab.get_by_label("finished size").fill("210 x 297")
        tab.get_by_label("margin").fill("12")
        tab.get_by_role("button", name="Price it").click()
        assert tab.inner_text(".charge") == "£3.80"
        tab.get_by_label("order").fill("Q1")
        tab.get_by_role("button", name="Take this order").click()
        assert "Q1" in tab.locator(".order").all_inner_texts()

        tab.get_by_role("link", name="Correct Q1").click()
        tab.get_by_label("count", exact=True).first.fill("two")
        tab.get_by_role("button", name="Keep the correction").click()
        assert "two" in tab.inner_text(".wrong")
        tab.get_by_label("count", exact=True).first.fill("2")
        tab.get_by_role("button", name="Keep the correction").click()
        assert tab.get_by_text("2 to cut").count() >= 1


def _wait_for_the_plan(tab):
    """Wait as a person does; with or without script the page comes to the plan by itself."""
    tab.wait_for_selector(".papers", timeout=60_000)


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
        tab.wait_for_selector(".papers", timeout=60_000)


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
        one.wait_for_timeout(50)


def test_a_table_is_chosen_and_brought_in(chromium, planned, tmp_path):
    here = planned.split("/enter/")[0]
    with opened(chromium, planned, **DESK) as tab:
        tab.goto(f"{here}/orders")
        with tab.expect_download() as download:
            tab.get_by_role("link", name="Take a copy").click()
        copy = tmp_path / "orders-copy.csv"
        download.value.save_as(copy)
        copy.write_bytes(copy.read_bytes().replace(b"Ottery", b"Otter"))
        tab.get_by_label("a table of orders").set_input_files(copy)
        tab.get_by_role("button", name="See what it would change").click()
        assert tab.locator(".listing tbody tr").count() == 2  # D03 and D05 are Ottery's
        tab.get_by_role("button", name="Bring this in").click()
        assert "rows changed: 2" in tab.inner_text(".said")
