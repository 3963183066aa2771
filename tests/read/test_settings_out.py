"""Settings changed in their file: what is not changed stays to the letter."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcut.errors import ProblemsFound
from sheetcut.read.blank import SETTINGS
from sheetcut.read.settings_out import rewritten, written_settings

HAND = """\
# Skerry Press
Reading_Step = "0,5 mm"   # steel rule
sizes_sold = [
  "A4",  # letters
  "A3",
]
usual-margins.drawing = 15
paper = { Rag = { passes = 2 }, "Two  words" = {} }
[charging] # per piece
rate = 22.50
[lamp]
watts = 40
"""


def changed(text: str, key, value) -> str:
    return rewritten("studio.toml", text.encode(), {key: value}).decode()


@pytest.mark.parametrize(
    ("key", "value", "before", "after"),
    [
        (("reading step",), "1 mm", 'Reading_Step = "0,5 mm"   #', 'Reading_Step = "1 mm"   #'),
        (("usual margins", "drawing"), 12, "drawing = 15", "drawing = 12"),
        (("charging", "rate"), "23.00", "rate = 22.50", 'rate = "23.00"'),
        (("charging", "hours"), 3, "rate = 22.50\n", "rate = 22.50\nhours = 3\n"),
        (("ruler",), 900, '"A3",\n]\n', '"A3",\n]\nruler = 900\n'),
        (("charging", "rate"), None, "rate = 22.50", "# rate = 22.50"),
        (
            ("sizes sold",),
            None,
            'sizes_sold = [\n  "A4",  # letters\n  "A3",\n]',
            '# sizes_sold = [ "A4", # letters "A3", ]',
        ),
    ],
)
def test_one_place_changes(key, value, before, after):
    found = changed(HAND, key, value)
    if key == ("ruler",):  # where it goes among the others is a matter of taste
        assert found.replace("ruler = 900\n", "") == HAND
        return
    assert found == HAND.replace(before, after)


def test_a_paper_written_on_one_line_is_changed_on_that_line():
    found = changed(HAND, ("paper", "Rag", "passes"), 3)
    assert tomllib.loads(found)["paper"]["Rag"] == {"passes": 3}
    assert "# Skerry Press" in found


def test_a_new_setting_stands_behind_the_comment_that_shows_it():
    found = changed(SETTINGS, ("ruler",), 900)
    shown = "# ruler = 1000                    # your longest ruler\n"
    assert found == SETTINGS.replace(shown, f"{shown}ruler = 900\n")


def test_a_new_section_stands_behind_the_comment_that_shows_it():
    found = changed(SETTINGS, ("charging", "rate"), "22.00")
    shown = '# round-up-to = "0.50"\n'
    assert found == SETTINGS.replace(shown, f'{shown}\n[charging]\nrate = "22.00"\n')


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_the_bytes_round_it_stay(encoding, ends):
    text = 'name = "Möwe"\nruler = 900\n'.replace("\n", ends)
    found = rewritten("studio.toml", text.encode(encoding), {("ruler",): 1000})
    assert found == text.replace("900", "1000").encode(encoding)


def test_what_is_no_settings_file_is_refused():
    with pytest.raises(ProblemsFound, match=r"studio\.toml"):
        rewritten("studio.toml", b"ruler = = 3", {("ruler",): 1})


def test_a_name_that_looks_like_markup_or_toml_stays_a_name():
    for name in ('a "b" c', "a\\b", "[x]", "é = 3", "# no comment", "a.b", "'"):
        found = changed(HAND, ("paper", name, "passes"), 3)
        assert tomllib.loads(found)["paper"][name] == {"passes": 3}


def test_a_section_taken_out_becomes_a_comment_as_a_whole():
    parcels = "[parcel.tube]  # a long one\nrolled = 900\ngrams = 2000\n\n# the rest\n[lamp]\n"
    found = changed(parcels, ("parcel", "tube"), None)
    assert found == (
        "# [parcel.tube]  # a long one\n# rolled = 900\n# grams = 2000\n\n# the rest\n[lamp]\n"
    )


KEYS = (
    ("name",), ("currency",), ("mat",), ("ruler",), ("sizes sold",), ("reading step",),
    ("usual margins", "drawing"), ("usual margins", "print"), ("charging", "rate"),
    ("buying", "carriage"), ("paper", "Rag", "passes"), ("paper", "Gull & tern", "grammage"),
)  # fmt: skip
VALUES = st.one_of(
    st.none(),
    st.integers(0, 10**9),
    st.text(st.characters(exclude_categories=("Cc", "Cs")), max_size=12),
    st.lists(st.sampled_from(["A4", "9.50", 'x "y"']), min_size=1, max_size=3),
)


@given(
    text=st.sampled_from([HAND, SETTINGS, "", "# nothing yet\n", "mat = 3\n[buying]\n"]),
    changes=st.dictionaries(st.sampled_from(KEYS), VALUES, max_size=5),
)
def test_what_was_changed_is_changed_and_nothing_else(text, changes):
    before = written_settings("studio.toml", text.encode())
    after = rewritten("studio.toml", text.encode(), changes)
    wanted = {**before, **changes}
    assert written_settings("studio.toml", after) == {
        key: value for key, value in wanted.items() if value is not None
    }
    kept = after.decode().splitlines()
    comments = [line for line in text.splitlines() if line.startswith("#")]
    assert [line for line in kept if line in comments] == comments


def test_a_setting_on_a_line_with_others_goes_alone():
    """As a comment the whole line would go, and "Two  words" with it."""
    both = HAND.replace('"Two  words" = {}', '"Two  words" = { passes = 3 }')
    text = changed(both, ("paper", "Rag", "passes"), None)
    before, after = tomllib.loads(both), tomllib.loads(text)
    assert before["paper"].pop("Rag") == {"passes": 2}
    assert after["paper"].pop("Rag", {}) == {}
    assert after == before
    assert text.splitlines()[:6] == both.splitlines()[:6]
    assert text.splitlines()[-4:] == both.splitlines()[-4:]


def test_a_file_in_an_order_of_bytes_that_is_not_ours_is_written_in_utf_8():
    """UTF-16 with its high byte first is read by its mark; sheetcut writes no such file."""
    data = b"\xfe\xff" + 'reading_step = "1 mm"  # ≥ ½\n'.encode("utf-16-be")
    written = rewritten("studio.toml", data, {("reading step",): "0.5 mm"})
    assert written.decode("utf-8") == 'reading_step = "0.5 mm"  # ≥ ½\n'
