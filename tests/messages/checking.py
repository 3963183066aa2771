"""Every fault that the checker finds in a plan, beside those that tests/check spoils plans for."""

# ruff: noqa: E501 (a message stands on one line, as it is read)
from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from sheetcut.check import bounds_again, faults_in
from sheetcut.job import Piece, Skew
from sheetcut.layout import Alternative, Bound, Part, Plan, Short
from sheetcut.out_of_square import Measured
from sheetcut.units import Length, mm
from tests.check.plans import JOB, PAPER, even, plan_of
from tests.check.test_faults import (
    PLAN,
    SPOILED,
    SPOILED_KEEPERS,
    alike_plan,
    with_job,
    with_layout,
    with_one,
    with_paper,
    with_sheet,
)
from tests.messages.cases import Case

SMOOTH, ORDERS = PAPER, ("D01", "D02", "D03", "D08")


def _case(name: str, plan: Plan | Callable[[], Plan], words: str) -> Case:
    def provoke(_: object) -> str:
        return "\n".join(map(str, faults_in(plan() if callable(plan) else plan)))

    return Case(f"check: {name}", provoke, words)


def _other(kind: str, plan: Plan = PLAN, **changes: object) -> Plan:
    """Return a plan beside which its own layouts stand again, the first of them changed."""
    first, *others = plan.papers[0].layouts
    layouts = (replace(first, **changes), *others)
    return with_paper(plan, alternatives=(Alternative(kind, layouts),))


def _deep() -> Plan:
    """Return a plan of five blanks, the last two parted by a cut of the fourth level.

    Squares stand for blanks: 2 x 8 | (6 x 2 over (2 x 6 | (4 x 2 over 4 x 4))).
    """

    def blank(width: Length, height: Length) -> Part:
        return Part(width, height, piece=0)

    fourth = Part(4, 6, "y", (blank(4, 2), blank(4, 4)))
    third = Part(6, 6, "x", (blank(2, 6), fourth))
    second = Part(6, 8, "y", (blank(6, 2), third))
    return plan_of(Part(8, 8, "x", (blank(2, 8), second)))


def _certified(plan: Plan, value: int, form: str, **row: object) -> Plan:
    rows = [row] if row else None
    bound = Bound("cost", value, "so", {"form": form, "rows": rows})
    return with_paper(plan, bound=bound, proved=False)


def _weighed(capacity: int, weight: int) -> Plan:
    return _certified(
        PLAN,
        3040,
        "weights 1",
        weights=dict.fromkeys(ORDERS, weight),
        capacity={"HP-IMP": capacity},
        cells=None,
    )


def _one_blank() -> Plan:
    return plan_of(Part(mm(10), mm(10), piece=0))


def _kept(edge: str, *, piece: int | None, at_sheet: bool) -> Plan:
    """Return a plan with a deckle kept at an edge of one piece, or else of its sheet."""
    plan = with_sheet(PLAN, deckles=(edge,)) if at_sheet else PLAN
    if piece is None:
        return with_sheet(PLAN, deckles=(edge,), keep=(edge,))
    pieces = list(JOB.pieces)
    pieces[piece] = replace(pieces[piece], deckles=(edge,))
    return with_job(plan, plan.job.sheets, tuple(pieces))


def _skewed(top: int, diagonal: int) -> Plan:
    measured = Measured(mm(560), mm(top), mm(760), mm(760), mm(diagonal))
    return with_sheet(PLAN, skew=Skew(measured, "foot"))


def _far_edge_first() -> Plan:
    plan = plan_of(Part(mm(60), mm(40), piece=0), edge_loss=even(5))
    left, foot, right, top = plan.papers[0].layouts[0].squaring
    return with_layout(plan, squaring=(right, left, foot, top))


def _said_to_fit_nothing() -> Plan:
    plan = with_job(PLAN, pieces=(*JOB.pieces, Piece("D09", "", PAPER, mm(744), mm(544))))
    return replace(plan, short=(Short(4, 1, "fits no sheet"),))


