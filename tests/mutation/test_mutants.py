"""The changes are the ones meant, and a test that notices is told from one that does not."""

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutation.mutants import mutants_of, mutated

SOURCE = '''
"""Says 1 + 1 and changes nothing."""
from __future__ import annotations

__all__ = ["fit"]
MOST = 3


def fit(run: int, side: int, *, gap: int = 0) -> int:
    """Return 1 and 2."""
    if side < 1 or not run:
        raise ValueError("nothing")
    return min(MOST, (run + gap) // (side - -gap))


class Row:
    def odd(self, numbers):
        for n in numbers:
            if n:
                continue
            yield [one for one in n if one % 2]
'''


def test_every_place_that_decides_something_is_changed_once():
    told = [str(one).partition(" ")[2] for one in mutants_of("m", SOURCE)]
    assert told == [
        ": MOST = 3: 3 to 4",
        "fit: def fit(run: int, side: int, *, gap: int = 0) -> int:: 0 to 1",
        "fit: if side < 1 or not run:: the other way",
        "fit: if side < 1 or not run:: or to and",
        "fit: if side < 1 or not run:: < to <=",
        "fit: if side < 1 or not run:: 1 to 2",
        "fit: if side < 1 or not run:: not dropped",
        'fit: raise ValueError("nothing"): dropped',
        "fit: return min(MOST, (run + gap) // (side - -gap)): returns None",
        "fit: return min(MOST, (run + gap) // (side - -gap)): min to max",
        "fit: return min(MOST, (run + gap) // (side - -gap)): // to *",
        "fit: return min(MOST, (run + gap) // (side - -gap)): + to -",
        "fit: return min(MOST, (run + gap) // (side - -gap)): - to +",
        "fit: return min(MOST, (run + gap) // (side - -gap)): minus dropped",
        "Row.odd: if n:: the other way",
        "Row.odd: continue: dropped",
        "Row.odd: yield [one for one in n if one % 2]: dropped",
        "Row.odd: yield [one for one in n if one % 2]: without its if 1",
        "Row.odd: yield [one for one in n if one % 2]: % to //",
        "Row.odd: yield [one for one in n if one % 2]: 2 to 3",
    ]


def test_a_mutant_differs_from_its_module_in_one_place():
    plain = ast.unparse(ast.parse(SOURCE)).splitlines()
    for mutant in mutants_of("m", SOURCE):
        changed = ast.unparse(mutated(SOURCE, mutant)).splitlines()
        assert len(changed) == len(plain)
        assert sum(one != other for one, other in zip(plain, changed, strict=True)) == 1, mutant


def test_what_stands_in_a_heading_is_no_code_of_the_function():
    code = {str(one).partition(" ")[2]: one.code for one in mutants_of("m", SOURCE)}
    assert [told for told, inside in code.items() if not inside] == list(code)[:2]


@pytest.mark.skipif(sys.platform != "linux", reason="mutants are tried in forks, and measured")
@pytest.mark.parametrize("from_the_start", [False, True])
def test_a_mutant_is_killed_by_a_test_that_notices_it(tmp_path, from_the_start):
    """2 + 2 and 2 * 2 are one number, so that change is missed; that to 2 - 2 is not."""
    (tmp_path / "sheetcut").mkdir()
    (tmp_path / "sheetcut" / "__init__.py").write_text("")
    (tmp_path / "sheetcut" / "twice.py").write_text(
        "def twice(x):\n    return x + x\n\n\ndef square(x):\n    return x ** 2\n"
    )
    (tmp_path / "test_twice.py").write_text(
        "from sheetcut.twice import square, twice\n\n\n"
        "def test_two():\n    assert twice(2) == 4\n\n\n"
        "def test_four():\n    assert square(2) == 4\n"
    )
    programme = (
        "import sys; sys.path.insert(0, '.')\n"
        "from tests.mutation import __main__ as trial\n"
        "from tests.mutation.parts import Part\n"
        f"part = Part(('twice.py',), ('test_twice.py',), ('-c', 'none.ini'), {from_the_start})\n"
        "for mutant, verdict in trial._verdicts(part, trial._mutants(part), 5):\n"
        "    print(mutant.change, verdict, sep=': ', flush=True)\n"
    )
    (tmp_path / "none.ini").write_text("[pytest]\n")
    root = Path(__file__).resolve().parent.parent.parent
    done = subprocess.run(
        [sys.executable, "-c", programme],
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(root)},
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    assert [line for line in done.stdout.splitlines() if ": " in line] == [
        "returns None: killed",
        "+ to -: killed",
        "returns None: killed",
        "** to *: survived",
        "2 to 3: killed",
    ]
