"""The summary in words: slack of every layout, and what may spoil its blanks."""

from sheetcut import Job, Piece, Rules, Sheet, inch, make_plan, mm
from sheetcut.printout import summary_lines


def lines_of(job):
    return summary_lines(make_plan(job, rounds=20, seconds=600))


def test_every_layout_has_its_slack(demo_plan):
    """Imperial is 544 x 744 inside its deckles, heron 7 is 268 x 540: 230 x 530 leave 38 x 10."""
    said = "\n".join(summary_lines(demo_plan))
    assert said.count("slack") == len({(one.sheet, one.twins) for one in demo_plan.layouts})
    heron = next(line for line in said.splitlines() if "heron 7, offcut" in line)
    assert "slack 38 x 10" in heron


def test_a_sheet_in_inches_has_its_slack_in_inches():
    sheet = Sheet("S", "Rag", inch("10 1/2"), inch(8), on_hand=1, unit="in")
    piece = Piece("D", "", "Rag", inch(10), inch("7 3/4"), unit="in")
    (line,) = [line for line in lines_of(Job((sheet,), (piece,))) if "slack" in line]
    assert "slack ¹⁄₂ x ¹⁄₄" in line


def test_what_may_spoil_a_blank_is_told_and_where_to_slide_is_not():
    sheet = Sheet("S", "Rag", mm(204), mm(700), on_hand=1, price=100)
    piece = Piece("P", "", "Rag", mm(200), mm(700), kind="print")
    rules = Rules(narrowest_strip=mm(10), mat=(mm(600), mm(450)), printer_width=mm(150))
    said = lines_of(Job((sheet,), (piece,), rules))
    assert [line.strip() for line in said if "mind:" in line] == [
        "mind: cut 1, narrow strip: 4",
        "mind: P is 200 wide; the printer takes 150",
    ]
