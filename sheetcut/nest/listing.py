"""Every way to fill a sheet well enough, listed, to see whether some few of them hold everything.

If a plan costs no more than so much, none of its sheets can carry little: under any weights,
each must carry what is left of the whole when all that can be had for the rest of the money
carries the most it can. Where few sets of blanks carry so much, they are listed, and an
integer programme tells whether a choice among them holds all blanks. If none does, there is no
such plan; if one does and each of its sets is known to be cuttable, that choice is the plan.

Sets of many blanks are taken as cuttable until they are chosen. That can hide a proof, never
make a false one. Of sets that are part of each other only the largest are listed: a plan may
hold more blanks than are wanted, until they are left out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from types import ModuleType

import numpy as np

from sheetcut.nest import filling
from sheetcut.nest.board import Solution, Tree
from sheetcut.nest.bounds import costs_of, limits_of
from sheetcut.nest.choice import Pick, choice
from sheetcut.nest.cover import without_surplus
from sheetcut.nest.fronts import Fronts, TooMuch
from sheetcut.nest.grid import groups
from sheetcut.nest.holding import held
from sheetcut.nest.needs import needs
from sheetcut.nest.rows import Row
from sheetcut.nest.task import Task

EXACT = 7  # blanks in a set that are tried in every way while listing
MOST_SIFTED = 12  # blanks in a set that is tried so afterwards
SIFT_WORK = 1_000_000  # steps that take next to no time
MOST_BLANKS = 120  # wanted in all; with more there are too many sets
MOST_SETS = 20_000
MOST_WORK = 150_000_000  # steps; each takes about five nanoseconds
ROUND_WORK = 2_000  # steps that count as one round of search
SLICE_WORK = 200_000  # steps between two looks at the clock
CHOICE_WORK = 500_000  # steps that one integer programme counts as


def is_listable(task: Task, price: int, bound: int | None) -> bool:
    """Whether listing may show that no plan costs less than one at hand.

    With one size of sheet only where one sheet less is all there is to win.
    """
    if task.n_blanks > MOST_BLANKS or bound is None:
        return False
    return len(task.stocks) > 1 or (0 < task.stocks[0].price >= price - bound)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a listing has shown.

    Attributes:
        rounds: how many rounds of search it counts as.
        listed: how many sets there are, if that proves that the budget is not enough.
        solution: a plan within the budget, if that was found instead.
    """

    rounds: int
    listed: int | None = None
    solution: Solution | None = None


