"""The Studio place: settings changed on the page, and nothing else of their file."""

import tomllib
from datetime import datetime

import pytest

from sheetcut.drawer import Store
from sheetcut.read import settings_in
from sheetcut.units import Edges, mm
from tests.page.conftest import let_in

SCRIPT = '<script>alert("x")</script>'


def opened(browsing) -> dict[str, str]:
    """Return the form as it stands."""
    return browsing.form("/studio", "/studio/look")


def kept(browsing, **typed: str):
    """Change fields, look, and write."""
    fields = opened(browsing) | typed
    looked = browsing.post("/studio/look", **fields)
    assert looked.status_code == 200, looked.get_data(as_text=True)
    return browsing.post("/studio/keep", **browsing.form_of(looked, "/studio/keep"))


def written(browsing) -> str:
    """Return the settings file as it is."""
    return (browsing.folder / "studio.toml").read_text(encoding="utf-8")


def test_every_setting_of_the_file_stands_in_its_field(browsing):
    """As demo/studio.toml has them."""
    fields = opened(browsing)
    assert fields["name"] == "Tern Point Drawing Room"
    assert (fields["mat"], fields["ruler"], fields["printer-width"]) == ("600 x 450", "1000", "432")
    assert fields["sizes-sold"] == "A5\nA4\nA3\n300 x 300\n8 x 10 in\n11 x 14 in"
    assert [fields[f"margin-print-{edge}"] for edge in ("left", "right", "top", "foot")] == [
        "25", "25", "25", "35",
    ]  # fmt: skip
    assert (fields["paper-1"], fields["paper-1-grammage"]) == ("Marram Rag", "310")


def test_a_form_sent_back_as_it_came_changes_nothing(browsing):
    before = written(browsing)
    assert browsing.post("/studio/look", **opened(browsing)).status_code == 303
    assert written(browsing) == before
    assert "Nothing was typed" in browsing.said()[0]


def test_what_changes_is_shown_before_it_is_written(browsing):
    before = written(browsing)
    looked = browsing.post("/studio/look", **(opened(browsing) | {"ruler": "1200"}))
    page = looked.get_data(as_text=True)
    assert "ruler = 1000" in page
    assert "ruler = 1200" in page
    assert "narrow strips" not in page
    assert written(browsing) == before


def test_only_the_lines_that_changed_change(browsing):
    before = written(browsing).splitlines()
    answer = kept(browsing, ruler="1200", **{"margin-print-foot": "36", "paper-0-passes": "5"})
    assert answer.status_code == 303
    after = written(browsing).splitlines()
    changed = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    assert changed == [
        ("ruler = 1000", "ruler = 1200"),
        (
            "print = [25, 25, 25, 35]          # left, right, top, foot",
            "print = [25, 25, 25, 36]          # left, right, top, foot",
        ),
        ("passes = 4", "passes = 5"),
    ]


def test_plans_go_by_what_was_written_and_the_diary_says_so(browsing):
    kept(browsing, ruler="1200", name="Tern & Gull", **{"paper-2-aim": "fewest sheets"})
    with Store.open(browsing.folder) as store:
        job = store.recorded()
    assert job.rules.ruler == mm(1200)
    assert job.studio == "Tern & Gull"
    assert job.paper("Gullwing Laid").aim == "fewest sheets"
    assert "Brought in studio.toml" in browsing.get("/diary").get_data(as_text=True)
    assert "not brought in" not in browsing.get("/studio").get_data(as_text=True)


def test_a_copy_of_the_file_is_kept(browsing):
    before = written(browsing)
    kept(browsing, ruler="1200")
    copies = list((browsing.folder / "backups").glob("studio-*.toml"))
    assert [copy.read_text(encoding="utf-8") for copy in copies] == [before]
    assert datetime.strptime(copies[0].stem, "studio-%Y-%m-%d-%H%M%S")


def test_a_decimal_comma_is_a_decimal(browsing):
    kept(browsing, **{"narrowest-strip": "2,5", "reading-step": "0,5 mm", "hours": "3,5"} | {
        "charging-hours": "3,5", "charging-rate": "22,00",
    })  # fmt: skip
    settings = settings_in(browsing.folder)
    assert settings.rules.narrowest_strip == mm(2.5)
    assert settings.rules.reading_step == mm(0.5)
    assert settings.trading.hours * 2 == 7
    assert settings.trading.rate == 2200


