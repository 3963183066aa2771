from dataclasses import replace

import pytest

from sheetcut.check import CHECKS, faults_in
from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.layout import Alternative, Bound, Keeper, Part, Placement, Short, Squaring
from sheetcut.units import Edges, in_mm, inch, mm
from tests.check.plans import BUOYS, IMPERIAL, JOB, PAPER, even, imperial_twins, plan_of

PLAN = imperial_twins()
FIRST = "Slatehouse Smooth, Imperial, sheet 1"


def with_paper(plan, **changes):
    """Return a plan whose only paper plan is changed."""
    return replace(plan, papers=(replace(plan.papers[0], **changes),))


def with_layout(plan, **changes):
    """Return a plan whose first layout is changed."""
    first, *others = plan.papers[0].layouts
    return with_paper(plan, layouts=(replace(first, **changes), *others))


def with_one(plan, field, place, **changes):
    """Return a plan with one blank, cut, squaring or keeper of its first layout changed."""
    records = list(getattr(plan.papers[0].layouts[0], field))
    records[place] = replace(records[place], **changes)
    return with_layout(plan, **{field: tuple(records)})


def without(plan, field, place):
    """Return a plan without one record of its first layout."""
    records = getattr(plan.papers[0].layouts[0], field)
    return with_layout(plan, **{field: (*records[:place], *records[place + 1 :])})


def with_job(plan, sheets=(IMPERIAL,), pieces=JOB.pieces, **more):
    return replace(plan, job=Job(sheets, pieces, **more))


def with_sheet(plan, **changes):
    return with_job(plan, sheets=(replace(IMPERIAL, **changes),))


def with_waste(plan, **changes):
    return with_layout(plan, waste=replace(plan.papers[0].layouts[0].waste, **changes))


def told(plan):
    return "\n".join(map(str, faults_in(plan)))


def test_the_studio_twins_have_no_faults():
    """TRADE 10.4: Imperial 1 and 2, with 85.6 % of the squared sheet used."""
    assert faults_in(PLAN) == ()
    layout = PLAN.papers[0].layouts[0]
    used = sum(blank.width * blank.height for blank in layout.placements)
    assert round(1000 * used / (mm(544) * mm(744))) == 856
    assert sum(cut.stop - cut.start for cut in layout.cuts) == mm(2658)


CUTS = PLAN.papers[0].layouts[0].cuts  # x 499, x 172, y 690, y 240, y 702, y 468, y 234
BLANKS = PLAN.papers[0].layouts[0].placements  # A3, A4 turned, three small ones

