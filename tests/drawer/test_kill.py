"""Programs killed in the middle of their changes: what was acknowledged is there, and whole."""

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

from sheetcut.drawer import Store, balances
from tests.drawer.studio import NOW, begun, demo_drawing_paper, replayed

ROOT = Path(__file__).resolve().parent.parent.parent
PAIRS = 105  # each of two changes, acknowledged together
KILLS = 9


def test_nothing_acknowledged_is_lost_however_a_program_ends(folder):
    """Two hundred changes and more, by programs killed (kill -9) at random moments."""
    chance = random.Random(20261125)
    begun(folder, demo_drawing_paper()).close()
    acknowledged, kills = [], 0
    while len(acknowledged) < PAIRS:
        left = PAIRS - len(acknowledged)
        stop_after = min(left, chance.randint(0, 2 * PAIRS // KILLS))
        acknowledged += killed(folder, 10_000 * kills, stop_after, chance.random())
        kills += 1
        whole(folder, acknowledged)
    assert kills >= 8
    with Store.open(folder) as store:
        changes = [entry for entry in store.history() if entry.kind == "change"]
        for _ in changes[1:]:
            store.undo(now=NOW)
        assert store.recorded() == demo_drawing_paper()


def killed(folder: Path, first: int, stop_after: int, moment: float) -> list[tuple[int, int]]:
    """Let a program acknowledge so many changes, kill it within the next, return them."""
    command = [sys.executable, "-m", "tests.drawer.changer", str(folder), str(first), "10000"]
    program = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE)
    assert program.stdout
    with program, program.stdout as output:
        assert output.readline() == b"ready\n"
        lines = [output.readline() for _ in range(stop_after)]
        time.sleep(moment * 0.01)  # a few changes take about as long
        program.kill()
        lines += output.readlines()  # what it could still say
        assert program.wait() == -signal.SIGKILL
    return [
        (int(number), int(entry))
        for number, entry in (line.split() for line in lines if line.endswith(b"\n"))
    ]


def whole(folder: Path, acknowledged: list[tuple[int, int]]) -> None:
    """Assert that the store opens, is what its history says, and holds all acknowledged."""
    with Store.open(folder) as store:
        orders = {piece.order for piece in store.recorded().pieces}
        assert {f"K{number}" for number, _ in acknowledged} <= orders
        if acknowledged:
            # What it was killed in may be there too, whole, though nobody heard of it.
            assert acknowledged[-1][1] <= store.history()[-1].number
        assert all(balance.is_even for balance in balances(store).values())
    replayed(folder / "studio.sqlite")


HALF_WAY = """
import os, sys, time
from datetime import datetime
from pathlib import Path
from sheetcut.drawer import Store
store = Store.open(Path(sys.argv[1]))
store._connection.execute("PRAGMA cache_size = 1")  # so that pages reach the file before the end
with store.changing(datetime(2026, 11, 25)) as change:
    for row in change.all("order_line"):
        change.alter("order_line", row["id"], {"note": "x" * 200_000, "count": 99})
    change.says = "never"
    os.write(1, b"half way\\n")
    time.sleep(60)
"""


def test_a_change_half_written_to_the_file_is_rolled_back(folder):
    """The pages of a change are in the file already when its program is killed."""
    begun(folder, demo_drawing_paper()).close()
    path = folder / "studio.sqlite"
    before = path.read_bytes()
    program = subprocess.Popen(
        [sys.executable, "-c", HALF_WAY, str(folder)], cwd=ROOT, stdout=subprocess.PIPE
    )
    assert program.stdout
    with program, program.stdout as output:
        assert output.readline() == b"half way\n"
        program.kill()
    assert path.read_bytes() != before
    assert (folder / "studio.sqlite-journal").stat().st_size > 0
    with Store.open(folder) as store:
        assert store.job() == demo_drawing_paper()
    assert path.read_bytes() == before
    replayed(path)
