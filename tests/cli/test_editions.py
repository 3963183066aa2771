"""What goes with an edition, from the shell: certificates in their places, and boards."""

import re

from tests.cli.shell import here

EIGHT = ("edition", "8", "--artists-proofs", "0", "--spoilage", "0", "--size", "150 x 200")
RAG = ("--paper", "Marram Rag")  # 150 x 200 with the usual borders is 200 x 260


def told(done):
    """Return what a command told, with runs of blanks made one."""
    return re.sub(r" +", " ", done.stdout)


def test_every_certificate_has_a_place_that_the_printer_reaches(unkept):
    """Of 320 x 450 it reaches 5 to 315 mm from the left and 17 to 445 mm from the top.

    There 2 x 148 and 4 x 105 mm have room, so eight go on one sheet. Eight prints come from one
    Marram large, 11.40 / 8 = 1.425; with the sheet of 0.48 for them all it is 11.88 / 8 = 1.485.
    """
    done = here(*EIGHT, *RAG, "--certificate", "A6", "Gullwing Laid", "--in", unkept)
    assert done.returncode == 0, done.stderr
    assert "Certificates, 8 to a Certificate sheet: 1 sheet, 0 over" in done.stdout
    assert "paper in one print, over 8: £1.43\nwith all that goes with it: £1.49\n" in done.stdout
    rows = re.findall(r"^ (\d) (\d+) mm (\d+) mm (\d+) x (\d+) mm$", told(done), re.MULTILINE)
    assert [row[0] for row in rows] == list("12345678")
    places = [tuple(map(int, row[1:])) for row in rows]
    cells = set()
    for left, top, width, height in places:
        assert {width, height} == {105, 148}
        assert 5 <= left <= left + width <= 315
        assert 17 <= top <= top + height <= 445
        cells |= {(left + x, top + y) for x in range(width) for y in range(height)}
    assert len(cells) == 8 * 105 * 148  # no two share a square millimetre


def test_what_lies_between_prints_stands_out_on_every_side(unkept):
    """220 x 280 with 10 mm more: one to a sheet of 310 x 428, eight of 0.48 are 3.84.

    With 4 mm more, 208 x 268, there is still one: two need 416 mm, and 310 x 428 has no 536.
    With 3 mm on 200 x 260 turned, 206 along the 428 twice: two to a sheet, four are 1.92.
    """
    between = (*EIGHT, *RAG, "--interleave")
    ten = here(*between, "10", "Gullwing Laid", "--in", unkept)
    assert ten.returncode == 0, ten.stderr
    assert "Gullwing Laid 8 x interleave 8 x Certificate sheet £3.84 all on hand" in told(ten)
    three = here(*between, "3 mm", "Gullwing Laid", "--in", unkept)
    assert "Gullwing Laid 8 x interleave 4 x Certificate sheet £1.92 all on hand" in told(three)


def test_boards_that_the_drawer_does_not_know_are_no(unkept):
    done = here(*EIGHT, *RAG, "--backing", "5", "Kraft board", "--in", unkept)
    assert done.returncode == 1
    assert "  not in the drawer: Kraft board\n" in done.stdout
    assert "with all that goes with it: not known yet" in done.stdout


def test_a_print_larger_than_every_sheet_is_no_and_no_paper_is_listed(unkept):
    """A heading stood over nothing."""
    words = (*EIGHT[:-1], "700 x 1200", *RAG, "--in", unkept)
    done = here(*words)
    assert done.returncode == 1
    assert "fits no sheet of Marram Rag: print, 750 x 1260 mm" in done.stdout
    assert "\nPaper\n" not in done.stdout
    assert "paper in one print" not in done.stdout