SPOILED = {
    "moved blank": (
        with_one(PLAN, "placements", 4, y=mm(469)),
        f"{FIRST}: D02 Four buoys at x 0, y 469 mm, 172 x 234 mm, is none of the pieces",
    ),
    "blank on another": (
        with_one(PLAN, "placements", 3, y=mm(230)),
        "D02 Four buoys at x 0, y 0 mm and D02 Four buoys at x 0, y 230 mm "
        "share 172 mm by 4 mm of paper",
    ),
    "lost blank": (
        without(PLAN, "placements", 4),
        "D02 Four buoys: 4 ordered; the plan cuts 3 and says that 0 are short",
    ),
    "lost blank, paper": (
        without(PLAN, "placements", 4),
        f"{FIRST}: a piece of 172 x 234 mm at x 0, y 468 mm is left when all cuts are made",
    ),
    "doubled blank": (
        with_layout(PLAN, placements=(*BLANKS, BLANKS[4])),
        "D02 Four buoys: 4 ordered; the plan cuts 5",
    ),
    "blank outside": (
        with_one(PLAN, "placements", 0, x=mm(220)),
        "D01 Ketch on the slip at x 220, y 240 mm lies with 1350 mm² outside the usable area "
        "of 544 x 744 mm",  # 220 + 327 = 547: 3 x 450 mm² over
    ),
    "blank too small": (
        with_one(PLAN, "placements", 0, width=mm(326)),
        "is 326 x 450 mm; with its margins it is 327 x 450 mm as it lies",
    ),
    "turn not told": (
        with_one(PLAN, "placements", 1, turned=False),
        "is 327 x 240 mm; with its margins it is 240 x 327 mm as it lies",
    ),
    "turned against its rule": (
        with_job(PLAN, pieces=(JOB.pieces[0], replace(JOB.pieces[1], turn="no"), *JOB.pieces[2:])),
        "D03 Tender, stern view at x 172, y 0 mm is turned and may not be",
    ),
    "turned against the grain": (
        with_job(
            PLAN, pieces=(JOB.pieces[0], replace(JOB.pieces[1], turn="grain up"), *JOB.pieces[2:])
        ),
        'lies with the grain along its width; "grain up" asks for it along its height',
    ),
    "not turned against the grain": (
        with_job(PLAN, pieces=(replace(JOB.pieces[0], turn="grain across"), *JOB.pieces[1:])),
        'lies with the grain along its height; "grain across" asks for it along its width',
    ),
    "grain not known": (
        with_job(
            PLAN,
            sheets=(replace(IMPERIAL, grain="not known"),),
            pieces=(replace(JOB.pieces[0], turn="alike"), *JOB.pieces[1:]),
        ),
        'has the rule "alike", and the grain of this sheet is not known',
    ),
    "stopped cut": (
        with_one(PLAN, "cuts", 2, stop=mm(400)),
        f"{FIRST}: cut 5 at y 690 mm runs from 172 to 400 mm and not edge to edge; the piece in "
        "hand reaches from 172 to 499 mm; what comes after it was not looked at",
    ),
    "cut over the edge": (
        with_one(PLAN, "cuts", 0, stop=mm(750)),
        "runs from 0 to 750 mm and not edge to edge",
    ),
    "cut along an edge": (
        with_one(PLAN, "cuts", 1, at=mm(499)),
        "cut 4 at x 499 mm runs through no piece on the table",
    ),
    "cut outside": (
        with_one(PLAN, "cuts", 0, at=mm(600)),
        "cut 3 at x 600 mm runs through no piece on the table",
    ),
    "cut through two": (
        with_one(PLAN, "cuts", 2, start=0),
        "cut 5 at y 690 mm runs through 2 pieces on the table at once",
    ),
    "cuts in the wrong order": (
        with_layout(PLAN, cuts=(CUTS[0], *CUTS[2:], CUTS[1])),
        "cut 5 at y 690 mm runs from 172 to 499 mm and not edge to edge; the piece in hand "
        "reaches from 0 to 499 mm",
    ),
    "cut left out": (
        without(PLAN, "cuts", 6),
        "D02 Four buoys at x 0, y 0 mm, 172 x 234 mm, is none of the pieces",
    ),
    "cut needless": (
        with_layout(
            PLAN,
            cuts=(
                *CUTS,
                replace(CUTS[6], number=10, setting=8, at=mm(100), reading=mm(100)),
            ),
        ),
        "a piece of 172 x 100 mm at x 0, y 0 mm is left when all cuts are made",
    ),
    "wrong reading": (
        with_one(PLAN, "cuts", 4, reading=mm(700)),
        "cut 7 at y 702 mm has the reading 700 mm; from the start edge it is 702 mm",
    ),
    "wrong edge": (
        with_one(PLAN, "cuts", 4, edge=4),
        "cut 7 at y 702 mm is measured from the edge made by cut 4; the piece in hand has the "
        "start edge on that side",
    ),
    "wrong level": (
        with_one(PLAN, "cuts", 4, level=3),
        "cut 7 at y 702 mm is given as level 3; it is level 2",
    ),
    "setting shared by chance": (
        with_one(PLAN, "cuts", 6, setting=6),
        "cut 9 at y 234 mm and cut 8 at y 468 mm share ruler setting 6 and do not line up",
    ),
    "setting skipped": (
        with_one(PLAN, "cuts", 6, setting=9),
        "cut 9 at y 234 mm has the ruler setting 9; the next one is 7",
    ),
    "wrong number": (
        with_one(PLAN, "cuts", 6, number=12),
        "step 9 of the cutting is numbered 12",
    ),
    "reading between the marks": (
        with_job(PLAN, rules=Rules(reading_step=mm(4))),
        "cut 3 at x 499 mm has the reading 499 mm, which falls between the marks of a ruler "
        "read to 4 mm",
    ),
    "squaring left out": (
        with_layout(PLAN, squaring=(Squaring(1, "left", mm(8)),)),
        "the foot edge loses paper and is not squared; it wants a cut at 8 mm",
    ),
    "squaring needless": (
        with_layout(
            PLAN,
            squaring=(*PLAN.papers[0].layouts[0].squaring, Squaring(3, "right", mm(544))),
        ),
        "the right edge is squared at 544 mm and need not be",
    ),
    "squaring at the wrong place": (
        with_one(PLAN, "squaring", 0, reading=mm(9)),
        "the left edge is squared at 9 mm; the right reading is 8 mm",
    ),
    "squaring twice": (
        with_one(PLAN, "squaring", 1, edge="left"),
        "an edge is squared twice",
    ),
    "leftover lost": (
        without(PLAN, "leftovers", 0),
        "a piece of 45 x 744 mm at x 499, y 0 mm is left when all cuts are made",
    ),
    "leftover invented": (
        with_layout(PLAN, leftovers=(*PLAN.papers[0].layouts[0].leftovers, (0, 0, mm(9), mm(9)))),
        "the leftover 9 x 9 mm at x 0, y 0 mm is none of the pieces",
    ),
    "wrong sum": (
        with_waste(PLAN, scrap=0),
        "the waste gives 0 mm² for scrap; it comes to 79226 mm²",  # 425 600 - 346 374
    ),
    "sum that does not add up": (
        with_waste(PLAN, scrap=0),
        "come to 346374 mm²; the sheet has 425600 mm²",
    ),
    "wrong finished area": (with_waste(PLAN, finished=mm(1) ** 2), "the waste gives 1 mm² for fin"),
    "wrong extra": (with_waste(PLAN, extra=mm(1) ** 2), "for rounding and leave-on; it comes to 0"),
    "wrong edges": (with_waste(PLAN, edges=0), "edge losses; it comes to 20864 mm²"),
    "stock overdrawn": (
        with_sheet(PLAN, on_hand=1),
        "Slatehouse Smooth: 2 of Imperial are cut; the drawer holds 1",
    ),
    "sheets used not agreeing": (
        with_paper(PLAN, sheets_used={"HP-IMP": 1}),
        "1 of HP-IMP are said to be used; the layouts cut 2",
    ),
    "sheets used unknown": (
        with_paper(PLAN, sheets_used={"HP-IMP": 2, "HP-DE": 1}),
        "sheet 'HP-DE' is said to be used and is not in the drawer",
    ),
    "piece on the wrong paper": (
        with_job(PLAN, pieces=(replace(JOB.pieces[0], paper="Marram Rag"), *JOB.pieces[1:])),
        "D01 Ketch on the slip at x 172, y 240 mm is ordered on Marram Rag",
    ),
    "sheet of the wrong paper": (
        with_sheet(PLAN, paper="Marram Rag"),
        "sheet HP-IMP is Marram Rag; the plan is for Slatehouse Smooth",
    ),
    "wrong sheet size": (
        with_layout(PLAN, width=mm(561)),
        "the sheet is drawn as 561 x 760 mm; the drawer has it as 560 x 760 mm",
    ),
    "wrong usable area": (
        with_layout(PLAN, usable=(mm(8), mm(8), mm(545), mm(744))),
        "the usable area is 545 x 744 mm; the edge losses leave 544 x 744 mm",
    ),
    "misplaced usable area": (
        with_layout(PLAN, usable=(0, mm(8), mm(544), mm(744))),
        "the usable area begins at x 0, y 8 mm; the edge losses put it at x 8, y 8 mm",
    ),
    "wrong rounding": (
        with_one(PLAN, "placements", 0, rounding=(mm(1), 0)),
        "says it is rounded up by 1 x 0 mm; to the next 1 mm it takes 0 x 0 mm",
    ),
    "leave-on not in the size": (
        with_one(PLAN, "placements", 0, leave_on=Edges(right=mm(2))),
        "is 327 x 450 mm; with its margins it is 329 x 450 mm as it lies",
    ),
    "leave-on on a print": (
        with_one(
            with_job(PLAN, pieces=(replace(JOB.pieces[0], kind="print"), *JOB.pieces[1:])),
            "placements",
            0,
            leave_on=Edges(right=mm(2)),
        ),
        "D01 Ketch on the slip at x 172, y 240 mm is a print and has a leave-on",
    ),
    "too many said short": (
        replace(PLAN, short=(Short(2, 1, "paper ran out"),)),
        "D02 Four buoys: 4 ordered; the plan cuts 4 and says that 1 are short",
    ),
    "cost wrong": (with_paper(PLAN, cost=1520), "the cost is given as 15.20; it is 30.40"),
    "cost unknown": (with_paper(PLAN, cost=None), "the cost is given as not known; it is 30.40"),
    "share wrong": (
        with_paper(PLAN, shares={0: 1302, 1: 679, 2: 706, 3: 353}),
        "order D01 carries a paper share of 13.02; by its area it is 12.9148",
    ),
    "shares not the cash": (
        with_paper(PLAN, shares={0: 1291, 1: 688, 2: 706, 3: 353}),
        "the paper shares add up to 30.38; the cash is 30.40",
    ),
    "share of nobody": (
        with_paper(PLAN, shares={0: 1292, 1: 689, 2: 706, 4: 353}),
        "a paper share stands for order line number 4",
    ),
    "twins numbered apart": (
        with_layout(PLAN, twins=2),
        f"{FIRST} and Slatehouse Smooth, Imperial, sheet 2 are cut alike, and their twins",
    ),
    "twins that are none": (
        without(PLAN, "cuts", 6),
        f"{FIRST} and Slatehouse Smooth, Imperial, sheet 2 share the twins number 1 and are not",
    ),
    "twins in names too": (
        with_paper(PLAN, layouts=(PLAN.papers[0].layouts[0],) * 2),
        "are alike, names included; they are copies of one",
    ),
    "bound too high": (
        with_paper(PLAN, bound=Bound("cost", 4560, "area")),
        "no plan is said to need less than 45.60; this one needs 30.40",
    ),
    "proved without being met": (
        with_paper(PLAN, bound=Bound("cost", 1520, "area")),
        "called proved with 30.40; the bound is 15.20",
    ),
    "met without being proved": (
        with_paper(PLAN, proved=False),
        "not called proved, and it meets its bound of 30.40",
    ),
    "bound of another aim": (
        with_paper(PLAN, bound=Bound("sheets", 2, "area")),
        'the bound counts sheets; the aim is "least cost"',
    ),
    "another aim than asked": (
        with_paper(PLAN, aim="fewest sheets", bound=Bound("sheets", 2, "area")),
        'the aim is given as "fewest sheets"; the studio asks for "least cost"',
    ),
    "bound without reason": (
        with_paper(PLAN, bound=Bound("cost", 3040, " ")),
        "the bound comes without a reason",
    ),
    "certificate of no known form": (
        with_paper(PLAN, bound=Bound("cost", 3040, "so", {"form": "tea leaves 1"})),
        "the bound's certificate has the form 'tea leaves 1'; this version can check: listing 1, "
        "weights 1",
    ),
    "unknown sheet": (
        with_layout(PLAN, sheet="HP-XX"),
        "Slatehouse Smooth, HP-XX, sheet 1: there is no sheet 'HP-XX' in the drawer",
    ),
    "unknown piece": (
        with_one(PLAN, "placements", 0, piece=4),
        "a blank belongs to order line number 4, and there is none",
    ),
    "piece before the first": (
        with_one(PLAN, "placements", 0, piece=-1),
        "a blank belongs to order line number -1, and there is none",
    ),
    "negative size": (
        with_one(PLAN, "placements", 0, width=-5),
        "a blank is given as (1376000, 1920000, -5, 3600000) in ticks",
    ),
    "size beyond all paper": (
        with_one(PLAN, "placements", 0, x=10**40),
        "a blank is given as (1000",
    ),
    "half a tick": (with_one(PLAN, "cuts", 0, at=0.5), "cut 3 lies at 0.5 from 0 to"),
    "cut without length": (with_one(PLAN, "cuts", 0, stop=0), "and has no length"),
    "cut along nothing": (with_one(PLAN, "cuts", 0, along="z"), "is measured along 'z'"),
    "cut from nowhere": (
        with_one(PLAN, "cuts", 0, edge="left"),
        "cut 3 is measured from 'left': neither a start edge nor a cut",
    ),
    "leave-on less than nothing": (
        with_one(PLAN, "placements", 0, leave_on=Edges(right=-1)),
        "a blank's rounding and leave-on are (0, 0, 0, -1, 0, 0) in ticks",
    ),
    "squaring without end": (
        with_one(PLAN, "squaring", 0, reading=10**30),
        "squaring 1 has the reading 1000",
    ),
    "no setting": (with_one(PLAN, "cuts", 0, setting=0), "cut 3 has the level 1 and the setting 0"),
    "leftover less than nothing": (
        with_layout(PLAN, leftovers=((0, 0, -1, 5),)),
        "a leftover is given as (0, 0, -1, 5) in ticks",
    ),
    "no copies": (with_layout(PLAN, copies=0), "0 copies are to be cut; 1 or more are wanted"),
    "many copies": (
        with_layout(PLAN, copies=10**6),
        "1000001 of Imperial are cut; the drawer holds 3",
    ),
    "copies without end": (with_layout(PLAN, copies=10**60), "copies are to be cut; 1 or more"),
    "no such corner": (with_layout(PLAN, start=("foot", "left")), "the start corner ('foot'"),
    "no sheet": (with_layout(PLAN, height=0), "the sheet is given as 4480000 by 0 ticks"),
    "usable area of three": (with_layout(PLAN, usable=(0, 0, 1)), "the usable area is given as"),
    "negative waste": (with_waste(PLAN, scrap=-1), "a term of the waste is no area"),
    "two plans for one paper": (
        replace(PLAN, papers=PLAN.papers * 2),
        "Slatehouse Smooth: the paper has 2 plans; each paper has one",
    ),
    "short of nobody": (
        replace(PLAN, short=(Short(4, 1, "paper ran out"),)),
        "short of paper: there is no order line number 4",
    ),
    "nothing short": (
        replace(PLAN, short=(Short(0, 0, "paper ran out"),)),
        "short of paper, D01: 0 pieces are said to be short",
    ),
    "short for no reason": (
        replace(PLAN, short=(Short(0, 1, "rain"),)),
        "the reason 'rain' is not one of fits no sheet, paper ran out",
    ),
    "sheet for nothing": (
        with_layout(PLAN, placements=()),
        "no blank lies on this sheet, so it need not be cut",
    ),
    "no paper at all": (
        replace(PLAN, papers=()),
        "D01 Ketch on the slip: 2 ordered; the plan cuts 0",
    ),
}


