"""The money of the invented studio's week, to the cent; worked out apart from this project.

By an exact search of every pattern: 3 Imperial and 1 double elephant with the offcut, 4 large
sheets of print paper, 3 of certificates. The shelf habit, pieces in rows as they come, sorted
by height, takes 5 Imperial and 5 large sheets.
"""

from fractions import Fraction

import pytest

from sheetcut.answers.buying import cheapest, offers_of
from sheetcut.cost import total_cost, total_waste
from sheetcut.units import in_mm2

SMOOTH, RAG, LAID = "Slatehouse Smooth", "Marram Rag", "Gullwing Laid"


def paper(plan, name):
    return next(one for one in plan.papers if one.paper == name)


def price(job, **sheets):
    known = {sheet.id.replace("-", "_"): sheet.price for sheet in job.sheets}
    return sum(n * known[name] for name, n in sheets.items())


@pytest.mark.parametrize(("name", "cost"), [(SMOOTH, 7540), (RAG, 4560), (LAID, 144)])
def test_each_paper_costs_what_the_exact_search_has(demo_plan, name, cost):
    assert paper(demo_plan, name).cost == cost


def test_the_week_costs_122_44(demo_plan):
    assert total_cost(demo_plan.papers) == 12244
    assert not demo_plan.short


def test_the_shelf_habit_costs_41_80_more(demo_job):
    drawing = price(demo_job, HP_IMP=5, HP_DE=1)
    prints, certificates = price(demo_job, RAG_L=5), price(demo_job, CERT=3)
    assert (drawing, prints, certificates) == (10580, 5700, 144)
    assert drawing + prints + certificates == 16424


def test_the_shelf_habit_must_buy_two_packs(demo_job):
    """Two Imperial and one large sheet are short: a pack of five, 76.00, one of ten, 114.00."""
    offers = [offer for sheet in demo_job.sheets for offer in offers_of(sheet)]
    found = cheapest({"HP-IMP": 2, "RAG-L": 1}, offers)
    assert [(line.offer.count, line.cost) for line in found.lines] == [(5, 7600), (10, 11400)]
    assert found.cost == 19000


@pytest.mark.parametrize(
    ("name", "blanks", "percent"), [(SMOOTH, 1671052, "21.1"), (RAG, 1873100, "16.0")]
)
def test_what_of_the_sheets_is_no_blank(demo_plan, name, blanks, percent):
    """Of the measured sheets, offcut included: keepers and scrap together."""
    layouts = paper(demo_plan, name).layouts
    waste = total_waste(layouts)
    measured = sum(one.copies * one.width * one.height for one in layouts)
    # A sliver left on a drawing is no part of its blank as asked.
    assert in_mm2(waste.finished + waste.margins - waste.extra) == blanks
    rest = measured - waste.finished - waste.margins + waste.extra
    assert abs(Fraction(100 * rest, measured) - Fraction(percent)) < Fraction("0.05")


def test_five_large_sheets_would_lose_a_third(demo_job):
    """1.8731 m2 of blanks from 5 x 0.55754 m2: 32.8 % are lost."""
    large = next(sheet for sheet in demo_job.sheets if sheet.id == "RAG-L")
    blanks = sum(one.count * one.asked_area for one in demo_job.pieces_of(RAG))
    assert abs(100 - Fraction(100 * blanks, 5 * large.area) - Fraction("32.8")) < Fraction("0.05")
