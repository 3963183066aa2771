"""One run beside the page: says on standard output, a line of JSON each, what is being tried."""

from __future__ import annotations

import json
import sys
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from threading import Thread
from typing import cast

from sheetcut.answers.alternatives import like
from sheetcut.errors import FaultsFound, ProblemsFound, SheetcutError, SystemRefused
from sheetcut.job import Preference
from sheetcut.layout import Plan
from sheetcut.nest import Stop
from sheetcut.page.found import found_of
from sheetcut.page.studio import Desk, present_in
from sheetcut.plan import make_plan
from sheetcut.printout.files import write_plan


class PlanGone(SheetcutError):
    """The plan that was looked at is not the newest any more."""

    def __init__(self, code: str) -> None:
        self.code = code
        super().__init__(f"plan {code} is not the newest any more; look at the one that is")


def run(folder: Path, seconds: float) -> None:
    """Plan a studio's orders and write the plan into its folder."""
    stop = Stop(seconds)
    Thread(target=_finish_when_told, args=(stop,), daemon=True).start()
    present = present_in(folder)
    plan = make_plan(
        present.job,
        seconds=seconds,
        made=_now(),
        input_hash=present.input_hash,
        stop=stop,
        tell=lambda words: _say(trying=words),
    )
    _say(trying="drawing the layouts")
    write_plan(plan, folder)
    _say(done=True)


def look_further(folder: Path, code: str) -> None:
    """Look for what would save a sheet of the newest plan, and for what to buy."""
    plan, settings = _newest(folder, code), present_in(folder).settings
    _say(found=found_of(plan, settings, tell=lambda words: _say(trying=words)), done=True)


def take(folder: Path, code: str, kind: Preference) -> None:
    """Write the alternative of one kind as a plan of its own, which is then the newest."""
    write_plan(replace(like(_newest(folder, code), kind), made=_now()), folder)
    _say(done=True)


def _newest(folder: Path, code: str) -> Plan:
    plan = Desk(folder).newest_plan()
    if plan is None or plan.code != code:
        raise PlanGone(code)
    return plan


def _now() -> str:
    return datetime.now().astimezone().isoformat(timespec="seconds")


def _finish_when_told(stop: Stop) -> None:
    """Finish with what was found once nobody holds the other end any more."""
    sys.stdin.read()
    stop.finish()


def _say(**said: object) -> None:
    print(json.dumps(said), flush=True)


def main(task: str, where: str, *asked: str) -> None:
    """Do what is asked, and say why where it cannot be done."""
    folder = Path(where)
    try:
        if task == "plan":
            run(folder, float(asked[0]))
        elif task == "like":
            take(folder, asked[0], cast(Preference, asked[1]))
        else:
            look_further(folder, asked[0])
    except ProblemsFound as error:
        _say(refused=[str(problem) for problem in error.problems])
    except FaultsFound as error:
        _say(refused=[str(fault) for fault in error.faults])
    except SheetcutError as error:
        _say(refused=[str(error)])
    except OSError as error:
        _say(refused=[str(SystemRefused(error))])


if __name__ == "__main__":
    main(*sys.argv[1:])
