"""What choosing among equals gains: ``python -m tests.bench.choosing``.

On sixty studio-like jobs: cuts, ruler settings, effort and the largest keeper of the plan as
the search found it, and of the plan that is chosen, from as many sheets and as much cash.
"""

from __future__ import annotations

import argparse
import sys
import time
from dataclasses import replace

from sheetcut.choosing import ORDERS, Way, ways_of
from sheetcut.handling import takes_no_more
from sheetcut.job import Job, Preference
from sheetcut.nest import lay_out
from sheetcut.plan import make_plan
from tests.bench.studios import JOBS, PAPER, studio_jobs

ROUNDS = 20_000
SQUARE_MM = 8_000**2
PREFERENCES: tuple[Preference, ...] = ("quicker to cut", "better leftover", "strips only")


def main() -> int:
    """Print the rows."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.choosing", description=__doc__)
    parser.add_argument("--jobs", type=int, default=JOBS)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--rounds", type=int, default=ROUNDS)
    asked = parser.parse_args()
    rows: dict[str, list[Way]] = {}
    kinds: dict[Preference, int] = dict.fromkeys(PREFERENCES, 0)
    took = 0.0
    for job in studio_jobs(asked.jobs, asked.seed):
        candidates = lay_out(job, PAPER, rounds=asked.rounds).candidates
        ways, found = ways_of(job, candidates), ways_of(job, candidates[-1:])[0]
        rows.setdefault("as found", []).append(found)
        for preference in PREFERENCES:
            chosen = min(ways, key=ORDERS[preference])
            assert takes_no_more(job, chosen.layouts, found.layouts)
            rows.setdefault(preference, []).append(chosen)
        took += _count(job, kinds, asked.rounds)
    print(f"{asked.jobs} jobs, seed {asked.seed}, {asked.rounds} rounds")
    print(
        f"{'':16}{'cuts':>7}{'settings':>10}{'effort m':>10}"
        f"{'largest keeper, cm2':>21}{'strips':>8}"
    )
    for name, chosen_ways in rows.items():
        print(_row(name, chosen_ways))
    found = ", ".join(f"{n} {kind}" for kind, n in kinds.items())
    print(f"alternatives beside a plan that is quicker to cut: {found}; {took:.1f} s in all")
    return 0


def _row(name: str, ways: list[Way]) -> str:
    figures = [way.figures for way in ways]
    effort = sum(one.effort for one in figures) / 8_000_000
    keepers = sum(one.largest_area for one in figures) / SQUARE_MM / 100
    return (
        f"{name:16}{sum(one.cuts for one in figures):7}{sum(one.settings for one in figures):10}"
        f"{effort:10.0f}{keepers:21.0f}{sum(way.is_strips_only for way in ways):8}"
    )


def _count(job: Job, kinds: dict[Preference, int], rounds: int) -> float:
    """Count the alternatives of a whole plan, and return the seconds that it took."""
    began = time.perf_counter()
    rules = replace(job.rules, preference="quicker to cut")
    plan = make_plan(replace(job, rules=rules), rounds=rounds, seconds=600)
    for paper in plan.papers:
        for one in paper.alternatives:
            kinds[one.kind] += 1
    return time.perf_counter() - began


if __name__ == "__main__":
    sys.exit(main())
