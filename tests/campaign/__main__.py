"""Runs the long campaign, a part of it or all, and prints what was tried and found."""

from __future__ import annotations

import argparse
import json
import os
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import asdict, dataclass, field
from itertools import takewhile
from pathlib import Path
from typing import Any, TextIO

# Thousands of jobs in one process repay the loading of the compiled loops at once.
os.environ.setdefault("SHEETCUT_KERNEL", "compiled")

from tests.campaign import differential, fuzz, laws
from tests.campaign.watched import watched


@dataclass(slots=True)
class Tally:
    """What was counted so far, and where the failures are told."""

    what: str
    log: TextIO
    began: float = field(default_factory=time.monotonic)
    counts: dict[str, float] = field(default_factory=dict)

    def add(self, **counts: float) -> None:
        """Add to the counts."""
        for name, n in counts.items():
            self.counts[name] = self.counts.get(name, 0) + n

    def most(self, **values: float) -> None:
        """Keep the greatest of values."""
        for name, value in values.items():
            self.counts[name] = max(self.counts.get(name, 0), value)

    def tell(self, record: dict[str, Any]) -> None:
        """Write a failure down at once."""
        self.log.write(json.dumps(record) + "\n")
        self.log.flush()

    def __str__(self) -> str:
        counted = ", ".join(f"{name} {n:g}" for name, n in self.counts.items())
        return f"{self.what}: {counted}; {time.monotonic() - self.began:.0f} s"


def run_laws(tally: Tally, seeds: Iterable[int]) -> None:
    """Try the laws on one job for each seed."""
    for seed in seeds:
        trial = laws.trial(seed)
        tally.add(
            jobs=1,
            broken=bool(trial.broken),
            refused=not trial.papers and not trial.broken,
            papers=trial.papers,
            proved=trial.proved,
            sheets=trial.sheets,
            blanks=trial.blanks,
            cpu_s=trial.seconds,
        )
        tally.most(slowest_s=trial.seconds)
        if trial.broken:
            tally.tell(asdict(trial))
        _now_and_then(tally)


def run_differential(tally: Tally, seeds: Iterable[int]) -> None:
    """Hold one small plan for each seed against every way there is."""
    for seed in seeds:
        one = differential.compared(seed)
        tally.add(
            jobs=1,
            broken=bool(one.broken),
            proved=one.proved,
            dearer_than_the_least=one.worse > 0,
            short=one.short,
            needlessly_short=one.needlessly_short,
        )
        if one.broken or one.worse or one.needlessly_short:
            tally.tell(asdict(one))
        _now_and_then(tally)


def run_fuzz(tally: Tally, numbers: Iterable[int]) -> None:
    """Hand over one spoiled thing of each kind for each number, in a process that is watched."""
    names = [target.name for target in fuzz.TARGETS]
    for case in watched(names, numbers):
        tally.add(**{case.target: 1}, broken=case.broken is not None)
        tally.most(memory_mb=case.memory_kb // 1024)
        tally.most(**{f"slowest_{case.target}_s": case.seconds or 0})
        if case.broken:
            tally.tell(asdict(case))
        if case.target == names[-1]:
            tally.add(jobs=1)
            _now_and_then(tally)


def _in_time(numbers: Iterable[int], minutes: float | None) -> Iterator[int]:
    """Yield numbers until so many minutes have gone by."""
    end = float("inf") if minutes is None else time.monotonic() + 60 * minutes
    return takewhile(lambda _: time.monotonic() < end, numbers)


def _now_and_then(tally: Tally) -> None:
    if tally.counts["jobs"] % 500 == 0:
        print(tally, flush=True)


PARTS: dict[str, tuple[Callable[[Tally, Iterable[int]], None], int]] = {
    "laws": (run_laws, 100_000),
    "differential": (run_differential, 2_000),
    "fuzz": (run_fuzz, 10_000),
}
"""What may be run, and how many of it where nobody says."""


def main(arguments: list[str]) -> int:
    """Return 0 only if nothing fell."""
    parser = argparse.ArgumentParser(prog="python3 tests --campaign", description=__doc__)
    parser.add_argument(
        "parts", nargs="*", choices=[*PARTS, []], help="all of them if none is named"
    )
    parser.add_argument("--size", type=int, help="how many of each, instead of the usual")
    parser.add_argument("--first", type=int, default=0, help="the seed to begin at")
    parser.add_argument("--minutes", type=float, help="end each part after so long by the clock")
    parser.add_argument("--log", type=Path, help="a file to add failures to; else they are printed")
    chosen = parser.parse_args(arguments)
    if unknown := set(chosen.parts) - set(PARTS):
        parser.error(f"there is no part {', '.join(sorted(unknown))}")
    fell = 0
    for name in chosen.parts or PARTS:
        run, usual = PARTS[name]
        size = usual if chosen.size is None else chosen.size
        log = chosen.log.open("a") if chosen.log else sys.stdout
        tally = Tally(name, log)
        run(tally, _in_time(range(chosen.first, chosen.first + size), chosen.minutes))
        print(tally, flush=True)
        fell += bool(tally.counts.get("broken"))
    return int(fell > 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