CASES = [
    *(_case(name, *spoiled) for name, spoiled in SPOILED.items()),
    *(_case(f"keeper {name}", *spoiled) for name, spoiled in SPOILED_KEEPERS.items()),
    # numbers and names that nothing can be worked out from
    _case("cost", with_paper(PLAN, cost=-1), f"{SMOOTH}: the cost is -1 cents"),
    _case(
        "bound",
        with_paper(PLAN, bound=Bound("cost", -1, "so")),
        f"{SMOOTH}: the bound is -1",
    ),
    _case(
        "bound's reason",
        with_paper(PLAN, bound=Bound("cost", 0, 5)),
        f"{SMOOTH}: the bound's reason is 5",
    ),
    _case(
        "measure",
        with_paper(PLAN, bound=Bound("tears", 0, "so")),
        f"{SMOOTH}: the bound counts 'tears', not sheets or cost",
    ),
    _case(
        "aim",
        with_paper(PLAN, aim="beauty"),
        f"{SMOOTH}: the aim 'beauty' is not one of least cost, fewest sheets",
    ),
    _case(
        "sheets used",
        with_paper(PLAN, sheets_used={"HP-IMP": -1}),
        f"{SMOOTH}: -1 sheets of HP-IMP are said to be used",
    ),
    _case("share", with_paper(PLAN, shares={0: -1}), f"{SMOOTH}: a paper share is -1 cents"),
    _case("twins", with_layout(PLAN, twins="two"), "sheet 1: its twins are numbered 'two'"),
    _case(
        "turned",
        with_one(PLAN, "placements", 0, turned="half"),
        "sheet 1: a blank is turned 'half'; yes or no is wanted",
    ),
    _case(
        "squaring's edge",
        with_one(PLAN, "squaring", 0, edge="middle"),
        "sheet 1: squaring 1 names the edge 'middle'",
    ),
    _case("cut's number", with_one(PLAN, "cuts", 0, number=0), "sheet 1: a cut is numbered 0"),
    # money, orders and edges
    _case(
        "shares of no price",
        with_sheet(with_paper(PLAN, cost=None), price=None),
        f"{SMOOTH}: paper shares are given, and not every sheet has a price",
    ),
    _case("alike", lambda: alike_plan(turned=True), "D01 Pair: its pieces are to lie alike; on "),
    _case(
        "fits no sheet",
        _said_to_fit_nothing,
        "D09: is said to fit no sheet; it fits Imperial",
    ),
    _case(
        "far edge first",
        _far_edge_first,
        "the left edge is squared after the right edge, which is measured from start edges",
    ),
    _case(
        "deckle of no sheet",
        lambda: _kept("left", piece=2, at_sheet=False),
        "D02 Four buoys at x 0, y 0 mm keeps a deckle at the left; the sheet has none there",
    ),
    _case(
        "deckle elsewhere",
        lambda: _kept("left", piece=0, at_sheet=True),
        "D01 Ketch on the slip at x 172, y 240 mm keeps a deckle at the left and does not lie there",
    ),
    _case(
        "deckle cut off",
        lambda: _kept("left", piece=2, at_sheet=True),
        "D02 Four buoys at x 0, y 0 mm keeps a deckle at the left, which is cut off",
    ),
    _case(
        "sheet's deckle cut off",
        lambda: _kept("left", piece=None, at_sheet=True),
        "sheet 1: the deckle at the left is kept, and it is cut off",
    ),
    _case(
        "no quadrilateral",
        lambda: _skewed(560, 100),
        "the sheet is out of square, and no sheet can measure as it is said to",
    ),
    _case(
        "too narrow at the top",
        lambda: _skewed(500, 914),
        "the usable area 544 x 744 mm does not fit into the sheet, which is out of square",
    ),
    # alternatives
    _case(
        "kind", lambda: _other("prettiest"), f'{SMOOTH}: an alternative is of the kind "prettiest"'
    ),
    _case(
        "kind twice",
        lambda: _other("quicker to cut"),
        f"{SMOOTH}: 2 plans for the paper are quicker to cut; each is of a kind of its own",
    ),
    _case(
        "more sheets",
        lambda: _other("better leftover", copies=2),
        f"{SMOOTH}, better leftover: it takes 3 full sheets; the plan takes 2",
    ),
    _case(
        "more cash",
        lambda: _other("better leftover", copies=2),
        f"{SMOOTH}, better leftover: it costs 45.60; the plan costs 30.40",
    ),
    _case(
        "fewer pieces",
        lambda: _other("better leftover", placements=PLAN.papers[0].layouts[0].placements[1:]),
        f"{SMOOTH}, better leftover: it gives 1 of D01; the plan gives 2",
    ),
    _case("four levels", lambda: _other("strips only", _deep()), "it has cuts of a fourth level"),
    _case(
        "three levels",
        lambda: _other("strips only", _deep()),
        "is parted from others by cuts of 4 levels",
    ),
    # the working of a bound
    _case(
        "no rows of weights",
        lambda: _certified(PLAN, 3040, "weights 1"),
        "the bound's certificate is not written as rows of weights in whole numbers",
    ),
    _case(
        "carries more",
        lambda: _weighed(1, 1),
        "HP-IMP can carry more than the bound's certificate says",
    ),
    _case(
        "weights of nothing",
        lambda: _weighed(0, 0),
        "sheets that cost less than the bound could satisfy its certificate",
    ),
    _case(
        "listed",
        lambda: _certified(
            _one_blank(), 101, "listing 1", weights={"D0": 1}, capacity={"one": 1}, cells=None
        ),
        "sheets that cost less than the bound can hold all blanks",
    ),
    Case(
        "check: bound worked out again",
        lambda _: "\n".join(map(str, bounds_again(_certified(_one_blank(), 100, "listing 1"))[0])),
        f"{SMOOTH}: the bound's certificate is not written as rows of weights in whole numbers",
    ),
]
