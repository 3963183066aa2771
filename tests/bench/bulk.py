"""Planning in bulk, measured: ``python -m tests.bench.bulk``.

Ten thousand pieces of thirty sizes on three sheet sizes, and an edition of three hundred
alike with its companions: time, memory, how far from what is proved, and how many different
layouts have to be drawn.
"""

from __future__ import annotations

import argparse
import random
import resource
import sys
import time

from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.nest import Stop
from sheetcut.plan import make_plan
from sheetcut.units import mm

SHEETS = ((560, 760, 1520), (686, 1016, 2980), (610, 914, 1140))


def bulk_job(count: int = 10_000, kinds: int = 30, seed: int = 5) -> Job:
    """Return so many pieces of so many sizes, 80 to 500 mm long, on three sizes of sheet."""
    chance = random.Random(seed)
    sizes = [(chance.randint(80, 500), chance.randint(80, 500)) for _ in range(kinds)]
    shares = [chance.randint(1, 9) for _ in sizes]
    counts = [count * share // sum(shares) for share in shares]
    counts[0] += count - sum(counts)
    pieces = tuple(
        Piece(f"D{n:02}", "", "rag", mm(w), mm(h), many)
        for n, ((w, h), many) in enumerate(zip(sizes, counts, strict=True))
    )
    return Job(_sheets(), pieces, Rules())


def edition_job() -> Job:
    """Return three hundred prints alike, twenty proofs, and a certificate for each."""
    pieces = (
        Piece("P01", "The print", "rag", mm(300), mm(400), 300),
        Piece("P02", "Proofs", "rag", mm(300), mm(400), 20),
        Piece("P03", "Certificates", "rag", mm(105), mm(148), 320),
        Piece("P04", "Title page", "rag", mm(210), mm(297), 12),
    )
    return Job(_sheets(), pieces, Rules())


def _sheets() -> tuple[Sheet, ...]:
    return tuple(
        Sheet(f"S{w}", "rag", mm(w), mm(h), price=price, grain="along height")
        for w, h, price in SHEETS
    )


def main() -> int:
    """Print the rows."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.bulk", description=__doc__)
    parser.add_argument("--seconds", type=float, default=10.0)
    asked = parser.parse_args()
    for name, job in (("edition of 300", edition_job()), ("10 000 of 30 sizes", bulk_job())):
        began = time.process_time()
        plan = make_plan(job, stop=Stop(asked.seconds, clock=time.process_time))
        took = time.process_time() - began
        (paper,) = plan.papers
        value, bound = paper.value(job), paper.bound.value
        layouts = len({layout.twins for layout in paper.layouts})
        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(
            f"{name}: {sum(paper.sheets_used.values())} sheets, {value / 100:.2f}, at least "
            f"{bound / 100:.2f} ({100 * (value - bound) / bound:.2f} % over); "
            f"{layouts} different layouts; {took:.1f} s of processor time; "
            f"{most:.0f} MB at the most"
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