def test_everything_there_is_can_be_set(browsing):
    kept(
        browsing,
        **{
            "currency": "EUR", "unit": "cm", "mat": "60 x 45", "ruler": "100", "name": "Skerry",
            "keep-size": "15 x 20", "deckle-trim": "0.8", "narrow-strips": "refused",
            "printer-width": "61", "aim": "fewest sheets", "preference": "better leftover",
            "sizes-sold": "A4\n40 x 50", "buying-carriage": "9.50\nfree from 150.00",
            "charging-mark-up": "1.5", "charging-round-up-to": "0.50",
            "margin-drawing-left": "1.5", "margin-card-left": "0.3",
            "margin-print-left": "2", "margin-print-right": "2", "margin-print-top": "2",
            "margin-print-foot": "3", "paper-new": "Skerry Board", "paper-new-grammage": "900",
        },
    )  # fmt: skip
    settings = settings_in(browsing.folder)
    rules = settings.rules
    assert (settings.unit, settings.currency) == ("cm", "EUR")
    assert rules.mat == (mm(600), mm(450))
    assert (rules.keep_short, rules.keep_long) == (mm(150), mm(200))
    assert (rules.narrow_strips, rules.aim) == ("refused", "fewest sheets")
    assert (rules.preference, rules.printer_width) == ("better leftover", mm(610))
    assert settings.deckle_trim == mm(8)
    assert settings.usual_margins["print"] == Edges(mm(20), mm(20), mm(20), mm(30))
    assert settings.usual_margins["card"].left == mm(3)
    assert [(one.width, one.height) for one in settings.sizes_sold] == [
        (mm(210), mm(297)), (mm(400), mm(500)),
    ]  # fmt: skip
    assert settings.trading.carriage == ((0, 950), (15000, 0))
    assert (settings.trading.mark_up * 2, settings.trading.round_up_to) == (3, 50)
    assert next(p for p in settings.papers if p.name == "Skerry Board").grammage == 900


def test_printer_scanner_packing_and_parcels_can_be_set(browsing):
    kept(
        browsing,
        **{
            "printer-sides": "4", "printer-lead": "20", "printer-tail": "25",
            "scanner-bed": "216 x 297", "scanner-overlap": "30",
            "packing-wall": "4", "packing-boards": "6", "packing-grams": "120",
            "parcel-new": "tube", "parcel-new-rolled": "900", "parcel-new-girth": "1040",
            "parcel-new-grams": "2000", "parcel-new-note": "to the door",
        },
    )  # fmt: skip
    settings = settings_in(browsing.folder)
    said, sending = settings.apparatus, settings.sending
    assert (said.sides, said.lead, said.tail) == (mm(4), mm(20), mm(25))
    assert (said.bed, said.overlap) == ((mm(216), mm(297)), mm(30))
    assert (sending.wall, sending.boards, sending.grams) == (mm(4), mm(6), 120)
    (tube,) = sending.limits
    assert (tube.rolled, tube.girth, tube.grams) == (mm(900), mm(1040), 2000)
    assert (tube.name, tube.note) == ("tube", "to the door")


def test_what_is_wrong_with_a_parcel_stands_in_its_row_and_an_emptied_one_goes_out(browsing):
    kept(browsing, **{"parcel-new": "tube", "parcel-new-rolled": "90", "parcel-new-grams": "2"})
    for typed in ({"parcel-0-flat": "3 x 4"}, {"parcel-0-rolled": ""}, {"parcel-0-grams": ""}):
        answer = browsing.post("/studio/look", **(opened(browsing) | typed))
        assert answer.status_code == 422
        beside = answer.get_data(as_text=True).split('id="s-parcel-0-flat-wrong">')[1]
        assert "how large and how heavy" in beside.split("</p>")[0]
    kept(browsing, **{"parcel-0-rolled": "", "parcel-0-grams": ""})
    assert settings_in(browsing.folder).sending.limits == ()
    assert "# [parcel.tube]" in written(browsing)


