"""The Edition place: what an edition takes, where its certificates are printed, order lines."""

import re

import pytest

from sheetcut.units import mm
from tests.page.conftest import let_in, orders_kept

SCRIPT = '<script>alert("x")</script>'
ASKED = "/edition?numbered=50&size=300+x+400&paper=Marram+Rag"
WITH_CERTIFICATE = f"{ASKED}&certificate=A6&certificate-paper=Gullwing+Laid"


def page_of(browsing, path: str) -> str:
    """Return a place's page."""
    return browsing.get(path).get_data(as_text=True)


def rows_of(page: str) -> list[list[str]]:
    """Return the cells of all rows of all tables."""
    rows = re.findall(r"<tr>(.*?)</tr>", page, re.S)
    return [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.S) for row in rows]


def test_the_blanks_are_counted_with_what_they_are_made_up_of(browsing):
    """50 and a tenth of artist's proofs are 55; five in a hundred of 55 are 2.75, so three."""
    rows = rows_of(page_of(browsing, ASKED))
    assert '<p class="charge">58</p>' in page_of(browsing, ASKED)
    assert [row[0] for row in rows[1:4]] == ["50", "5", "3"]
    assert rows[1][1] == "numbered 1/50 to 50/50"


def test_proofs_setting_up_and_spoilage_can_be_said(browsing):
    more = "&artists-proofs=6&other-proofs=2&set-up=4&spoilage=10"
    page = page_of(browsing, ASKED + more)
    # 50 + 6 + 2 + 4, and a tenth of 56 rounded up
    assert '<p class="charge">68</p>' in page
    rows = rows_of(page)
    assert [row[0] for row in rows[1:6]] == ["50", "6", "2", "4", "6"]


def test_an_edition_printed_as_it_is_sold_counts_what_is_made_now(browsing):
    """Ten prints and five in a hundred, rounded up to one."""
    assert '<p class="charge">11</p>' in page_of(browsing, f"{ASKED}&sold=10")


def test_the_print_leads_into_the_printer_by_the_edge_that_fits(browsing):
    """350 x 460 with usual borders: 350 goes through 432 mm, 460 does not."""
    page = page_of(browsing, ASKED)
    assert "The sheet of a print is 350 × 460 mm" in page
    assert "Into the printer with its top first" in page


def test_certificates_are_printed_where_the_cuts_will_meet_them(browsing):
    """SRA3, 320 x 450, of which the printer leaves 5 at left, right and foot, 17 at the top.

    Inside 310 x 428 lie two lying A6 side by side, 148 each, and four up, 105 each. Of the
    lowest row the foot lies 5 mm up, so its top is 450 - 5 - 105 = 340 mm down.
    """
    page = page_of(browsing, WITH_CERTIFICATE)
    assert "8 to a Certificate sheet, 7 sheets, 1 over" in page
    table = [row for row in rows_of(page) if len(row) == 4 and row[0].isdecimal()]
    assert table[0] == ["1", "5 mm", "340 mm", "148 × 105 mm"]
    assert [row[2] for row in table[::2]] == ["340 mm", "235 mm", "130 mm", "25 mm"]
    assert page.count('class="place"') == 8


def test_what_stands_in_the_way_is_said(browsing):
    page = page_of(browsing, f"{ASKED}&interleave=5&interleave-paper=Gullwing+Laid")
    assert "fits no sheet of Gullwing Laid" in page
    page = page_of(browsing, ASKED.replace("300+x+400", "500+x+600"))
    assert "the printer takes 432 mm" in page


def test_it_is_taken_as_order_lines_in_one_change(browsing):
    fields = browsing.form(WITH_CERTIFICATE, "/edition/take")
    typed = {"order": "E1", "piece": "Slack Water", "client": "Merrin"}
    assert browsing.post("/edition/take", **(fields | typed)).status_code == 303
    orders = orders_kept(browsing.folder)
    print_, card = orders["E1"], orders["E1 certificate"]
    assert (print_.count, print_.kind, print_.client) == (58, "print", "Merrin")
    assert (print_.width, print_.height) == (mm(350), mm(460))
    assert print_.border.foot == mm(35)
    assert (card.count, card.paper, card.width, card.height) == (
        55, "Gullwing Laid", mm(105), mm(148),
    )  # fmt: skip
    browsing.post("/diary/undo", **browsing.form("/diary", "/diary/undo"))
    assert not {"E1", "E1 certificate"} & set(orders_kept(browsing.folder))


def test_a_name_that_is_taken_stands_beside_its_field_and_adds_nothing(browsing):
    before = orders_kept(browsing.folder)
    fields = browsing.form(WITH_CERTIFICATE, "/edition/take")
    answer = browsing.post("/edition/take", **(fields | {"order": "P01", "piece": "Gull & tern"}))
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert 'aria-describedby="order-wrong"' in page
    assert "Gull &amp; tern" in page
    assert browsing.post("/edition/take", **(fields | {"order": ""})).status_code == 422
    assert orders_kept(browsing.folder) == before


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("numbered", "0", "1 to 10000"),
        ("numbered", "many", "many"),
        ("size", "21O x 400", "21O"),
        ("size", "", "no size is written"),
        ("paper", "Nowhere", "Nowhere"),
        ("border", "25, 25", "there are 2 lengths"),
        ("border", "x", "x"),
        ("artists-proofs", "-1", "-1"),
        ("other-proofs", "1.5", "1.5"),
        ("set-up", "few", "few"),
        ("spoilage", "100", "0 to 99"),
        ("sold", "56", "56 are made of 55"),
        ("certificate", "A99", "A99"),
        ("interleave", "x", "x"),
        ("backing", "x", "x"),
    ],
)
def test_what_is_wrong_stands_beside_its_field(browsing, field, typed, words):
    fields = browsing.form(ASKED, "/edition") | {field: typed}
    answer = browsing.client.get("/edition", base_url="http://127.0.0.1:8765", query_string=fields)
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert f'aria-describedby="{field}-wrong"' in page
    assert words in page.split(f'id="{field}-wrong">')[1].split("</p>")[0]
    assert browsing.post("/edition/take", **(fields | {"order": "E1"})).status_code == 422
    assert "E1" not in orders_kept(browsing.folder)


def test_script_in_any_field_stays_text(browsing):
    asked = dict.fromkeys(browsing.form("/edition", "/edition"), SCRIPT)
    answer = browsing.client.get("/edition", base_url="http://127.0.0.1:8765", query_string=asked)
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert "<script>alert" not in page
    assert page.count("&lt;script&gt;") >= len(asked)
    fields = browsing.form(WITH_CERTIFICATE, "/edition/take")
    browsing.post("/edition/take", **(fields | {"order": "E1", "piece": SCRIPT, "client": SCRIPT}))
    assert orders_kept(browsing.folder)["E1"].label == SCRIPT
    for path in ("/orders", "/plan", "/diary"):
        assert "<script>alert" not in page_of(browsing, path)


def test_an_edition_is_counted_from_files_too_and_not_taken(tmp_path):
    (tmp_path / "orders.csv").write_text("order,paper,size\n1,Rag,210 x 297\n")
    (tmp_path / "drawer.csv").write_text("sheet,paper,size\nA,Rag,500 x 700\n")
    browsing = let_in(tmp_path)
    page = page_of(browsing, "/edition?numbered=10&size=100+x+100")
    assert '<p class="charge">12</p>' in page  # ten, one proof, one for spoilage
    assert "Take it as order lines" not in page
    assert browsing.post("/edition/take", numbered="10", size="A6", order="E").status_code == 409
