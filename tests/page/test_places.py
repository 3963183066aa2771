"""Every place shows what the library says, and every form changes the studio as a command would."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from sheetcut.printout import sheaves
from sheetcut.units import mm
from tests.page.conftest import DEMO, FILES, let_in, orders_kept, sheets_kept

SCRIPT = '<script>alert("x")</script>'


def test_an_empty_folder_is_offered_a_studio(tmp_path):
    browsing = let_in(tmp_path)
    assert "Begin with the demo studio" in browsing.get("/plan").get_data(as_text=True)
    assert browsing.post("/begin", studio="demo").status_code == 303
    assert len(orders_kept(tmp_path)) == 25  # the lines of demo/orders.csv
    assert (tmp_path / "studio.sqlite").exists()


def test_an_empty_studio_of_ones_own_can_be_begun(tmp_path):
    browsing = let_in(tmp_path)
    browsing.post("/begin", studio="own")
    assert set(orders_kept(tmp_path)) == {"1", "2"}


def test_beginning_writes_over_nothing(tmp_path):
    (tmp_path / "studio.toml").write_text("name = 'mine'")
    answer = let_in(tmp_path).post("/begin", studio="demo")
    assert answer.status_code == 409
    assert (tmp_path / "studio.toml").read_text() == "name = 'mine'"


def test_the_packaged_demo_is_the_demo():
    packaged = Path(__file__).resolve().parent.parent.parent / "sheetcut" / "page" / "demo"
    for name in FILES:
        assert (packaged / name).read_bytes() == (DEMO / name).read_bytes()


def test_files_are_shown_and_brought_in(tmp_path):
    for name in FILES:
        shutil.copy(DEMO / name, tmp_path / name)
    browsing = let_in(tmp_path)
    assert "still in your files" in browsing.get("/orders").get_data(as_text=True)
    assert not (tmp_path / "studio.sqlite").exists()
    fields = browsing.form("/drawer/bring-in", "/drawer/bring-in")
    assert browsing.post("/drawer/bring-in", **fields).status_code == 303
    assert len(orders_kept(tmp_path)) == 25


def test_files_that_changed_after_they_were_shown_are_shown_again(browsing):
    orders = browsing.folder / "orders.csv"
    orders.write_bytes(orders.read_bytes().replace(b"Pascoe-Vane", b"Pascoe"))
    fields = browsing.form("/drawer/bring-in", "/drawer/bring-in")
    orders.write_bytes(orders.read_bytes().replace(b"Ottery", b"Somebody"))
    answer = browsing.post("/drawer/bring-in", **fields)
    assert answer.location.endswith("/drawer/bring-in")
    assert orders_kept(browsing.folder)["D01"].client == "Pascoe-Vane"


def test_the_plan_is_shown_with_its_proof_and_drawings(browsing, demo_plan):
    page = browsing.get("/plan").get_data(as_text=True)
    assert f"Plan {demo_plan.code}" in page
    assert "£75.40" in page  # 3 Imperial at 15.20 and a Double elephant at 29.80
    assert "proved" in page
    sheets = page.split("<h2>All sheets</h2>")[1]
    assert sheets.count('<svg class="drawing"') == 1 + len(sheaves(demo_plan))
    assert "<?xml" not in page


def test_the_pages_come_as_pdf(browsing, demo_plan):
    answer = browsing.get(f"/plan/{demo_plan.code}/pin-up.pdf")
    assert answer.data.startswith(b"%PDF")
    assert "attachment" in answer.headers["Content-Disposition"]


def test_a_step_shows_its_reading_and_its_edge(browsing, demo_plan):
    first = browsing.get(f"/mat/{demo_plan.code}/1/1").get_data(as_text=True)
    assert ">8<" in first  # the deckle of the Imperial sheet loses 8 mm
    assert 'rel="next"' in first
    assert 'rel="prev"' not in first


@pytest.mark.parametrize("path", ["/mat/XXXX/1/1", "/mat/{code}/99/1", "/mat/{code}/1/0"])
def test_a_step_that_is_not_there_is_said_so(browsing, demo_plan, path):
    assert browsing.get(path.format(code=demo_plan.code)).status_code == 404


def test_a_sheet_is_booked_as_cut_once_and_undone(browsing, demo_plan):
    layout = demo_plan.layouts[0]
    last = 1 + len(layout.squaring) + len(layout.cuts)
    done = f"/mat/{demo_plan.code}/1/{last}"
    fields = browsing.form(done, f"/mat/{demo_plan.code}/1/cut")
    assert browsing.post(f"/mat/{demo_plan.code}/1/cut", **fields).status_code == 303
    assert "Cut plan" in browsing.said()[0]
    assert "booked as cut already" in browsing.get(done).get_data(as_text=True)
    assert browsing.post(f"/mat/{demo_plan.code}/1/cut", **fields).status_code == 409
    back = browsing.form("/diary", "/diary/undo")
    browsing.post("/diary/undo", **back)
    assert "Something went otherwise" in browsing.get(done).get_data(as_text=True)


def test_a_line_is_added(browsing):
    fields = browsing.form("/orders", "/orders/add") | {
        "order": "D12", "paper": "slatehouse smooth", "size": "A4", "piece": "Gull",
    }  # fmt: skip
    assert browsing.post("/orders/add", **fields).status_code == 303
    assert orders_kept(browsing.folder)["D12"].paper == "Slatehouse Smooth"


def test_what_is_wrong_stands_beside_its_field_and_nothing_typed_is_lost(browsing):
    fields = browsing.form("/orders", "/orders/add") | {
        "order": "D12", "paper": "Slatehouse Smooth", "size": "21O", "piece": "Gull & tern",
    }  # fmt: skip
    answer = browsing.post("/orders/add", **fields)
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert 'aria-describedby="add-size-wrong"' in page
    assert "Gull &amp; tern" in page
    assert "D12" not in orders_kept(browsing.folder)


def test_a_correction_changes_only_what_was_typed(browsing):
    before = orders_kept(browsing.folder)
    for order in ("D02", "P01", "C01"):
        fields = browsing.form(f"/orders?order={order}", "/orders/correct")
        assert browsing.post("/orders/correct", **(fields | {"count": "9"})).status_code == 303
    after = orders_kept(browsing.folder)
    for order in ("D02", "P01", "C01"):
        assert after[order].count == 9
        same = {f for f in before[order].__slots__ if f != "count"}
        assert all(getattr(after[order], f) == getattr(before[order], f) for f in same)


def test_a_margin_for_all_sides_stands_instead_of_single_ones(browsing):
    """The single ones lie folded away in the form, and silently held against it."""
    one = browsing.form("/orders?order=D02", "/orders/correct")
    browsing.post("/orders/correct", **(one | {"left": "20", "right": "10"}))
    other = browsing.form("/orders?order=D02", "/orders/correct")
    assert (other["margin"], other["left"]) == ("", "20 mm")
    browsing.post("/orders/correct", **(other | {"margin": "15"}))
    assert set(orders_kept(browsing.folder)["D02"].margin) == {mm(15)}


def test_a_form_that_was_overtaken_is_refused_with_both_versions(browsing):
    one = browsing.form("/orders?order=D02", "/orders/correct")
    other = browsing.form("/orders?order=D02", "/orders/correct")
    browsing.post("/orders/correct", **(one | {"client": "First tab"}))
    answer = browsing.post("/orders/correct", **(other | {"client": "Second tab"}))
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert "First tab" in page
    assert "Second tab" in page
    assert orders_kept(browsing.folder)["D02"].client == "First tab"
    removed = browsing.post("/orders/remove", line="D02", version=other["version"])
    assert removed.status_code == 409


def test_undo_speaks_of_what_was_shown(browsing):
    shown = browsing.form("/diary", "/diary/undo")
    fields = browsing.form("/orders?order=D02", "/orders/correct")
    browsing.post("/orders/correct", **(fields | {"client": "Meanwhile"}))
    browsing.post("/diary/undo", **shown)
    assert orders_kept(browsing.folder)["D02"].client == "Meanwhile"


def test_script_in_every_field_stays_text(browsing):
    fields = browsing.form("/orders?order=D02", "/orders/correct")
    typed = {"order": SCRIPT, "piece": SCRIPT, "client": SCRIPT, "note": SCRIPT}
    assert browsing.post("/orders/correct", **(fields | typed)).status_code == 303
    for path in ("/orders", "/diary", "/plan", "/mat", "/drawer"):
        assert "<script>alert" not in browsing.get(path).get_data(as_text=True)
    assert "&lt;script&gt;" in browsing.get("/orders").get_data(as_text=True)
    assert "<script>alert" not in browsing.get(f"/quote?size={SCRIPT}").get_data(as_text=True)


def test_a_quote_gives_the_figure_and_the_margin_stair(browsing):
    """A4 with 12 mm on Imperial gives four, so 15.20 / 4 = 3.80."""
    asked = "/quote?size=210+x+297&margin=12&paper=Slatehouse+Smooth&kind=drawing&count=3"
    page = browsing.get(asked).get_data(as_text=True)
    assert "£3.80" in page
    assert "£11.40" in page  # three of them
    assert "3 mm less margin gives five" in page
    assert 'class="stair"' in page


def test_a_quote_becomes_an_order(browsing):
    fields = browsing.form("/quote?size=A4&margin=12&paper=Slatehouse+Smooth", "/quote/take")
    browsing.post("/quote/take", **(fields | {"order": "Q1", "client": "Merrin"}))
    assert orders_kept(browsing.folder)["Q1"].client == "Merrin"


def test_no_word_of_other_trades_is_shown(browsing, demo_plan):
    """A part of the words that mean other things to other people."""
    code = demo_plan.code
    further = ("/studio", "/orders/work", "/edition", "/edition/register", "/plan/arrived")
    others = ("/plan", "/mat", f"/mat/{code}/1/3", "/drawer", "/orders", "/quote", "/diary")
    for path in (*further, *others):
        page = browsing.get(path).get_data(as_text=True).lower()
        for word in ("kerf", "panel", "remnant", "utilisation", "yield", "optimi", "queue"):
            assert word not in page, (path, word)


def test_a_sheet_is_corrected_and_nothing_else_of_it(browsing):
    before = sheets_kept(browsing.folder)
    for name in ("HP-IMP", "CERT", "plover 3"):
        fields = browsing.form(f"/drawer?sheet={name}", "/drawer/correct")
        answer = browsing.post("/drawer/correct", **(fields | {"on-hand": "7"}))
        assert answer.status_code == 303
    after = sheets_kept(browsing.folder)
    for name in ("HP-IMP", "CERT", "plover 3"):
        assert after[name] == replace(before[name], on_hand=7)


def test_paper_is_added_and_an_offcut_gets_a_tag(browsing):
    fields = browsing.form("/drawer", "/drawer/add")
    typed = {"paper": "Marram Rag", "size": "300 x 400", "kind": "offcut"}
    assert browsing.post("/drawer/add", **(fields | typed)).status_code == 303
    new = set(sheets_kept(browsing.folder)) - {"plover 3", "heron 7"}
    assert any(sheets_kept(browsing.folder)[name].kind == "offcut" for name in new)


def test_a_sheet_without_a_size_is_refused_beside_its_field(browsing):
    fields = browsing.form("/drawer", "/drawer/add")
    answer = browsing.post("/drawer/add", **(fields | {"sheet": "X", "paper": "Marram Rag"}))
    assert answer.status_code == 422
    assert 'aria-describedby="add-size-wrong"' in answer.get_data(as_text=True)


def test_a_sheet_form_that_was_overtaken_is_refused(browsing):
    form = browsing.form("/drawer?sheet=HP-IMP", "/drawer/correct")
    browsing.post("/drawer/correct", **(form | {"on-hand": "5"}))
    assert browsing.post("/drawer/correct", **(form | {"on-hand": "9"})).status_code == 409
    assert browsing.post("/drawer/remove", **form).status_code == 409
    assert sheets_kept(browsing.folder)["HP-IMP"].on_hand == 5


def test_paper_is_added_up_by_month(browsing, demo_plan):
    """One Imperial cut: 560 x 760 mm is 0.426 square metres, at 15.20."""
    number = next(n for n, one in enumerate(demo_plan.layouts, 1) if one.sheet == "HP-IMP")
    path = f"/mat/{demo_plan.code}/{number}/cut"
    assert browsing.post(path, spoiled="").status_code == 303
    page = browsing.get("/diary/figures").get_data(as_text=True)
    assert "Slatehouse Smooth" in page
    assert "0.426" in page
    assert "15.20" in page
    assert page.count('<svg class="drawing"') == 1
    file = browsing.get("/diary/figures.svg")
    assert file.data.startswith(b"<?xml")
    assert "attachment" in file.headers["Content-Disposition"]


def test_a_quote_charges_hours_mark_up_and_rounding_as_the_studio_says(browsing):
    """Paper 15.20 / 4 = 3.80, times 1.5 is 5.70; two hours at 22.00 are 44.00: 49.70, so 50.00."""
    path = browsing.folder / "studio.toml"
    charging = '\n[charging]\nhours = 2\nrate = "22.00"\nmark-up = 1.5\nround-up-to = "0.50"\n'
    path.write_text(path.read_text(encoding="utf-8") + charging, encoding="utf-8")
    asked = "/quote?size=A4&margin=12&paper=Slatehouse+Smooth"
    page = browsing.get(asked).get_data(as_text=True)
    assert '<p class="charge">£50.00</p>' in page
    assert "times 1.5 is £5.70" in page
    assert "2 hours at £22.00 are £44.00" in page
    assert "£27.50" in browsing.get(f"{asked}&hours=0,98").get_data(as_text=True)  # 5.70 + 21.56
    fields = browsing.form(asked, "/quote/take")
    assert fields["price"] == "50.00"
    browsing.post("/quote/take", **(fields | {"order": "Q1"}))
    assert orders_kept(browsing.folder)["Q1"].price == 5000


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"order": "D01"}, "D01"),
        ({"order": ""}, "it has no name"),
        ({"order": "Q1", "price": "dear"}, "dear"),
    ],
)
def test_what_is_wrong_with_a_quote_taken_stands_beside_its_field(browsing, typed, words):
    fields = browsing.form("/quote?size=A4&paper=Slatehouse+Smooth", "/quote/take")
    answer = browsing.post("/quote/take", **(fields | {"client": "Gull & tern"} | typed))
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert f'id="{next(reversed(typed))}-wrong"' in page
    assert words in page
    assert "Gull &amp; tern" in page
    assert "Q1" not in orders_kept(browsing.folder)


def test_hours_without_a_rate_are_refused_beside_their_field(browsing):
    answer = browsing.get("/quote?size=A4&paper=Slatehouse+Smooth&hours=3")
    assert answer.status_code == 422
    assert "an hour has no rate yet" in answer.get_data(as_text=True)
