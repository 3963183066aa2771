"""The whole way in one function: a job becomes a plan that has passed its check."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import replace

from sheetcut import document
from sheetcut.check import faults_in
from sheetcut.choosing import NarrowStripsRefused, Way, others, preferred, ways_of
from sheetcut.cost import shares
from sheetcut.deckled import keeping_deckles
from sheetcut.drawn import layouts_of
from sheetcut.errors import FaultsFound
from sheetcut.handling import cash_for, sheets_cut
from sheetcut.if_room import filled_up
from sheetcut.job import Job
from sheetcut.laying import answers_from, answers_here, tasks_for
from sheetcut.layout import Alternative, Answer, Layout, PaperPlan, Plan
from sheetcut.nest import Stop
from sheetcut.tags import new_tags
from sheetcut.version import VERSION

Tell = Callable[[str], None]

CODE_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"  # without I, O, 0 and 1, which look alike
CODE_LENGTH = 4


def make_plan(
    job: Job,
    *,
    seconds: float = 5,
    seed: int = 0,
    rounds: int | Mapping[str, int] | None = None,
    restarts: int = 1,
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
        restarts: how many searches, each with a seed of its own, a paper may have; none follows
            one that is proved.
        executor: is given papers and restarts as independent tasks, and the plan is the same;
            None searches for one after the other.
        made: when, as text for the plan; the clock is the caller's.
        input_hash: of the files the job came from; worked out from the job where empty.
        stop: ends the search when its ``finish`` is called from elsewhere.
        tell: is given a few words at a time about what is being tried.

    Raises:
        FaultsFound: if the plan fails its own check; that is a mistake of ours.
    """
    stop = stop or Stop(seconds)
    # A deckle that is kept may ask for a second search, so the first takes half the time.
    first = stop.share(of=2) if any(piece.deckles for piece in job.pieces) else stop
    tasks = tasks_for(job, seed=seed, restarts=restarts, rounds=rounds)
    if executor is None or len(tasks) < 2:
        answers = answers_here(job, tasks, stop=first, tell=tell)
    else:
        answers = answers_from(job, tasks, executor, stop=first, tell=tell)
    return plan_from(job, answers, seed=seed, made=made, input_hash=input_hash, stop=stop)


def plan_from(
    job: Job,
    answers: Sequence[Answer],
    *,
    seed: int = 0,
    made: str = "",
    input_hash: str = "",
    stop: Stop | None = None,
) -> Plan:
    """Return the plan that answers make, one for each paper: cut, accounted for and checked.

    Args:
        stop: ends a search that kept deckles ask for.

    Raises:
        FaultsFound: if the plan fails its check.
    """
    found = [
        _filled_up(job, keeping_deckles(job, answer, seed=seed, stop=stop)) for answer in answers
    ]
    answers, ways = [answer for answer, _ in found], [ways for _, ways in found]
    tags = new_tags([sheet.id for sheet in job.sheets])
    papers = [
        _paper_plan(job, answer, these, tags) for answer, these in zip(answers, ways, strict=True)
    ]
    plan = Plan(
        job=job,
        papers=_with_alternatives(job, papers, ways, tags),
        short=tuple(short for answer in answers for short in answer.short),
        seed=seed,
        rounds=max((answer.rounds for answer in answers), default=0),
        stopped=any(answer.stopped for answer in answers),
        version=VERSION,
        input_hash=input_hash,
    )
    input_hash = input_hash or hashlib.sha256(document.job_bytes(job)).hexdigest()
    plan = replace(plan, input_hash=input_hash)
    return sound(replace(plan, made=made, code=code_of(plan)))


def _filled_up(job: Job, answer: Answer) -> tuple[Answer, tuple[Way, ...]]:
    """Return an answer with what has room in it, and its candidates cut.

    What waits for room never makes a strip that is refused: then nothing is added.
    """
    filled = filled_up(job, answer)
    try:
        return filled, ways_of(job, filled.candidates)
    except NarrowStripsRefused:
        ways = ways_of(job, answer.candidates)
    note = "what waits for room is left out: it would need a strip that is refused"
    return replace(answer, notes=(*answer.notes, note)), ways


def sound(plan: Plan) -> Plan:
    """Return a plan as it is.

    Raises:
        FaultsFound: if it fails its check.
    """
    faults = faults_in(plan)
    if faults:
        raise FaultsFound(faults)
    return plan


def code_of(plan: Plan) -> str:
    """Return a few letters and figures that name the answer, whenever it was made.

    Its alternatives have no part in that: one of them is another answer.
    """
    papers = tuple(replace(paper, alternatives=()) for paper in plan.papers)
    bare = replace(plan, papers=papers, code="", made="")
    number = int.from_bytes(hashlib.sha256(document.plan_bytes(bare)).digest()[:8], "big")
    letters = []
    for _ in range(CODE_LENGTH):
        number, letter = divmod(number, len(CODE_LETTERS))
        letters.append(CODE_LETTERS[letter])
    return "".join(letters)


def _with_alternatives(
    job: Job, plans: Sequence[PaperPlan], ways: Sequence[Sequence[Way]], tags: Iterator[str]
) -> tuple[PaperPlan, ...]:
    """Return the plans with their alternatives, once every plan has its own tags."""
    return tuple(
        replace(
            plan,
            alternatives=tuple(
                Alternative(kind, layouts_of(job, way, tags))
                for kind, way in others(job, plan.layouts, these)
            ),
        )
        for plan, these in zip(plans, ways, strict=True)
    )


def _paper_plan(job: Job, answer: Answer, ways: Sequence[Way], tags: Iterator[str]) -> PaperPlan:
    layouts = layouts_of(job, preferred(job, ways), tags)
    plan = PaperPlan(
        paper=answer.paper,
        aim=answer.aim,
        sheets_used={},
        cost=None,
        bound=answer.bound,
        layouts=(),
        shares={},
        rounds=answer.rounds,
        stopped=answer.stopped,
        kind=job.rules.preference,
        notes=answer.notes,
    )
    return with_layouts(job, plan, layouts)


def with_layouts(job: Job, plan: PaperPlan, layouts: Sequence[Layout]) -> PaperPlan:
    """Return a paper's plan with other layouts, and all that is worked out from these."""
    used, cost = sheets_cut(layouts), cash_for(job, layouts)
    plan = replace(
        plan,
        sheets_used={sheet.id: used[sheet.id] for sheet in job.sheets if used[sheet.id]},
        cost=cost,
        layouts=tuple(layouts),
        shares={} if cost is None else shares(cost, _areas(job, layouts)),
    )
    return replace(plan, proved=plan.value(job) == plan.bound.value)


def _areas(job: Job, layouts: Iterable[Layout]) -> dict[int, int]:
    areas: Counter[int] = Counter()
    for layout in layouts:
        for place in layout.placements:
            piece = job.pieces[place.piece]
            if not piece.if_room:  # its paper was paid for by the others
                areas[place.piece] += layout.copies * piece.asked_area
    return dict(sorted(areas.items()))
