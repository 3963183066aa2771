"""Pounds to and from grams per square metre against published figures."""

import pytest

from sheetcut.grammage import grade, grammage_of, pounds_of, sheet_mass
from sheetcut.units import inch, mm


@pytest.mark.parametrize(
    ("name", "pounds", "published", "within"),
    [
        ("bond", 20, 75.2, 0.001),  # PrintWiki, "Grammage"
        ("book", 70, 103.6, 0.001),  # PrintWiki, "Grammage"
        ("cover", 50, 135, 0.5 / 135),  # "Paper size", Times Printers, page 4
        ("book", 50, 74, 0.5 / 74),  # the same, text weight
        ("bond", 28, 105.3, 0.001),  # a glossary that counts with 1406.5 for 1406.139
        ("watercolour", 300, 638, 0.002),  # UCL Slade, "Watercolour paper"; also printed as 640
        ("watercolour", 300, 640, 0.002),
        ("watercolour", 140, 300, 0.01),  # UCL Slade
        ("watercolour", 90, 190, 0.01),  # UCL Slade
        ("watercolour", 200, 425, 0.01),  # UCL Slade
        ("watercolour", 400, 850, 0.01),  # UCL Slade, 840 to 850
        ("watercolour", 260, 550, 0.01),  # "Paper" (houseofwatercolor.com)
    ],
)
def test_pounds_become_the_published_grammage(name, pounds, published, within):
    basic = grade(name)
    found = float(grammage_of(pounds, width=basic.width, height=basic.height))
    assert found == pytest.approx(published, rel=within)


def test_260_pounds_are_not_356_grams():
    """Two teaching pages print 356 g/m² for 260 lb; 356 g/m² is 167 lb."""
    basic = grade("watercolour")
    assert 553 < grammage_of(260, width=basic.width, height=basic.height) < 555
    assert round(pounds_of(356, width=basic.width, height=basic.height)) == 167


@pytest.mark.parametrize(
    ("name", "factor"),
    [
        # g/m² for one pound, "Techniques in cutting paper", ch. VI; PrintWiki, "Grammage"
        ("bond", 3.760), ("cover", 2.704), ("book", 1.480), ("newsprint", 1.627),
        # by the formula alone: 1406.139 over the square inches of the basic size
        ("watercolour", 1406.139 / 660), ("index", 1406.139 / 777.75),
        ("bristol", 1406.139 / 641.25),
    ],
)  # fmt: skip
def test_one_pound_is_the_published_factor(name, factor):
    basic = grade(name)
    assert float(grammage_of(1, width=basic.width, height=basic.height)) == pytest.approx(
        factor, rel=0.0005
    )


def test_555_pounds_is_the_same_paper_as_300():
    """Artists Network, "Carrying your weight": 300 lb at 22 x 30 is 555 lb at 29 3/4 x 41."""
    found = pounds_of(640, width=inch("29 3/4"), height=inch(41))
    assert float(found) == pytest.approx(555, abs=0.5)


@pytest.mark.parametrize(
    ("width", "height", "grammage", "grams"),
    [
        # ISO 536: mass per area. Each is width x height x g/m² over a million, by hand.
        (560, 760, 640, 272.4),
        (686, 1016, 640, 446.1),
        (327, 450, 640, 94.2),
        (240, 327, 640, 50.2),
        (420, 594, 310, 77.3),
        (610, 914, 310, 172.8),
    ],
)
def test_a_sheet_weighs_its_area(width, height, grammage, grams):
    assert float(sheet_mass(mm(width), mm(height), grammage)) == pytest.approx(grams, abs=0.1)