@pytest.mark.parametrize("name", SPOILED)
def test_a_spoiled_plan_is_told_in_a_sentence(name):
    spoiled, words = SPOILED[name]
    assert words in told(spoiled)


def keeper_plan():
    """Return a plan that keeps 150 x 200 of 160 x 200: exactly the keep size."""
    tree = Part(
        mm(160),
        mm(200),
        "x",
        (Part(mm(10), mm(200), piece=0), Part(mm(150), mm(200))),
    )
    return plan_of(tree, rules=Rules(reading_step=mm(1)), copies=2, on_hand=2)


def test_a_leftover_of_the_keep_size_is_kept():
    plan = keeper_plan()
    assert faults_in(plan) == ()
    (keeper,) = plan.papers[0].layouts[0].keepers
    assert (keeper.width, keeper.height) == (mm(150), mm(200))


KEPT = keeper_plan()
KEEPER = KEPT.papers[0].layouts[0].keepers[0]

SPOILED_KEEPERS = {
    "missing": (
        without(KEPT, "keepers", 0),
        "the leftover 150 x 200 mm at x 10, y 0 mm is worth keeping (from 150 x 200 mm)",
    ),
    "too small": (
        with_job(KEPT, KEPT.job.sheets, KEPT.job.pieces, rules=Rules(keep_short=mm(151))),
        "the keeper plover 0-0, plover 0-1 is 150 x 200 mm; the keep size is 151 x 200 mm",
    ),
    "moved": (
        with_one(KEPT, "keepers", 0, x=0),
        "150 x 200 mm at x 0, y 0 mm, is none of the leftovers",
    ),
    "doubled": (
        with_layout(KEPT, keepers=(KEEPER, replace(KEEPER, names=("owl 1", "owl 2")))),
        "the keeper owl 1, owl 2, 150 x 200 mm at x 10, y 0 mm, is none of the leftovers, or one",
    ),
    "a name short": (
        with_one(KEPT, "keepers", 0, names=("plover 1",)),
        "the keeper plover 1 has 1 names for 2 copies",
    ),
    "one name twice": (
        with_one(KEPT, "keepers", 0, names=("plover 1", "plover 1")),
        "a keeper is named plover 1, as one is on Slatehouse Smooth, one, sheet 1",
    ),
    "a sheet's name": (
        with_one(KEPT, "keepers", 0, names=("plover 1", "one")),
        "a keeper is named one, as a sheet in the drawer is",
    ),
    "without a name": (
        with_one(KEPT, "keepers", 0, names=("plover 1", " ")),
        "a keeper has the names ('plover 1', ' '); each copy needs a tag",
    ),
    "sum": (with_waste(KEPT, keepers=0), "0 mm² for keepers; it comes to 30000 mm²"),
    "no size": (
        with_layout(KEPT, keepers=(Keeper(("a", "b"), 0, 0, 0, mm(9)),)),
        "a keeper is given as (0, 0, 0, 72000) in ticks",
    ),
}