def listing(
    task: Task,
    rows: Sequence[Row],
    budget: int,
    *,
    is_due: Callable[[], bool],
    most: int,
    seconds: Callable[[], float | None] = lambda: None,
    machine: ModuleType | None = None,
    most_work: int = MOST_WORK,
) -> Outcome:
    """Return whether a plan within a budget can be shown to be none, or found.

    Args:
        rows: weights whose greatest load of each sheet is proved; the first leads the way.
        budget: what sheets may cost together.
        is_due: whether it is time to stop; then nothing is claimed.
        most: how many rounds it may take.
        seconds: how long it may still take, where that is limited.
        machine: the compiled loops, or None for plain Python; the answer is the same.
    """
    most_work = min(most_work, most * ROUND_WORK)
    sets = Sets(task, rows, budget, is_due=is_due, machine=machine, most_work=most_work)
    listed, solution = _claim(task, sets, budget, seconds) if sets.find() else (None, None)
    # A claim costs a round more than the work: so a search that was ended just before one, and
    # is repeated by its rounds, ends before it again.
    rounds = -(-sets.work // ROUND_WORK)
    if (listed is None and solution is None) or rounds >= most:
        return Outcome(min(most, rounds))
    return Outcome(rounds + 1, listed, solution)


def _claim(
    task: Task, sets: Sets, budget: int, seconds: Callable[[], float | None]
) -> tuple[int | None, Solution | None]:
    """Return how many sets there are if none will do, or a plan made of them."""
    listed = len(sets.found)
    while not sets.is_due():
        sets.work += CHOICE_WORK
        if sets.work > sets.most_work:
            break
        picks = list(sets.found)
        none, numbers = held(task, sets.rows, picks, budget)
        if not none and not numbers:
            none, numbers = choice(task, picks, budget, is_due=sets.is_due, seconds=seconds())
        if none:
            return listed, None
        if not numbers or sets.is_due():
            break
        try:
            false = [pick for pick in numbers if not sets.fits(pick)]
            if not false:
                sheets = [(one[0], sets.tree(one)) for one, n in numbers.items() for _ in range(n)]
                return None, Solution(tuple(without_surplus(task, sheets)))
            for pick in false:
                sets.refute(pick)
        except TooMuch:
            break
    return None, None


class Sets:
    """The sets of blanks that a sheet of a plan within a budget can hold.

    Attributes:
        found: each with its stock; without those that proved not cuttable.
        work: steps taken so far.
    """

    def __init__(
        self,
        task: Task,
        rows: Sequence[Row],
        budget: int,
        *,
        is_due: Callable[[], bool],
        machine: ModuleType | None = None,
        most_work: int = MOST_WORK,
    ) -> None:
        self.task = task
        self.rows = _telling(task, rows)
        lead = rows[0].weights
        kinds = [kind for kind, blank in enumerate(task.blanks) if blank.count]
        self.order = sorted(kinds, key=lambda i: (-Fraction(lead[i], task.blanks[i].area), i))
        costs, limits = costs_of(task), limits_of(task)
        self.needs = {
            stock: [needs(row, costs, limits, budget, stock) for row in self.rows]
            for stock in range(len(task.stocks))
            if any(task.blanks[kind].ways[stock] for kind in kinds) and costs[stock] <= budget
        }
        self.is_due = is_due
        self.most_work = most_work
        self.work = 0
        self.found: dict[Pick, None] = {}
        self.fronts: dict[int, Fronts] = {}
        for group in groups(task):
            some = [stock for stock in group if stock in self.needs]
            fronts = Fronts(task, self.order, some, machine) if some else None
            self.fronts |= {stock: fronts for stock in some if fronts}

    def find(self) -> bool:
        """List them all; return whether that was done within the limits."""
        if not all(self._dig(stock) for stock in self.needs):
            return False
        self._sift()
        return not self.is_due()

    def _sift(self) -> None:
        """Try larger sets in every way too, as far as that does not take much longer."""
        rest = max(0, self.most_work - self.work)
        enough = self.work + min(rest // 2, self.work // 2 + SIFT_WORK)
        todo = sorted((one for one in self.found if _is_unsure(one)), key=_size, reverse=True)
        seen = set(self.found)
        while todo and self.work < enough and not self.is_due():
            pick = todo.pop()
            try:
                if self.fits(pick):
                    continue
                core = self._core(pick)
            except TooMuch:
                return  # all that is not tried stays, as what is taken as cuttable
            del self.found[pick]
            for counts in self._less([pick], core):
                less = pick[0], counts
                self.work += len(counts)
                if less not in seen:
                    seen.add(less)
                    self.found[less] = None
                    if _is_unsure(less):
                        todo.append(less)

    def fits(self, pick: Pick) -> bool:
        """Whether a set is cuttable; ``TooMuch`` if that would take long."""
        return self._counted(pick[0], lambda fronts: fronts.fits(self._places(pick), pick[0]))

    def tree(self, pick: Pick) -> Tree:
        """Return a way to cut a sheet into a set that is cuttable."""
        row = self.task.stocks[pick[0]]
        tree = self.fronts[pick[0]].tree(self._places(pick), row.wide, row.high)
        return tree if tree.kind is None else Tree(row.wide, row.high, 0, (tree,))

    def refute(self, pick: Pick) -> None:
        """Take a set that is not cuttable off the list, and all that hold what makes it so.

        What is listed instead is all that is left of them without one blank of that.
        """
        stock, core = pick[0], self._core(pick)
        kept = [one for one in self.found if one[0] != stock or not _holds(one[1], core)]
        gone = [one for one in self.found if one[0] == stock and _holds(one[1], core)]
        table = np.array([one[1] for one in kept if one[0] == stock], dtype=np.int64)
        less = dict.fromkeys(self._less(gone, core))
        self.work += len(kept) + len(less) * len(table)
        for counts in sorted(less, key=lambda one: -sum(one)):
            if len(table) and bool((table >= np.array(counts)).all(axis=1).any()):
                continue
            kept.append((stock, counts))
            row = np.array([counts], dtype=np.int64)
            table = np.concatenate((table, row)) if len(table) else row
        if len(kept) > MOST_SETS:
            raise TooMuch
        self.found = dict.fromkeys(kept)

    def _less(self, gone: Iterable[Pick], core: Sequence[int]) -> Iterator[tuple[int, ...]]:
        """Yield what is left of sets without one blank of a core, where it carries enough."""
        for stock, counts in gone:
            for kind, n in enumerate(core):
                if n:
                    # Fewer than the core has of a kind, for each kind in turn, is all there is.
                    left = (*counts[:kind], n - 1, *counts[kind + 1 :])
                    if self._carries_enough(stock, left):
                        yield left

    def _carries_enough(self, stock: int, counts: Sequence[int]) -> bool:
        return all(
            sum(n * weight for n, weight in zip(counts, row.weights, strict=True) if n) >= need
            for row, need in zip(self.rows, self.needs[stock], strict=True)
        )

    def _core(self, pick: Pick) -> tuple[int, ...]:
        """Return a part of a set that is not cuttable, such that any less of it is."""
        stock, counts = pick[0], list(pick[1])
        for kind in sorted(range(len(counts)), key=lambda i: self.task.blanks[i].area):
            while counts[kind]:
                counts[kind] -= 1
                if self.fits((stock, tuple(counts))):
                    counts[kind] += 1
                    break
        return tuple(counts)

    def _places(self, pick: Pick) -> list[int]:
        return [place for place, kind in enumerate(self.order) for _ in range(pick[1][kind])]

    def _counted(self, stock: int, ask: Callable[[Fronts], bool]) -> bool:
        fronts = self.fronts[stock]
        before = fronts.work
        answer = ask(fronts)
        self.work += fronts.work - before
        return answer

    def _dig(self, stock: int) -> bool:
        """List the sets for one stock; return whether that was done within the limits."""
        fronts = self.fronts[stock]
        blanks = [self.task.blanks[kind] for kind in self.order]
        n, most_found = len(blanks), MOST_SETS - len(self.found)
        row = self.task.stocks[stock]
        loads = [[one.weights[kind] for kind in self.order] for one in self.rows]
        head = fronts.head
        for place, value in (
            (filling.ROWS, len(self.rows)),
            (filling.ROOM_WIDE, row.wide),
            (filling.ROOM_HIGH, row.high),
            (filling.EXACT, EXACT),
            (filling.FOUND, 0),
            (filling.MOST_FOUND, most_found),
            (filling.SIZE, 0),
        ):
            head[place] = value
        found = fronts.room(most_found * n)
        n_blanks = sum(blank.count for blank in blanks)
        open_ = fronts.room(n * (n_blanks + 2))
        fitting = [place for place, blank in enumerate(blanks) if blank.ways[stock]]
        for k, place in enumerate(fitting):
            open_[k] = place
        at = fronts.room(2 * n_blanks + 4)
        at[1] = len(fitting)
        state = [
            fronts.run([blank.count for blank in blanks]),
            fronts.run([one for line in loads for one in line]),
            fronts.run([place for line in loads for place in _best_first(loads[0], line)]),
            fronts.run([one.capacity[stock] for one in self.rows]),
            fronts.run([max(0, need) for need in self.needs[stock]]),
            fronts.room(len(loads)),
            open_,
            at,
            fronts.room(n),
            fronts.room(n_blanks + 2),
            found,
        ]
        items = fronts.room(n_blanks + 2)
        came = filling.GOING_ON
        before = fronts.work
        while came == filling.GOING_ON:
            if self.work > self.most_work or self.is_due():
                return False
            head[filling.UNTIL] = before + SLICE_WORK
            came = fronts.loops.dig(
                head, fronts.child, fronts.ends, fronts.corners, fronts.sides,
                items, fronts.nodes, fronts.spare, *state,
            )  # fmt: skip
            self.work += fronts.work - before
            before = fronts.work
        for k in range(int(head[filling.FOUND])):
            counts = [0] * len(self.task.blanks)
            for place, kind in enumerate(self.order):
                counts[kind] = int(found[k * n + place])
            self.found[stock, tuple(counts)] = None
        return bool(came == filling.DONE)


def _size(pick: Pick) -> int:
    return sum(pick[1])


def _is_unsure(pick: Pick) -> bool:
    """Whether a set was taken as cuttable, and is small enough to be tried in every way."""
    return EXACT < _size(pick) <= MOST_SIFTED


def _telling(task: Task, rows: Sequence[Row]) -> list[Row]:
    """Return the first row, then areas, then the others, each once."""
    areas = tuple(blank.area for blank in task.blanks)
    area = Row(areas, tuple(stock.area for stock in task.stocks), task.area, "area")
    others = {(one.weights, one.capacity): one for one in rows[1:]}
    others.pop((area.weights, area.capacity), None)
    return [rows[0], area, *others.values()]


def _best_first(lead: Sequence[int], weights: Sequence[int]) -> list[int]:
    """Return the places by how much they weigh in the lead for what they weigh otherwise."""

    def rate(place: int) -> tuple[bool, Fraction]:
        if not lead[place]:
            return True, Fraction(0)
        if not weights[place]:
            return False, Fraction(0)
        return False, Fraction(weights[place], lead[place])

    return sorted(range(len(lead)), key=lambda place: (*rate(place), place))


def _holds(counts: Sequence[int], part: Sequence[int]) -> bool:
    return all(n >= m for n, m in zip(counts, part, strict=True))
