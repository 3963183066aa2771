"""An integer programme chooses sheets; one that takes long is ended by a stop, counted in asks."""

import random
from itertools import count, product

import highspy
import pytest

from sheetcut.job import Job, Piece, Sheet
from sheetcut.nest.board import Tree
from sheetcut.nest.cover import covering, run, solver
from sheetcut.nest.task import stocks_of, task_of
from sheetcut.units import mm

ROWS, COLUMNS = 150, 3000  # 25 seconds of processor time where nobody ends it


def long_one():
    """Return a covering by chance that takes the solver long: rows to be met, sheets to choose."""
    chance = random.Random(3)
    model, infinite = solver(), highspy.kHighsInf
    for _ in range(ROWS):
        model.addRow(float(chance.randint(1, 9)), infinite, 0, [], [])
    for column in range(COLUMNS):
        rows = chance.sample(range(ROWS), chance.randint(4, 9))
        values = [float(chance.randint(1, 3)) for _ in rows]
        model.addCol(1 + chance.random() / 10, 0.0, infinite, len(rows), rows, values)
        model.changeColIntegrality(column, highspy.HighsVarType.kInteger)
    return model


def test_a_solver_ends_at_the_first_look_that_finds_the_stop_due():
    """It went on to its last node, whatever was said meanwhile."""
    model, asked = long_one(), []

    def is_due():
        asked.append(None)
        return len(asked) >= 2

    run(model, is_due, None)
    assert model.getModelStatus() == highspy.HighsModelStatus.kInterrupt
    assert len(asked) == 2


def test_a_solver_keeps_to_the_seconds_by_itself():
    model = long_one()
    run(model, lambda: False, 0.05)
    assert model.getModelStatus() == highspy.HighsModelStatus.kTimeLimit


def test_what_a_signal_raises_while_the_solver_runs_comes_out():
    """A second Ctrl-C ends the program, whichever line it meets."""
    model, asked = long_one(), count()

    def interrupted():
        if next(asked):
            raise KeyboardInterrupt
        return False

    with pytest.raises(KeyboardInterrupt):
        run(model, interrupted, None)


def sheets_of(task, *holdings):
    """Return sheets that hold so many blanks of each kind, side by side, by what they hold."""
    found = {}
    for counts in holdings:
        blanks = [
            Tree(blank.wide, blank.high, kind=kind)
            for kind, blank in enumerate(task.blanks)
            for _ in range(counts[kind])
        ]
        found[0, counts] = Tree(task.stocks[0].wide, task.stocks[0].high, 0, tuple(blanks), 0)
    return found


@pytest.mark.parametrize(
    ("wanted", "least"),
    [
        ((2, 2), 2),  # (2, 0) and (0, 2), or (1, 1) twice
        ((3, 1), 2),  # (2, 0) and (1, 1)
        ((3, 3), 3),
        ((5, 0), 3),  # two of (2, 0) hold four
    ],
)
def test_as_few_sheets_are_chosen_as_will_do(wanted, least):
    """Also where a stop is asked that is never due; and held to every choice of up to four."""
    holdings = ((2, 0), (0, 2), (1, 1))
    few = next(
        n
        for n in range(5)
        if any(
            all(sum(one[kind] for one in chosen) >= wanted[kind] for kind in (0, 1))
            for chosen in product(holdings, repeat=n)
        )
    )
    assert few == least
    pieces = [
        Piece(name, name, "Paper", mm(side), mm(100), n)
        for name, side, n in (("A", 100, wanted[0]), ("B", 90, wanted[1]))
        if n
    ]
    job = Job(sheets=(Sheet("S", "Paper", mm(200), mm(100), None),), pieces=tuple(pieces))
    lines = range(len(pieces))
    task = task_of(
        job,
        "Paper",
        stocks_of(job, "Paper"),
        {line: pieces[line].turn for line in lines},
        {line: pieces[line].count for line in lines},
    )
    known = sheets_of(task, *(one[: len(lines)] for one in holdings))
    for is_due in (None, lambda: False):
        found = covering(task, known, [None], is_due=is_due)
        assert found is not None
        assert len(found.sheets) == least
