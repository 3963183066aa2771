"""Rows of the tables on the page: what takes one out, and what keeps it as it was."""

import pytest

from tests.page.conftest import orders_kept, sheets_kept


@pytest.mark.parametrize(
    ("table", "asks", "name", "kept"),
    [
        ("orders", "order", "D02", orders_kept),
        ("drawer", "sheet", "HP-DE", sheets_kept),
    ],
)
def test_a_row_is_taken_out_and_brought_back(browsing, table, asks, name, kept):
    before = kept(browsing.folder)
    fields = browsing.form(f"/{table}?{asks}={name}", f"/{table}/correct")  # its button
    assert browsing.post(f"/{table}/remove", **fields).status_code == 303
    assert name in browsing.said()[0]
    assert kept(browsing.folder) == {one: row for one, row in before.items() if one != name}
    browsing.post("/diary/undo", **browsing.form("/diary", "/diary/undo"))
    assert kept(browsing.folder) == before


def test_an_order_that_was_cut_for_stays(browsing, demo_plan):
    layout = demo_plan.layouts[0]
    last = f"/mat/{demo_plan.code}/1/{1 + len(layout.squaring) + len(layout.cuts)}"
    cut = f"/mat/{demo_plan.code}/1/cut"
    browsing.post(cut, **browsing.form(last, cut))
    name = demo_plan.piece(layout.placements[0].piece).order
    before = orders_kept(browsing.folder)
    fields = browsing.form(f"/orders?order={name}", "/orders/correct")
    answer = browsing.post("/orders/remove", **fields)
    assert answer.status_code == 409
    page = answer.get_data(as_text=True)
    assert "cut for it already, so it stays" in page
    assert orders_kept(browsing.folder) == before


@pytest.mark.parametrize(
    ("wrong", "said"),
    [({"size": "21O"}, "21O"), ({"count": "0"}, "0"), ({"order": "D05"}, "D05")],
)
def test_a_correction_that_cannot_be_changes_nothing_and_stays_typed(browsing, wrong, said):
    """A size that is none, no piece at all, and the name of another line."""
    before = orders_kept(browsing.folder)
    fields = browsing.form("/orders?order=D02", "/orders/correct")
    answer = browsing.post("/orders/correct", **(fields | wrong | {"client": "Terns & Co"}))
    assert answer.status_code == 422
    form = browsing.form_of(answer, "/orders/correct")
    assert form["client"] == "Terns & Co"
    assert {name: form[name] for name in wrong} == wrong
    assert said in answer.get_data(as_text=True)
    assert orders_kept(browsing.folder) == before
