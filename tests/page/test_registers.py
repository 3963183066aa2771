"""The registers of editions: begun, entered, sold, spoiled; each print with its certificate."""

import re

import pytest

from sheetcut.answers.kept_register import registers
from sheetcut.drawer import Store
from tests.page.conftest import DEMO, FILES, let_in

SCRIPT = '<script>alert("x")</script>'


@pytest.fixture
def begun(browsing):
    """Return a browser with the register of an edition of twenty and two proofs."""
    answer = browsing.post("/edition/register/begin", name="Slack Water", numbered="20", proofs="")
    assert answer.status_code == 303
    browsing.said()
    return browsing


def kept(browsing):
    with Store.open(browsing.folder) as store:
        return registers(store)


def page_of(browsing) -> str:
    return browsing.get("/edition/register?edition=Slack+Water").get_data(as_text=True)


def form_of(browsing, what: str) -> dict[str, str]:
    """Return the form for prints printed, sold or spoiled."""
    page = page_of(browsing)
    own = next(one for one in page.split("<form")[1:] if f'name="what" value="{what}"' in one)
    return {
        name: re.search(rf'name="{name}" value="([^"]*)"', own)[1]
        for name in ("edition", "version", "what")
    }


def entered(browsing, what: str, **typed: str):
    return browsing.post("/edition/register/enter", **(form_of(browsing, what) | typed))


def rows_of(browsing) -> list[list[str]]:
    rows = re.findall(r"<tr[^>]*>(.*?)</tr>", page_of(browsing), re.S)
    return [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.S) for row in rows][1:]


def test_a_register_is_begun_with_the_usual_proofs(begun):
    """A tenth of twenty, two."""
    page = page_of(begun)
    assert "Next is 1/20; 20 numbers and 2 artist’s proofs left" in page
    assert kept(begun)["Slack Water"].most("A.P.") == 2


def test_prints_are_entered_with_their_certificates(begun):
    assert entered(begun, "printed", count="3", kind="numbers").status_code == 303
    assert entered(begun, "printed", count="1", kind="artist’s proofs").status_code == 303
    assert rows_of(begun) == [
        ["1/20", "1", "printed", ""],
        ["2/20", "2", "printed", ""],
        ["3/20", "3", "printed", ""],
        ["A.P. 1/2", "4", "printed", ""],
    ]
    assert "Next is 4/20; 17 numbers and 1 artist’s proof left" in page_of(begun)


def test_a_print_is_sold_to_somebody(begun):
    entered(begun, "printed", count="2", kind="numbers")
    assert entered(begun, "sold", print="2/20", note="Merrin").status_code == 303
    assert rows_of(begun)[1] == ["2/20", "2", "sold", "Merrin"]
    sold = page_of(begun).split('aria-label="Sold"')[1].split("</form>")[0]
    assert "<option>1/20</option>" in sold
    assert "2/20" not in sold


def test_a_spoiled_print_frees_its_number_and_its_certificate(begun):
    entered(begun, "printed", count="2", kind="numbers")
    assert entered(begun, "spoiled", print="1/20", note="a smudge").status_code == 303
    assert rows_of(begun)[0] == ["1/20", "–", "spoiled", "a smudge"]
    entered(begun, "printed", count="1", kind="numbers")
    assert rows_of(begun)[2] == ["1/20", "1", "printed", ""]


def test_the_diary_takes_an_entry_back(begun):
    entered(begun, "printed", count="2", kind="numbers")
    begun.post("/diary/undo", **begun.form("/diary", "/diary/undo"))
    assert rows_of(begun) == []


def test_a_form_that_was_overtaken_is_refused_with_both_versions(begun):
    stale = form_of(begun, "printed") | {"count": "2", "kind": "numbers"}
    entered(begun, "printed", count="3", kind="numbers")
    answer = begun.post("/edition/register/enter", **stale)
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert "3 prints entered" in page
    assert "printed 2" in page
    assert len(rows_of(begun)) == 3


