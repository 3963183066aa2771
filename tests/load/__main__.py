"""Loads the page: ``python -m tests.load --seconds 60 --rate 200`` prints a table of it."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.load.afterwards import assert_kept, assert_whole
from tests.load.reading import Read
from tests.load.run import WRITES, Outcome, run
from tests.load.studio import begun

SLOWEST = 6


def main() -> int:
    """Run, print, and return 0 only if nothing failed and nothing was lost."""
    asked = argparse.ArgumentParser(prog="python -m tests.load", description=__doc__)
    asked.add_argument("--seconds", type=float, default=60)
    asked.add_argument("--rate", type=float, default=200, help="reads a second")
    asked.add_argument("--writes", type=float, default=WRITES, help="writes a second")
    asked.add_argument(
        "--search-every", type=float, default=0, metavar="SECONDS", help="ask for a search, too"
    )
    given = asked.parse_args()
    with TemporaryDirectory(prefix="sheetcut-load-") as scratch:
        folder = Path(scratch) / "studio"
        begun(folder)
        load_before = os.getloadavg()[0]
        outcome = run(
            folder,
            rate=given.rate,
            seconds=given.seconds,
            writes=given.writes,
            search_every_s=given.search_every,
        )
        print("\n".join(lines(outcome, load_before)))
        assert_whole(folder)
        assert_kept(folder, outcome.known, entries_before=outcome.entries_before)
    print("afterwards: database, history, mirror and files agree; each write is there, once")
    failed = [read for read in (*outcome.reads, *outcome.searched) if not read.is_fine]
    return 1 if failed or outcome.known.refused else 0


def lines(outcome: Outcome, load_before: float) -> list[str]:
    """Return the table."""
    found = outcome.reads
    failed = [read for read in found if not read.is_fine]
    cpu, own = outcome.cpu_s
    told = [
        f"{len(found)} reads of {len({read.path for read in found})} addresses and "
        f"{outcome.known.entries} writes in {outcome.seconds:.1f} s: "
        f"{len(found) / outcome.seconds:.0f} reads a second; load before {load_before:.1f}",
        f"failed: {len(failed)} reads, {len(outcome.known.refused)} writes",
        *(f"  {read.path}: {read.status} {read.error}" for read in failed[:5]),
        *(f"  {words}" for words in outcome.known.refused[:5]),
        _figures("from when it was due", [read.waited_s for read in found]),
        _figures("from when it was sent", [read.took_s for read in found]),
        _figures("first visits", [read.took_s for read in outcome.first]),
    ]
    if outcome.searched:
        told.append(_figures("answers that plan", [read.took_s for read in outcome.searched]))
    told += [
        f"memory of the page: {outcome.memory_mb[0]:.0f} MB after the first visits, "
        f"{outcome.memory_mb[1]:.0f} MB at the end",
        f"processor time: page {cpu:.1f} s ({1000 * cpu / len(found):.1f} ms a read), "
        f"those who asked {own:.1f} s",
        "slowest addresses, in the mean:",
    ]
    return told + _slowest(found)


def _figures(what: str, seconds: Sequence[float]) -> str:
    ordered = sorted(seconds)

    def at(share: float) -> str:
        return f"{1000 * ordered[min(len(ordered) - 1, int(share * len(ordered)))]:7.1f}"

    return f"{what:22} median {at(0.5)}  95 % {at(0.95)}  99 % {at(0.99)}  longest {at(1)} ms"


def _slowest(found: Sequence[Read]) -> list[str]:
    by_path: dict[str, list[float]] = {}
    for read in found:
        by_path.setdefault(read.path, []).append(read.took_s)
    means = sorted(((sum(each) / len(each), path) for path, each in by_path.items()), reverse=True)
    return [f"  {1000 * mean:7.1f} ms  {path}" for mean, path in means[:SLOWEST]]


if __name__ == "__main__":
    sys.exit(main())
