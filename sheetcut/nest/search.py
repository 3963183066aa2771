"""The search for one paper: which hunts run, for how long, and when a plan is good enough."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property

from sheetcut.nest.best import Best, Standing, whole, without_offcuts
from sheetcut.nest.board import Solution
from sheetcut.nest.bulk import in_whole_numbers, is_bulk, sampled_patterns
from sheetcut.nest.cover import covering
from sheetcut.nest.diving import Dives
from sheetcut.nest.grid import LONG_WORK, QUICK_WORK, work_for
from sheetcut.nest.hunt import Found, Hunt
from sheetcut.nest.hunts import Hunts
from sheetcut.nest.listing import is_listable, listing
from sheetcut.nest.patterns import Patterns
from sheetcut.nest.proof import Proof, proofs, with_listing, with_row
from sheetcut.nest.reasons import amount, number, sheets
from sheetcut.nest.rows import least
from sheetcut.nest.stop import Stop
from sheetcut.nest.task import Task
from sheetcut.nest.turns import Turns

Tell = Callable[[str], None]

FIRST_SLICE = 128
LONGEST_SLICE = 4096
BARE_PATIENCE = 4000  # rounds spent on doing without an offcut that is known to help
TIE_PATIENCE = 1000  # rounds without a better plan before equal ones from less paper are sought
FILL_PATIENCE = 2000  # rounds spent on placing everything before paper is called short
AT_ONCE_WORK = 500_000  # of the tables that ways to cut are looked up in
MORE_ROUNDS = 20_000  # of search before tables are filled that take long
FIRST_ROUNDS = 4000  # of search before larger tables are filled
# Rounds, after which all ways to fill a sheet well may be listed, and the steps that may take:
# about as long as the rounds before.
LIST_AFTER = (
    (1000, 3_000_000),
    (10_000, 20_000_000),
    (50_000, 100_000_000),
    (200_000, 400_000_000),
)
FEW_BLANKS = 30  # so few are often settled by a short list
DIVES_AFTER = 4  # each listing
DIVE_FROM = 20_000_000  # that may take so many steps or more,
MORE_DIVES = 30  # after the last one, with
BETWEEN_DIVES = 40_000  # rounds of search between two
MANY_ROUNDS = 40_000  # of search before anything is listed where there are more


class Search:
    """Hunts that take turns, slice by slice, until the bound is met or the rounds are used.

    The order of slices depends on the plans found alone, never on the clock or on how many
    rounds are allowed, so a search that was stopped can be repeated by its rounds.

    Attributes:
        tasks: one for each way of deciding "alike" lines.
        relaxed: the same with those lines free, which is what the bound speaks of.
        used: rounds so far: of search, and looks at all ways to cut.
        turns: how the hunts go ahead.
    """

    def __init__(
        self,
        tasks: Sequence[Task],
        relaxed: Task,
        *,
        seed: int,
        limit: int,
        stop: Stop,
        tell: Tell | None = None,
        cores: int | None = None,
    ) -> None:
        self.tasks = tuple(tasks)
        self.relaxed = relaxed
        self.seed = seed
        self.limit = limit
        self.turns = Turns(stop, cores)
        self.tell = tell or (lambda words: None)
        self.used = 0
        self._found_at = 0
        self.standing = Standing()
        self.hunts = Hunts(self.tasks, seed, self.standing)
        self._arguments = proofs(relaxed)
        self.proof: Proof = next(self._arguments)
        self._bare_bound: tuple[Proof, int | None] | None = None
        self._weighed: Patterns | None = None
        self._dives: Dives | None = None  # from the patterns weighed last
        self._is_listed = False

    @property
    def stopped(self) -> bool:
        """Whether it was ended from outside."""
        return self.turns.stopped

    @property
    def best(self) -> Best | None:
        """The best complete plan so far."""
        return self.standing.best

    @cached_property
    def has_offcuts(self) -> bool:
        """Whether there are offcuts that a blank fits."""
        return any(
            not stock.is_full and any(blank.ways[i] for blank in self.relaxed.blanks)
            for i, stock in enumerate(self.relaxed.stocks)
        )

    def begin(self, known: Best | None = None) -> None:
        """Construct plans, and look for proofs as long as the best is not met."""
        if known:
            self._register(known)
        if len(self.tasks) == 1 and is_bulk(self.relaxed) and self._begin_in_bulk():
            return
        self.hunts.build(bare=True, is_enough=self._is_proved)
        self._prove()
        if self.has_offcuts and not self._is_proved():
            self.hunts.build(bare=False, is_enough=self._is_proved)
            self._prove()

    def _begin_in_bulk(self) -> bool:
        """Take whole numbers of the best patterns, then search for the rest; whether that did.

        Offcuts take part like any other sheet: in a large job they are a small matter.
        """
        self._prove()
        task = self.tasks[0]
        patterns = Patterns(self.relaxed, most_work=LONG_WORK)
        if not patterns.is_exact or self.proof.value is None:
            return False
        for key, tree in sampled_patterns(task, self.seed):
            patterns.add(key, tree)
        self._strengthen(patterns, floor=0, target=None)
        solution = in_whole_numbers(task, patterns, self._plan_rest)
        if solution is None:
            return False
        self._register(whole(task, solution))
        return True

    def _plan_rest(self, rest: Task) -> Solution | None:
        """Return a plan for what whole numbers leave over, or None for want of paper."""
        room = self.limit - self.used
        search = Search([rest], rest, seed=self.seed, limit=room, stop=self.turns.stop)
        search.begin()
        if not search.fill():
            return None
        search.improve()
        assert search.best is not None
        self.used += search.used
        self.turns.stopped |= search.stopped
        return search.best.found.solution

    def fill(self) -> bool:
        """Look for any plan that holds everything; return whether there is one."""
        if self.best is None and self.proof.value is not None and not self.turns.stops():
            self._weigh_on(self.relaxed, QUICK_WORK, target=None)
        if self.best is None and self.proof.value is not None:
            self._run(lambda: self.best is not None, most=FILL_PATIENCE)
        return self.best is not None

    def improve(self) -> None:
        """Search until nothing is left to win, the rounds are used or somebody says stop."""
        assert self.best is not None
        if is_bulk(self.relaxed) or not self._active():
            return
        self._announce()
        work = work_for(self.relaxed)
        if work > AT_ONCE_WORK:
            self._run(lambda: False, most=FIRST_ROUNDS)
        if self._active() and not self.turns.stops():
            self._weigh(QUICK_WORK)
        if QUICK_WORK < work <= LONG_WORK:
            self._run(lambda: False, most=MORE_ROUNDS)
            if self._active() and not self.turns.stops():
                self._weigh(LONG_WORK)
        self._dive()
        if self.relaxed.n_blanks > FEW_BLANKS:
            self._run(lambda: False, most=MANY_ROUNDS)
        for rounds, work in LIST_AFTER:
            if self._active():
                self._run(lambda: False, most=rounds)
            if self._active():
                self._list(work)
            for _ in range(DIVES_AFTER if work >= DIVE_FROM else 0):
                self._dive()
        for _ in range(MORE_DIVES):
            self._run(lambda: False, most=BETWEEN_DIVES)
            self._dive()
        self._run(lambda: False)

    def _run(self, is_done: Callable[[], bool], most: int | None = None) -> None:
        """Give turns to the hunts that can win something, longer and longer ones."""
        size = FIRST_SLICE
        start = self.used
        while not is_done():
            hunts = self._active()
            room = self.limit - self.used
            if most is not None:
                room = min(room, most - (self.used - start))
            if not hunts or self.stopped or room <= 0:
                return
            for hunt, (used, found) in self.turns.take(hunts, size, room):
                self.used += used
                if self._is_proved():
                    self.hunts.count(hunt, used)
                if found is not None:
                    self._take(hunt, found)
                    if is_done() or self._is_proved():
                        break  # who goes on from here is decided anew
            size = min(2 * size, LONGEST_SLICE)

    def _active(self) -> list[Hunt]:
        """Return the hunts that can still win something, in their fixed order."""
        best = self.best
        if best is None:
            return self.hunts.started(bare=False) or self.hunts.started(bare=True)
        hunts: list[Hunt] = []
        proved = self._is_proved()
        if self._bare_may_win(best) and not (
            proved and self.hunts.since_proved["bare"] >= BARE_PATIENCE
        ):
            hunts += self.hunts.started(bare=True)
        if not proved:
            hunts += self.hunts.started(bare=False)
        if proved or self.used - self._found_at >= TIE_PATIENCE:
            tie = self.hunts.tie(best, self.proof.known, self.used)
            if tie and not (proved and self.hunts.since_proved["tie"] >= TIE_PATIENCE):
                hunts.append(tie)
        return hunts

    def _bare_may_win(self, best: Best) -> bool:
        if self.standing.bare and self.standing.bare.price <= best.price:
            return self.standing.bare.price > (self.bound_without_offcuts() or 0)
        floor = self.bound_without_offcuts()
        return floor is not None and floor <= best.price

    def bound_without_offcuts(self) -> int | None:
        """Return what a plan from full sheets alone needs at least; None if none can do."""
        if not self.has_offcuts:
            return self.proof.value
        if self._bare_bound is None or self._bare_bound[0] is not self.proof:
            limits = [stock.limit if stock.is_full else 0 for stock in self.relaxed.stocks]
            prices = [stock.price for stock in self.relaxed.stocks]
            self._bare_bound = self.proof, least(self.proof.known, prices, limits)
        return self._bare_bound[1]

    def _is_proved(self) -> bool:
        return self.best is not None and self.best.price == self.proof.value

    def _prove(self) -> None:
        """Take stronger arguments as long as the best plan is not met by the bound."""
        while not self._is_proved():
            if self.turns.stops():
                return
            try:
                self.proof = next(self._arguments)
            except StopIteration:
                return

    def _weigh(self, most_work: int) -> None:
        """Weigh the ways to cut a sheet against the demand; choose the plan they make.

        Args:
            most_work: what one table may take before it is measured in coarser cells.
        """
        if not self._is_proved():
            best = self.best
            self._weigh_on(self.relaxed, most_work, target=best.price if best else None)
        if self.has_offcuts and self.best is not self.standing.bare and not self.turns.stops():
            self._weigh_on(without_offcuts(self.relaxed), most_work, target=None)

    def _weigh_on(self, relaxed: Task, most_work: int, *, target: int | None) -> None:
        patterns = Patterns(relaxed, most_work=most_work)
        floor = self.proof.value or 0 if target is not None else 0
        self._strengthen(patterns, floor=floor, target=target)
        if relaxed is self.relaxed:
            self._weighed = patterns
        if len(self.tasks) == 1 and patterns.patterns and not patterns.too_coarse:
            self._cover(patterns)

    def _strengthen(self, patterns: Patterns, *, floor: int, target: int | None) -> None:
        self.used += patterns.run(
            floor=floor,
            target=target,
            is_due=self.turns.stops,
            machine=self.turns.machine,
            most=self.limit - self.used,
        )
        if patterns.row is not None:
            self.proof = with_row(self.relaxed, self.proof, patterns.row)

    def _dive(self) -> None:
        """Dive for a better plan, and again from where one was found."""
        patterns = self._weighed
        if len(self.tasks) > 1 or patterns is None or not patterns.is_exact:
            return
        if self._dives is None:
            self._dives = Dives(self.relaxed, patterns, self.seed)
        while self.best and not self._is_proved() and self.used < self.limit:
            if self.turns.stops():
                return
            used, solution = self._dives.dive(
                self.best.price - 1,
                is_due=self.turns.stops,
                machine=self.turns.machine,
                most=self.limit - self.used,
            )
            self.used += used
            if solution is None:
                return
            self._register(whole(self.relaxed, solution))
            self._found_at = self.used
            self._announce()

    def _list(self, most_work: int) -> None:
        """List every way to fill a sheet well enough for a better plan: it is found, or is none."""
        best, patterns, task = self.best, self._weighed, self.relaxed
        if best is None or patterns is None or self._is_listed or self.turns.stops():
            return
        if not is_listable(task, best.price, self.proof.value) or self.used >= self.limit:
            return
        used, rows = patterns.leading(
            is_due=self.turns.stops, machine=self.turns.machine, most=self.limit - self.used
        )
        self.used += used
        if not rows or self.turns.stops() or self.used >= self.limit:
            return
        outcome = listing(
            task,
            (*rows, *self.proof.known),
            best.price - 1,
            is_due=self.turns.stops,
            most=self.limit - self.used,
            seconds=self.turns.stop.seconds_left,
            machine=self.turns.machine(),
            most_work=most_work,
        )
        self.used += outcome.rounds
        if outcome.listed is not None:
            self._is_listed = True
            self.proof = with_listing(self.proof, best.price, rows, outcome.listed)
        elif outcome.solution is not None and len(self.tasks) == 1:
            self._register(whole(task, outcome.solution))
            self._found_at = self.used

    def _cover(self, patterns: Patterns) -> None:
        """Choose a plan from the ways to cut a sheet that the weighing has come up with.

        It counts as a round that is had whole or not at all, as a search that was stopped in
        the middle of it is repeated by its rounds.
        """
        if self.used >= self.limit or self.turns.stops():
            return
        task = self.tasks[0]
        best = self.best
        below = None if best is None else best.price + (self.standing.bare is not best)
        limits = [stock.limit for stock in patterns.task.stocks]
        solution = covering(
            task,
            patterns.trees(),
            limits,
            below=below,
            is_due=self.turns.stops,
            seconds=self.turns.stop.seconds_left(),
        )
        if self.turns.stops():
            return
        self.used += 1
        if solution is not None:
            self._register(whole(task, solution))

    def _register(self, new: Best) -> None:
        self.hunts.register(new, bare=not new.uses_offcuts)
        self.hunts.set_goals()

    def _take(self, hunt: Hunt, found: Found) -> None:
        before = self.best
        self._register(Best(hunt.board.task, found))
        if before is None or (self.best and self.best.price < before.price):
            self._found_at = self.used
            self._announce()

    def _announce(self) -> None:
        best = self.best
        if best is None or self._is_proved():
            return
        if best.task.aim == "least cost":
            self.tell(f"{amount(best.task, best.price)}; trying for less")
        else:
            self.tell(f"{sheets(best.price)}; trying for {number(best.price - 1)}")
