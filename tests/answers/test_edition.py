"""Editions: blanks, proofs, companions, cost, and the register."""

from dataclasses import replace
from fractions import Fraction

import pytest

from sheetcut.answers.edition import (
    Companion,
    Edition,
    edition_lines,
    print_piece,
    spoiled_of,
)
from sheetcut.answers.edition_plan import edition_plan
from sheetcut.answers.register import EditionFull, NotInRegister, Register
from sheetcut.errors import UnusableRecord
from sheetcut.job import Job, Sheet
from sheetcut.units import Edges, mm


def slack_water(count=1):
    borders = Edges(mm(30), mm(30), mm(30), mm(40))
    return print_piece("SW", "Slack Water", "Rag", (mm(300), mm(400)), borders, count=count)


def test_fifty_take_sixty_blanks():
    """50 and 5 artist's proofs and 2 others, 5 % of 55 is 2.75, rounded up: the trade's example."""
    edition = Edition(50, artists_proofs=5, other_proofs=2, spoilage=Fraction(5, 100))
    assert (edition.run, edition.spoiled, edition.blanks) == (55, 3, 60)
    assert edition.certificates == 55


def test_a_tenth_are_artists_proofs():
    """ "AP 10 % of the edition" (thetrustedartguide.com); of 75 that is 7, rounded down."""
    assert [Edition(n).proofs for n in (50, 40, 75, 9)] == [5, 4, 7, 0]
    assert Edition(50, artists_proofs=0).proofs == 0


def test_setting_up_does_not_grow_with_the_run():
    """American Printer, January 1996: a fixed count, and a percentage."""
    small, large = Edition(10, 0, set_up=4), Edition(1000, 0, set_up=4)
    assert small.blanks - small.run - small.spoiled == 4
    assert large.blanks - large.run - large.spoiled == 4


def test_spoilage_is_exact_at_whole_numbers():
    """5 % of 60 is 3, not 4; in floating point 0.05 x 60 is a little more than 3."""
    assert spoiled_of(60, Fraction(5, 100)) == 3
    assert spoiled_of(61, Fraction(5, 100)) == 4
    assert spoiled_of(55, Fraction(0)) == 0


def test_print_on_order_cuts_what_is_sold():
    """Two of forty sold: two blanks and one that may spoil, no proofs again."""
    edition = Edition(40)
    assert edition.blanks_for(2) == 3
    assert edition_lines(edition, slack_water(), sold=2).blanks.count == 3
    assert edition.blanks_for(0) == 0
    with pytest.raises(UnusableRecord, match="of 44"):
        edition.blanks_for(45)
    with pytest.raises(UnusableRecord, match="count is 0"):
        edition_lines(edition, slack_water(), sold=0)


@pytest.mark.parametrize("wrong", [{"numbered": 0}, {"other_proofs": -1}, {"spoilage": 1}])
def test_an_edition_that_cannot_be_is_refused(wrong):
    with pytest.raises(UnusableRecord):
        Edition(**({"numbered": 5} | wrong))


def test_companions_are_lines_on_their_own_papers():
    """An interleave stands out 10 mm on each side; there is one for every blank."""
    companions = [
        Companion("certificate", "Laid", mm(105), mm(148)),
        Companion("interleave", "Glassine", larger=mm(10), for_each=False),
        Companion("backing board", "Board", larger=mm(1)),
    ]
    lines = edition_lines(Edition(50, 5, 2), slack_water(), companions)
    assert lines.blanks.count == 60
    sizes = [(one.paper, one.width, one.height, one.count) for one in lines.companions]
    assert sizes == [
        ("Laid", mm(105), mm(148), 55),
        ("Glassine", mm(380), mm(490), 60),
        ("Board", mm(362), mm(472), 55),
    ]
    assert len({one.order for one in lines.all}) == 4


RAG = Sheet("RAG-L", "Rag", mm(610), mm(914), on_hand=4, price=1140)
LAID = Sheet("CERT", "Laid", mm(310), mm(428), on_hand=10, price=48)
CERTIFICATE = Companion("certificate", "Laid", mm(105), mm(148))


def test_an_edition_is_planned_like_any_order():
    """Two prints of 360 x 470 from 610 x 914, so 60 take 30 sheets, 342.00, 6.84 a print.

    Of certificates eight come out of 310 x 428: 55 take seven sheets, 3.36 in all.
    """
    found = edition_plan(Job((RAG, LAID), ()), Edition(50, 5, 2), slack_water(), [CERTIFICATE])
    rag, laid = (one.plan() for one in found.papers)
    assert (rag.papers[0].sheets_used, found.cost) == ({"RAG-L": 30}, 34200)
    assert found.papers[0].supposed == {"RAG-L": 26}
    assert found.per_print == 684
    assert laid.papers[0].sheets_used == {"CERT": 7}
    assert found.with_companions == Fraction(34200 + 7 * 48, 50)
    assert found.missing == found.too_large == ()


def test_an_edition_on_order_is_paid_by_what_is_sold():
    """Two sold and one for spoilage: three blanks, two sheets, 22.80, 11.40 a print."""
    found = edition_plan(Job((RAG,), ()), Edition(40), slack_water(), sold=2)
    assert (found.lines.blanks.count, found.cost, found.per_print) == (3, 2280, 1140)


def test_what_cannot_be_cut_is_told():
    wide = Companion("folder", "Laid", mm(500), mm(500))
    board = Companion("backing board", "Board")
    found = edition_plan(Job((RAG, LAID), ()), Edition(4, 0), slack_water(), [wide, board])
    assert found.missing == ("Board",)
    assert [one.order for one in found.too_large] == ["SW folder"]
    assert found.with_companions is None
    assert found.cost == 3 * 1140  # five blanks, two to a sheet
    bare = edition_plan(Job((LAID,), ()), Edition(4, 0), slack_water())
    assert (bare.missing, bare.cost, bare.per_print) == (("Rag",), None, None)


def test_the_register_gives_the_next_number():
    register = Register(Edition(50, 5))
    assert (register.next_number, register.proofs_left) == (1, 5)
    register = register.printed(3).printed(2, "A.P.")
    assert (register.next_number, register.proofs_left) == (4, 3)
    assert [register.name(one) for one in register.prints] == [
        "1/50", "2/50", "3/50", "A.P. 1/5", "A.P. 2/5",
    ]  # fmt: skip
    assert [one.certificate for one in register.prints] == [1, 2, 3, 4, 5]


def test_a_spoiled_print_frees_its_number_and_certificate():
    register = Register(Edition(4, 0)).printed(3).spoiled("2/4", "head strike")
    assert register.next_number == 2
    register = register.printed(1)
    again = register.good("number")[1]
    assert (again.number, again.certificate) == (2, 2)
    assert len(register.prints) == 4


def test_an_edition_does_not_grow():
    register = Register(Edition(4, 1)).printed(4)
    assert register.next_number is None
    assert not register.is_complete
    with pytest.raises(EditionFull, match="0 are left"):
        register.printed(1)
    assert register.printed(1, "A.P.").is_complete


def test_a_print_is_sold_by_its_name():
    register = Register(Edition(4, 1)).printed(2).sold(" 2/4 ", "Merrin")
    assert (register.prints[1].state, register.prints[1].note) == ("sold", "Merrin")
    with pytest.raises(NotInRegister, match="3/4"):
        register.sold("3/4")
    assert replace(register, prints=()).next_number == 1
