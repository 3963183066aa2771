"""One run of planning: says on standard output, a line of JSON each, what is being tried."""

from __future__ import annotations

import json
import sys
from datetime import datetime
from pathlib import Path
from threading import Thread

from sheetcut.errors import FaultsFound, ProblemsFound, SheetcutError
from sheetcut.nest import Stop
from sheetcut.page.studio import present_in
from sheetcut.plan import make_plan
from sheetcut.printout.files import write_plan


def run(folder: Path, seconds: float) -> None:
    """Plan a studio's orders and write the plan into its folder."""
    stop = Stop(seconds)
    Thread(target=_finish_when_told, args=(stop,), daemon=True).start()
    present = present_in(folder)
    plan = make_plan(
        present.job,
        seconds=seconds,
        made=datetime.now().astimezone().isoformat(timespec="seconds"),
        input_hash=present.input_hash,
        stop=stop,
        tell=lambda words: _say(trying=words),
    )
    _say(trying="drawing the layouts")
    write_plan(plan, folder)
    _say(done=True)


def _finish_when_told(stop: Stop) -> None:
    """Finish with what was found once nobody holds the other end any more."""
    sys.stdin.read()
    stop.finish()


def _say(**said: object) -> None:
    print(json.dumps(said), flush=True)


if __name__ == "__main__":
    try:
        run(Path(sys.argv[1]), float(sys.argv[2]))
    except ProblemsFound as error:
        _say(refused=[str(problem) for problem in error.problems])
    except FaultsFound as error:
        _say(refused=[str(fault) for fault in error.faults])
    except (SheetcutError, OSError) as error:
        _say(refused=[str(error)])
