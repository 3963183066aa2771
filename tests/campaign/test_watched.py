"""What hangs, swells, dies or talks is told by name, and the next case is tried all the same."""

import os
import signal
import time

from tests.campaign.fuzz import Target
from tests.campaign.watched import serve, watched


def _hang(_):
    signal.setitimer(signal.ITIMER_PROF, 0)  # deaf to its own watch, as a library in C may be
    time.sleep(60)


def _turn():
    while True:
        pass


TROUBLES = (
    Target("fine", lambda chance: chance.random(), lambda case: None),
    Target("swells", lambda chance: 450 << 20, lambda n: bytearray(b"x") * n),
    Target("dies", lambda chance: None, lambda case: os._exit(3)),
    Target("hangs", lambda chance: None, _hang),
    Target("talks", lambda chance: None, lambda case: print("0 is out of range")),
    Target("turns", lambda chance: None, lambda case: _turn(), most_s=0.2),
)


def serve_troubles(there):
    serve(there, TROUBLES)


def test_every_trouble_is_told_and_none_stops_the_rest():
    names = [target.name for target in TROUBLES]
    found = list(watched(names, [7], serving=serve_troubles, patience_s=15))
    assert [one.target for one in found] == names
    told = {one.target: one.broken for one in found}
    assert told["fine"] is None
    assert "MB" in told["swells"]
    assert told["dies"] == "the process died"
    assert told["hangs"] == "nothing came in 15 s by the clock"
    assert told["talks"] == r"printed '0 is out of range\n'"
    assert told["turns"] == "took more than 0.2 s"