@pytest.mark.parametrize("name", SPOILED_KEEPERS)
def test_a_spoiled_keeper_is_told_in_a_sentence(name):
    spoiled, words = SPOILED_KEEPERS[name]
    assert words in told(spoiled)


def alike_plan(*, turned):
    """Return a plan with two squares of one line, one of which may be turned."""
    square = Piece("D01", "Pair", PAPER, 6, 6, 2, turn="alike")
    tree = Part(12, 6, "x", (Part(6, 6, piece=0), Part(6, 6, piece=0, turned=turned)))
    plan = plan_of(tree)
    first, second = plan.papers[0].layouts[0].placements
    plan = with_layout(plan, placements=(first, replace(second, piece=0)))
    sheet = replace(plan.job.sheets[0], grain="along width")
    return with_paper(
        with_job(plan, (sheet,), (square,), rules=Rules(reading_step=1)), shares={0: 100}
    )


def test_a_line_that_asks_to_lie_alike_does():
    assert faults_in(alike_plan(turned=False)) == ()
    assert "D01 Pair: its pieces are to lie alike" in told(alike_plan(turned=True))


@pytest.mark.parametrize(
    ("why", "on_hand", "words"),
    [
        ("fits no sheet", 2, "D09: is said to fit no sheet; it fits Imperial"),
        ("paper ran out", 2, ""),
        ("paper ran out", 3, "D09: is said to be short of paper; 1 of Imperial are left"),
        ("paper ran out", None, "is said to be short of paper; any number of Imperial are left"),
    ],
)
def test_what_is_short_is_short_for_a_true_reason(why, on_hand, words):
    large = Piece("D09", "", PAPER, mm(744), mm(544))  # fits the squared Imperial, turned only
    plan = with_job(PLAN, (replace(IMPERIAL, on_hand=on_hand),), (*JOB.pieces, large))
    assert told(replace(plan, short=(Short(4, 1, why),))).endswith(words)
    assert bool(words) == bool(faults_in(replace(plan, short=(Short(4, 1, why),))))


