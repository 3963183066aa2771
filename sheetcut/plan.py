"""The whole way in one function: a job becomes a plan that has passed its check."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from itertools import repeat
from typing import Literal

from sheetcut import document
from sheetcut.check import faults_in
from sheetcut.cost import shares, waste_of
from sheetcut.cuts import (
    Figures,
    Ordered,
    Settled,
    arrange,
    cut_order,
    settled,
    with_leave_ons,
    without_needless_levels,
)
from sheetcut.deckled import keeping_deckles
from sheetcut.errors import FaultsFound, SheetcutError
from sheetcut.handling import narrow_cuts
from sheetcut.job import Job, Sheet
from sheetcut.layout import Answer, Candidate, Keeper, Layout, PaperPlan, Plan
from sheetcut.nest import Stop, lay_out
from sheetcut.tags import new_tags
from sheetcut.units import Cents, Length, in_mm
from sheetcut.version import VERSION

Tell = Callable[[str], None]
Corner = tuple[Literal["left", "right"], Literal["foot", "top"]]

CODE_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"  # without I, O, 0 and 1, which look alike
CODE_LENGTH = 4


class NarrowStripsRefused(SheetcutError):
    """Every plan found cuts off a strip that the studio's settings refuse."""

    def __init__(self, paper: str, sheet: str, narrowest: Length, strips: Sequence[Length]) -> None:
        self.paper = paper
        self.strips = tuple(strips)
        widths = ", ".join(f"{in_mm(width):f}" for width in strips)
        super().__init__(
            f"{paper}, {sheet}: strips of {widths} mm would be cut, and less than "
            f"{in_mm(narrowest):f} mm is refused; widen a border, or set narrow-strips to allowed"
        )


def make_plan(
    job: Job,
    *,
    seconds: float = 5,
    seed: int = 0,
    rounds: int | Mapping[str, int] | None = None,
    executor: Executor | None = None,
    made: str = "",
    input_hash: str = "",
    stop: Stop | None = None,
    tell: Tell | None = None,
) -> Plan:
    """Return a plan for a job: laid out, cut, accounted for and checked.

    The same job, seed and rounds give the same plan on every machine; ``seconds`` only ends
    the search early, and the plan then records the rounds it came to.

    Args:
        rounds: of search, the same for every paper or by the paper's name; None for as many
            as seem worth while.
        executor: lays the papers out as independent tasks; None does so one after the other.
        made: when, as text for the plan; the clock is the caller's.
        input_hash: of the files the job came from; worked out from the job where empty.
        stop: ends the search when its ``finish`` is called from elsewhere.
        tell: is given a few words at a time about what is being tried.

    Raises:
        FaultsFound: if the plan fails its own check; that is a mistake of ours.
    """
    stop = stop or Stop(seconds)
    papers = job.papers_ordered
    limits = {paper: _rounds_for(paper, rounds) for paper in papers}
    if executor is not None and len(papers) > 1:
        tasks = [
            executor.submit(_answer, job, paper, seed, limits[paper], seconds) for paper in papers
        ]
        answers = [task.result() for task in tasks]
    else:
        answers = [
            lay_out(
                job,
                paper,
                seed=seed,
                rounds=limits[paper],
                stop=stop.share(of=len(papers) - done),
                tell=_prefixed(tell, paper),
            )
            for done, paper in enumerate(papers)
        ]
    return plan_from(job, answers, seed=seed, made=made, input_hash=input_hash)


def _answer(job: Job, paper: str, seed: int, rounds: int | None, seconds: float) -> Answer:
    return lay_out(job, paper, seed=seed, rounds=rounds, stop=Stop(seconds))


def _rounds_for(paper: str, rounds: int | Mapping[str, int] | None) -> int | None:
    return rounds.get(paper) if isinstance(rounds, Mapping) else rounds


def _prefixed(tell: Tell | None, paper: str) -> Tell | None:
    return (lambda words: tell(f"{paper}: {words}")) if tell else None


