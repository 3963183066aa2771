"""The most valuable selection from one sheet: ``python -m tests.bench.selection --data FOLDER``.

Published optima, each piece so many times at most, against three parts of the program: the table
of values, which knows no limits and so is worth no less; the listing, which has to find a sheet
worth the optimum and none worth a unit more; the check's own listing, which has to do the same.
Where one of them ends at a limit, the word says which. Exit 1 where something contradicts.
"""

from __future__ import annotations

import argparse
import csv
import sys
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from sheetcut.nest import compiled
from sheetcut.nest.listing import MOST_WORK
from tests.bench.families import read_published
from tests.published.selection import Selection, Wanted, selection
from tests.published.selection_ways import (
    FOUND,
    NONE,
    assert_comes_out,
    from_check,
    from_listing,
    from_table,
)

FILES = {"59": "classic59.csv", "more": "knapsack_constrained.csv"}
TURNS = {"fixed": "no", "rotated": "yes"}
CHECK_STEPS = 400_000
HEADINGS = (
    f"{'set':16}{'published':>10}{'table':>10}  {'limits':7}{'listing':24}{'check':24}seconds"
)

PROVED = "proved"
CONTRADICTS = "CONTRADICTS"


@dataclass(frozen=True, slots=True)
class Line:
    """What came out for one set.

    Attributes:
        worth: of the best sheet without limits.
        keeps_limits: whether the sheet that is worth it has no more of any piece than may be.
        listed, checked: PROVED, or how far the listing and that of the check came.
    """

    problem: Selection
    worth: int
    keeps_limits: bool
    listed: str
    checked: str
    seconds: float

    @property
    def is_false(self) -> bool:
        """Whether something in it cannot be true if the published optimum is."""
        best = self.problem.best
        table = self.worth < best or (self.keeps_limits and self.worth != best)
        return table or CONTRADICTS in {self.listed, self.checked}


def main() -> int:
    """Print a line for each set, then how many were confirmed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.selection", description=__doc__)
    parser.add_argument("--data", type=Path, required=True, help="folder of the CSV files")
    parser.add_argument("--sets", choices=sorted(FILES), default="59")
    parser.add_argument("--only", nargs="*", help="names of sets")
    parser.add_argument("--work", type=int, default=MOST_WORK, help="steps of a listing at most")
    parser.add_argument("--check", type=int, default=CHECK_STEPS, help="steps of the check at most")
    asked = parser.parse_args()
    compiled.wait()
    print(
        f"{'set':16}{'published':>10}{'table':>10}  {'limits':7}{'listing':22}{'check':22}seconds"
    )
    lines = []
    for problem in read_sets(asked.data, FILES[asked.sets]):
        if not asked.only or problem.name in asked.only:
            lines.append(_line(problem, asked.work, asked.check))
            print(_row(lines[-1]), flush=True)
    _print_counts(lines)
    return int(any(line.is_false for line in lines))


def read_sets(folder: Path, file: str) -> list[Selection]:
    """Return the sets of a file whose optimum is proved, edge to edge, in each orientation."""
    sheets: dict[str, tuple[int, int]] = {}
    pieces: dict[str, list[Wanted]] = {}
    with (folder / file).open(newline="", encoding="utf-8") as rows:
        for row in csv.DictReader(rows):
            name, width, height = row["instance"], int(row["width"]), int(row["height"])
            if row["kind"] == "sheet":
                sheets[name] = width, height
                continue
            value = int(row["value"] or width * height)
            one = Wanted(width, height, int(row["max_quantity"]), value)
            pieces.setdefault(name, []).append(one)
    return [
        selection(name, sheet, pieces[name], turn, best)
        for name, sheet in sheets.items()
        for orientation, turn in TURNS.items()
        if (best := _best(folder, name, file, orientation)) is not None
    ]


def _best(folder: Path, name: str, file: str, orientation: str) -> int | None:
    for row in read_published(folder)[name, orientation]:
        is_meant = row["problem"] == "knapsack" and row["data_file"] == file
        if is_meant and row["is_optimal"] == "yes" and row.get("certainty") != "from memory":
            return int(row["value"])
    return None


def _line(problem: Selection, most_work: int, check_steps: int) -> Line:
    began = time.process_time()
    worth, filled = from_table(problem, compiled.wait())
    assert_comes_out(problem, filled.tree)
    return Line(
        problem,
        worth,
        filled.keeps_limits(problem),
        _listed(problem, worth, most_work),
        _checked(problem, worth, check_steps),
        time.process_time() - began,
    )


def _listed(problem: Selection, most: int, most_work: int) -> str:
    """Return how far the listing comes; PROVED only if a sheet worth the optimum was cut."""
    above, _ = from_listing(problem, problem.best + 1, most, compiled.wait(), most_work)
    word, filled = from_listing(problem, problem.best, most, compiled.wait(), most_work)
    if above == FOUND or word == NONE:
        return CONTRADICTS
    if filled is None:
        return word
    assert_comes_out(problem, filled.tree)
    if filled.worth != problem.best or not filled.keeps_limits(problem):
        return CONTRADICTS
    return PROVED if above == NONE else f"found, {above}"


def _checked(problem: Selection, most: int, steps: int) -> str:
    at, above = (from_check(problem, problem.best + more, most, steps) for more in (0, 1))
    if above or at not in {None, problem.best}:
        return CONTRADICTS
    if at is None:
        return "too many steps" if above is None else "none above"
    return "found, too many steps" if above is None else PROVED


def _row(line: Line) -> str:
    problem = line.problem
    name = f"{problem.name} turned" if problem.turn == "yes" else problem.name
    limits = "kept" if line.keeps_limits else ""
    wrong = f"  {CONTRADICTS}" if line.is_false else ""
    return (
        f"{name:16}{problem.best:10}{line.worth:10}  {limits:7}{line.listed:24}{line.checked:24}"
        f"{line.seconds:7.2f}{wrong}"
    )


def _print_counts(lines: list[Line]) -> None:
    equal = sum(line.worth == line.problem.best for line in lines)
    kept = sum(line.keeps_limits for line in lines)
    print(f"\n{len(lines)} sets, {sum(line.seconds for line in lines):.0f} s of processor time")
    print(f"table: {equal} equal, {len(lines) - equal} above; {kept} keep all limits")
    for name in ("listed", "checked"):
        found = Counter(getattr(line, name) for line in lines)
        print(f"{name}: " + "; ".join(f"{n} {word}" for word, n in found.most_common()))
    print(f"contradictions: {sum(line.is_false for line in lines)}")


if __name__ == "__main__":
    sys.exit(main())