def test_what_fits_no_sheet_may_say_so():
    huge = Piece("D09", "", PAPER, mm(745), mm(544))
    plan = with_job(PLAN, pieces=(*JOB.pieces, huge))
    assert faults_in(replace(plan, short=(Short(4, 1, "fits no sheet"),))) == ()


@pytest.mark.parametrize(
    ("width", "height", "turn", "true"),
    [
        (557, 753, "no", False),  # 560 - 1 - 2 by 760 - 3 - 4 is just large enough
        (558, 753, "no", True),
        (557, 754, "no", True),
        (753, 557, "no", True),
        (753, 557, "yes", False),
        (753, 557, "grain across", False),
        (753, 557, "grain up", True),
        (557, 753, "alike", True),  # what lies elsewhere may forbid it, so it is believed
    ],
)
def test_fits_no_sheet_is_measured_to_the_edge_losses(width, height, turn, true):
    loss = Edges(mm(1), mm(2), mm(3), mm(4))
    sheet = Sheet("two", PAPER, mm(560), mm(760), edge_loss=loss, price=1, grain="along height")
    piece = Piece("D09", "", PAPER, mm(width), mm(height), turn=turn)
    plan = with_job(PLAN, (IMPERIAL, sheet), (*JOB.pieces, piece))
    faults = faults_in(replace(plan, short=(Short(4, 1, "fits no sheet"),)))
    assert [fault.message for fault in faults] == (
        [] if true else ["is said to fit no sheet; it fits two"]
    )


