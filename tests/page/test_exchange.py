"""Tables in by choosing a file: seen first, whole or not at all; and out again the same."""

import io
import zipfile

from tests.page.conftest import orders_kept


def test_a_copy_taken_and_chosen_again_changes_nothing(browsing):
    for table in ("orders", "drawer"):
        copy = browsing.get(f"/exchange/{table}.csv").data
        assert browsing.choose(table, f"{table}.csv", copy).status_code == 303
        page = browsing.get("/exchange/chosen").get_data(as_text=True)
        assert "Nothing differs" in page


def test_a_chosen_table_is_shown_then_brought_in(browsing):
    copy = browsing.get("/exchange/orders.csv").data.replace(b"Pascoe-Vane", b"<b>Pascoe</b>")
    browsing.choose("orders", "../../shop.csv", copy)
    page = browsing.get("/exchange/chosen").get_data(as_text=True)
    assert "&lt;b&gt;Pascoe" in page
    assert "What shop.csv would change" in page
    assert orders_kept(browsing.folder)["D01"].client == "Pascoe-Vane"
    fields = browsing.form("/exchange/chosen", "/exchange/chosen")
    browsing.post("/exchange/chosen", **fields)
    assert orders_kept(browsing.folder)["D01"].client == "<b>Pascoe</b>"


def test_a_file_that_took_its_place_is_shown_first(browsing):
    copy = browsing.get("/exchange/orders.csv").data
    browsing.choose("orders", "one.csv", copy.replace(b"Ottery", b"One"))
    fields = browsing.form("/exchange/chosen", "/exchange/chosen")
    browsing.choose("orders", "two.csv", copy.replace(b"Ottery", b"Two"))
    browsing.post("/exchange/chosen", **fields)
    assert orders_kept(browsing.folder)["D03"].client == "Ottery"


def test_what_is_no_table_is_refused_with_words(browsing):
    for name, data in (("notes.pdf", b"%PDF"), ("../../etc/passwd", b"x"), ("", b"")):
        assert browsing.choose("orders", name, data).status_code == 409
    assert browsing.choose("orders", "x.csv", b"order,paper,size\n1,Rag,21O\n").status_code == 303
    page = browsing.get("/exchange/chosen")
    assert page.status_code == 409
    assert "21O" in page.get_data(as_text=True)


def test_a_workbook_that_unpacks_to_far_too_much_is_refused(browsing):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as book:
        for number in range(21):
            book.writestr(f"xl/{number}.xml", b"0" * 10_000_000)
    assert len(packed.getvalue()) < 1_000_000
    browsing.choose("orders", "bomb.xlsx", packed.getvalue())
    page = browsing.get("/exchange/chosen")
    assert page.status_code == 409
    assert "unpacks" in page.get_data(as_text=True)


def test_nothing_is_left_beside_the_studio(browsing):
    before = sorted(path.name for path in browsing.folder.iterdir())
    browsing.choose("orders", "shop.csv", browsing.get("/exchange/orders.csv").data)
    browsing.get("/exchange/chosen")
    assert sorted(path.name for path in browsing.folder.iterdir()) == before
