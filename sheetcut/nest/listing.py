"""Every way to fill a sheet well enough, listed, to see whether some few of them hold everything.

If a plan needs no more than so many sheets, none of them can carry little: under any weights,
each must carry what is left of the whole when all others carry the most that a sheet can. Where
few sets of blanks carry so much, they are listed, and an integer programme tells whether a
choice among them holds all blanks. If none does, there is no such plan; if one does and each of
its sets is known to be cuttable, that choice is the plan.

Sets of more than a few blanks are taken as cuttable. That can hide a proof, never make a false
one.

Source:
    R. Baldacci, N. Christofides and A. Mingozzi, "An exact algorithm for the vehicle routing
    problem based on the set partitioning formulation with additional cuts", Mathematical
    Programming 115 (2008), 351-385: routes listed by reduced cost; here sets for a sheet.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sheetcut.nest.board import Solution, Tree
from sheetcut.nest.cover import MOST_NODES, WHOLE, solver, without_surplus
from sheetcut.nest.fronts import Fronts, TooMuch
from sheetcut.nest.rows import Row
from sheetcut.nest.task import Task

MOST_BLANKS = 60  # wanted in all; with more there are too many sets
MOST_EXACT = (5, 8)  # blanks in a set tried in every way while listing: at first, and at last
MOST_SIFTED = 12  # blanks in a set that is tried so afterwards
MOST_SETS = 4_000
CHOICE_WORK = 10_000  # steps that one integer programme counts as
LOOK_WORK = 5  # steps that one look at a set takes
MOST_WORK = 1_000_000  # steps; each takes about a microsecond
ROUND_WORK = 2_000  # steps that count as one round of search
POLL_WORK = 20_000  # steps between two looks at the clock


Counts = tuple[int, ...]
"""How many blanks of each kind."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a listing has shown.

    Attributes:
        rounds: how many rounds of search it counts as.
        listed: how many sets there are, if that proves that so few sheets are not enough.
        solution: a plan of so few sheets, if that was found instead.
    """

    rounds: int
    listed: int | None = None
    solution: Solution | None = None


def listing(
    task: Task,
    rows: Sequence[Row],
    n_sheets: int,
    *,
    is_due: Callable[[], bool],
    most: int,
) -> Outcome:
    """Return whether so many sheets can be shown to be too few, or enough.

    Args:
        task: with one kind of sheet.
        rows: weights whose greatest load of a sheet is proved; the first leads the way.
        is_due: whether it is time to stop; then nothing is claimed.
        most: how many rounds it may take.
    """
    sets = Sets(task, rows, n_sheets, is_due=is_due, most_work=min(MOST_WORK, most * ROUND_WORK))
    listed, solution = _claim(task, sets, n_sheets) if sets.find() else (None, None)
    # A claim costs a round more than the work: so a search that was ended just before one, and
    # is repeated by its rounds, ends before it again.
    rounds = -(-sets.work // ROUND_WORK)
    if (listed is None and solution is None) or rounds >= most:
        return Outcome(min(most, rounds))
    return Outcome(rounds + 1, listed, solution)


def _claim(task: Task, sets: Sets, n_sheets: int) -> tuple[int | None, Solution | None]:
    """Return how many sets there are if they are too few, or a plan made of them."""
    listed = len(sets.found)
    while not sets.is_due():
        if _is_missing(task, sets.found, n_sheets):
            return listed, None
        sets.work += CHOICE_WORK
        if sets.work > sets.most_work:
            break
        none, numbers = _choice(task, sets, n_sheets)
        if none:
            return listed, None
        done, false = sets.look_at(numbers)
        if not numbers or not done:
            break
        if not false:
            sheets = [(0, sets.tree(name)) for name, n in numbers.items() for _ in range(n)]
            return None, Solution(tuple(without_surplus(task, sheets)))
        sets.drop(false)
    return None, None


class Sets:
    """The sets of blanks that a sheet of a plan with so few sheets can hold.

    Attributes:
        found: each set with its name in ``fronts``; without those that proved not cuttable.
        work: steps taken so far.
    """

    def __init__(
        self,
        task: Task,
        rows: Sequence[Row],
        n_sheets: int,
        *,
        is_due: Callable[[], bool],
        most_work: int = MOST_WORK,
    ) -> None:
        self.task = task
        lead = rows[0].weights
        kinds = [kind for kind, blank in enumerate(task.blanks) if blank.count]
        self.order = sorted(kinds, key=lambda i: (-Fraction(lead[i], task.blanks[i].area), i))
        self.loads = [[row.weights[kind] for row in rows] for kind in self.order]
        self.most = [row.capacity[0] for row in rows]
        self.needs = [row.total - (n_sheets - 1) * row.capacity[0] for row in rows]
        self.is_due = is_due
        self.most_work = most_work
        self.work = 0
        self.exact = 0
        self.found: dict[Counts, int] = {}
        self.fronts = Fronts(task, self.order, self._count)
        self._poll_at = POLL_WORK

    def find(self) -> bool:
        """List them all; return whether that was done within the limits."""
        if self.needs[0] <= 0:
            return False
        for self.exact in MOST_EXACT:
            self.found.clear()
            try:
                self._dig(0, 0, 0, [0] * len(self.most), self.task.stocks[0].area)
                self._sift()
                return True
            except TooMuch:
                if self.work > self.most_work or self.is_due():
                    break
        return False

    def _sift(self) -> None:
        """Drop sets that cannot be cut, small ones first, as far as half of the work allows."""
        enough = (self.work + MOST_WORK) // 2
        by_size = sorted((sum(many), many) for many in self.found)
        for size, many in by_size:
            if size > MOST_SIFTED or self.work > enough:
                break
            if not self.fronts.fits(self.found[many]):
                del self.found[many]

    def is_exact(self, name: int) -> bool:
        """Whether a set is known to be cuttable, beyond being taken as such."""
        return self.fronts.is_known(name) and self.fronts.fits(name)

    def look_at(self, names: Iterable[int]) -> tuple[bool, list[int]]:
        """Return whether sets could be tried in every way, and those that cannot be cut."""
        false = []
        try:
            for name in names:
                if not self.fronts.fits(name):
                    false.append(name)
        except TooMuch:
            return bool(false), false
        return True, false

    def drop(self, false: Iterable[int]) -> None:
        """Take sets off the list, with all that hold one of them and more."""
        for name in false:
            less = self._counts(name)
            self.found = {
                many: one
                for many, one in self.found.items()
                if any(n < m for n, m in zip(many, less, strict=True))
            }

    def tree(self, name: int) -> Tree:
        """Return a way to cut a sheet into a set that is known to be cuttable."""
        tree = self.fronts.tree(name, *self.fronts.room)
        return tree if tree.kind is None else Tree(*self.fronts.room, 0, (tree,))

    def _dig(self, at: int, name: int, size: int, loads: list[int], area: int) -> None:
        """List what holds a set and any blanks from one place of the order on."""
        self._count(LOOK_WORK)
        if loads[0] + self._fill(at, area) < self.needs[0]:
            return
        if at == len(self.order):
            self._list(name, loads)
            return
        blank = self.task.blanks[self.order[at]]
        self._dig(at + 1, name, size, loads, area)
        for _ in range(blank.count):
            area -= blank.area
            name, size = name + self.fronts.one(at), size + 1
            loads = [load + one for load, one in zip(loads, self.loads[at], strict=True)]
            if area < 0 or any(map(int.__gt__, loads, self.most)) or not self._fits(name, size):
                return
            self._dig(at + 1, name, size, loads, area)

    def _fill(self, at: int, area: int) -> int:
        """Return the most weight that an area can take of the blanks from one place on."""
        total = 0
        for place in range(at, len(self.order)):
            blank = self.task.blanks[self.order[place]]
            weight = self.loads[place][0]
            if not weight:
                break
            if blank.area * blank.count > area:
                return total + weight * area // blank.area
            total += weight * blank.count
            area -= blank.area * blank.count
        return total

    def _list(self, name: int, loads: list[int]) -> None:
        if any(map(int.__lt__, loads, self.needs)):
            return
        if len(self.found) == MOST_SETS:
            raise TooMuch
        self.found[self._counts(name)] = name

    def _counts(self, name: int) -> Counts:
        many = [0] * len(self.task.blanks)
        for place, kind in enumerate(self.order):
            many[kind] = self.fronts.number(name, place)
        return tuple(many)

    def _fits(self, name: int, size: int) -> bool:
        return size > self.exact or self.fronts.fits(name)

    def _count(self, work: int) -> None:
        self.work += work
        if self.work > self.most_work:
            raise TooMuch
        if self.work >= self._poll_at:
            self._poll_at = self.work + POLL_WORK
            if self.is_due():
                raise TooMuch


def _is_missing(task: Task, found: dict[Counts, int], n_sheets: int) -> bool:
    """Whether even the sets that hold most of some blank are too few of it."""
    return any(
        blank.count > n_sheets * max((many[kind] for many in found), default=0)
        for kind, blank in enumerate(task.blanks)
    )


def _choice(task: Task, sets: Sets, n_sheets: int) -> tuple[bool, Counter[int]]:
    """Return whether no so many of the sets hold all blanks, and else some that do, if found."""
    import highspy  # noqa: PLC0415  most papers need none

    model = solver()
    infinite = highspy.kHighsInf
    for blank in task.blanks:
        model.addRow(float(blank.count), infinite, 0, [], [])
    model.addRow(-infinite, float(n_sheets), 0, [], [])
    for place, (many, name) in enumerate(sets.found.items()):
        rows = [kind for kind, n in enumerate(many) if n]
        values = [float(many[kind]) for kind in rows]
        cost = 0.0 if sets.is_exact(name) else 1.0
        rows, values = [*rows, len(task.blanks)], [*values, 1.0]
        model.addCol(cost, 0.0, float(n_sheets), len(rows), rows, values)
        model.changeColIntegrality(place, highspy.HighsVarType.kInteger)
    model.setOptionValue("mip_max_nodes", MOST_NODES)
    model.run()
    if model.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return True, Counter()
    solution = model.getSolution()
    if not solution.value_valid:
        return False, Counter()
    numbers = [int(value + WHOLE) for value in solution.col_value]
    pairs = list(zip(sets.found.items(), numbers, strict=True))
    enough = sum(numbers) <= n_sheets and all(
        sum(many[kind] * n for (many, _), n in pairs) >= blank.count
        for kind, blank in enumerate(task.blanks)
    )
    return False, Counter({name: n for (_, name), n in pairs if n and enough})
