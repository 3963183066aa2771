"""Changes the package in small ways, one at a time, and counts how many the tests notice."""

from __future__ import annotations

import argparse
import csv
import importlib
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import nullcontext
from pathlib import Path
from typing import TextIO

import pytest

from tests.mutation.mutants import Mutant, mutants_of
from tests.mutation.parts import PARTS, Part
from tests.mutation.trial import ODD, Session, from_the_start, source_of

ROOT = Path(__file__).resolve().parent.parent.parent
EQUIVALENT = Path(__file__).with_name("equivalent.csv")
COPIED = ("sheetcut", "tests", "demo", "layouts", "pyproject.toml", "README.md", "DEVELOPERS.md")
LOADED = ("numpy", "shapely", "highspy", "hypothesis", "msgspec", "openpyxl", "click", "coverage")
"""Libraries that every fork would load again."""
OPTIONS = ("-q", "-s", "-p", "no:cacheprovider", "-W", "ignore::pytest.PytestAssertRewriteWarning")
FROM_THE_START = 120.0  # seconds of processor time for a mutant tried from the start


def main(arguments: list[str]) -> int:
    """Return 0 only if no mutant survives but those known to change nothing."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("parts", nargs="*", help=f"of {', '.join(PARTS)}; else all of them")
    parser.add_argument("--only", default="", help="modules whose name has this in it")
    parser.add_argument("--sample", type=int, help="so many of each part, drawn by chance")
    parser.add_argument("--seed", type=int, default=1, help="for the sample")
    parser.add_argument("--seconds", type=float, default=8, help="of tests for a mutant, at most")
    parser.add_argument("--survivors", type=Path, help="try those of an earlier log again")
    parser.add_argument("--log", type=Path, help="a file for what became of each; else survivors")
    parser.add_argument("--here", action="store_true", help=argparse.SUPPRESS)
    chosen = parser.parse_args(arguments)
    if unknown := set(chosen.parts) - set(PARTS):
        parser.error(f"there is no part {', '.join(sorted(unknown))}")
    if not chosen.here:
        return _in_a_copy(arguments)
    for name in LOADED:
        importlib.import_module(name)
    left = 0
    with chosen.log.open("w") if chosen.log else nullcontext() as log:
        for name in chosen.parts or PARTS:
            left += _try_all(name, _chosen(PARTS[name], chosen), chosen.seconds, log)
    return int(left > 0)


def _chosen(part: Part, wanted: argparse.Namespace) -> list[Mutant]:
    """Return the mutants of a part that the arguments ask for."""
    found = [one for one in _mutants(part) if wanted.only in one.module]
    if wanted.survivors:
        lines = wanted.survivors.read_text("utf-8").splitlines()
        kept = {line.rpartition("\t")[0] for line in lines}
        found = [one for one in found if f"survived\t{one}" in kept]
    if wanted.sample is None or wanted.sample >= len(found):
        return found
    drawn = random.Random(wanted.seed).sample(range(len(found)), wanted.sample)
    return [found[i] for i in sorted(drawn)]


def _in_a_copy(arguments: Sequence[str]) -> int:
    """Run in a copy of the project, where tests may write and nothing is changed meanwhile."""
    chosen = [str(Path(one).resolve()) if Path(one).suffix else one for one in arguments]
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
        for name in COPIED:
            copy = shutil.copytree if (ROOT / name).is_dir() else shutil.copy
            copy(ROOT / name, Path(folder, name))
        settings = {"SHEETCUT_KERNEL": "plain", "CI": "1", "PYTHONPATH": folder, "TMPDIR": folder}
        return subprocess.run(
            [sys.executable, "-m", "tests.mutation", "--here", *chosen],
            cwd=folder,
            env=os.environ | settings,
            check=False,
        ).returncode


def _mutants(part: Part) -> list[Mutant]:
    found = []
    for pattern in part.modules:
        for path in sorted(Path("sheetcut").glob(pattern)):
            module = ".".join(path.with_suffix("").parts)
            found.extend(mutants_of(module, path.read_text("utf-8")))
    return found


def _try_all(name: str, mutants: Sequence[Mutant], seconds: float, log: TextIO | None) -> int:
    """Try the mutants of a part, print their count, and return how many survive unexplained."""
    part, known = PARTS[name], _equivalent()
    counts: Counter[str] = Counter(mutants=len(mutants))
    began = time.monotonic()
    for mutant, verdict in _verdicts(part, mutants, seconds):
        survived = verdict in ("survived", "no test comes by")
        what = ("equivalent" if mutant.key in known else "survived") if survived else "killed"
        counts[what] += 1
        if log or what == "survived":
            print(f"{what}\t{mutant}\t{verdict}", file=log or sys.stdout, flush=True)
    told = ", ".join(f"{what} {n}" for what, n in counts.items())
    print(f"{name}: {told}; {time.monotonic() - began:.0f} s", flush=True)
    return counts["survived"]


def _verdicts(
    part: Part, mutants: Sequence[Mutant], seconds: float
) -> Iterator[tuple[Mutant, str]]:
    """Yield what becomes of each mutant."""
    examples = sorted({str(source_of(one.module)) for one in mutants})
    arguments = [*OPTIONS, *part.options, *part.tests, *examples]
    in_place = [one for one in mutants if one.code and not part.from_the_start]
    later = [one for one in mutants if not one.code or part.from_the_start]
    for mutant, verdict in _of_session(in_place, arguments, seconds):
        if verdict == ODD:
            later.append(mutant)
        else:
            yield mutant, verdict
    for mutant in later:
        yield mutant, from_the_start(mutant, arguments, FROM_THE_START)


def _of_session(
    mutants: Sequence[Mutant], arguments: Sequence[str], seconds: float
) -> Iterator[tuple[Mutant, str]]:
    """Yield what becomes of mutants in a fork of pytest that has the tests at hand."""
    if not mutants:
        return
    reading, writing = os.pipe()
    pid = os.fork()
    if not pid:
        with os.fdopen(writing, "w", buffering=1) as file:
            session = Session(mutants, lambda verdict: print(verdict, file=file), seconds)
            pytest.main([*arguments], plugins=[session])
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading) as file:
        for mutant in mutants:
            told = file.readline().strip()
            if not told:
                raise SystemExit(f"the tests fail with nothing changed: {' '.join(arguments)}")
            yield mutant, told
    os.waitpid(pid, 0)


def _equivalent() -> set[tuple[str, str, str, str, int]]:
    """Return the keys of mutants that are known to change nothing that anyone could notice."""
    with EQUIVALENT.open(encoding="utf-8", newline="") as file:
        return {
            (row["module"], row["function"], row["line"], row["change"], int(row["nth"]))
            for row in csv.DictReader(file)
        }


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
