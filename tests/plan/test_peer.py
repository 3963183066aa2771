"""Never more sheets than a general-purpose packing library's guillotine answer.

Peer: the rectpack library, the best of its guillotine algorithms and sorts on each job. It is
never the source of a plan, so this can fail.
"""

import random

import pytest
import rectpack

from sheetcut import Job, Piece, Rules, Sheet, make_plan, mm

SORTS = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI)
ALGORITHMS = (
    rectpack.GuillotineBssfSas,
    rectpack.GuillotineBssfMaxas,
    rectpack.GuillotineBlsfSas,
    rectpack.GuillotineBafSlas,
    rectpack.GuillotineBafMaxas,
)
SHEETS = ((560, 760), (544, 744), (610, 914), (420, 594))


def random_job(seed: int) -> tuple[tuple[int, int], list[tuple[int, int]], bool]:
    """Return a sheet, blanks that fit it either way and whether they may be turned."""
    chance = random.Random(seed)
    sheet = chance.choice(SHEETS)
    longest = min(sheet)
    blanks = [
        (chance.randint(60, longest), chance.randint(60, longest))
        for _ in range(chance.randint(5, 30))
    ]
    return sheet, blanks, chance.random() < 0.5


def peer_sheets(sheet: tuple[int, int], blanks: list[tuple[int, int]], turn: bool) -> int:
    """Return the fewest sheets that the peer needs."""
    counts = []
    for algorithm in ALGORITHMS:
        for sort in SORTS:
            packer = rectpack.newPacker(pack_algo=algorithm, sort_algo=sort, rotation=turn)
            for number, (width, height) in enumerate(blanks):
                packer.add_rect(width, height, number)
            packer.add_bin(*sheet, count=float("inf"))
            packer.pack()
            assert sum(len(one) for one in packer) == len(blanks)
            counts.append(len(packer))
    return min(counts)


@pytest.mark.parametrize("seed", range(50))
def test_never_more_sheets_than_the_peer(seed):
    sheet, blanks, turn = random_job(seed)
    job = Job(
        sheets=[Sheet(id="full", paper="Rag", width=mm(sheet[0]), height=mm(sheet[1]))],
        pieces=[
            Piece(
                order=f"line {number}",
                label="",
                paper="Rag",
                width=mm(width),
                height=mm(height),
                turn="yes" if turn else "no",
            )
            for number, (width, height) in enumerate(blanks)
        ],
        rules=Rules(aim="fewest sheets"),
    )
    plan = make_plan(job, seconds=60)
    assert plan.papers[0].value(job) <= peer_sheets(sheet, blanks, turn)
