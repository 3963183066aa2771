"""The count of branches, on a module whose branches are counted by hand."""

import json
import subprocess
import sys

import pytest

from tests.branches import in_all, lines_about, modules_in

# Called with 1 alone, the first `if` goes on to line 3, and the second is never come to.
WRITTEN = """\
def sign(number):
    if number > 0:
        return 1
    if number < 0:
        return -1
    return 0
sign(1)
"""


@pytest.fixture(scope="module")
def modules(tmp_path_factory):
    folder = tmp_path_factory.mktemp("counted")
    (folder / "sign.py").write_text(WRITTEN)
    for words in ("run --branch --source=. sign.py", "json --quiet -o report.json"):
        command = [sys.executable, "-m", "coverage", *words.split()]
        subprocess.run(command, cwd=folder, check=True, capture_output=True)
    return modules_in(json.loads((folder / "report.json").read_text()))


def test_lines_and_branches_are_counted(modules):
    """Seven statements with `def` and the call; `if` twice, both ways on: four branches."""
    (one,) = modules
    assert (one.lines, one.lines_taken) == (7, 4)
    assert (one.branches, one.branches_taken) == (4, 1)
    assert one.share == pytest.approx(100 * 5 / 11)
    assert one.left == ("4", "5", "6", "2->4", "4->5", "4->6")


def test_what_falls_short_is_named_and_the_sum_stands_last(modules):
    short, total = lines_about(modules)
    assert short.startswith("sign.py: 45.5 %, of 4 branches 1; left: 4, 5, 6, 2->4")
    assert total == "in all 45.5 % of lines and branches; 1 of 4 branches"


def test_nothing_to_take_is_all_taken():
    assert in_all([]).share == 100
