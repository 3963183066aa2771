from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcut.draw import A4, Drawing, Text, svg_text
from sheetcut.draw.lettering import (
    CAPITAL,
    balanced,
    clean,
    fitted,
    shortened,
    type_size,
    width,
    wrapped,
)

LABELS = st.text(max_size=60)


@pytest.mark.parametrize(
    ("letter", "face", "units"),
    [
        ("H", "sans", 1386),  # advance widths of DejaVu 2.37, 2048 units to the type size
        ("0", "sans", 1172),
        ("0", "sans bold", 1282),
        ("H", "serif", 1607),
        (" ", "serif italic", 585),
    ],
)
def test_letters_are_as_wide_as_in_the_font(letter, face, units):
    assert width(letter, CAPITAL, face) == pytest.approx(units / 2048, abs=0.0006)


def test_a_capital_has_the_height_that_was_asked_for():
    """DejaVu's capitals are 1493 of 2048 units high."""
    assert type_size(7) * 1493 / 2048 == pytest.approx(7, abs=0.001)


@given(label=LABELS, room=st.floats(1, 60))
def test_what_is_shortened_fits_and_says_so(label, room):
    label = clean(label)
    short = shortened(label, room, 2.5)
    assert width(short, 2.5) <= room
    assert short in (label, "") or short.endswith("…")


@given(label=LABELS, room=st.floats(20, 80))
def test_broken_lines_fit_and_lose_no_word_that_fits(label, room):
    label = clean(label)
    for lines in (wrapped(label, room, 2.5), balanced(label, room, 2.5)):
        assert all(width(line, 2.5) <= room for line in lines)
        if all(width(word, 2.5) <= room for word in label.split()):
            assert " ".join(lines).split() == label.split()


@given(label=LABELS)
def test_the_largest_lettering_that_fits_is_taken(label):
    label = clean(label)
    text, height = fitted(label, 40, (5.0, 3.5, 2.5))
    assert width(text, height) <= 40
    assert height == 5.0 or width(label, {3.5: 5.0, 2.5: 3.5}[height]) > 40


@given(label=st.text())
def test_any_text_becomes_sound_xml(label):
    """XML 1.0 allows no control characters but tab and line ends, and no lone surrogates."""
    page = Drawing(A4, label, (Text(label, (1, 1), 2.5),))
    root = ElementTree.fromstring(svg_text(page))
    assert (root[-1].text or "") == clean(label)


def test_direction_marks_cannot_turn_their_neighbours():
    """An override in a label would run on to the size that is set after it."""
    assert clean("mast\u202e\u2066 head\ufeff") == "mast head"
