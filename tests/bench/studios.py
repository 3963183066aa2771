"""Sixty jobs as a studio has them: a paper, a few sheets and offcuts, five to sixty blanks."""

from __future__ import annotations

import random
from collections.abc import Iterator

from sheetcut.job import Job, Paper, Piece, Rules, Sheet, Turn
from sheetcut.units import Edges, mm

PAPER = "rag"
JOBS = 60
FINISHED = (
    (105, 148), (148, 210), (210, 297), (297, 420), (420, 594),  # A6 to A2, ISO 216
    (100, 150), (200, 250), (300, 300), (300, 400), (150, 150), (180, 240), (350, 500),
)  # fmt: skip
SHEETS = ((560, 760, 1520), (686, 1016, 2980), (610, 914, 1140), (420, 594, 510))


def studio_jobs(count: int = JOBS, seed: int = 1) -> Iterator[Job]:
    """Yield jobs, the same for the same seed."""
    chance = random.Random(seed)
    for _ in range(count):
        yield _job(chance)


def _job(chance: random.Random) -> Job:
    margin = chance.choice((0, 0, 10, 15, 20))
    turns: tuple[Turn, ...] = ("yes", "yes", "yes", "no", "grain up")
    blanks = chance.randint(5, 60)
    pieces: list[Piece] = []
    while blanks > 0:
        width, height = chance.choice(FINISHED)
        count = min(blanks, chance.choice((1, 1, 2, 3, 5, 8)))
        blanks -= count
        pieces.append(
            Piece(
                f"D{len(pieces) + 1:02}",
                "",
                PAPER,
                mm(width),
                mm(height),
                count,
                chance.choice(turns),
                margin=Edges(*[mm(margin)] * 4),
            )
        )
    sheets = [
        Sheet(
            f"S{width}",
            PAPER,
            mm(width),
            mm(height),
            price=price,
            edge_loss=Edges(*[mm(chance.choice((0, 0, 5, 8)))] * 4),
            grain="along height",
        )
        for width, height, price in chance.sample(SHEETS[:3], chance.randint(1, 3))
    ]
    sheets += [
        Sheet(
            f"heron {n}",
            PAPER,
            mm(chance.randint(200, 500)),
            mm(chance.randint(250, 700)),
            on_hand=1,
            grain="along height",
            kind="offcut",
        )
        for n in range(chance.choice((0, 0, 1, 2)))
    ]
    rules = Rules(narrowest_strip=mm(10), mat=(mm(600), mm(450)))
    return Job(tuple(sheets), tuple(pieces), rules, (Paper(PAPER, 300),))
