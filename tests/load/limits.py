"""How long planning goes on once its seconds are over: ``python -m tests.load.limits``.

Processor time of the search beyond what was asked for, and of what follows it until the plan is
written down; with ``--busy`` other processes keep the machine busy meanwhile, which stretches the
wall clock and should not change the other figures.
"""

from __future__ import annotations

import argparse
import random
import subprocess
import sys
import time
from contextlib import ExitStack
from pathlib import Path

from sheetcut.document import plan_bytes
from sheetcut.drawer import DRAWER_HEADINGS, ORDER_HEADINGS, csv_bytes
from sheetcut.drawer.tables import order_cells, sheet_cells
from sheetcut.job import Job, Paper, Piece, Sheet
from sheetcut.laying import answers_here, tasks_for
from sheetcut.nest import Stop
from sheetcut.nest.compiled import ready
from sheetcut.plan import plan_from
from sheetcut.units import mm

WIDE, HIGH = 1000, 1400
FULL = 0.9  # of their sheets, by area
JOBS = ((30, 3), (60, 5), (150, 5), (400, 5), (600, 1), (2000, 1))
SECONDS = (1.0, 2.0, 5.0)
BUSY = "while True: pass"


def many_blanks(blanks: int, sheets: int, *, seed: int = 1) -> Job:
    """Return a job of so many pieces, each of another size, that fill so many sheets."""
    chance = random.Random(seed)
    area = WIDE * HIGH * sheets * FULL / blanks
    pieces = []
    for n in range(blanks):
        width = chance.randint(int(area**0.5 / 2), int(area**0.5 * 1.5))
        name = f"P{n}"
        pieces.append(Piece(name, name, "Paper", mm(width), mm(max(20, int(area / width)))))
    sheet = Sheet("S", "Paper", mm(WIDE), mm(HIGH), None, 1500)
    return Job((sheet,), tuple(pieces), papers=(Paper("Paper"),), currency="£")


def write_tables(job: Job, folder: Path) -> None:
    """Write a job as the tables of a studio."""
    sheets = [DRAWER_HEADINGS, *map(sheet_cells, job.sheets)]
    orders = [ORDER_HEADINGS, *map(order_cells, job.pieces)]
    (folder / "drawer.csv").write_bytes(csv_bytes(sheets))
    (folder / "orders.csv").write_bytes(csv_bytes(orders))


def line_of(blanks: int, sheets: int, seconds: float) -> str:
    """Return one line of the table."""
    job, clock = many_blanks(blanks, sheets), time.process_time
    stop, began, wall = Stop(seconds), clock(), time.monotonic()
    answers = answers_here(job, tasks_for(job, seed=0, restarts=1, rounds=None), stop=stop)
    searched, late = clock(), time.monotonic() - wall - seconds
    plan_bytes(plan_from(job, answers, stop=stop))
    done = clock()
    return (
        f"{blanks:5} on {sheets}  asked {seconds:3.0f} s: search {searched - began:5.2f} s of "
        f"processor time, ends {late:+6.2f} s by the clock; cuts, check and document "
        f"{done - searched:5.2f} s"
    )


def main() -> int:
    """Print the table."""
    asked = argparse.ArgumentParser(prog="python -m tests.load.limits", description=__doc__)
    asked.add_argument("--busy", type=int, default=0, metavar="N", help="processes besides")
    given = asked.parse_args()
    ready()
    with ExitStack() as others:
        for _ in range(given.busy):
            one = others.enter_context(subprocess.Popen([sys.executable, "-c", BUSY]))
            others.callback(one.kill)
        for blanks, sheets in JOBS:
            for seconds in SECONDS:
                print(line_of(blanks, sheets, seconds), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