def test_a_share_may_be_rounded_and_not_be_a_cent_out():
    """Two equal pieces carry 50 cents each of 100; 51 and 49 is no rounding of that."""
    halves = Part(10, 6, "x", (Part(5, 6, piece=0), Part(5, 6, piece=0)))
    plan = plan_of(halves)
    assert plan.papers[0].shares == {0: 50, 1: 50}
    assert faults_in(plan) == ()
    assert "order D0 carries a paper share of 0.51" in told(with_paper(plan, shares={0: 51, 1: 49}))


def test_a_sheet_without_price_has_no_cost_and_no_shares():
    plan = with_sheet(with_paper(PLAN, cost=None, shares={}), price=None)
    plan = with_paper(plan, aim="fewest sheets", bound=Bound("sheets", 2, "area"))
    assert faults_in(plan) == ()
    assert "not every sheet has a price" in told(with_paper(plan, shares={0: 0}))


def test_an_offcut_costs_nothing_and_counts_as_no_sheet():
    plan = with_sheet(PLAN, kind="offcut")
    plan = with_paper(
        plan, cost=0, shares=dict.fromkeys(range(4), 0), aim="fewest sheets",
        bound=Bound("sheets", 0, "offcuts are not counted"),
    )  # fmt: skip
    assert faults_in(plan) == ()


def test_far_edges_are_squared_where_a_blank_ends():
    tree = Part(mm(60), mm(40), piece=0)
    plan = plan_of(tree, edge_loss=even(5), rules=Rules(reading_step=mm(1)))
    assert faults_in(plan) == ()
    assert "the right edge loses paper and is not squared" in told(without(plan, "squaring", 2))
    squaring = plan.papers[0].layouts[0].squaring
    swapped = with_layout(plan, squaring=(squaring[2], *squaring[:2], squaring[3]))
    assert "the left edge is squared after the right edge" in told(swapped)


def test_sixteenths_of_an_inch_are_whole_steps():
    sheet = Sheet("rag", PAPER, inch(22), inch(30), unit="in", price=100)
    piece = Piece("D01", "", PAPER, inch("21 15/16"), inch(30) - 1, unit="in")
    whole = Part(
        inch(22),
        inch(30),
        "x",
        (Part(inch("21 15/16"), inch(30), piece=0), Part(inch("1/16"), inch(30))),
    )
    plan = plan_of(whole, rules=Rules(reading_step=inch("1/16")))
    (blank,) = plan.papers[0].layouts[0].placements
    plan = with_one(plan, "placements", 0, rounding=(0, 1))
    layout = plan.papers[0].layouts[0]
    area = piece.width * piece.height
    plan = with_waste(
        plan, finished=area, margins=blank.width * blank.height - area, extra=blank.width
    )
    plan = with_layout(plan, sheet="rag")
    plan = with_paper(with_job(plan, (sheet,), (piece,)), sheets_used={"rag": 1})
    assert faults_in(plan) == (), layout


def uneven_plan(**changes):
    """Return a plan in which every margin, rounding and leave-on is another length.

    100.4 x 80.2 with margins of 1, 2, 3 and 4 mm asks for 103.4 x 87.2, so 104 x 88 in whole
    millimetres; turned 88 x 104, and with leave-ons of 1, 2, 3 and 4 mm 91 x 111.
    """
    margins = Edges(mm(1), mm(2), mm(3), mm(4))
    piece = Piece("D01", "", PAPER, mm("100.4"), mm("80.2"), margin=margins, **changes)
    sheet = Sheet("one", PAPER, mm(91), mm(111), on_hand=1, price=100)
    blank = Placement(
        0, 0, 0, mm(91), mm(111), turned=True, rounding=(mm("0.6"), mm("0.8")), leave_on=margins
    )
    plan = plan_of(Part(mm(91), mm(111), piece=0))
    finished, asked = mm("100.4") * mm("80.2"), mm("103.4") * mm("87.2")
    whole = mm(91) * mm(111)
    plan = with_waste(plan, finished=finished, margins=whole - finished, extra=whole - asked)
    return with_job(with_layout(plan, placements=(blank,)), (sheet,), (piece,))


