"""Plans made by diving: a sheet that the pattern bound takes much of is cut, the rest weighed anew.

Each dive goes sheet by sheet. Whenever little is left to cut, a short search tries to lay it on
what the budget still pays for. The first dive takes what the programme takes most of; later ones
leave that to chance.

Source:
    R. Sadykov, F. Vanderbeck, A. Pessoa, I. Tahiri and E. Uchoa, "Primal heuristics for branch
    and price: the assets of diving methods", INFORMS Journal on Computing 31 (2019), 251-267.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from random import Random
from types import ModuleType

from sheetcut.nest.board import Board, Solution
from sheetcut.nest.bulk import rest_of, together
from sheetcut.nest.cover import Key
from sheetcut.nest.hunt import Found, Hunt, seed_of
from sheetcut.nest.patterns import CLOSE, Patterns, Weighed
from sheetcut.nest.task import Task

LOOKS = 12  # for new patterns, after each sheet
FEW = 50  # blanks left that a short search may lay,
SHARE = 0.75  # and their share at most of those before
SHORT = 16_000  # rounds of it
CHUNK = 200  # rounds between two looks at the clock
PROPER = 0.97  # of its price, that a pattern should be worth in blanks still wanted
POOR = 0.3  # how much less often one is taken that is not


class Dives:
    """Dives for one task, each unlike those before.

    Attributes:
        patterns: those known when the first dive began, and those found in dives.
        done: how many dives there were.
    """

    def __init__(self, task: Task, known: Patterns, seed: int) -> None:
        self.task = task
        self.seed = seed
        self.done = 0
        # Weights for the listing come from the other programme, as if no dive had been.
        self.patterns = Patterns(task, most_work=known.work)
        for pattern, tree in known.patterns.items():
            self.patterns.add(pattern, tree)

    def dive(
        self,
        budget: int,
        *,
        is_due: Callable[[], bool],
        machine: Callable[[], ModuleType | None] = lambda: None,
        most: int,
    ) -> tuple[int, Solution | None]:
        """Return the rounds that one dive took, and the plan within a budget if it found one.

        Args:
            is_due: whether it is time to stop.
            machine: the compiled kernel, as soon as it can be had.
            most: how many rounds it may take.
        """
        chance = Random(seed_of(self.seed, self.done)) if self.done else None
        self.done += 1
        return self._down(budget, chance, is_due, machine, most)

    def _down(
        self,
        budget: int,
        chance: Random | None,
        is_due: Callable[[], bool],
        machine: Callable[[], ModuleType | None],
        most: int,
    ) -> tuple[int, Solution | None]:
        cut: Counter[Key] = Counter()
        rest, used = self.task, 0
        few = min(FEW, self.task.n_blanks * SHARE)
        while not is_due() and used < most:
            weighed = self.patterns.weigh_rest(
                rest, is_due=is_due, machine=machine, looks=min(LOOKS, most - used)
            )
            used += weighed.looks
            if weighed.cost > budget * (1 + CLOSE) + CLOSE:
                break
            if rest.n_blanks <= few:
                few = rest.n_blanks * SHARE
                rounds, planned = self._laid(rest, budget, is_due, machine, most - used)
                used += rounds
                if planned is not None:
                    trees = self.patterns.trees()
                    return used, together(self.task, cut, trees, planned)
            pick = self._pick(rest, weighed, chance)
            if pick is None or self.task.stocks[pick[0]].price > budget:
                break
            cut[pick] += 1
            budget -= self.task.stocks[pick[0]].price
            rest = rest_of(self.task, cut)
        return used, None

    def _pick(self, rest: Task, weighed: Weighed, chance: Random | None) -> Key | None:
        """Return the pattern to cut next: much of it taken, and nearly all of it still wanted."""
        best, pick = 0.0, None
        programme = self.patterns.programme
        for (key, tree), share in zip(self.patterns.patterns.items(), programme.used, strict=True):
            if share <= CLOSE or tree is None:
                continue
            stock, counts = key
            worth = weighed.fees[stock] + sum(
                min(n, blank.count) * price
                for n, blank, price in zip(counts, rest.blanks, weighed.prices, strict=True)
                if n
            )
            price = rest.stocks[stock].price
            good = worth / price if price else 1.0
            rank = share * (1.0 if good >= PROPER else POOR * good)
            if chance is not None:
                rank *= chance.random()
            if rank > best:
                best, pick = rank, key
        return pick

    def _laid(
        self,
        rest: Task,
        budget: int,
        is_due: Callable[[], bool],
        machine: Callable[[], ModuleType | None],
        most: int,
    ) -> tuple[int, Solution | None]:
        """Return what a short search counts as, and the plan it found for what is left."""
        if not rest.n_blanks:
            return 0, Solution(())
        prices = [stock.price for stock in rest.stocks]
        board = Board(rest, prices, [True] * len(prices))
        nothing = Found(1, (0, 0, 0), Solution(()))
        hunt = Hunt(board, self.seed, self.done, nothing)
        hunt.aim_below(budget + 1)
        # Rounds on few blanks take less; whole chunks are counted, so that they can be repeated.
        share = -(-CHUNK * rest.n_blanks // self.task.n_blanks)
        used = 0
        while used + share <= most and hunt.used < SHORT and not is_due():
            used += share
            found = hunt.advance(CHUNK, machine())[1]
            if found is not None:
                return used, found.solution
        return used, None
