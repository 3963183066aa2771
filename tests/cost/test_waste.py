"""Where the paper went, from sides typed in millimetres, and the table that says so."""

from dataclasses import replace
from decimal import Decimal

from sheetcut.cost import WASTE_HEADINGS, percent, total_cost, total_waste, waste_of, waste_rows
from sheetcut.job import Job, Piece, Sheet
from sheetcut.layout import Bound, Keeper, Layout, PaperPlan, Placement, Plan, Waste
from sheetcut.units import Edges, mm

# 500 x 400 mm of paper less 10 left, 20 right, 15 at the top and 5 at the foot: 470 x 380.
SHEET = Sheet("Q", "rag", mm(500), mm(400), price=1250, edge_loss=Edges(*map(mm, (10, 20, 15, 5))))
OFFCUT = Sheet("Q-3", "rag", mm(300), mm(200), price=400, kind="offcut")
UNPRICED = Sheet("R", "laid", mm(300), mm(200))
PIECE = Piece("D1", "", "rag", mm(100), mm(80), 3, margin=Edges(*map(mm, (4, 6, 3, 7))))
OTHER = Piece("D2", "", "rag", mm(50), mm(40), 1)
JOB = Job((SHEET, OFFCUT, UNPRICED), (PIECE, OTHER))

# D1 asks for 110 x 90. One lies as it is asked for, one a millimetre wider; D2 lies turned.
PLACES = (
    Placement(0, 0, 0, mm(110), mm(90)),
    Placement(0, mm(110), 0, mm(111), mm(90)),
    Placement(1, 0, mm(90), mm(40), mm(50), turned=True),
)
KEEPERS = (Keeper(("Q-4", "Q-5"), mm(221), 0, mm(249), mm(380)),)
FINISHED = 2 * 100 * 80 + 50 * 40  # 18 000 mm²
BLANKS = 110 * 90 + 111 * 90 + 40 * 50  # 21 890
KEPT = 249 * 380  # 94 620
SCRAP = 500 * 400 - BLANKS - KEPT  # 83 490
EDGES = 500 * 400 - 470 * 380  # 21 400
EXTRA = 1 * 90  # the millimetre


def mm2(*areas):
    return tuple(area * mm(1) ** 2 for area in areas)


def waste(*areas):
    return Waste(*mm2(*areas))


Q_WASTE = waste(FINISHED, BLANKS - FINISHED, KEPT, SCRAP, EDGES, EXTRA)


def layout(sheet, copies, lost):
    return Layout(
        sheet=sheet.id,
        copies=copies,
        twins=1,
        start=("left", "foot"),
        width=sheet.width,
        height=sheet.height,
        usable=(0, 0, sheet.usable_width, sheet.usable_height),
        squaring=(),
        placements=(),
        cuts=(),
        keepers=(),
        leftovers=(),
        waste=lost,
    )


def paper(name, cost, *layouts):
    bound = Bound("cost", 0, "nothing costs less than nothing")
    return PaperPlan(name, "least cost", {}, cost, bound, layouts, {})


def plan(*papers):
    return Plan(JOB, papers, (), seed=0, rounds=0, stopped=False, version="0")


TWICE = layout(SHEET, 2, Q_WASTE)
ONCE = layout(OFFCUT, 1, waste(30_000, 6_000, 9_000, 15_000, 0, 100))
FREE = layout(UNPRICED, 3, waste(20_000, 10_000, 0, 30_000, 0, 0))


def test_every_square_millimetre_is_finished_margin_keeper_or_scrap():
    assert waste_of(JOB, SHEET, PLACES, KEEPERS) == Q_WASTE
    assert (Q_WASTE.margins, Q_WASTE.extra, Q_WASTE.edges) == mm2(3_890, 90, 21_400)


def test_what_is_placed_and_kept_may_come_only_once_through():
    assert waste_of(JOB, SHEET, iter(PLACES), iter(KEEPERS)) == Q_WASTE


def test_copies_count_as_often_as_they_are_cut():
    """Twice Q and once the offcut: 2 x 18 000 + 30 000 finished, and so on."""
    assert total_waste(iter([TWICE, ONCE])) == waste(66_000, 13_780, 198_240, 181_980, 42_800, 280)


def test_per_cent_are_rounded_to_a_tenth_halves_up():
    """2 of 3 is 66.66..., 5 of 16 is 31.25, 3 of 16 is 18.75; 7 of 2 is more than all."""
    shares = [percent(*share) for share in ((2, 3), (5, 16), (3, 16), (0, 9), (7, 2))]
    assert shares == [Decimal(text) for text in ("66.7", "31.3", "18.8", "0.0", "350.0")]


def test_the_cash_of_all_papers_is_not_known_while_one_is_not():
    papers = [paper("rag", 2500, TWICE), paper("laid", None, FREE), paper("card", 40)]
    assert total_cost(papers) is None
    assert total_cost([papers[0], papers[2]]) == 2540
    assert total_cost([paper("rag", 0), paper("card", 40)]) == 40
    assert total_cost([]) == 0


def test_the_table_adds_up_by_paper_and_over_all():
    """Two sheets at 12.50 are 25.00; an offcut is paid for already; unpriced paper says nothing."""
    rows = waste_rows(
        plan(paper("rag", 2500, TWICE, ONCE), paper("laid", None, FREE)), ("1", "2", "3")
    )
    scrap_of_all = 181_980 + 90_000
    assert rows == [
        ("rag", "Q", "1", "2", "400000", "36000", "7780", "189240", "166980", "42800", "180",
         "41.7", "47.3", "25.00"),
        ("rag", "Q-3", "2", "1", "60000", "30000", "6000", "9000", "15000", "0", "100",
         "25.0", "15.0", "0.00"),
        ("rag", "all", "", "3", "460000", "66000", "13780", "198240", "181980", "42800", "280",
         "39.6", "43.1", "25.00"),
        ("laid", "R", "3", "3", "180000", "60000", "30000", "0", "90000", "0", "0",
         "50.0", "0.0", ""),
        ("laid", "all", "", "3", "180000", "60000", "30000", "0", "90000", "0", "0",
         "50.0", "0.0", ""),
        ("all papers", "all", "", "6", "640000", "126000", "43780", "198240", str(scrap_of_all),
         "42800", "280", "42.5", "31.0", ""),
    ]  # fmt: skip
    assert {len(row) for row in rows} == {len(WASTE_HEADINGS)}


def test_a_plan_that_cuts_nothing_has_no_per_cent():
    ((*rest, scrap, kept, cash),) = waste_rows(plan(), ())
    assert rest[:5] == ["all papers", "all", "", "0", "0"]
    assert (scrap, kept, cash) == ("", "", "0.00")


def test_a_full_sheet_is_told_from_an_offcut_by_its_own_row():
    """The same layout from the offcut's row costs nothing, from the full one its price."""
    (full, *_), (free, *_) = (
        waste_rows(plan(paper("rag", 0, one)), ("1",))
        for one in (TWICE, replace(TWICE, sheet="Q-3"))
    )
    assert (full[-1], free[-1]) == ("25.00", "0.00")