def test_margins_rounding_and_leave_on_are_each_counted_on_their_side():
    assert faults_in(uneven_plan()) == ()
    assert "is a print and has a leave-on" in told(uneven_plan(kind="print"))


@pytest.mark.parametrize("side", range(4))
def test_no_margin_is_mistaken_for_another(side):
    plan = uneven_plan()
    (piece,) = plan.job.pieces
    margin = list(piece.margin)
    margin[side] += mm(5)
    longer = with_job(plan, plan.job.sheets, (replace(piece, margin=Edges(*margin)),))
    expected = "96 x 111 mm" if side > 1 else "91 x 116 mm"  # turned: top and foot lie across
    assert f"is 91 x 111 mm; with its margins it is {expected} as it lies" in told(longer)


def test_the_sheets_used_have_the_paper_that_is_needed():
    """103.4 x 87.2 is 9016.48 mm² of the sheet's 10 101: one holds it, none does not."""
    words = "the pieces need 9016.48 mm²; the sheets used have 0 mm²"
    assert words in told(with_paper(uneven_plan(), sheets_used={"one": 0}))
    assert "the pieces need" not in told(uneven_plan())


def test_paper_enough_to_the_square_millimetre_is_enough():
    plan = plan_of(Part(mm(60), mm(40), piece=0), rules=Rules(reading_step=mm(1)))
    assert faults_in(plan) == ()


def test_an_offcut_without_a_price_does_not_change_the_aim():
    offcut = Sheet("heron 7", PAPER, mm(268), mm(540), on_hand=1, kind="offcut")
    plan = with_job(PLAN, (IMPERIAL, offcut))
    assert faults_in(plan) == ()
    fewest = with_paper(plan, aim="fewest sheets", bound=Bound("sheets", 2, "area"))
    assert 'the studio asks for "least cost"' in told(fewest)


@pytest.mark.parametrize(("value", "words"), [(1, "1 sheet;"), (3, "3 sheets;")])
def test_a_bound_in_sheets_is_told_in_sheets(value, words):
    plan = with_sheet(with_paper(PLAN, cost=None, shares={}), price=None)
    plan = with_paper(plan, aim="fewest sheets", bound=Bound("sheets", value, "area"))
    if value > 2:
        assert f"no plan is said to need less than {words} this one needs 2 sheets" in told(plan)
    else:
        assert "called proved with 2 sheets; the bound is 1 sheet" in told(plan)


def test_every_check_says_what_must_hold():
    for check in CHECKS:
        assert check.__doc__
        assert check.__doc__.splitlines()[0].endswith(".")


def test_more_of_one_line_than_ordered_is_told():
    plan = with_job(PLAN, pieces=(*JOB.pieces[:2], replace(BUOYS, count=3), JOB.pieces[3]))
    assert "D02 Four buoys: 3 ordered; the plan cuts 4" in told(plan)


def test_faults_of_a_pair_are_told_once():
    first, second = PLAN.papers[0].layouts
    told_of = [
        fault.message
        for fault in faults_in(with_paper(PLAN, layouts=(replace(first, twins=2), second)))
        if "are cut alike" in fault.message
    ]
    assert len(told_of) == 1


def test_two_blanks_share_what_lies_on_both():
    """172 to 499 across and 0 to 240 up, moved up by 5: it shares 327 x 5 with the one above."""
    words = "share 327 mm by 5 mm of paper"
    assert words in told(with_one(PLAN, "placements", 1, y=mm(5)))


def test_a_sheet_that_is_cut_and_not_said_to_be_used_is_told():
    plan = plan_of(Part(mm(60), mm(40), piece=0))
    words = "0 of one are said to be used; the layouts cut 1"
    assert words in told(with_paper(plan, sheets_used={}))


@pytest.mark.parametrize(
    ("wanted", "short", "wrong"), [(5, 0, False), (4, 0, False), (3, 0, True), (5, 1, True)]
)
def test_of_a_line_cut_if_there_is_room_any_number_may_be_and_none_is_short(wanted, short, wrong):
    """Four buoys lie in the plan; with one said to be short they would add up to five."""
    line = replace(BUOYS, count=wanted, if_room=True)
    plan = with_job(PLAN, pieces=(*JOB.pieces[:2], line, JOB.pieces[3]))
    short = (Short(2, short, "paper ran out"),) if short else ()
    words = "D02 Four buoys: "
    assert (words in told(replace(plan, short=short))) == wrong


