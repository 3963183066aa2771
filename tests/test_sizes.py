"""Names of sizes: how they are found, and what they do not say."""

import pytest

from sheetcut.sizes import MEASURE_YOURS, SIZES, all_names, meanings, named_size, named_sizes
from sheetcut.units import inch


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("A4", "A4"), ("a4", "A4"), ("DIN A4", "A4"), ("iso-a4", "A4"), ("A 4", "A4"),
        ("B4 JIS", "JIS B4"), ("jis b4", "JIS B4"), ("ISO B4", "ISO B4"), ("B4 (ISO)", "ISO B4"),
        ("us letter", "Letter"), ("ansi-d", "ANSI D"), ("Architectural D", "Arch D"),
        ("double-elephant", "Double Elephant"), ("1/2 Imperial", "Half Imperial"),
        ("A3 plus", "A3+"), ("super A3", "A3+"), ("SUPER B", "Super B"), ("2a0", "2A0"),
    ],
)  # fmt: skip
def test_a_name_is_found_however_it_is_typed(typed, name):
    assert named_size(typed).name == name


@pytest.mark.parametrize("typed", ["", "A11", "B4", "b0", "F", "Quarto", "420", "imperial 560"])
def test_what_is_no_name_gives_nothing(typed):
    assert named_size(typed) is None


def test_bare_b_sizes_have_two_meanings():
    """JIS B is about 3 % larger a side than ISO B."""
    for n in range(11):
        iso, jis = meanings(f"B{n}")
        assert (iso.name, jis.name) == (f"ISO B{n}", f"JIS B{n}")
        assert 1.02 < jis.width / iso.width < 1.04
    assert meanings("A4") == ()


def test_a_traditional_name_always_says_to_measure():
    traditional = [size for size in named_sizes() if size.is_traditional]
    assert len(traditional) >= 19
    for size in traditional:
        assert size.note.startswith(MEASURE_YOURS)
        assert size.year is None


def test_every_standard_size_carries_its_year():
    for size in SIZES:
        if size.standard.startswith(("ISO", "JIS", "ASME", "IEEE")):
            assert size.year is not None, size.name


def test_short_side_comes_first_and_names_are_unique():
    assert all(0 < size.width <= size.height for size in SIZES)
    assert len({size.name for size in SIZES}) == len(SIZES)
    assert all(named_size(name) or meanings(name) for name in all_names())


def test_a_size_is_told_in_its_own_unit():
    assert named_size("Colombier").measures == "23 1/2 x 34 1/2 in"
    assert named_size("SRA3").measures == "320 x 450 mm"
    assert named_size("A4").source == "ISO 216:2007"
    assert named_size("Royal").source == "traditional"
    assert named_size("Letter").width == inch("8 1/2")
