"""Plans for the tests of cuts and check: the studio's Imperial twins by hand, and any cut tree."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from sheetcut.cuts import cut_order
from sheetcut.job import NO_EDGES, Job, Piece, Rules, Sheet
from sheetcut.layout import (
    Bound,
    Cut,
    Keeper,
    Layout,
    PaperPlan,
    Part,
    Placement,
    Plan,
    Squaring,
    Waste,
)
from sheetcut.units import Edges, mm

PAPER = "Slatehouse Smooth"


def even(margin):
    return Edges(*[mm(margin)] * 4)


IMPERIAL = Sheet(
    "HP-IMP",
    PAPER,
    mm(560),
    mm(760),
    on_hand=3,
    price=1520,
    edge_loss=even(8),
    grain="along height",
    name="Imperial",
)
A3 = Piece("D01", "Ketch on the slip", PAPER, mm(297), mm(420), 2, margin=even(15))
A4 = Piece("D03", "Tender, stern view", PAPER, mm(210), mm(297), 2, margin=even(15))
BUOYS = Piece("D02", "Four buoys", PAPER, mm(148), mm(210), 4, margin=even(12))
KNOTS = Piece("D08", "Three knots", PAPER, mm(148), mm(210), 2, margin=even(12))
JOB = Job((IMPERIAL,), (A3, A4, BUOYS, KNOTS))

# The sides as the trade reference gives them, all in mm: blanks 172 x 234 (A5 + 12), 240 x 327
# (A4 + 15, lying down) and 327 x 450 (A3 + 15) on 544 x 744.
CUTS = (
    # number, along, at, from, to, level, setting: every reading is the place of its cut
    (3, "x", 499, 0, 744, 1, 1),
    (4, "x", 172, 0, 744, 1, 2),
    (5, "y", 690, 172, 499, 2, 3),
    (6, "y", 240, 172, 499, 2, 4),
    (7, "y", 702, 0, 172, 2, 5),
    (8, "y", 468, 0, 172, 2, 6),
    (9, "y", 234, 0, 172, 2, 7),
)
LEFTOVERS = ((499, 0, 45, 744), (172, 690, 327, 54), (0, 702, 172, 42))


def imperial_twins():
    """Return the plan of Imperial 1 and 2, typed in by hand: alike in cuts, not in names."""
    first = twin((2, 2, 2))
    second = twin((2, 3, 3))
    return Plan(
        job=JOB,
        papers=(
            PaperPlan(
                paper=PAPER,
                aim="least cost",
                sheets_used={"HP-IMP": 2},
                cost=3040,
                bound=Bound("cost", 3040, "two sheets are needed for their area alone"),
                layouts=(first, second),
                # 2 x 327 x 450, 2 x 240 x 327, 4 and 2 x 172 x 234 mm² of 692 748 mm²:
                # 1291.5, 688.8, 706.5 and 353.2 cents
                shares={0: 1292, 1: 689, 2: 706, 3: 353},
                proved=True,
            ),
        ),
        short=(),
        seed=0,
        rounds=0,
        stopped=False,
        version="0",
    )


def twin(small):
    """Return one Imperial: an A3, an A4 and three small blanks of the order lines given."""
    blanks = [
        Placement(0, mm(172), mm(240), mm(327), mm(450)),
        Placement(1, mm(172), 0, mm(327), mm(240), turned=True),
        *(Placement(piece, 0, mm(234) * n, mm(172), mm(234)) for n, piece in enumerate(small)),
    ]
    finished = 297 * 420 + 210 * 297 + 3 * 148 * 210  # 280 350 mm²
    margins = 327 * 450 + 240 * 327 + 3 * 172 * 234 - finished
    scrap = 560 * 760 - finished - margins
    edges = 560 * 760 - 544 * 744
    return Layout(
        sheet="HP-IMP",
        copies=1,
        twins=1,
        start=("left", "foot"),
        width=mm(560),
        height=mm(760),
        usable=(mm(8), mm(8), mm(544), mm(744)),
        squaring=(Squaring(1, "left", mm(8)), Squaring(2, "foot", mm(8))),
        placements=tuple(blanks),
        cuts=tuple(
            Cut(n, along, mm(at), mm(start), mm(stop), level, setting, "start", mm(at))
            for n, along, at, start, stop, level, setting in CUTS
        ),
        keepers=(),
        leftovers=tuple(tuple(map(mm, leftover)) for leftover in LEFTOVERS),
        waste=Waste(*(term * mm(1) ** 2 for term in (finished, margins, 0, scrap, edges)), extra=0),
    )


def plan_of(tree, *, start=("left", "foot"), edge_loss=NO_EDGES, on_hand=1, rules=None, copies=1):
    """Return a plan for a cut tree with one order line a blank, its sums worked out here.

    The blanks of the tree carry any numbers; sides are taken as ticks, and the ruler is read
    to a single one.
    """
    rules = rules or Rules(reading_step=1)
    tree, pieces = _with_pieces(tree, copies)
    sheet = Sheet(
        "one",
        PAPER,
        tree.width + edge_loss.across,
        tree.height + edge_loss.up,
        on_hand=on_hand,
        edge_loss=edge_loss,
        price=100,
    )
    job = Job((sheet,), pieces, rules)
    ordered = cut_order(tree, sheet, job, start=start)
    keepers = tuple(
        Keeper(tuple(f"plover {n}-{copy}" for copy in range(copies)), *leftover)
        for n, leftover in enumerate(ordered.leftovers)
        if min(leftover[2:]) >= rules.keep_short and max(leftover[2:]) >= rules.keep_long
    )
    area = sum(blank.width * blank.height for blank in ordered.placements)
    kept = sum(keeper.width * keeper.height for keeper in keepers)
    usable = sheet.usable_width * sheet.usable_height
    layout = Layout(
        sheet="one",
        copies=copies,
        twins=1,
        start=start,
        width=sheet.width,
        height=sheet.height,
        usable=(edge_loss.left, edge_loss.foot, sheet.usable_width, sheet.usable_height),
        squaring=ordered.squaring,
        placements=ordered.placements,
        cuts=ordered.cuts,
        keepers=keepers,
        leftovers=ordered.leftovers,
        waste=Waste(area, 0, kept, sheet.area - area - kept, sheet.area - usable, 0),
    )
    areas = {n: piece.asked_area for n, piece in enumerate(pieces)}
    return Plan(
        job=job,
        papers=(
            PaperPlan(
                paper=PAPER,
                aim="least cost",
                sheets_used={"one": copies},
                cost=100 * copies,
                bound=Bound("cost", 0, "nothing costs less than nothing"),
                layouts=(layout,),
                shares=_largest_remainders(100 * copies, areas),
            ),
        ),
        short=(),
        seed=0,
        rounds=0,
        stopped=False,
        version="0",
    )


def _with_pieces(tree, copies):
    """Return the tree with its blanks numbered, and an order line for each of them."""
    pieces = []

    def numbered(part):
        if part.piece is None:
            return replace(part, parts=tuple(numbered(one) for one in part.parts))
        sides = (part.height, part.width) if part.turned else (part.width, part.height)
        pieces.append(Piece(f"D{len(pieces)}", "", PAPER, *sides, copies))
        return replace(part, piece=len(pieces) - 1)

    return numbered(tree), tuple(pieces)


def _largest_remainders(cash, areas):
    whole = sum(areas.values())
    given = {key: cash * area // whole for key, area in areas.items()}
    rests = Counter({key: cash * area % whole for key, area in areas.items()})
    for key, _ in rests.most_common(cash - sum(given.values())):
        given[key] += 1
    return given


def random_tree(width, height, depth, rng, *, blank=0.75):
    """Return a cut tree of whole ticks: some leaves blanks, some leftovers, directions mixed."""
    if depth == 0 or min(width, height) < 2 or rng.random() < 0.15:
        if rng.random() < blank:
            return Part(width, height, piece=0, turned=rng.random() < 0.3)
        return Part(width, height)
    along = rng.choice("xy")
    whole = width if along == "x" else height
    places = sorted(rng.sample(range(1, whole), min(rng.randint(1, 3), whole - 1)))
    sides = [b - a for a, b in zip([0, *places], [*places, whole], strict=True)]
    return Part(
        width,
        height,
        along,
        tuple(
            random_tree(side, height, depth - 1, rng, blank=blank)
            if along == "x"
            else random_tree(width, side, depth - 1, rng, blank=blank)
            for side in sides
        ),
    )


def blanks_of(part):
    """Return the blanks of a tree as a multiset of order line, size and turn."""
    if part.piece is not None:
        return Counter([(part.piece, part.width, part.height, part.turned)])
    return sum((blanks_of(one) for one in part.parts), Counter())
