"""The demo studio with its drawer kept and its week planned, and every address of its page."""

from __future__ import annotations

import shutil
from pathlib import Path

from sheetcut.page.bringing_in import bring_in
from sheetcut.page.studio import Desk, present_in
from sheetcut.plan import make_plan
from sheetcut.printout.files import write_plan
from tests.browser.places import places_of
from tests.page.test_every_route import GETS, OPEN, address

DEMO = Path(__file__).resolve().parent.parent.parent / "demo"
FILES = ("orders.csv", "drawer.csv", "studio.toml")

NO_PAGE = ("/tablet", "/exchange/chosen")  # not there before something else was done
SEARCHES = ("/quote?", "/edition?")
"""Answered by planning anew, which is a second of search and no read: asked now and then."""


def begun(folder: Path) -> None:
    """Make the planned studio in a folder that is not there yet."""
    folder.mkdir()
    for name in FILES:
        shutil.copy(DEMO / name, folder / name)
    bring_in(Desk(folder))
    present = present_in(folder)
    plan = make_plan(present.job, made="2026-11-25T09:00:00+00:00", input_hash=present.input_hash)
    write_plan(plan, folder)


def reads_of(folder: Path) -> tuple[str, ...]:
    """Return the addresses that show or give something: pages, drawings and downloads."""
    plan = Desk(folder).newest_plan()
    assert plan is not None
    rules = [address(rule, plan) for rule in GETS if rule not in (*OPEN, *NO_PAGE)]
    every = dict.fromkeys([*rules, *places_of(plan.code), "/static/page.css"])
    return tuple(path for path in every if not path.startswith(SEARCHES))


def searches_of(folder: Path) -> tuple[str, ...]:
    """Return the addresses that are answered by planning anew."""
    plan = Desk(folder).newest_plan()
    assert plan is not None
    return tuple(path for path in places_of(plan.code) if path.startswith(SEARCHES))