def test_a_setting_taken_out_stays_as_a_comment(browsing):
    kept(browsing, **{"keep-size": ""})
    assert '# keep-size = "150 x 200"' in written(browsing)
    assert "keep-size" not in tomllib.loads(written(browsing))


def test_settings_of_other_programs_and_comments_stay(browsing):
    path = browsing.folder / "studio.toml"
    path.write_text(written(browsing) + "\n# mine\n[lamp]\nwatts = 40 # warm\n", encoding="utf-8")
    page = browsing.get("/studio").get_data(as_text=True)
    assert "&#34;lamp&#34; is not a setting" in page
    kept(browsing, ruler="1200")
    assert written(browsing).endswith("\n# mine\n[lamp]\nwatts = 40 # warm\n")
    assert "ruler = 1200" in written(browsing)
    assert "still has something to put right" in browsing.get("/studio").get_data(as_text=True)


@pytest.mark.parametrize(
    ("field", "typed", "beside", "words"),
    [
        ("ruler", "21O", "s-ruler", "21O"),
        ("mat", "600", "s-mat", "600"),
        ("reading-step", "0", "s-reading-step", "nothing"),
        ("narrowest-strip", "1,000 mm", "s-narrowest-strip", "can mean"),
        ("keep-size", "big", "s-keep-size", "big"),
        ("printer-width", "-3", "s-printer-width", "-3"),
        ("deckle-trim", "much", "s-deckle-trim", "much"),
        ("currency", "5", "s-currency", "sign of a currency"),
        ("unit", "ell", "s-unit", "ell"),
        ("aim", "most fun", "s-aim", "most fun"),
        ("preference", "x", "s-preference", "x"),
        ("narrow-strips", "perhaps", "s-narrow-strips", "perhaps"),
        ("sizes-sold", "A4\nA99", "s-sizes-sold", "A99"),
        ("charging-hours", "long", "s-charging-hours", "long"),
        ("charging-rate", "dear", "s-charging-rate", "dear"),
        ("charging-mark-up", "0", "s-charging-mark-up", "makes every charge nothing"),
        ("charging-round-up-to", "0", "s-charging-round-up-to", "nothing to round to"),
        ("buying-carriage", "free from 5", "s-buying-carriage", "do not rise"),
        ("margin-print-foot", "x", "m-print", "x"),
        ("margin-print-foot", "", "m-print", "write all four"),
        ("paper-1-grammage", "300 lb", "s-paper-1-grammage", "g/m²"),
        ("paper-1-passes", "0", "s-paper-1-passes", "1 to 100"),
        ("printer-sides", "x", "s-printer-sides", "x"),
        ("printer-lead", "x", "s-printer-lead", "x"),
        ("printer-tail", "x", "s-printer-tail", "x"),
        ("scanner-bed", "216", "s-scanner-bed", "216"),
        ("scanner-overlap", "x", "s-scanner-overlap", "x"),
        ("packing-wall", "x", "s-packing-wall", "x"),
        ("packing-boards", "x", "s-packing-boards", "x"),
        ("packing-grams", "heavy", "s-packing-grams", "heavy"),
        ("parcel-new", "tube", "s-parcel-new", "how large and how heavy"),
        ("parcel-new-grams", "3", "s-parcel-new", "it has no name"),
        ("paper-new", "marram rag", "s-paper-new", "has a row already"),
        ("paper-new", "Skerry Board", "s-paper-new", "write its grammage"),
        ("paper-new-passes", "3", "s-paper-new", "it has no name"),
    ],
)
def test_what_is_wrong_stands_beside_its_field(browsing, field, typed, beside, words):
    before = written(browsing)
    answer = browsing.post("/studio/look", **(opened(browsing) | {field: typed}))
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert f'aria-describedby="{beside}-wrong"' in page
    assert words in page.split(f'id="{beside}-wrong">')[1].split("</p>")[0]
    kept_too = browsing.post("/studio/keep", **(opened(browsing) | {field: typed}))
    assert kept_too.status_code == 422
    assert written(browsing) == before


