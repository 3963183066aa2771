"""What must hold of the plan of any job, tried on one job by chance for each seed."""

from __future__ import annotations

import json
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import combinations
from xml.etree import ElementTree

from sheetcut.cost import total_waste, waste_rows
from sheetcut.document import disagreements, plan_bytes, read_plan
from sheetcut.errors import SheetcutError
from sheetcut.handling import marks, mirrored
from sheetcut.job import Job, aim_for, reading_step
from sheetcut.layout import Layout, PaperPlan, Plan, Rectangle, pieces_in_hand
from sheetcut.nest.task import PriceMissing
from sheetcut.plan import make_plan
from sheetcut.printout import drawings, layout_titles, summary_lines
from sheetcut.printout.pages import KINDS, printed
from tests.campaign.chance import job_of
from tests.handling.test_marking import gives_all
from tests.laws.jobs import transposed

MADE = "2026-11-25T09:00:00+00:00"
ROUNDS = 20
SLOW_S = 20.0

Law = Callable[[Plan], Iterator[str]]


@dataclass(frozen=True, slots=True)
class Trial:
    """What one job showed.

    Attributes:
        broken: the laws that do not hold, a line each; a crash is one of them.
        proved: papers whose plan is proved, of how many.
    """

    seed: int
    seconds: float
    broken: tuple[str, ...]
    proved: int = 0
    papers: int = 0
    sheets: int = 0
    blanks: int = 0


def trial(seed: int) -> Trial:
    """Return what the job of a seed shows; the rarer laws are tried on every tenth or so."""
    began = time.process_time()
    plan, broken = tried(job_of(seed), seed)
    took = time.process_time() - began
    if took > SLOW_S:
        broken = (*broken, f"slow: {took:.1f} s")
    if plan is None:
        return Trial(seed, took, broken)
    layouts = plan.layouts
    return Trial(
        seed,
        took,
        broken,
        sum(paper.proved for paper in plan.papers),
        len(plan.papers),
        sum(layout.copies for layout in layouts),
        sum(layout.copies * len(layout.placements) for layout in layouts),
    )


def tried(job: Job, seed: int = 0, rounds: int = ROUNDS) -> tuple[Plan | None, tuple[str, ...]]:
    """Return a job's plan, or none where a price is missing, and the laws that it breaks."""
    try:
        plan = planned(job, rounds)
    except SheetcutError as refusal:
        return None, () if _is_right(job, refusal) else (traceback.format_exc(),)
    except Exception:
        return None, (traceback.format_exc(),)
    laws = [*LAWS, *(law for every, law in RARER if seed % every == 0)]
    broken: list[str] = []
    for law in laws:
        try:
            broken += [f"{law.__name__}: {found}" for found in law(plan)]
        except Exception:
            broken.append(f"{law.__name__}: {traceback.format_exc()}")
    return plan, tuple(broken)


def planned(job: Job, rounds: int = ROUNDS) -> Plan:
    """Return a plan that chance alone decides, never the clock; it has passed its check."""
    return make_plan(job, rounds=rounds, seconds=600, made=MADE)


def _is_right(job: Job, refusal: SheetcutError) -> bool:
    """Whether a job may be refused: a price it needs is missing, or the studio refuses a strip."""
    if isinstance(refusal, PriceMissing):
        return aim_for(job, refusal.paper) == "least cost" and any(
            sheet.price is None and sheet.kind == "full" and sheet.on_hand != 0
            for sheet in job.sheets_of(refusal.paper)
        )
    strips = job.rules.narrow_strips == "refused" and job.rules.narrowest_strip is not None
    return strips and "is refused; widen" in str(refusal)


def every_piece_is_placed_or_short(plan: Plan) -> Iterator[str]:
    """Yield the order lines whose pieces do not add up."""
    given: Counter[int] = Counter()
    for layout in plan.layouts:
        for place in layout.placements:
            given[place.piece] += layout.copies
    for short in plan.short:
        given[short.piece] += short.count
    for number, piece in enumerate(plan.job.pieces):
        if given[number] != piece.count:
            yield f"{piece.order}: {given[number]} of {piece.count}"


