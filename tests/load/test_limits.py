"""When it is said that it will do: soon and whole, at whatever moment, also on a busy machine.

Nothing here is timed. How soon is counted in looks at the stop; how long that takes is measured
by ``python -m tests.load.limits``.
"""

import random
import signal
import subprocess
import sys
import time

import pytest

from sheetcut.check import faults_in
from sheetcut.nest import Stop
from sheetcut.plan import make_plan
from tests.cli.shell import shell
from tests.load.limits import many_blanks, write_tables

MOST_LOOKS = 12  # once it is due: each part of the search looks once more, and hands over


class Counting(Stop):
    """A stop that is due from its so-manieth look on, whatever the clock says."""

    __slots__ = ("looks", "most")

    def __init__(self, most: int) -> None:
        super().__init__()
        self.looks, self.most = 0, most

    def is_due(self) -> bool:
        self.looks += 1
        return self.looks > self.most


@pytest.mark.parametrize(("blanks", "sheets", "moments"), [(24, 3, 3), (150, 5, 1)])
def test_once_it_is_due_hardly_anybody_looks_again(blanks, sheets, moments):
    """Whoever went on would look again and again; whoever never looks, not often enough."""
    job = many_blanks(blanks, sheets)
    chance = random.Random(20261125)
    for most in (0, 2, *(chance.randint(3, 250) for _ in range(moments))):
        stop = Counting(most)
        plan = make_plan(job, stop=stop)
        assert plan.stopped or stop.looks <= most, most  # or it was done before
        assert faults_in(plan) == ()
        assert not plan.short
        assert stop.looks <= most + MOST_LOOKS, most


@pytest.mark.parametrize("is_searching", [True, False])
def test_ctrl_c_at_any_moment_leaves_a_whole_plan_or_none(tmp_path, is_searching):
    """The first ends the search with what was found; before that there is nothing to keep.

    Some moments after the start, and some after the search has said that it is trying.
    """
    write_tables(many_blanks(60, 4), tmp_path)  # not proved in a minute
    chance = random.Random(20261125)
    for _ in range(2):
        before = plans_in(tmp_path)
        planner = subprocess.Popen(
            [sys.executable, "-m", "sheetcut.cli", "plan", str(tmp_path), "--seconds", "60"],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8",
        )  # fmt: skip
        assert planner.stderr is not None
        said = planner.stderr.readline() if is_searching else ""
        time.sleep(chance.uniform(0.0, 1.5))
        planner.send_signal(signal.SIGINT)
        out, err = planner.communicate(timeout=120)
        new = plans_in(tmp_path) - before
        assert not list((tmp_path / "out").glob(".*")), "something half written stays"
        if is_searching:
            assert "trying" in said
            assert (planner.returncode, len(new)) == (0, 1), out + err
            assert "That will do" in err
        if planner.returncode == 0:
            assert shell("check", new.pop()).returncode == 0
        else:
            assert new == set(), out + err


def plans_in(folder):
    """Return the plans' folders that stand in a studio."""
    return set((folder / "out").glob("[!.]*"))
