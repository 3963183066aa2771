"""Small jobs by chance whose plans are held against every way there is."""

from __future__ import annotations

import random
import traceback
from collections import Counter
from dataclasses import dataclass, replace
from typing import get_args

from sheetcut.job import Grain, Job, Piece, Rules, Sheet, Turn
from sheetcut.layout import PaperPlan, Plan
from sheetcut.plan import make_plan
from sheetcut.units import Edges, inch, mm
from tests.campaign.exact import least

PAPER = "Slatehouse Smooth"
MOST_BLANKS = 7
ROUNDS = 2_000


@dataclass(frozen=True, slots=True)
class Comparison:
    """What one small job showed.

    Attributes:
        broken: what cannot be, a line each.
        worse: by how much the plan is dearer than the least, where it does not say "proved".
        needlessly_short: whether blanks were left out that could have been cut.
    """

    seed: int
    broken: tuple[str, ...]
    proved: bool = False
    worse: int = 0
    needlessly_short: bool = False
    short: bool = False


def small_job(seed: int) -> Job:
    """Return a job of few blanks on one paper: cost or sheets, offcuts, limits, grain."""
    chance = random.Random(f"small {seed}")
    step = chance.choice((mm(1), mm(5), inch(1) // 16))
    priced = chance.random() < 0.6
    grain = chance.choice(("none", "mixed", "mixed"))
    sheets = [
        Sheet(
            id=f"S{n}",
            paper=PAPER,
            width=mm(chance.randint(120, 420)),
            height=mm(chance.randint(160, 500)),
            on_hand=chance.choice((None, None, 1, 2, 3)) if n else None,
            price=chance.choice((300, 480, 700, 1000, 1520)) if priced else None,
            edge_loss=Edges(*[mm(chance.choice((0, 0, 3)))] * 4),
            grain="none" if grain == "none" else chance.choice(get_args(Grain)),
        )
        for n in range(chance.choices((1, 2, 3), (3, 3, 1))[0])
    ]
    if chance.random() < 0.15:
        sheets[0] = replace(sheets[0], on_hand=chance.choice((1, 2)))
    for n in range(chance.choices((0, 1, 2), (3, 2, 1))[0]):
        sheets.append(
            Sheet(
                id=f"heron {n}",
                paper=PAPER,
                width=mm(chance.randint(80, 300)),
                height=mm(chance.randint(80, 300)),
                on_hand=1,
                price=chance.choice((None, 0, 120)),
                grain="none" if grain == "none" else chance.choice(get_args(Grain)),
                kind="offcut",
            )
        )
    pieces: list[Piece] = []
    left = chance.randint(2, MOST_BLANKS)
    while left:
        count = chance.randint(1, min(3, left))
        left -= count
        pieces.append(
            Piece(
                order=f"line {len(pieces)}",
                label="",
                paper=PAPER,
                width=mm(chance.randint(30, 260)),
                height=mm(chance.randint(30, 260)),
                count=count,
                turn=chance.choices(get_args(Turn), (5, 1, 1, 1, 1))[0],
                margin=Edges(*[mm(chance.choice((0, 0, 5, 12)))] * 4),
            )
        )
    aim = chance.choice((None, None, "fewest sheets"))
    return Job(tuple(sheets), tuple(pieces), Rules(reading_step=step, aim=aim))


def compared(seed: int, rounds: int = ROUNDS) -> Comparison:
    """Return what the plan of a seed's small job is beside the least there is."""
    job = small_job(seed)
    try:
        plan = make_plan(job, rounds=rounds, seconds=600)
    except Exception:
        return Comparison(seed, (traceback.format_exc(),))
    return beside_the_least(plan, seed)


def beside_the_least(plan: Plan, seed: int = 0) -> Comparison:
    """Return how a plan of one paper stands beside the least there is."""
    job, paper = plan.job, plan.papers[0]
    asked = {line: piece.count for line, piece in enumerate(job.pieces)}
    given: Counter[int] = Counter()
    for layout in paper.layouts:
        for place in layout.placements:
            given[place.piece] += layout.copies
    exact = least(job, paper.paper, dict(given))
    value, bound = paper.value(job), paper.bound.value
    broken = []
    if exact is None or value < exact:
        broken.append(f"the plan takes {value}; every way was tried, and the least is {exact}")
    elif bound > exact:
        broken.append(f"nothing is said to be under {bound}; {exact} is")
    elif paper.proved and value != exact:
        broken.append(f"{value} is said to be proved; the least is {exact}")
    broken += _wrong_notes(job, paper, dict(given), value)
    could = {line: n for line, n in asked.items() if least(job, paper.paper, {line: 1}) is not None}
    left_out = could != {line: n for line, n in given.items() if n}
    return Comparison(
        seed,
        tuple(broken),
        paper.proved,
        0 if exact is None else value - exact,
        left_out and least(job, paper.paper, could) is not None,
        bool(plan.short),
    )


def _wrong_notes(job: Job, paper: PaperPlan, given: dict[int, int], value: int) -> list[str]:
    """Return the notes that say "proved" of what is not so."""
    broken = []
    bare = least(job, paper.paper, given, offcuts=False)
    for note in paper.notes:
        if "cannot hold everything (proved)" in note and bare is not None:
            broken.append(f"{note!r}, and they can for {bare}")
        if "or more (proved)" in note and bare is not None and bare <= value:
            broken.append(f"{note!r}, and it takes {bare}")
        if "saves nothing (proved)" in note and bare != value:
            broken.append(f"{note!r}, and without offcuts it takes {bare}, not {value}")
    return broken