def test_script_in_any_field_stays_text(browsing):
    """In the form that comes back, in what changes, and at the head of every place."""
    form = opened(browsing)
    rows = ("version", "paper-0", "paper-1", "paper-2")  # these are not typed
    free = [name for name in form if name not in rows]
    answer = browsing.post("/studio/look", **(form | dict.fromkeys(free, SCRIPT)))
    page = answer.get_data(as_text=True)
    assert answer.status_code == 422
    assert "<script>alert" not in page
    assert page.count("&lt;script&gt;") >= len(free)  # each field gives back what was typed
    kept(browsing, name=SCRIPT, **{"paper-new": SCRIPT, "paper-new-passes": "2"})
    for path in ("/studio", "/plan", "/diary", "/orders"):
        assert "<script>alert" not in browsing.get(path).get_data(as_text=True)
    assert settings_in(browsing.folder).name == SCRIPT


@pytest.mark.parametrize("path", ["/studio/look", "/studio/keep"])
def test_a_form_that_the_file_has_moved_past_is_refused_with_both_versions(browsing, path):
    form = opened(browsing) | {"ruler": "1200"}
    hand = browsing.folder / "studio.toml"
    hand.write_text(written(browsing).replace("ruler = 1000", "ruler = 900"), encoding="utf-8")
    answer = browsing.post(path, **form)
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert "900" in page
    assert "1200" in page
    assert "ruler = 900" in written(browsing)
    again = browsing.post("/studio/look", **browsing.form_of(answer, "/studio/look"))
    assert again.status_code == 200
    browsing.post("/studio/keep", **browsing.form_of(again, "/studio/keep"))
    assert "ruler = 1200" in written(browsing)


def test_going_on_typing_loses_nothing(browsing):
    form = opened(browsing) | {"ruler": "1200", "sizes-sold": "A4\nA2"}
    page = browsing.post("/studio", **form)
    assert browsing.form_of(page, "/studio/look") == form


def test_a_studio_without_the_file_gets_one(tmp_path):
    (tmp_path / "orders.csv").write_text("order,paper,size\n1,Rag,210 x 297\n")
    (tmp_path / "drawer.csv").write_text("sheet,paper,size\nA,Rag,500 x 700\n")
    browsing = let_in(tmp_path)
    kept(browsing, name="Skerry", **{"paper-0-grammage": "300"})
    assert tomllib.loads(written(browsing)) == {
        "name": "Skerry",
        "paper": {"Rag": {"grammage": 300}},
    }


def test_a_file_with_a_slip_in_it_can_be_mended_here(browsing):
    path = browsing.folder / "studio.toml"
    slip = written(browsing).replace("ruler = 1000", 'ruler = "1O00"')
    path.write_text(slip, encoding="utf-8")
    page = browsing.get("/studio").get_data(as_text=True)
    assert 'aria-describedby="s-ruler-wrong"' in page
    kept(browsing, ruler="1000")
    assert settings_in(browsing.folder).rules.ruler == mm(1000)


def test_a_file_that_cannot_be_written_stays_and_is_said_so(browsing, monkeypatch):
    def full(_path, _data):
        raise OSError(28, "No space left on device")

    before = written(browsing)
    looked = browsing.post("/studio/look", **(opened(browsing) | {"ruler": "1200"}))
    monkeypatch.setattr("sheetcut.page.settings.write_whole", full)
    answer = browsing.post("/studio/keep", **browsing.form_of(looked, "/studio/keep"))
    assert answer.status_code == 409
    assert "No space left on device" in answer.get_data(as_text=True)
    assert written(browsing) == before


def test_what_was_changed_by_hand_is_told_before_it_comes_in_too(browsing):
    path = browsing.folder / "studio.toml"
    by_hand = written(browsing).replace('mat = "600 x 450"', 'mat = "900 x 600"')
    path.write_text(by_hand, encoding="utf-8")
    assert "not brought in yet" in browsing.get("/studio").get_data(as_text=True)
    looked = browsing.post("/studio/look", **(opened(browsing) | {"ruler": "1200"}))
    page = looked.get_data(as_text=True)
    assert "changed in the file by hand" in page
    assert "600 mm x 450 mm -&gt; 900 mm x 600 mm" in page
    browsing.post("/studio/keep", **browsing.form_of(looked, "/studio/keep"))
    with Store.open(browsing.folder) as store:
        assert store.recorded().rules.mat == (mm(900), mm(600))
