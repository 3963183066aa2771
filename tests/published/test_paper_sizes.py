"""Paper sizes against the standards that define them, typed here as tables with their source."""

import math
from itertools import pairwise

import pytest

from sheetcut.sizes import named_size
from sheetcut.units import in_mm2, inch, mm

# ISO 216:2007, A and B, as printed in "ISO 216" (encyclopedia copy, wiki3.en-us.nina.az) and
# M. Kuhn, "International standard paper sizes". A copy that gives A5 as 149 wide and B4 as
# 250 x 253 (draftsperson.net) is misprinted: neither is half of the size before.
ISO_216 = {
    "A0": (841, 1189), "A1": (594, 841), "A2": (420, 594), "A3": (297, 420), "A4": (210, 297),
    "A5": (148, 210), "A6": (105, 148), "A7": (74, 105), "A8": (52, 74), "A9": (37, 52),
    "A10": (26, 37),
    "ISO B0": (1000, 1414), "ISO B1": (707, 1000), "ISO B2": (500, 707), "ISO B3": (353, 500),
    "ISO B4": (250, 353), "ISO B5": (176, 250), "ISO B6": (125, 176), "ISO B7": (88, 125),
    "ISO B8": (62, 88), "ISO B9": (44, 62), "ISO B10": (31, 44),
}  # fmt: skip

# ISO 269:1985, from the same copy; a glossary that prints C4 as 229 x 458 is misprinted.
ISO_269 = {
    "C0": (917, 1297), "C1": (648, 917), "C2": (458, 648), "C3": (324, 458), "C4": (229, 324),
    "C5": (162, 229), "C6": (114, 162), "C7": (81, 114), "C8": (57, 81), "C9": (40, 57),
    "C10": (28, 40),
}  # fmt: skip

# ISO 217:2013 (standards.iteh.ai catalogue page of EN ISO 217:2013; "SRA6" encyclopedia copy).
ISO_217 = {
    "RA0": (860, 1220), "RA1": (610, 860), "RA2": (430, 610), "RA3": (305, 430),
    "RA4": (215, 305), "SRA0": (900, 1280), "SRA1": (640, 900), "SRA2": (450, 640),
    "SRA3": (320, 450), "SRA4": (225, 320),
}  # fmt: skip

# JIS P 0138, B series, also in IEEE-ISTO PWG 5101.1:2013 (media names, jis_b...).
JIS_B = {
    "JIS B0": (1030, 1456), "JIS B1": (728, 1030), "JIS B2": (515, 728), "JIS B3": (364, 515),
    "JIS B4": (257, 364), "JIS B5": (182, 257), "JIS B6": (128, 182), "JIS B7": (91, 128),
    "JIS B8": (64, 91), "JIS B9": (45, 64), "JIS B10": (32, 45),
}  # fmt: skip

# ANSI A to F: "ANSI/ASME Y14.1 – Paper sizes" (manufacturinget.org); Letter, Legal, Ledger,
# Arch A to E: IEEE-ISTO PWG 5101.1:2013.
INCHES = {
    "ANSI A": ("8.5", "11"), "ANSI B": ("11", "17"), "ANSI C": ("17", "22"),
    "ANSI D": ("22", "34"), "ANSI E": ("34", "44"), "ANSI F": ("28", "40"),
    "Letter": ("8.5", "11"), "Legal": ("8.5", "14"), "Ledger": ("11", "17"),
    "Tabloid": ("11", "17"), "Arch A": ("9", "12"), "Arch B": ("12", "18"),
    "Arch C": ("18", "24"), "Arch D": ("24", "36"), "Arch E": ("36", "48"),
    "Arch E1": ("30", "42"), "Super B": ("13", "19"),
}  # fmt: skip