def plan_from(
    job: Job,
    answers: Sequence[Answer],
    *,
    seed: int = 0,
    made: str = "",
    input_hash: str = "",
) -> Plan:
    """Return the plan that answers make, one for each paper: cut, accounted for and checked.

    Raises:
        FaultsFound: if the plan fails its check.
    """
    answers = [keeping_deckles(job, answer, seed=seed) for answer in answers]
    tags = new_tags([sheet.id for sheet in job.sheets])
    plan = Plan(
        job=job,
        papers=tuple(_paper_plan(job, answer, tags) for answer in answers),
        short=tuple(short for answer in answers for short in answer.short),
        seed=seed,
        rounds=max((answer.rounds for answer in answers), default=0),
        stopped=any(answer.stopped for answer in answers),
        version=VERSION,
        input_hash=input_hash,
    )
    plan = replace(
        plan,
        made=made,
        code=_code(plan),
        input_hash=input_hash or hashlib.sha256(document.job_bytes(job)).hexdigest(),
    )
    faults = faults_in(plan)
    if faults:
        raise FaultsFound(faults)
    return plan


def _code(plan: Plan) -> str:
    """Return a few letters and figures that name the answer, whenever it was made."""
    number = int.from_bytes(hashlib.sha256(document.plan_bytes(plan)).digest()[:8], "big")
    letters = []
    for _ in range(CODE_LENGTH):
        number, letter = divmod(number, len(CODE_LETTERS))
        letters.append(CODE_LETTERS[letter])
    return "".join(letters)


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A sheet of a candidate with its cuts in order, from a start corner."""

    sheet: Sheet
    ordered: Ordered
    start: Corner

    @property
    def pattern(self) -> tuple[object, ...]:
        """What is alike for twins: sheet, cuts and where the blanks lie."""
        places = tuple((p.x, p.y, p.width, p.height) for p in self.ordered.placements)
        squaring = self.ordered.squaring
        return (self.sheet.id, self.start, squaring, self.ordered.cuts, places)


def _paper_plan(job: Job, answer: Answer, tags: Iterator[str]) -> PaperPlan:
    drawn = _handiest(job, [_drawn(job, candidate) for candidate in answer.candidates])
    layouts = _layouts(job, drawn, tags)
    used = Counter(one.sheet.id for one in drawn)
    cost = _cash(job, used)
    plan = PaperPlan(
        paper=answer.paper,
        aim=answer.aim,
        sheets_used={sheet.id: used[sheet.id] for sheet in job.sheets if used[sheet.id]},
        cost=cost,
        bound=answer.bound,
        layouts=layouts,
        shares={} if cost is None else shares(cost, _areas(job, layouts)),
        rounds=answer.rounds,
        stopped=answer.stopped,
        notes=answer.notes,
    )
    return replace(plan, proved=plan.value(job) == plan.bound.value)


def _drawn(job: Job, candidate: Candidate) -> list[_Drawn]:
    sheets = {sheet.id: sheet for sheet in job.sheets}
    mat = max(job.rules.mat) if job.rules.mat else None
    arranged = [(sheets[name], arrange(tree, mat=mat)) for name, tree in candidate.trees]
    # The way blanks are parted may have changed, and with it what can reach an edge.
    as_found = [(sheets[name], without_needless_levels(tree)) for name, tree in candidate.trees]
    trees = settled(arranged, job) or settled(as_found, job)
    if trees is None:
        raise AssertionError("a candidate without room for its deckles came this far")
    return [
        _Drawn(sheet, _cut(one, sheet, job), one.start)
        for (sheet, _), one in zip(arranged, trees, strict=True)
    ]


def _cut(one: Settled, sheet: Sheet, job: Job) -> Ordered:
    if one.is_tied:
        return cut_order(one.tree, sheet, job, start=one.start, is_tied=True)
    tree = with_leave_ons(one.tree, sheet, job, start=one.start)
    return cut_order(tree, sheet, job, start=one.start)


def _handiest(job: Job, ways: Sequence[list[_Drawn]]) -> list[_Drawn]:
    """Return the plan that is quickest to cut, of those without a strip that is refused.

    Raises:
        NarrowStripsRefused: if each of them has one.
    """
    if job.rules.narrow_strips == "allowed":
        return min(ways, key=_handiness)
    fine = [way for way in ways if not any(_narrow(job, one) for one in way)]
    if fine:
        return min(fine, key=_handiness)
    worst = next(one for one in ways[0] if _narrow(job, one))
    narrowest = job.rules.narrowest_strip or 0
    raise NarrowStripsRefused(worst.sheet.paper, worst.sheet.title, narrowest, _narrow(job, worst))


def _narrow(job: Job, one: _Drawn) -> list[Length]:
    layout = _layout(job, one, 1, 1, repeat("tag"))
    return [width for _, width in narrow_cuts(job, layout)]


def _handiness(drawn: Sequence[_Drawn]) -> tuple[int, ...]:
    """Return what decides between equals: cuts, ruler settings, the mat, fresh edges, effort."""
    figures: list[Figures] = [one.ordered.figures for one in drawn]
    return (
        sum(figure.cuts for figure in figures),
        sum(figure.settings for figure in figures),
        sum(figure.over_mat for figure in figures),
        sum(figure.fresh_levels for figure in figures),
        sum(figure.effort for figure in figures),
    )


def _layouts(job: Job, drawn: Sequence[_Drawn], tags: Iterator[str]) -> tuple[Layout, ...]:
    """Return the layouts in drawer order, twins together, the fullest first."""
    rank = {sheet.id: place for place, sheet in enumerate(job.sheets)}
    by_pattern: dict[tuple[object, ...], list[_Drawn]] = {}
    for one in sorted(drawn, key=lambda one: (rank[one.sheet.id], -_blank_area(one))):
        by_pattern.setdefault(one.pattern, []).append(one)
    layouts: list[Layout] = []
    for twins, alike in enumerate(by_pattern.values(), start=1):
        for placements, copies in Counter(one.ordered.placements for one in alike).items():
            ordered = replace(alike[0].ordered, placements=placements)
            one = replace(alike[0], ordered=ordered)
            layouts.append(_layout(job, one, copies, twins, tags))
    return tuple(layouts)


def _blank_area(one: _Drawn) -> int:
    return sum(place.width * place.height for place in one.ordered.placements)


def _layout(job: Job, one: _Drawn, copies: int, twins: int, tags: Iterator[str]) -> Layout:
    sheet, ordered = one.sheet, one.ordered
    keepers = tuple(
        Keeper(tuple(next(tags) for _ in range(copies)), *leftover)
        for leftover in ordered.leftovers
        if is_keeper(job, leftover[2], leftover[3])
    )
    return Layout(
        sheet=sheet.id,
        copies=copies,
        twins=twins,
        start=one.start,
        width=sheet.width,
        height=sheet.height,
        usable=(
            sheet.edge_loss.left,
            sheet.edge_loss.foot,
            sheet.usable_width,
            sheet.usable_height,
        ),
        squaring=ordered.squaring,
        placements=ordered.placements,
        cuts=ordered.cuts,
        keepers=keepers,
        leftovers=ordered.leftovers,
        waste=waste_of(job, sheet, ordered.placements, keepers),
    )


def is_keeper(job: Job, width: int, height: int) -> bool:
    """Whether a leftover is at least the size the studio keeps, either way round."""
    short, long = sorted((width, height))
    return short >= job.rules.keep_short and long >= job.rules.keep_long


def _cash(job: Job, used: Mapping[str, int]) -> Cents | None:
    bought = [sheet for sheet in job.sheets if sheet.kind == "full" and used[sheet.id]]
    if any(sheet.price is None for sheet in bought):
        return None
    return sum(used[sheet.id] * (sheet.price or 0) for sheet in bought)


def _areas(job: Job, layouts: Iterable[Layout]) -> dict[int, int]:
    areas: Counter[int] = Counter()
    for layout in layouts:
        for place in layout.placements:
            areas[place.piece] += layout.copies * job.pieces[place.piece].asked_area
    return dict(sorted(areas.items()))
