"""Counts which branches of sheetcut the tests take, and names the modules where they take too few.

``python3 tests --coverage`` runs this with all tests; with a folder, with the tests in that. What
runs in processes of its own is counted too. The inner loops leave no trace when they are compiled,
so the tests of the engine run a second time with the same loops as plain Python.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from sheetcut.nest.compiled import CHOICE

ROOT = Path(__file__).resolve().parent.parent
LEAST = 95  # per cent; below that a module is named
AGAIN = "tests/nest"


@dataclass(frozen=True, slots=True)
class Module:
    """What of a module the tests came through.

    Attributes:
        lines, branches: how many it has.
        lines_taken, branches_taken: how many of these at least one test took.
        left: the lines that none took, and the branches as "from->to"; to 0 is the function's end.
    """

    name: str
    lines: int
    lines_taken: int
    branches: int
    branches_taken: int
    left: tuple[str, ...] = ()

    @property
    def share(self) -> float:
        """Return lines and branches taken, of all there are, in per cent."""
        there = self.lines + self.branches
        return 100 * (self.lines_taken + self.branches_taken) / there if there else 100.0

    def __str__(self) -> str:
        """Return a line of the list."""
        return (
            f"{self.name}: {self.share:.1f} %, of {self.branches} branches "
            f"{self.branches_taken}; left: {', '.join(self.left)}"
        )


def modules_in(report: dict) -> list[Module]:
    """Return the modules of a report of coverage's as it writes them in JSON."""
    return [
        Module(
            name,
            found["summary"]["num_statements"],
            found["summary"]["covered_lines"],
            found["summary"]["num_branches"],
            found["summary"]["covered_branches"],
            tuple(map(str, found["missing_lines"]))
            + tuple(f"{one}->{max(0, other)}" for one, other in found["missing_branches"]),
        )
        for name, found in report["files"].items()
    ]


def in_all(modules: list[Module]) -> Module:
    """Return the sum of modules."""
    return Module(
        "in all",
        sum(one.lines for one in modules),
        sum(one.lines_taken for one in modules),
        sum(one.branches for one in modules),
        sum(one.branches_taken for one in modules),
    )


def lines_about(modules: list[Module]) -> list[str]:
    """Return what is said of modules: those that fall short, the most left first, and the sum."""
    short = [one for one in modules if one.share < LEAST]
    short.sort(key=lambda one: (-len(one.left), one.name))
    total = in_all(modules)
    return [
        *map(str, short),
        f"in all {total.share:.1f} % of lines and branches; "
        f"{total.branches_taken} of {total.branches} branches",
    ]


def main(arguments: list[str]) -> int:
    """Return 0 only if every test passed and enough was taken in all."""
    _coverage("erase")
    failed = _coverage("run", "-m", "pytest", *arguments)
    failed += _coverage("run", "-m", "pytest", "--quiet", AGAIN, **{CHOICE: "plain"})
    _coverage("combine", "--quiet")
    modules = modules_in(_report())
    print("\n".join(lines_about(modules)))
    return int(failed > 0 or in_all(modules).share < LEAST)


def _coverage(*arguments: str, **settings: str) -> int:
    command = [sys.executable, "-m", "coverage", *arguments]
    return subprocess.run(command, cwd=ROOT, env={**os.environ, **settings}, check=False).returncode


def _report() -> dict:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "report.json"
        _coverage("json", "--quiet", "-o", str(path))
        return json.loads(path.read_text("utf-8"))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
