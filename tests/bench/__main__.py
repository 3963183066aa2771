"""How good the engine is on published problems: ``python -m tests.bench FAMILY``.

Every plan goes through the whole way, its check included. Totals per class stand beside the
published ones; ``--csv`` keeps a line for each problem.
"""

from __future__ import annotations

import argparse
import csv
import os
import sys
import time
from collections import defaultdict
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, dataclass
from pathlib import Path

from sheetcut.nest import Stop, compiled, lay_out
from sheetcut.plan import plan_from
from tests.bench import families
from tests.bench.peer import fewest_of_many
from tests.bench.totals import PUBLISHED

PROBLEMS = ("cutting stock", "bin packing", "several sheet sizes")


@dataclass
class Line:
    """What came out for one problem in one orientation."""

    instance: str
    group: str
    orientation: str
    value: int
    bound: int
    proved: bool
    seconds: float
    rounds: int
    peer: int | None
    known: str
    known_is_optimal: str
    reason: str


def main() -> int:
    """Run a family and print its totals."""
    os.environ.setdefault(compiled.CHOICE, "compiled")  # once compiled, every run is alike
    compiled.ready()
    asked = _arguments()
    instances = families.read_family(asked.family, asked.data)
    if asked.only:
        instances = [one for one in instances if asked.only in (one.name, one.group)]
    turns = {"fixed": [False], "rotated": [True], "both": [False, True]}[asked.orientation]
    known = _known(asked.data, families.FILES[asked.family])
    left_open = _left_open(asked.again)
    tasks = [
        (one, turned, asked.seconds, asked.seed, asked.rounds, asked.peer)
        for turned in turns
        for one in instances[:: asked.every]
        if left_open is None or (one.name, _word(turned)) in left_open
    ]
    began = time.perf_counter()
    with ProcessPoolExecutor(asked.cores) as pool:
        lines = []
        for line in pool.map(_run, tasks):
            row = known.get((line.instance, line.orientation))
            if row:
                line.known, line.known_is_optimal = row
            lines.append(line)
            if asked.verbose:
                print(line.instance, line.orientation, line.value, line.bound, file=sys.stderr)
    _print(lines, asked, time.perf_counter() - began)
    if asked.csv:
        _write(asked.csv, lines)
    return 0


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("family", choices=sorted(families.FILES))
    parser.add_argument("--data", type=Path, help="folder of the CSV files")
    parser.add_argument(
        "--seconds", type=float, default=1.0, help="for each problem, of processor time"
    )
    parser.add_argument("--rounds", type=int, default=100_000_000, help="at most")
    parser.add_argument("--cores", type=int, default=1)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--orientation", choices=("fixed", "rotated", "both"), default="both")
    parser.add_argument("--every", type=int, default=1, help="take each so many-th problem only")
    parser.add_argument("--only", help="one problem, or one class as in 'class 3'")
    parser.add_argument("--again", type=Path, help="a CSV of an earlier run: what it left open")
    parser.add_argument("--peer", action="store_true", help="rectpack's best of 72 runs beside it")
    parser.add_argument("--csv", type=Path, help="where a line for each problem is written")
    parser.add_argument("--verbose", action="store_true")
    return parser.parse_args()


def _run(task: tuple[families.Instance, bool, float, int, int, bool]) -> Line:
    one, turned, seconds, seed, rounds, peer = task
    job = one.job(turned=turned)
    began = time.process_time()
    answer = lay_out(
        job, families.PAPER, seed=seed, rounds=rounds, stop=Stop(seconds, clock=time.process_time)
    )
    taken = time.process_time() - began
    plan = plan_from(job, [answer], seed=seed)
    paper = plan.papers[0]
    return Line(
        instance=one.name,
        group=one.group,
        orientation=_word(turned),
        value=paper.value(job),
        bound=paper.bound.value,
        proved=paper.value(job) == paper.bound.value,
        seconds=round(taken, 3),
        rounds=answer.rounds,
        peer=fewest_of_many(one, turned=turned) if peer and len(one.sheets) == 1 else None,
        known="",
        known_is_optimal="",
        reason=paper.bound.reason,
    )


def _word(turned: bool) -> str:
    return "rotated" if turned else "fixed"


def _known(folder: Path | None, file: str) -> dict[tuple[str, str], tuple[str, str]]:
    """Return the value to compare with for each problem, and whether it is the optimum."""
    found = {}
    for key, rows in families.read_published(folder).items():
        for row in rows:
            if (
                row["data_file"] == file
                and row["problem"] in PROBLEMS
                and row["measure"] in ("sheets", "cost")
            ):
                found[key] = (row["value"], row["is_optimal"])
    if file == families.FILES[families.CLASSES]:
        for key, row in families.read_known(folder).items():
            found[key] = (row["known_sheets"], row["known_is_optimal"])
    return found


def _left_open(path: Path | None) -> set[tuple[str, str]] | None:
    if path is None:
        return None
    with path.open(newline="", encoding="utf-8") as file:
        return {
            (row["instance"], row["orientation"])
            for row in csv.DictReader(file)
            if row["proved"] != "True"
        }


def _print(lines: list[Line], asked: argparse.Namespace, seconds: float) -> None:
    print(
        f"{asked.family}: {len(lines)} problems, {asked.seconds:g} s of processor time each, "
        f"seed {asked.seed}, {asked.cores} at a time, {seconds:.0f} s in all"
    )
    for orientation in ("fixed", "rotated"):
        these = [line for line in lines if line.orientation == orientation]
        if not these:
            continue
        groups: dict[str, list[Line]] = defaultdict(list)
        for line in these:
            groups[line.group].append(line)
        print(f"\n{orientation}\n{'':10} {'plans':>9} {'bounds':>9} {'proved':>7} {'seconds':>8}")
        for group, rows in groups.items():
            _print_row(group, rows)
        _print_row("all", these)
        for source, total in PUBLISHED.get((asked.family, orientation), ()):
            print(f"  published: {total:>7}  {source}")
        _print_against(these)


def _print_row(name: str, rows: list[Line]) -> None:
    peers = [line.peer for line in rows]
    peer = f"  rectpack {sum(p for p in peers if p)}" if all(p is not None for p in peers) else ""
    print(
        f"{name:10} {sum(line.value for line in rows):9} {sum(line.bound for line in rows):9} "
        f"{sum(line.proved for line in rows):4}/{len(rows):<3}"
        f"{sum(line.seconds for line in rows):8.1f}{peer}"
    )


def _print_against(rows: Iterable[Line]) -> None:
    """Print where a plan is worse than a known optimum, or contradicts it."""
    optima = [line for line in rows if line.known_is_optimal == "yes"]
    behind = [line for line in optima if line.value > int(line.known)]
    wrong = [
        line for line in optima if line.value < int(line.known) or line.bound > int(line.known)
    ]
    if optima:
        print(f"  known optima reached: {len(optima) - len(behind)} of {len(optima)}")
    for line in wrong:
        print(f"  CONTRADICTS {line.instance}: {line.bound} to {line.value}, known {line.known}")
    worse = [line for line in rows if line.peer is not None and line.value > line.peer]
    for line in worse:
        print(f"  rectpack is better on {line.instance}: {line.peer} against {line.value}")


def _write(path: Path, lines: list[Line]) -> None:
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, fieldnames=list(asdict(lines[0])) if lines else [])
        writer.writeheader()
        writer.writerows(asdict(line) for line in lines)


if __name__ == "__main__":
    sys.exit(main())
