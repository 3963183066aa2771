"""The work list: what was cut is moved on until it is sent, or booked as spoiled."""

import re

import pytest

from sheetcut.drawer import Store, cut_plan, in_drawer, work_list
from sheetcut.page.studio import clock
from tests.page.conftest import let_in, orders_kept

SCRIPT = '<script>alert("x")</script>'


@pytest.fixture
def cut(browsing, demo_plan):
    """Return a browser on a studio whose whole week is booked as cut."""
    with Store.open(browsing.folder) as store:
        cut_plan(store, demo_plan, now=clock())
    return browsing


def stands(browsing) -> dict[str, dict[str, int]]:
    """Return where the blanks of each line stand."""
    with Store.open(browsing.folder) as store:
        return {one.piece.order: one.stages for one in work_list(store)}


def form_of(browsing, order: str, action: str) -> dict[str, str]:
    """Return the form of one line."""
    page = browsing.get("/orders/work").get_data(as_text=True)
    forms = [one.split("</form>")[0] for one in page.split("<form")[1:]]
    own = next(one for one in forms if f'action="{action}"' in one and f'value="{order}"' in one)
    return {
        name: re.search(rf'name="{name}" value="([^"]*)"', own)[1]
        for name in re.findall(r'<input[^>]*name="([^"]*)"', own)
    }


def test_nothing_is_in_work_before_a_sheet_is_cut(browsing):
    assert "Nothing is in work" in browsing.get("/orders/work").get_data(as_text=True)


def test_all_blanks_of_a_line_move_on_with_one_press(cut):
    fields = form_of(cut, "D02", "/orders/work/move")
    assert cut.post("/orders/work/move", **(fields | {"stage": "drawn"})).status_code == 303
    assert stands(cut)["D02"] == {"drawn": 4}  # four buoys
    assert "Drawn: 4 of D02" in cut.said()[0]


def test_some_of_them_move_on(cut):
    fields = form_of(cut, "D02", "/orders/work/move")
    cut.post("/orders/work/move", **(fields | {"stage": "signed", "count": "1"}))
    assert stands(cut)["D02"] == {"cut": 3, "signed": 1}


def test_a_line_that_is_all_sent_leaves_the_list(cut):
    fields = form_of(cut, "D01", "/orders/work/move")
    cut.post("/orders/work/move", **(fields | {"stage": "sent"}))
    assert "D01" not in stands(cut)


@pytest.mark.parametrize(
    ("count", "words"), [("5", "4 at a stage before drawn"), ("two", "two"), ("0", "0")]
)
def test_a_number_that_cannot_be_stands_beside_its_field(cut, count, words):
    fields = form_of(cut, "D02", "/orders/work/move")
    answer = cut.post("/orders/work/move", **(fields | {"stage": "drawn", "count": count}))
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    beside = re.search(r'aria-describedby="(n-\d+-wrong)"', page)[1]
    assert words in page.split(f'id="{beside}">')[1].split("</p>")[0]
    assert stands(cut)["D02"] == {"cut": 4}


def test_a_stage_that_its_kind_has_not_is_refused(cut):
    fields = form_of(cut, "D02", "/orders/work/move")
    for stage in ("printed", SCRIPT, ""):
        answer = cut.post("/orders/work/move", **(fields | {"stage": stage}))
        assert answer.status_code == 422
        assert "<script>alert" not in answer.get_data(as_text=True)
    assert stands(cut)["D02"] == {"cut": 4}


@pytest.mark.parametrize("action", ["/orders/work/move", "/orders/work/spoiled"])
def test_a_form_that_was_overtaken_is_refused_with_both_versions(cut, action):
    stale = form_of(cut, "D02", action) | {"stage": "cut", "count": "1"}
    fresh = form_of(cut, "D02", "/orders/work/move")
    cut.post("/orders/work/move", **(fresh | {"stage": "drawn", "count": "3"}))
    answer = cut.post(action, **(stale | {"stage": "signed"}))
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert "1 cut, 3 drawn" in page
    assert "4 cut" in page
    assert stands(cut)["D02"] == {"cut": 1, "drawn": 3}


def test_a_spoiled_blank_is_wanted_again_and_what_is_kept_of_it_goes_in(cut):
    """An A5 with 12 mm margins is 172 x 234 mm: 150 x 170 of it can be kept."""
    fields = form_of(cut, "D02", "/orders/work/spoiled")
    typed = {"spoiled": "1", "stage": "cut", "kept": "150 x 170"}
    assert cut.post("/orders/work/spoiled", **(fields | typed)).status_code == 303
    assert stands(cut)["D02"] == {"cut": 3}
    with Store.open(cut.folder) as store:
        (kept,) = (one for one in in_drawer(store) if "spoiled blank of D02" in one.origin)
        assert store.job().pieces[0].count == 1
    assert (kept.sheet.width, kept.sheet.height) == (150 * 8000, 170 * 8000)


@pytest.mark.parametrize(
    ("typed", "beside"),
    [
        ({"spoiled": "9"}, "s"),
        ({"spoiled": "x"}, "s"),
        ({"spoiled": "1", "kept": "900 x 900"}, "k"),
        ({"spoiled": "1", "kept": SCRIPT}, "k"),
    ],
)
def test_what_cannot_be_spoiled_or_kept_stands_beside_its_field(cut, typed, beside):
    fields = form_of(cut, "D02", "/orders/work/spoiled") | {"stage": "cut"}
    answer = cut.post("/orders/work/spoiled", **(fields | typed))
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert re.search(rf'aria-describedby="{beside}-\d+-wrong"', page)
    assert "<script>alert" not in page
    assert stands(cut)["D02"] == {"cut": 4}


def test_the_diary_takes_a_move_back(cut):
    fields = form_of(cut, "D02", "/orders/work/move")
    cut.post("/orders/work/move", **(fields | {"stage": "drawn"}))
    cut.post("/diary/undo", **cut.form("/diary", "/diary/undo"))
    assert stands(cut)["D02"] == {"cut": 4}


def test_before_stock_is_kept_there_is_no_work_list(tmp_path):
    (tmp_path / "orders.csv").write_text("order,paper,size\n1,Rag,210 x 297\n")
    (tmp_path / "drawer.csv").write_text("sheet,paper,size\nA,Rag,500 x 700\n")
    browsing = let_in(tmp_path)
    assert "It begins when" in browsing.get("/orders/work").get_data(as_text=True)
    assert browsing.post("/orders/work/move", order="1", stage="drawn").status_code == 409
    assert "Work list" not in browsing.get("/orders").get_data(as_text=True)


def test_names_with_markup_stay_text(cut):
    fields = cut.form("/orders?order=D02", "/orders/correct")
    cut.post("/orders/correct", **(fields | {"piece": SCRIPT, "client": SCRIPT, "order": SCRIPT}))
    assert SCRIPT in orders_kept(cut.folder)
    assert "<script>alert" not in cut.get("/orders/work").get_data(as_text=True)