# "Traditional inch-based paper sizes" (liquisearch.com), the list most quoted today.
TRADITIONAL = {
    "Emperor": ("48", "72"), "Antiquarian": ("31", "53"), "Grand Eagle": ("28.75", "42"),
    "Double Elephant": ("26.75", "40"), "Atlas": ("26", "34"), "Colombier": ("23.5", "34.5"),
    "Imperial": ("22", "30"), "Elephant": ("23", "28"), "Royal": ("20", "25"),
    "Medium": ("17.5", "23"), "Demy": ("17.5", "22.5"), "Crown": ("15", "20"),
    "Foolscap": ("13.5", "17"), "Pott": ("12.5", "15"),
}  # fmt: skip


@pytest.mark.parametrize(
    ("table", "source"),
    [(ISO_216, "ISO 216:2007"), (ISO_269, "ISO 269:1985"), (ISO_217, "ISO 217:2013"),
     (JIS_B, "JIS P 0138:1998")],
)  # fmt: skip
def test_sizes_are_those_of_the_standard(table, source):
    for name, (width, height) in table.items():
        size = named_size(name)
        assert size is not None, name
        assert (size.width, size.height) == (mm(width), mm(height)), name
        assert size.source == source
        assert not size.is_traditional


@pytest.mark.parametrize("table", [INCHES, TRADITIONAL])
def test_inch_sizes_are_exact(table):
    for name, (width, height) in table.items():
        size = named_size(name)
        assert size is not None, name
        assert (size.width, size.height) == (inch(width), inch(height)), name
        assert size.unit == "in"


@pytest.mark.parametrize(("letters", "count"), [("A", 11), ("ISO B", 11), ("C", 11), ("JIS B", 11)])
def test_each_size_is_half_the_one_before(letters, count):
    """ISO 216: the long side is halved and half a millimetre dropped; 297 / 2 becomes 148."""
    sizes = [named_size(f"{letters}{n}") for n in range(count)]
    for large, small in pairwise(sizes):
        assert small.height == large.width
        assert small.width == mm(large.height // mm(1) // 2)


def test_a0_is_a_square_metre_less_51_square_millimetres():
    """ "Dimensions of drawing sheet" (mechanicalinfo.com): 999 949 mm²."""
    a0 = named_size("A0")
    assert in_mm2(a0.width * a0.height) == 999_949


@pytest.mark.parametrize(("n", "within"), [*((n, 0.0035) for n in range(8)), (8, 0.007),
                                           (9, 0.007), (10, 0.007)])  # fmt: skip
def test_a_sizes_keep_the_shape_of_the_root_of_two(n, within):
    """ISO 216: the sides are as 1 to √2; whole millimetres leave it by at most this much."""
    size = named_size(f"A{n}")
    assert abs(size.height / size.width / math.sqrt(2) - 1) < within


def test_a0_holds_sixteen_a4_with_2029_square_millimetres_over():
    """ISO 216, by arithmetic: 841 x 1189 - 16 x 210 x 297 = 2029 mm²."""
    a0, a4 = named_size("A0"), named_size("A4")
    assert in_mm2(a0.width * a0.height - 16 * a4.width * a4.height) == 2029


def test_imperial_is_558_8_by_762():
    """1 in = 25.4 mm exactly, so 22 x 30 in is not the 560 x 760 it is sold as beside."""
    imperial = named_size("Imperial")
    assert (imperial.width, imperial.height) == (mm("558.8"), mm(762))


def test_quarter_imperials_fill_an_imperial():
    """ "Sunday secrets" (watercolor365.com): 11 x 15 in, four from a sheet, no waste."""
    whole, quarter = named_size("Imperial"), named_size("Quarter Imperial")
    assert 4 * quarter.width * quarter.height == whole.width * whole.height
    assert (2 * quarter.width, 2 * quarter.height) == (whole.width, whole.height)


def test_a3_plus_is_not_super_b():
    """A3+ is sold as 329 x 483 (copier.my, "Paper sizes"), 13 x 19 in is 330.2 x 482.6."""
    a3_plus, super_b = named_size("A3+"), named_size("Super B")
    assert (a3_plus.width, a3_plus.height) == (mm(329), mm(483))
    assert (super_b.width, super_b.height) == (mm("330.2"), mm("482.6"))