@pytest.mark.parametrize(
    ("typed", "beside", "words"),
    [
        ({"name": "", "numbered": "5"}, "name", "nothing is written"),
        ({"name": "slack water", "numbered": "5"}, "name", "slack water"),
        ({"name": "A", "numbered": "0"}, "numbered", "0"),
        ({"name": "A", "numbered": "few"}, "numbered", "few"),
        ({"name": "A", "numbered": "5", "proofs": "-1"}, "proofs", "-1"),
        ({"name": "A\x07", "numbered": "5"}, "name", "U+0007"),
    ],
)
def test_what_is_wrong_with_a_new_register_stands_beside_its_field(begun, typed, beside, words):
    answer = begun.post("/edition/register/begin", **typed)
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert words in page.split(f'id="{beside}-wrong">')[1].split("</p>")[0]
    assert set(kept(begun)) == {"Slack Water"}


@pytest.mark.parametrize(
    ("what", "typed", "beside", "words"),
    [
        ("printed", {"count": "21", "kind": "numbers"}, "printed-count", "20 are left"),
        ("printed", {"count": "3", "kind": "artist’s proofs"}, "printed-count", "2 are left"),
        ("printed", {"count": "", "kind": "numbers"}, "printed-count", "is missing"),
        ("printed", {"count": "x", "kind": "numbers"}, "printed-count", "x"),
        ("printed", {"count": "1", "note": "a\x07"}, "printed-note", "U+0007"),
    ],
)
def test_what_is_wrong_with_an_entry_stands_beside_its_field(begun, what, typed, beside, words):
    answer = entered(begun, what, **typed)
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert words in page.split(f'id="{beside}-wrong">')[1].split("</p>")[0]
    assert rows_of(begun) == []


def test_a_print_that_there_is_not_is_not_sold(begun):
    entered(begun, "printed", count="1", kind="numbers")
    for what in ("sold", "spoiled"):
        for name in ("9/20", SCRIPT):
            answer = entered(begun, what, print=name)
            assert answer.status_code == 422
            page = answer.get_data(as_text=True)
            assert "is not in the register" in page.split(f'id="{what}-print-wrong">')[1]
            assert "<script>alert" not in page


def test_a_register_goes_out_only_while_nothing_is_entered(begun):
    assert begun.post("/edition/register/remove", edition="Slack Water").status_code == 303
    assert kept(begun) == {}
    begun.post("/edition/register/begin", name="B", numbered="3")
    form = form_of_edition(begun, "B")
    begun.post("/edition/register/enter", **(form | {"count": "1", "kind": "numbers"}))
    assert begun.post("/edition/register/remove", edition="B").status_code == 409
    assert set(kept(begun)) == {"B"}


def form_of_edition(browsing, name: str) -> dict[str, str]:
    return browsing.form(f"/edition/register?edition={name}", "/edition/register/enter")


def test_names_and_notes_with_markup_stay_text(begun):
    begun.post("/edition/register/begin", name=SCRIPT, numbered="3")
    entered(begun, "printed", count="1", kind="numbers", note=SCRIPT)
    for path in ("/edition/register", "/edition/register?edition=Slack+Water", "/diary"):
        page = begun.get(path).get_data(as_text=True)
        assert "<script>alert" not in page
        assert "&lt;script&gt;" in page


def test_an_edition_leads_to_its_register(browsing):
    page = browsing.get("/edition?numbered=50&size=300+x+400").get_data(as_text=True)
    link = re.search(r'href="(/edition/register\?[^"]*)"', page)[1].replace("&amp;", "&")
    fields = browsing.form(link, "/edition/register/begin")
    assert (fields["numbered"], fields["proofs"]) == ("50", "5")


def test_from_files_no_register_is_kept(tmp_path):
    for name in FILES:
        (tmp_path / name).write_bytes((DEMO / name).read_bytes())
    browsing = let_in(tmp_path)
    assert browsing.get("/edition/register").status_code == 409
    assert "Registers" not in browsing.get("/edition").get_data(as_text=True)
