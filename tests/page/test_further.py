"""What goes with a plan: what would save a sheet, what to buy, paper that has come."""

import re
import shutil
from dataclasses import replace

import pytest

from sheetcut.page.bringing_in import bring_in
from sheetcut.page.found import found_of
from sheetcut.page.planner import Planner
from sheetcut.page.studio import Desk, present_in
from sheetcut.plan import make_plan
from sheetcut.printout.files import write_plan
from tests.page.conftest import DEMO, FILES, let_in, sheets_kept

SCRIPT = '<script>alert("x")</script>'
ORDERS = "order,paper,size,margin,count\nA,Rag,200 x 300,0,3\nB,Rag,200 x 300,0,1\n"
DRAWER = (
    "sheet,name,paper,size,on hand,price,packs\nS,Small,Rag,400 x 300,1,5.00,\n"
    "L,Large & <b>wide</b>,Rag,400 x 600,0,9.00,single; 3 for 24.00\n"
)
SETTINGS = 'currency = "£"\nsizes-sold = ["200 x 300"]\n[buying]\ncarriage = ["4.00"]\n'


@pytest.fixture(scope="module")
def short_planned(tmp_path_factory):
    """Return a studio that is short: two blanks from the sheet on hand, two are left out."""
    folder = tmp_path_factory.mktemp("short") / "studio"
    folder.mkdir()
    (folder / "orders.csv").write_text(ORDERS)
    (folder / "drawer.csv").write_text(DRAWER)
    (folder / "studio.toml").write_text(SETTINGS, encoding="utf-8")
    bring_in(Desk(folder))
    present = present_in(folder)
    write_plan(make_plan(present.job, seconds=1, input_hash=present.input_hash), folder)
    return folder


@pytest.fixture
def short(short_planned, tmp_path):
    """Return a browser on a copy of the studio that is short."""
    return let_in(shutil.copytree(short_planned, tmp_path / "short"))


@pytest.fixture(scope="module")
def found(short_planned):
    """Return what a run beside the page finds of that plan."""
    plan = Desk(short_planned).newest_plan()
    return found_of(plan, present_in(short_planned).settings, tell=lambda _words: None)


@pytest.fixture
def looked(short, found):
    """Return the browser after it was looked what to buy."""
    short.client.application.extensions["planner"]._found = found
    return short


def page_of(browsing, path="/plan") -> str:
    return browsing.get(path).get_data(as_text=True)


def test_what_is_short_is_said_at_once(short):
    page = page_of(short)
    assert "Paper is short" in page
    left_out = re.findall(r"<li>([AB]): (\d) of \d \(paper ran out\)</li>", page)
    assert sum(int(n) for _, n in left_out) == 2
    assert "Look for what to buy" in page


def test_the_plan_stays_in_sight_while_it_is_looked_further(short):
    short.post("/plan/further", **short.form("/plan", "/plan/further"))
    page = page_of(short)
    planner: Planner = short.client.application.extensions["planner"]
    if planner.progress.is_running:
        assert "data-poll" in page
        assert "Leave off" in page
    assert "All sheets" in page
    assert planner.wait(300)
    assert planner.found(Desk(short.folder).newest_plan().code) is not None


def test_the_cheapest_way_to_buy_is_shown(looked):
    """Two blanks of 200 x 300 are a Small, 5.00, or half a Large, 9.00; 4.00 carriage."""
    page = page_of(looked)
    row = page.split("<h2>To buy</h2>")[1].split("</table>")[0]
    assert "Small" in row
    assert "a single sheet" in row
    assert "£5.00" in row
    assert "£4.00" in row
    assert "£9.00" in row.split("in all")[1]
    assert "1 × Large &amp; &lt;b&gt;wide&lt;/b&gt;: £13.00" in page


