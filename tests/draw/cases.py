"""Plans made by hand for the drawing: the studio's week and awkward ones.

Cuts and places are those of the invented studio's worked answer (origin at the start corner of the
squared sheet); the replay below only adds what follows from them: readings, edges, leftovers.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace

from sheetcut.job import Edge, Grain, Job, Pack, Paper, Piece, Rules, Sheet, SheetKind
from sheetcut.layout import (
    Axis,
    Bound,
    Cut,
    Keeper,
    Layout,
    PaperPlan,
    Placement,
    Plan,
    Squaring,
    Waste,
)
from sheetcut.units import Edges, Length, inch, mm

SLATEHOUSE, MARRAM, GULLWING = "Slatehouse Smooth", "Marram Rag", "Gullwing Laid"
PAPERS = (Paper(SLATEHOUSE, 640, 4), Paper(MARRAM, 310, 2), Paper(GULLWING, 160, 1))
RULES = Rules(narrowest_strip=mm(10), mat=(mm(600), mm(450)), ruler=mm(1000))
ALL_EDGES: tuple[Edge, ...] = ("left", "right", "top", "foot")
Rect = tuple[Length, Length, Length, Length]


def sheet(
    name: str,
    paper: str,
    width: float,
    height: float,
    *,
    loss: float = 0,
    deckled: bool = False,
    grain: Grain = "along height",
    price: int | None = None,
    kind: SheetKind = "full",
) -> Sheet:
    """Return a drawer row in millimetres, the same loss on every edge."""
    edges = Edges(*(mm(loss),) * 4)
    return Sheet(
        name,
        paper,
        mm(width),
        mm(height),
        price=price,
        edge_loss=edges,
        deckles=ALL_EDGES if deckled else (),
        grain=grain,
        kind=kind,
    )


IMPERIAL = replace(
    sheet("HP-IMP", SLATEHOUSE, 560, 760, loss=8, deckled=True, price=1520),
    name="Imperial",
    packs=(Pack(5, 7600),),
)
DOUBLE_ELEPHANT = replace(
    sheet("HP-DE", SLATEHOUSE, 686, 1016, loss=8, deckled=True, price=2980),
    name="Double elephant",
)
HERON = sheet("heron 7", SLATEHOUSE, 268, 540, price=517, kind="offcut")
RAG_L = replace(sheet("RAG-L", MARRAM, 610, 914, price=1140), side="one")
CERT = replace(
    sheet("CERT", GULLWING, 320, 450, price=48),
    edge_loss=Edges(mm(5), mm(5), mm(17), mm(5)),
    name="SRA3",
)


def drawing(order: str, label: str, width: float, height: float, margin: float = 15) -> Piece:
    """Return an order line for a drawing with one margin all round."""
    return Piece(order, label, SLATEHOUSE, mm(width), mm(height), margin=Edges(*(mm(margin),) * 4))


def printed(order: str, label: str, width: float, height: float, border: Edges) -> Piece:
    """Return an order line for a print: image and borders make its finished size."""
    return Piece(
        order,
        label,
        MARRAM,
        mm(width) + border.across,
        mm(height) + border.up,
        border=border,
        kind="print",
    )


@dataclass(frozen=True)
class Case:
    """All that ``pin_up`` is given."""

    plan: Plan
    paper: PaperPlan
    layout: Layout
    title: str
    sheet_numbers: str = ""
    twins: tuple[Layout, ...] = ()


Lying = tuple[int, float, float, bool]
Line = tuple[Axis, float, float, float, int]


def layout_of(
    on: Sheet,
    pieces: tuple[Piece, ...],
    lying: list[Lying],
    lines: list[Line],
    *,
    keepers: list[tuple[float, float, float, float, str]] = (),  # type: ignore[assignment]
    copies: int = 1,
    unit=mm,
    far: tuple[Edge, ...] = (),
) -> Layout:
    """Return a layout from places and cut lines in the unit given."""
    usable = (on.edge_loss.left, on.edge_loss.foot, on.usable_width, on.usable_height)
    placements = tuple(
        _placement(n, pieces[n], unit(x), unit(y), turned) for n, x, y, turned in lying
    )
    squaring = []
    for edge in ("left", "foot", *far):
        loss = getattr(on.edge_loss, edge)
        if loss:
            full = {"right": on.usable_width, "top": on.usable_height}
            squaring.append(Squaring(len(squaring) + 1, edge, full.get(edge, loss)))  # type: ignore[arg-type]
    table: list[Rect] = [(0, 0, usable[2], usable[3])]
    made: list[Cut] = []
    settings: dict[tuple[str, int, int, str], int] = {}
    for along, at, start, stop, level in lines:
        made.append(
            _cut(
                len(squaring) + len(made) + 1,
                along,
                (unit(at), unit(start), unit(stop)),
                level,
                made,
                table,
                settings,
            )
        )
    blanks = {(p.x, p.y, p.width, p.height) for p in placements}
    assert blanks <= set(table), blanks - set(table)
    kept = tuple(
        Keeper((name,) * copies, unit(x), unit(y), unit(w), unit(h)) for x, y, w, h, name in keepers
    )
    leftovers = tuple(rect for rect in table if rect not in blanks)
    finished = sum(pieces[p.piece].width * pieces[p.piece].height for p in placements)
    blank_area = sum(p.width * p.height for p in placements)
    keeper_area = sum(k.width * k.height for k in kept)
    waste = Waste(
        finished,
        blank_area - finished,
        keeper_area,
        on.area - blank_area - keeper_area,
        on.area - usable[2] * usable[3],
        0,
    )
    return Layout(
        on.id,
        copies,
        0,
        ("left", "foot"),
        on.width,
        on.height,
        usable,
        tuple(squaring),
        placements,
        tuple(made),
        kept,
        leftovers,
        waste,
    )


def _placement(n: int, piece: Piece, x: Length, y: Length, turned: bool) -> Placement:
    width, height = piece.asked_width, piece.asked_height
    if turned:
        width, height = height, width
    return Placement(n, x, y, width, height, turned)


def _cut(number, along, spot, level, made, table, settings) -> Cut:
    at, start, stop = spot
    for n, (x, y, w, h) in enumerate(table):  # noqa: B007
        if along == "x" and (start, stop) == (y, y + h) and x < at < x + w:
            near, parts = x, [(x, y, at - x, h), (at, y, x + w - at, h)]
            break
        if along == "y" and (start, stop) == (x, x + w) and y < at < y + h:
            near, parts = y, [(x, y, w, at - y), (x, at, w, y + h - at)]
            break
    else:
        raise AssertionError(f"no piece for {along} {at / 8000} {start / 8000} {stop / 8000}")
    table[n : n + 1] = parts
    edge = "start"
    if near:
        edge = next(
            c.number
            for c in made
            if c.along == along and c.at == near and c.start <= start and stop <= c.stop
        )
    setting = settings.setdefault((along, at, level, str(edge)), len(settings) + 1)
    return Cut(number, along, at, start, stop, level, setting, edge, at - near)


def plan_of(on: Sheet, pieces: tuple[Piece, ...], *layouts: Layout, rules: Rules = RULES) -> Plan:
    """Return the least plan that a drawing needs."""
    job = Job((on,), pieces, rules, PAPERS, "Tern Point Drawing Room", "£")
    full = on.kind == "full"
    paper = PaperPlan(
        on.paper,
        "least cost",
        {on.id: sum(one.copies for one in layouts)},
        on.price if full else 0,
        Bound("sheets", 1, "area"),
        tuple(layouts),
        {},
    )
    return Plan(job, (paper,), (), 0, 0, False, "0", code="26-48 A")


def case(
    on: Sheet,
    pieces: tuple[Piece, ...],
    layout: Layout,
    title: str,
    numbers: str = "",
    twins: tuple[Layout, ...] = (),
    rules: Rules = RULES,
) -> Case:
    """Return a layout with the plan around it."""
    plan = plan_of(on, pieces, layout, *twins, rules=rules)
    return Case(plan, plan.papers[0], layout, title, numbers, twins)


DRAWINGS = (
    drawing("D01", "Ketch on the slip", 297, 420),
    drawing("D02", "Four buoys, set", 148, 210, 12),
    drawing("D03", "Tender, stern view", 210, 297),
    drawing("D04", "Lighthouse plan", 300, 300),
    drawing("D05", "Two sail plans", 210, 297),
    drawing("D06", "Harbour at low water", 297, 420),
    drawing("D07", "Sea wall, panorama", 200, 500),
    drawing("D08", "Three knots, set", 148, 210, 12),
    drawing("D09", "Winch, detail", 210, 297),
    drawing("D10", "Chart of the narrows", 550, 780),
    drawing("D11", "Dinghy pair", 148, 210, 12),
)

TWIN_LINES: list[Line] = [
    ("x", 499, 0, 744, 1), ("x", 172, 0, 744, 1),
    ("y", 690, 172, 499, 2), ("y", 240, 172, 499, 2),
    ("y", 702, 0, 172, 2), ("y", 468, 0, 172, 2), ("y", 234, 0, 172, 2),
]  # fmt: skip


def imperial_twins() -> Case:
    """Return Imperial 1 and 2: the same cuts, other names."""

    def lying(small: tuple[int, int, int], middle: int, large: int) -> list[Lying]:
        return [
            (small[0], 0, 0, False), (small[1], 0, 234, False), (small[2], 0, 468, False),
            (middle, 172, 0, True), (large, 172, 240, False),
        ]  # fmt: skip

    one = layout_of(IMPERIAL, DRAWINGS, lying((1, 1, 7), 2, 0), TWIN_LINES)
    two = layout_of(IMPERIAL, DRAWINGS, lying((1, 1, 7), 8, 5), TWIN_LINES)
    return case(
        IMPERIAL,
        DRAWINGS,
        one,
        "Imperial, sheets 1 and 2: cut two alike",
        "sheets 1, 2 of 3",
        (two,),
    )


def imperial_three() -> Case:
    lying: list[Lying] = [
        (4, 0, 0, False), (4, 240, 0, False), (7, 0, 327, False), (3, 172, 327, False),
    ]  # fmt: skip
    lines: list[Line] = [
        ("y", 327, 0, 544, 1),
        ("x", 480, 0, 327, 2), ("x", 240, 0, 327, 2),
        ("x", 502, 327, 744, 2), ("x", 172, 327, 744, 2),
        ("y", 657, 172, 502, 3), ("y", 561, 0, 172, 3),
    ]  # fmt: skip
    layout = layout_of(IMPERIAL, DRAWINGS, lying, lines)
    return case(IMPERIAL, DRAWINGS, layout, "Imperial, sheet 3", "sheet 3 of 3")


def double_elephant() -> Case:
    lying: list[Lying] = [(10, 0, 0, True), (10, 234, 0, True), (9, 0, 172, False)]
    lines: list[Line] = [
        ("y", 982, 0, 670, 1), ("y", 172, 0, 670, 1),
        ("x", 468, 0, 172, 2), ("x", 234, 0, 172, 2),
        ("x", 580, 172, 982, 2),
    ]  # fmt: skip
    layout = layout_of(
        DOUBLE_ELEPHANT, DRAWINGS, lying, lines, keepers=[(468, 0, 202, 172, "gannet 1")]
    )
    return case(DOUBLE_ELEPHANT, DRAWINGS, layout, "Double elephant, sheet 1", "sheet 1 of 1")


def heron() -> Case:
    layout = layout_of(
        HERON, DRAWINGS, [(6, 0, 0, False)], [("x", 230, 0, 540, 1), ("y", 530, 0, 230, 2)]
    )
    return case(HERON, DRAWINGS, layout, "Offcut heron 7")


PRINTS = (
    printed("P01", "Slack Water, 2 of 40", 300, 400, Edges(mm(30), mm(30), mm(30), mm(40))),
    printed("P02", "Knot Board, 4 of 60", 150, 200, Edges(mm(25), mm(25), mm(25), mm(35))),
    printed("P03", "Beacon, 3 of 75", 200, 250, Edges(mm(25), mm(25), mm(25), mm(35))),
    printed("P04", "Rope Walk, 3 of 30", 160, 400, Edges(mm(25), mm(25), mm(25), mm(35))),
)


def rag_twins() -> Case:
    lying: list[Lying] = [
        (1, 0, 0, False), (2, 0, 260, False), (2, 0, 570, False),
        (1, 250, 0, True), (1, 250, 200, True), (0, 250, 400, False),
    ]  # fmt: skip
    lines: list[Line] = [
        ("x", 250, 0, 914, 1),
        ("y", 880, 0, 250, 2), ("y", 570, 0, 250, 2), ("y", 260, 0, 250, 2), ("x", 200, 0, 260, 3),
        ("y", 870, 250, 610, 2), ("y", 400, 250, 610, 2), ("y", 200, 250, 610, 2),
        ("x", 510, 0, 200, 3), ("x", 510, 200, 400, 3),
    ]  # fmt: skip
    layout = layout_of(RAG_L, PRINTS, lying, lines, copies=2)
    return case(RAG_L, PRINTS, layout, "RAG-L, sheets 1 and 2: cut two alike", "sheets 1, 2 of 4")


def rag_three() -> Case:
    lying: list[Lying] = [
        (3, 0, 0, True), (2, 0, 210, False), (2, 0, 520, False),
        (1, 250, 210, True), (0, 250, 410, False),
    ]  # fmt: skip
    lines: list[Line] = [
        ("y", 880, 0, 610, 1), ("y", 210, 0, 610, 1),
        ("x", 460, 0, 210, 2),
        ("x", 250, 210, 880, 2),
        ("y", 830, 0, 250, 3), ("y", 520, 0, 250, 3),
        ("y", 410, 250, 610, 3), ("x", 510, 210, 410, 4),
    ]  # fmt: skip
    layout = layout_of(RAG_L, PRINTS, lying, lines)
    return case(RAG_L, PRINTS, layout, "RAG-L, sheet 3", "sheet 3 of 4")


CARDS = (
    Piece("C01", "Slack Water certificate", GULLWING, mm(105), mm(148), kind="card", count=3),
    Piece("C02", "Beacon certificate", GULLWING, mm(105), mm(148), kind="card", count=6),
)


def certificates() -> Case:
    lying: list[Lying] = [
        (k % 2, 148 * column, 105 * row, True)
        for column in (0, 1)
        for row in range(4)
        for k in (row,)
    ]
    lines: list[Line] = [("x", 296, 0, 428, 1), ("x", 148, 0, 428, 1)]
    for row in (4, 3, 2, 1):
        lines += [("y", 105 * row, 148, 296, 2), ("y", 105 * row, 0, 148, 2)]
    layout = layout_of(CERT, CARDS, lying, lines, copies=2)
    return case(CERT, CARDS, layout, "SRA3, sheets 1 and 2: cut two alike", "sheets 1, 2 of 3")


def forty_small() -> Case:
    """Return forty cards 60 x 80 on an Imperial sheet: eight across, five up."""
    pieces = (
        Piece(
            "K01", "Tide card", SLATEHOUSE, mm(50), mm(70), margin=Edges(*(mm(5),) * 4), count=30
        ),
        Piece(
            "K02", "Star card", SLATEHOUSE, mm(50), mm(70), margin=Edges(*(mm(5),) * 4), count=10
        ),
    )
    lying: list[Lying] = [
        ((column + row) % 4 == 0, 60 * column, 80 * row, False)
        for row in range(5)
        for column in range(8)
    ]
    lying = [(int(n), x, y, t) for n, x, y, t in lying]
    lines: list[Line] = [("y", 80 * row, 0, 544, 1) for row in (5, 4, 3, 2, 1)]
    for row in range(5):
        lines += [("x", 60 * column, 80 * row, 80 * row + 80, 2) for column in range(8, 0, -1)]
    layout = layout_of(IMPERIAL, pieces, lying, lines, keepers=[(0, 400, 544, 344, "curlew 2")])
    return case(IMPERIAL, pieces, layout, "Imperial, sheet 1: forty cards", "sheet 1 of 1")


def ninety_blanks() -> Case:
    """Return ninety cards 50 x 70 on an Imperial sheet, ten across and nine up: 99 cuts."""
    margin = Edges(*(mm(5),) * 4)
    pieces = (Piece("K01", "Tide card", SLATEHOUSE, mm(40), mm(60), margin=margin, count=90),)
    lying: list[Lying] = [
        (0, 50 * column, 70 * row, False) for row in range(9) for column in range(10)
    ]
    lines: list[Line] = [("y", 70 * row, 0, 544, 1) for row in range(9, 0, -1)]
    for row in range(9):
        lines += [("x", 50 * column, 70 * row, 70 * row + 70, 2) for column in range(10, 0, -1)]
    layout = layout_of(IMPERIAL, pieces, lying, lines)
    return case(IMPERIAL, pieces, layout, "Imperial, sheet 1", "sheet 1 of 1")


def one_huge() -> Case:
    pieces = (drawing("D10", "Chart of the narrows", 510, 700),)
    layout = layout_of(
        IMPERIAL, pieces, [(0, 0, 0, False)], [("y", 730, 0, 544, 1), ("x", 540, 0, 730, 2)]
    )
    return case(IMPERIAL, pieces, layout, "Imperial, sheet 1", "sheet 1 of 1")


def no_cuts() -> Case:
    on = sheet("plain", SLATEHOUSE, 420, 594, price=510)
    pieces = (drawing("D20", "Whole sheet", 420, 594, 0),)
    layout = layout_of(on, pieces, [(0, 0, 0, False)], [])
    return case(on, pieces, layout, "A2, sheet 1", "sheet 1 of 1")


def inches() -> Case:
    """Return 22 1/8 x 30 in paper with blanks in sixteenths."""
    on = Sheet(
        "US-FULL",
        SLATEHOUSE,
        inch("22 1/8"),
        inch(30),
        price=940,
        grain="along height",
        unit="in",
        name="Full sheet",
    )
    margin = Edges(*(inch("1/2"),) * 4)
    pieces = (
        Piece("E1", "Salt marsh", SLATEHOUSE, inch(11), inch(14), margin=margin, unit="in"),
        Piece("E2", "Boat shed", SLATEHOUSE, inch("8 1/16"), inch(10), margin=margin, unit="in"),
        Piece("E3", "Buoy", SLATEHOUSE, inch("5 5/8"), inch("7 3/16"), margin=margin, unit="in"),
    )
    lying: list[Lying] = [
        (0, 0, 0, False),
        (1, 12, 0, False),
        (0, 0, 15, False),
        (2, 12, 15, False),
        (2, 12, 23.1875, False),
    ]
    lines: list[Line] = [
        ("x", 21.0625, 0, 30, 1), ("x", 12, 0, 30, 1),
        ("y", 15, 0, 12, 2), ("y", 15, 12, 21.0625, 2), ("y", 11, 12, 21.0625, 3),
    ]  # fmt: skip
    lying = [(0, 0, 0, False), (1, 12, 0, False), (0, 0, 15, False), (2, 12, 15, False)]
    lines += [("y", 23.1875, 12, 21.0625, 3), ("x", 18.625, 15, 23.1875, 4)]
    layout = layout_of(
        on, pieces, lying, lines, unit=inch, keepers=[(12, 23.1875, 9.0625, 6.8125, "heron 9")]
    )
    rules = Rules(narrowest_strip=inch("1/2"), mat=(inch(24), inch(18)), ruler=inch(24))
    return case(on, pieces, layout, "Full sheet, sheet 1", "sheet 1 of 1", rules=rules)


HOSTILE = (
    "The long and winding title of a drawing that nobody could ever fit on its blank, second state",
    'Rope & <Tackle> "knots" \x00\x07\x1b',
    "סירה על המזח",
    "قارب على الرصيف",
    "🦆🦆 ducks 🦆",
    "漁船と灯台の図",
    "line\nbreak\tand\u202e override",
)


def hostile_labels() -> Case:
    base = imperial_twins()
    labels = iter(HOSTILE * 2)
    pieces = tuple(replace(piece, label=next(labels)) for piece in DRAWINGS)
    lying: list[Lying] = [
        (1, 0, 0, False), (7, 0, 234, False), (10, 0, 468, False),
        (2, 172, 0, True), (0, 172, 240, False),
    ]  # fmt: skip
    layout = layout_of(IMPERIAL, pieces, lying, TWIN_LINES)
    return case(
        IMPERIAL,
        pieces,
        layout,
        "A <title> & more than any heading could ever hold in a single line " * 2,
        base.sheet_numbers,
    )


def landscape() -> Case:
    """Return an Imperial sheet lying wide."""
    on = replace(
        sheet(
            "HP-IMP", SLATEHOUSE, 760, 560, loss=8, deckled=True, price=1520, grain="along width"
        ),
        name="Imperial, lying",
    )
    lying: list[Lying] = [
        (1, 0, 0, True), (1, 234, 0, True), (7, 468, 0, True),
        (2, 0, 172, False), (0, 240, 172, True),
    ]  # fmt: skip
    lines: list[Line] = [
        ("y", 499, 0, 744, 1), ("y", 172, 0, 744, 1),
        ("x", 702, 0, 172, 2), ("x", 468, 0, 172, 2), ("x", 234, 0, 172, 2),
        ("x", 690, 172, 499, 2), ("x", 240, 172, 499, 2),
    ]  # fmt: skip
    layout = layout_of(on, DRAWINGS, lying, lines)
    return case(on, DRAWINGS, layout, "Imperial lying, sheet 1", "sheet 1 of 1")


CASES = {
    "imperial-twins": imperial_twins,
    "imperial-3": imperial_three,
    "double-elephant": double_elephant,
    "heron-7": heron,
    "rag-l-1-2": rag_twins,
    "rag-l-3": rag_three,
    "certificates": certificates,
    "forty-small": forty_small,
    "one-huge": one_huge,
    "no-cuts": no_cuts,
    "inches": inches,
    "hostile-labels": hostile_labels,
    "landscape": landscape,
}


WORDS = (
    "Skerry",
    "Lamp room, north",
    "A very long name for a very small drawing of a boat",
    "Tern",
    "",
)


def random_case(seed: int, least: int | None = None) -> Case:
    """Return a sheet cut at random into blanks, keepers and scrap, edge to edge."""
    chance = random.Random(seed)
    width, height = chance.randrange(200, 1100), chance.randrange(200, 1100)
    on = sheet(
        "RND",
        SLATEHOUSE,
        width,
        height,
        loss=chance.choice((0, 0, 3, 8)),
        deckled=chance.random() < 0.5,
        grain=chance.choice(("along width", "along height", "none")),
        price=chance.choice((None, 1, 1520)),
    )
    rects = [(0, 0, on.usable_width // mm(1), on.usable_height // mm(1), 0)]
    lines: list[Line] = []
    least = least or chance.choice((25, 60, 120))
    for _ in range(chance.randrange(1, 40)):
        n = chance.randrange(len(rects))
        x, y, w, h, level = rects[n]
        if chance.random() < w / (w + h):
            if w < 2 * least:
                continue
            at = x + chance.randrange(least, w - least + 1)
            parts = [(x, y, at - x, h, level + 1), (at, y, x + w - at, h, level + 1)]
            lines.append(("x", at, y, y + h, level + 1))
        else:
            if h < 2 * least:
                continue
            at = y + chance.randrange(least, h - least + 1)
            parts = [(x, y, w, at - y, level + 1), (x, at, w, y + h - at, level + 1)]
            lines.append(("y", at, x, x + w, level + 1))
        rects[n : n + 1] = parts
    pieces, lying, keepers = [], [], []
    for n, (x, y, w, h, _) in enumerate(rects):
        use = chance.random()
        if n and use < 0.2:
            continue
        if n and use < 0.35:
            keepers.append((x, y, w, h, f"plover {n}"))
            continue
        margin = chance.choice((0, 5, 15)) if min(w, h) > 40 else 0
        turned = chance.random() < 0.3
        sides = (w - 2 * margin, h - 2 * margin)
        wide, high = reversed(sides) if turned else sides
        pieces.append(drawing(f"R{n}", chance.choice(WORDS), wide, high, margin))
        lying.append((len(pieces) - 1, x, y, turned))
    layout = layout_of(on, tuple(pieces), lying, lines, keepers=keepers)
    return case(on, tuple(pieces), layout, f"Random sheet {seed}", f"sheet {seed} of 99")
