"""Paper shares on a thousand random plans that pass their check: they add up to the cash."""

import random
from fractions import Fraction

import pytest

from sheetcut.answers.quote import share_of
from sheetcut.job import Job, Piece, Sheet
from sheetcut.layout import Answer, Bound, Candidate, Part
from sheetcut.plan import plan_from
from sheetcut.units import Edges, mm


def strip(sheet, pieces):
    """Return a sheet with pieces side by side from the left, each at the foot."""
    columns = []
    for line, piece in pieces:
        rest = sheet.height - piece.asked_height
        blank = Part(piece.asked_width, piece.asked_height, piece=line)
        column = (blank, Part(piece.asked_width, rest))
        columns.append(Part(piece.asked_width, sheet.height, "y", column))
    left = sheet.width - sum(column.width for column in columns)
    return Part(sheet.width, sheet.height, "x", (*columns, Part(left, sheet.height)))


def random_plan(chance):
    """Return a plan of one to three sheets, up to three pieces on each."""
    sheet = Sheet("s", "Rag", mm(700), mm(300), price=chance.randrange(1, 5000))
    trees, pieces = [], []
    for _ in range(chance.randrange(1, 4)):
        lines = [
            Piece(
                f"{len(pieces) + n}",
                "",
                "Rag",
                mm(chance.randrange(20, 200)),
                mm(chance.randrange(20, 250)),
                margin=Edges(*(mm(chance.randrange(8)) for _ in range(4))),
            )
            for n in range(chance.randrange(1, 4))
        ]
        trees.append((sheet.id, strip(sheet, list(enumerate(lines, len(pieces))))))
        pieces += lines
    bound = Bound("cost", 0, "nothing is claimed")
    answer = Answer("Rag", "least cost", (Candidate(tuple(trees)),), bound)
    return plan_from(Job((sheet,), tuple(pieces)), [answer])


@pytest.mark.parametrize("seed", range(10))
def test_shares_add_up_to_the_cash(seed):
    chance = random.Random(seed)
    for _ in range(100):
        plan = random_plan(chance)
        paper = plan.papers[0]
        assert sum(paper.shares.values()) == paper.cost
        exact = [share_of(plan, piece) for piece in plan.job.pieces]
        assert sum(exact) == paper.cost
        for line, share in enumerate(exact):
            assert abs(paper.shares[line] - share) < Fraction(1)