def test_what_has_come_is_booked_in_from_there(looked):
    link = re.search(r'href="(/plan/arrived\?[^"]*)"', page_of(looked))[1].replace("&amp;", "&")
    fields = looked.form(link, "/plan/arrived")
    assert (fields["number"], fields["paid"]) == ("1", "5.00")
    assert looked.post("/plan/arrived", **(fields | {"sheet": "S"})).status_code == 303
    assert sheets_kept(looked.folder)["S"].on_hand == 2
    assert "Arrived: 1 x S, 5.00 paid" in looked.said()[0]
    page = page_of(looked)
    assert "worked out before orders or drawer changed" in page
    again = looked.post("/plan/arrived", **(fields | {"sheet": "S"}))
    assert again.status_code == 409
    assert "2 on hand" in again.get_data(as_text=True)
    assert sheets_kept(looked.folder)["S"].on_hand == 2


def test_sheets_that_measure_otherwise_get_a_row_of_their_own(short):
    fields = short.form("/plan/arrived", "/plan/arrived")
    typed = {"sheet": "S", "number": "2", "measured": "398 x 300", "batch": SCRIPT}
    assert short.post("/plan/arrived", **(fields | typed)).status_code == 303
    kept = sheets_kept(short.folder)
    assert kept["S"].on_hand == 1
    (other,) = (one for name, one in kept.items() if name not in ("S", "L"))
    assert (other.width, other.on_hand) == (398 * 8000, 2)
    for path in ("/plan", "/drawer", "/diary", "/plan/arrived"):
        assert "<script>alert" not in page_of(short, path)


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("number", "", "how many sheets"),
        ("number", "two", "two"),
        ("number", "1000000", "100000"),
        ("paid", "much", "much"),
        ("measured", SCRIPT, "script"),
        ("sheet", "Z", "Z"),
        ("sheet", SCRIPT, "script"),
    ],
)
def test_what_is_wrong_stands_beside_its_field(short, field, typed, words):
    fields = short.form("/plan/arrived", "/plan/arrived") | {"sheet": "S", "number": "1"}
    answer = short.post("/plan/arrived", **(fields | {field: typed}))
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert f'aria-describedby="{field}-wrong"' in page
    assert words in page.split(f'id="{field}-wrong">')[1].split("</p>")[0]
    assert "<script>alert" not in page
    assert sheets_kept(short.folder)["S"].on_hand == 1


def test_looking_can_be_left_off_and_a_plan_comes_first(short):
    planner: Planner = short.client.application.extensions["planner"]
    code = Desk(short.folder).newest_plan().code
    planner.look_further(code)
    short.post("/plan/further/leave-off")
    assert not planner.progress.is_running
    assert not planner.progress.refused
    planner.look_further(code)
    planner.start(1)
    assert planner.progress.task == "plan"
    assert planner.wait(300)
    assert not planner.progress.refused


def test_another_plan_than_the_one_shown_is_not_looked_at(short):
    short.post("/plan/further", code="XXXX")
    assert "another plan" in short.said()[0]
    planner: Planner = short.client.application.extensions["planner"]
    assert not planner.progress.is_running
    planner.look_further("XXXX")
    assert planner.wait(300)
    assert "not the newest" in page_of(short)


def test_what_would_save_a_sheet_is_said_by_paper(short_planned):
    """Three and one blank of 200 x 300 take two Small: without either line, less."""
    present = present_in(short_planned)
    sheets = tuple(replace(one, on_hand=3) for one in present.job.sheets[:1])
    job = replace(present.job, sheets=sheets)
    told: list[str] = []
    found = found_of(make_plan(job, seconds=1), present.settings, tell=told.append)
    assert found["buying"] is None
    (paper,) = found["savings"]
    assert any("£5.00 less" in line and "without A" in line for line in paper["lines"])
    assert told == ["looking for what would save a sheet of Rag"]


def test_room_left_is_shown_without_being_asked_for(browsing):
    """One A5 and one 8 x 10 in are what the last certificate sheet leaves."""
    page = page_of(browsing)
    assert "Gullwing Laid: 1 of A5 (Certificate sheet)" in page
    assert "Look for what would save a sheet" in page


def test_from_files_nothing_is_booked_in(tmp_path):
    for name in FILES:
        shutil.copy(DEMO / name, tmp_path / name)
    browsing = let_in(tmp_path)
    assert browsing.get("/plan/arrived").status_code == 409
    assert browsing.post("/plan/arrived", sheet="CERT", number="1").status_code == 409
