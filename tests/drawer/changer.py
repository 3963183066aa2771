"""A program that changes a store again and again, and says so on its output each time."""

import os
import random
import sys
from datetime import datetime
from pathlib import Path

from sheetcut.drawer import Store, add_order, correct_order, cut_plan, receive, spoil, work_list
from sheetcut.errors import SheetcutError
from tests.drawer.studio import drawing, random_plan

NOW = datetime(2026, 11, 25, 16, 0)


def main(folder: Path, first: int, count: int) -> None:
    """Make so many changes; each line of output is a change that was acknowledged."""
    chance = random.Random(first)
    with Store.open(folder) as store:
        os.write(1, b"ready\n")
        for number in range(first, first + count):
            change(store, number, chance)
            os.write(1, f"{number} {store.history()[-1].number}\n".encode())


def change(store: Store, number: int, chance: random.Random) -> None:
    """Make one change of some kind; an order named after its number stays behind."""
    add_order(store, drawing(f"K{number}", 100, 150, 3), now=NOW)
    try:
        kind = number % 5
        plan = random_plan(store, chance, made=str(number))
        if kind < 2 and plan:
            cut_plan(store, plan, now=NOW)
        elif kind == 2:
            receive(store, "HP-IMP", 5, now=NOW, paid=7600)
        elif kind == 3 and work_list(store):
            spoil(store, work_list(store)[0].piece.order, now=NOW)
        else:
            correct_order(store, f"K{number}", now=NOW, note="x" * chance.randint(1, 5_000))
    except SheetcutError:
        receive(store, "HP-IMP", 1, now=NOW)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
