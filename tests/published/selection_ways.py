"""What parts of the program say of a sheet's best selection: the table, the listing, the check."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from types import ModuleType

from sheetcut.check.case import PaperCase
from sheetcut.check.checks import _paper
from sheetcut.check.listed import TooLongError, _Listing
from sheetcut.check.weights import WeightRow, sheets_to_cut
from sheetcut.nest import lay_out
from sheetcut.nest.board import Tree
from sheetcut.nest.bounds import area_rows, function_rows
from sheetcut.nest.fronts import MOST_BLANKS, TooMuch
from sheetcut.nest.grid import content, grids
from sheetcut.nest.listing import MOST_SETS, MOST_WORK, Sets
from sheetcut.nest.rows import Row
from sheetcut.plan import plan_from
from tests.published.selection import PAPER, Selection

EXACTLY = 10**12  # work that no table of a published problem takes

FOUND = "found"
NONE = "none"
STEPS = "too many steps"
SETS = "too many sets"
BLANKS = "too many blanks"
ROOM = "too little room"


@dataclass(frozen=True, slots=True)
class Filled:
    """A sheet as it was found filled.

    Attributes:
        worth: what its pieces are worth together.
        counts: how many of each kind there are.
        tree: how it is cut.
    """

    worth: int
    counts: tuple[int, ...]
    tree: Tree

    def keeps_limits(self, problem: Selection) -> bool:
        """Whether there are no more of any kind than may be."""
        return all(n <= piece.most for n, piece in zip(self.counts, problem.pieces, strict=True))


def from_table(problem: Selection, machine: ModuleType | None = None) -> tuple[int, Filled]:
    """Return what a sheet is worth at most with any number of each, and one that is worth it."""
    task, values = problem.task(), problem.values
    (grid,) = grids(task, EXACTLY)
    table = grid.table(values, machine)
    return int(table[grid.stocks[0]]), _filled(problem, grid.best_tree(table, values, 0, machine))


def from_listing(
    problem: Selection,
    need: int,
    most: int,
    machine: ModuleType | None = None,
    most_work: int = MOST_WORK,
) -> tuple[str, Filled | None]:
    """Return whether the listing finds a sheet worth so much, with limits; and if so, which.

    Args:
        need: what it is to be worth at least.
        most: what it can be worth at most, as from the table.
    """
    sets = _sets(problem, need, most, machine, most_work)
    if not sets.find():
        return _limit(sets), None
    while sets.found and sets.work <= most_work:
        pick = min(sets.found, key=lambda one: sum(one[1]))
        try:
            if sets.fits(pick):
                return FOUND, _filled(problem, sets.tree(pick))
            sets.refute(pick)
        except TooMuch:
            return (BLANKS if sum(pick[1]) > MOST_BLANKS else _limit(sets)), None
    return (STEPS if sets.found else NONE), None


def best_listed(problem: Selection, need: int, most: int, machine: ModuleType | None = None) -> int:
    """Return what the best of all sheets is worth that the listing finds, worth so much at least.

    Args:
        need, most: as for ``from_listing``.
    """
    sets = _sets(problem, need, most, machine, MOST_WORK)
    assert sets.find()
    while false := next((pick for pick in sets.found if not sets.fits(pick)), None):
        sets.refute(false)
    return max(
        sum(n * value for n, value in zip(counts, problem.values, strict=True))
        for _, counts in sets.found
    )


def _limit(sets: Sets) -> str:
    """Return the limit that a listing ended at."""
    if sets.work > sets.most_work:
        return STEPS
    return SETS if len(sets.found) >= MOST_SETS else ROOM


def _sets(
    problem: Selection, need: int, most: int, machine: ModuleType | None, most_work: int
) -> Sets:
    """Return the listing of one sheet of a plan whose other sheets carry the most they can.

    There are so many sheets that no other row asks anything of one.
    """
    task = problem.task()
    rows = function_rows(task)
    n_sheets = 1 + max(-(-row.total // row.capacity[0]) for row in (*area_rows(task), *rows))
    lead = Row(tuple(problem.values), (most,), need + (n_sheets - 1) * most, "patterns")
    return Sets(
        task, [lead, *rows], n_sheets, is_due=lambda: False, machine=machine, most_work=most_work
    )


def from_check(problem: Selection, need: int, most: int, most_steps: int) -> int | None:
    """Return what a sheet is worth that the check's own listing finds; 0 for none, None too long.

    Args:
        need, most: as for ``from_listing``.
    """
    try:
        listing = _Told(_case(problem), problem, need, most, most_steps)
        counts = next(listing._sets(0), None)
    except TooLongError:
        return None
    if counts is None:
        return 0
    return sum(n * blank.weights[0] for n, blank in zip(counts, listing.blanks, strict=True))


class _Told(_Listing):
    """The check's listing, told what a sheet is to carry."""

    def __init__(
        self, case: PaperCase, problem: Selection, need: int, most: int, most_steps: int
    ) -> None:
        sheets = sheets_to_cut(case)
        orders = [piece.order for piece in case.plan.job.pieces]
        weights = dict(zip(orders, problem.values, strict=True))
        super().__init__(case, [WeightRow(weights, {sheets[0].id: most}, None)], sheets, most_steps)
        self.need = need
        self.budget = self.costs[0]

    def _needs(self, at: int) -> list[int]:
        return [self.need]


@cache
def _case(problem: Selection) -> PaperCase:
    job = problem.job()
    plan = plan_from(job, [lay_out(job, PAPER, rounds=1)])
    faults, case = _paper(plan, plan.papers[0])
    assert case is not None, faults
    return case


def _filled(problem: Selection, tree: Tree) -> Filled:
    counts = content(tree, len(problem.pieces))
    worth = sum(n * value for n, value in zip(counts, problem.values, strict=True))
    return Filled(worth, counts, tree)


def assert_comes_out(problem: Selection, tree: Tree) -> None:
    """Check that a tree cuts the sheet into pieces as they are wanted and nothing else."""
    assert (tree.wide, tree.high) == problem.sheet
    todo = [tree]
    while todo:
        one = todo.pop()
        run = (one.wide, one.high)
        if one.kind is not None:
            piece = problem.pieces[one.kind]
            sides = (piece.width, piece.height)
            assert run == sides or (problem.turn == "yes" and run == sides[::-1])
            continue
        members = [(part.wide, part.high) for part in one.members]
        assert sum(sides[one.along] for sides in members) + one.free == run[one.along]
        assert all(sides[1 - one.along] == run[1 - one.along] for sides in members)
        assert min(*run, one.free + 1) > 0
        todo.extend(one.members)