def short_only_where_something_is(plan: Plan) -> Iterator[str]:
    """Yield lines that are short of paper of which there is as much as wanted."""
    for short in plan.short:
        piece = plan.job.pieces[short.piece]
        if short.why == "fits no sheet" or piece.deckles:
            continue
        if any(
            sheet.on_hand is None and _holds(plan.job, sheet, piece)
            for sheet in plan.job.sheets_of(piece.paper)
        ):
            yield f"{piece.order} is short, and its paper is there without end"


def _holds(job: Job, sheet, piece) -> bool:
    step = reading_step(job, piece.paper)
    blank = sorted(-(-side // step) for side in (piece.asked_width, piece.asked_height))
    room = sorted(side // step for side in (sheet.usable_width, sheet.usable_height))
    free = piece.turn == "yes" or (piece.turn == "alike" and sheet.grain == "none")
    return free and blank[0] <= room[0] and blank[1] <= room[1]


def no_more_sheets_than_there_are(plan: Plan) -> Iterator[str]:
    """Yield the drawer's rows of which more is cut than lies there."""
    used: Counter[str] = Counter()
    for layout in plan.layouts:
        used[layout.sheet] += layout.copies
    for sheet in plan.job.sheets:
        if sheet.on_hand is not None and used[sheet.id] > sheet.on_hand:
            yield f"{sheet.id}: {used[sheet.id]} of {sheet.on_hand}"


def cuts_free_every_blank(plan: Plan) -> Iterator[str]:
    """Yield blanks that overlap, stick out, or are no piece on the table after the last cut."""
    for number, layout in enumerate(plan.layouts, 1):
        wide, high = layout.usable[2:]
        places = [(one.x, one.y, one.width, one.height) for one in layout.placements]
        for x, y, width, height in places:
            if x < 0 or y < 0 or x + width > wide or y + height > high:
                yield f"layout {number}: a blank sticks out"
        for one, other in combinations(places, 2) if len(places) < 60 else ():
            if _overlap(one, other):
                yield f"layout {number}: {one} and {other} overlap"
        if missing := set(places) - set(_table(layout)):
            yield f"layout {number}: no cut frees {missing}"


def _overlap(one: Rectangle, other: Rectangle) -> bool:
    return all(one[n] < other[n] + other[n + 2] and other[n] < one[n] + one[n + 2] for n in (0, 1))


def _table(layout: Layout) -> list[tuple[int, int, int, int]]:
    table = [(0, 0, layout.usable[2], layout.usable[3])]
    for cut, (x, y, width, height) in zip(layout.cuts, pieces_in_hand(layout), strict=True):
        table.remove((x, y, width, height))
        if cut.along == "x":
            table += [(x, y, cut.at - x, height), (cut.at, y, x + width - cut.at, height)]
        else:
            table += [(x, y, width, cut.at - y), (x, cut.at, width, y + height - cut.at)]
    return table


def readings_are_whole_steps(plan: Plan) -> Iterator[str]:
    """Yield the readings that fall between two marks of the ruler."""
    for paper in plan.papers:
        step = reading_step(plan.job, paper.paper)
        for layout in paper.layouts:
            for cut in layout.cuts:
                if cut.reading % step or cut.reading <= 0:
                    yield f"{paper.paper}: cut {cut.number} reads {cut.reading} ticks"


def areas_and_money_add_up(plan: Plan) -> Iterator[str]:
    """Yield the sums that do not come out."""
    for layout in plan.layouts:
        waste = layout.waste
        if waste.finished + waste.margins + waste.keepers + waste.scrap != (
            layout.width * layout.height
        ):
            yield f"{layout.sheet}: the areas do not add up to the sheet"
        if min(waste.finished, waste.margins, waste.keepers, waste.scrap, waste.edges) < 0:
            yield f"{layout.sheet}: an area is less than nothing"
    for paper in plan.papers:
        yield from _cash(plan, paper)
    whole = total_waste(plan.layouts)
    rows = waste_rows(plan, layout_titles(plan))
    if Decimal(rows[-1][8]) * 8000**2 != whole.scrap:
        yield "the table of waste has another sum"


def _cash(plan: Plan, paper: PaperPlan) -> Iterator[str]:
    full = [(plan.sheet(one.sheet), one.copies) for one in paper.layouts]
    prices = [(sheet.price, n) for sheet, n in full if sheet.kind == "full"]
    known = all(price is not None for price, _ in prices)
    cash = sum((price or 0) * n for price, n in prices) if known else None
    if paper.cost != cash:
        yield f"{paper.paper}: costs {paper.cost}, its sheets {cash}"
    if cash is not None and paper.layouts and sum(paper.shares.values()) != cash:
        yield f"{paper.paper}: shares of {sum(paper.shares.values())} in {cash}"


def no_plan_beats_its_bound(plan: Plan) -> Iterator[str]:
    """Yield the papers whose plan is better than can be, or proved and not at the bound."""
    for paper in plan.papers:
        value = paper.value(plan.job)
        if paper.bound.value > value or paper.proved != (value == paper.bound.value):
            yield f"{paper.paper}: {value} against {paper.bound}"


def reads_back_from_its_document(plan: Plan) -> Iterator[str]:
    """Yield what the document does not hold."""
    data = plan_bytes(plan)
    again = read_plan(data)
    if again != plan:
        yield "the plan read back is another"
    yield from map(str, disagreements(data, plan))
    if plan_bytes(again) != data:
        yield "the document written again is another"
    if json.loads(data)["code"] != plan.code:
        yield "the document has another code"


def can_be_told(plan: Plan) -> Iterator[str]:
    """Yield where the words about a plan fail."""
    lines = list(summary_lines(plan))
    if any("None" in line or "Fraction" in line for line in (*lines, str(plan))):
        yield f"not for people: {lines}"


def can_be_drawn(plan: Plan) -> Iterator[str]:
    """Yield drawings that are no XML, and a PDF that is none."""
    for name, text in drawings(plan).items():
        ElementTree.fromstring(text)
        if "nan" in text.lower().split('"'):
            yield f"{name}: not a number"
    pdf = printed(plan, kinds=KINDS)
    if not pdf.data.startswith(b"%PDF"):
        yield "no PDF"


def marks_give_every_cut(plan: Plan) -> Iterator[str]:
    """Yield layouts whose marks, made before the first cut, leave one out."""
    for paper in plan.papers:
        step = reading_step(plan.job, paper.paper)
        for layout in paper.layouts:
            table = marks(layout, step=step)
            if any(mark.why_not for mark in table) or not gives_all(layout, table):
                yield f"{layout.sheet}: marks leave cuts out"
            if not gives_all(mirrored(layout), table):
                yield f"{layout.sheet}: marks leave cuts out from the back"


def is_the_same_again(plan: Plan) -> Iterator[str]:
    """Yield a word if the same job gives another plan."""
    if planned(plan.job, plan.rounds or ROUNDS).code != plan.code:
        yield "another plan the second time"


def is_as_good_on_its_side(plan: Plan) -> Iterator[str]:
    """Yield the papers whose bound is beaten by the plan of the same job lying on its side."""
    if plan.short or any(sheet.deckles for sheet in plan.job.sheets):
        return
    other = planned(transposed(plan.job))
    if other.short:
        return
    for one, two in zip(plan.papers, other.papers, strict=True):
        if one.bound.value > two.value(other.job) or two.bound.value > one.value(plan.job):
            yield f"{one.paper}: {one.bound} and {two.bound}, {one.value(plan.job)}"


LAWS: tuple[Law, ...] = (
    every_piece_is_placed_or_short,
    short_only_where_something_is,
    no_more_sheets_than_there_are,
    cuts_free_every_blank,
    readings_are_whole_steps,
    areas_and_money_add_up,
    no_plan_beats_its_bound,
    reads_back_from_its_document,
    can_be_told,
)
RARER: tuple[tuple[int, Law], ...] = (
    (8, marks_give_every_cut),
    (16, is_the_same_again),
    (16, is_as_good_on_its_side),
    (64, can_be_drawn),
)
"""Laws that cost more, each tried where the seed divides by its number."""