@pytest.mark.parametrize(("shares", "wrong"), [({}, False), ({0: 0}, False), ({0: 1}, True)])
def test_what_is_cut_because_there_is_room_carries_nothing(shares, wrong):
    plan = plan_of(Part(mm(60), mm(40), piece=0))
    (piece,) = plan.job.pieces
    plan = with_job(plan, plan.job.sheets, (replace(piece, if_room=True),), rules=plan.job.rules)
    words = told(with_paper(plan, shares=shares))
    assert ("carries a paper share of 0.01; by its area it is 0.0000" in words) == wrong
    assert bool(words) == wrong


def test_a_line_that_is_not_cut_carries_not_a_cent():
    """D09 is short; the cent it is given is missing at D01, which may be rounded down."""
    large = Piece("D09", "", PAPER, mm(745), mm(544))
    plan = with_job(PLAN, pieces=(*JOB.pieces, large))
    plan = replace(plan, short=(Short(4, 1, "fits no sheet"),))
    shares = PLAN.papers[0].shares
    assert faults_in(with_paper(plan, shares=shares | {4: 0})) == ()
    words = told(with_paper(plan, shares=shares | {0: 1291, 4: 1}))
    assert words.endswith("order D09 carries a paper share of 0.01; by its area it is 0.0000")


def test_lines_on_paper_without_grain_lie_as_they_like():
    """A pair that is to lie alike: one up the grain, one on paper that has none."""
    pair = Piece("D01", "Pair", PAPER, 6, 6, 2, turn="alike")
    plan = plan_of(Part(6, 6, piece=0))
    (layout,) = plan.layouts
    (place,) = layout.placements
    sheets = tuple(
        replace(plan.job.sheets[0], id=name, grain=grain)
        for name, grain in (("one", "along height"), ("two", "none"))
    )
    other = replace(layout, sheet="two", twins=2, placements=(replace(place, turned=True),))
    plan = with_paper(plan, layouts=(layout, other), sheets_used={"one": 1, "two": 1}, cost=200)
    plan = with_paper(with_job(plan, sheets, (pair,), rules=Rules(reading_step=1)), shares={0: 200})
    assert faults_in(plan) == ()


@pytest.mark.parametrize("across", ["left", "right"])
@pytest.mark.parametrize("up", ["foot", "top"])
def test_readings_are_taken_from_the_start_edge_or_the_cut_before(across, up):
    """2 x 8 | (6 x 2 over (2 x 6 | 4 x 6)): three levels, the last read from the first cut."""
    third = Part(6, 6, "x", (Part(2, 6, piece=0), Part(4, 6, piece=0)))
    second = Part(6, 8, "y", (Part(6, 2, piece=0), third))
    plan = plan_of(Part(8, 8, "x", (Part(2, 8, piece=0), second)), start=(across, up))
    assert faults_in(plan) == ()
    (*_, last) = plan.layouts[0].cuts
    assert (last.reading, last.edge) == (2, 1)
    for reading in (1, 3):
        spoiled = with_one(plan, "cuts", len(plan.layouts[0].cuts) - 1, reading=reading)
        assert f"has the reading {in_mm(reading):f} mm; from the edge made by cut 1 it is" in told(
            spoiled
        )


def two_papers():
    """Return a plan of two papers, each of which keeps a leftover from two copies."""
    first = KEPT.papers[0]
    other = "Marram Rag"
    sheet, piece = KEPT.job.sheets[0], KEPT.job.pieces[0]
    job = replace(
        KEPT.job,
        sheets=(sheet, replace(sheet, id="two", paper=other)),
        pieces=(piece, replace(piece, order="D9", paper=other)),
    )
    (layout,) = first.layouts
    (place,) = layout.placements
    keepers = (replace(KEEPER, names=("owl 1", "owl 2")),)
    second = replace(layout, sheet="two", placements=(replace(place, piece=1),), keepers=keepers)
    more = replace(
        first, paper=other, layouts=(second,), sheets_used={"two": 2}, shares={1: first.cost}
    )
    return replace(KEPT, job=job, papers=(first, more))


@pytest.mark.parametrize("number", [0, 1])
def test_names_in_an_alternative_are_not_those_of_another_papers_plan(number):
    """Those of its own paper's plan it may have: it stands in that plan's place."""
    plan = two_papers()
    assert faults_in(plan) == ()
    papers = list(plan.papers)
    (layout,) = papers[number].layouts
    (theirs,) = papers[1 - number].layouts
    for keepers, wrong in ((layout.keepers, False), (theirs.keepers, True)):
        other = Alternative("better leftover", (replace(layout, keepers=keepers),))
        papers[number] = replace(plan.papers[number], alternatives=(other,))
        words = told(replace(plan, papers=tuple(papers)))
        assert ("a keeper is named" in words) == wrong
        assert bool(words) == wrong
