"""Short of paper: what can be cut when not everything can, the earliest due first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

from sheetcut.nest import compiled
from sheetcut.nest import kernel as k
from sheetcut.nest.board import HISTORY, Board, Solution, solution_of
from sheetcut.nest.deal import priority
from sheetcut.nest.hunt import NO_LIMIT, seed_of
from sheetcut.nest.task import Task

TRY_ROUNDS = 200  # of search, for each number of pieces that is tried
MOST_FILLED = 24  # later lines that a search is spent on


def shorten(task: Task, board: Board, start: Solution, seed: int) -> tuple[Counter[int], Solution]:
    """Return how many of each line can be cut from all that is on hand, and how.

    As many pieces as possible are taken from the front of the order of priority; later ones
    then fill the gaps that are left.
    """
    queue = _queue(task)
    packer = _Packer(board, seed)
    packer.take(start)
    low, high = 0, len(queue)
    while low < high:
        middle = (low + high + 1) // 2
        if packer.can_hold(Counter(kind for kind, _ in queue[:middle])):
            low = middle
        else:
            high = middle - 1
    packer.keep()
    lines = Counter(line for _, line in queue[:low])
    return lines + _added(packer, queue[low:]), packer.solution()


def lengthened(
    task: Task, board: Board, start: Solution, missing: Counter[int], seed: int
) -> tuple[Counter[int], Solution]:
    """Return how many more of each line find room beside a plan, and the plan with them.

    A plan that was made better takes less paper than it did when pieces were left out.
    """
    packer = _Packer(board, seed)
    packer.take(start)
    left = Counter(missing)
    queue = []
    for kind, line in _queue(task):
        if left[line]:
            left[line] -= 1
            queue.append((kind, line))
    return _added(packer, queue), packer.solution()


def _added(packer: _Packer, queue: Sequence[tuple[int, int]]) -> Counter[int]:
    """Place what finds room, in order, and return how many of each line that is."""
    lines: Counter[int] = Counter()
    failed: set[int] = set()
    tried = 0
    for kind, line in queue:
        if kind in failed:
            continue
        if packer.adds(kind, rounds=TRY_ROUNDS if tried < MOST_FILLED else 0):
            lines[line] += 1
        else:
            failed.add(kind)
            tried += 1
    return lines


def _queue(task: Task) -> list[tuple[int, int]]:
    """Return kind and line of every piece, the one to be cut first in front."""
    pieces = [
        (line, kind)
        for kind, blank in enumerate(task.blanks)
        for line, n in blank.lines
        for _ in range(n)
    ]
    pieces.sort(key=lambda one: priority(task.job, one[0]))
    return [(kind, line) for line, kind in pieces]


class _Packer:
    """Tries whether so many blanks of each kind fit the stock on hand."""

    def __init__(self, board: Board, seed: int) -> None:
        self.board = board
        self.roots = board.roots_under(None)
        self.chance = [seed_of(seed, 7), k.NO_SKIP]
        self.run: list[int] = board.fresh(self.roots, Counter())
        self.kept: list[int] = list(self.run)

    def take(self, start: Solution) -> None:
        """Begin with a plan that holds some of the blanks."""
        self.run = self.board.load(start, self.roots)
        self.run[k.LOOSE] = self.run[k.LACK] = 0

    def can_hold(self, counts: Counter[int]) -> bool:
        """Whether exactly these blanks can be placed; if so the plan becomes the one at hand."""
        fresh = self.board.fresh(self.roots, counts)
        for order in range(k.ORDERS):
            arranged, chance = self._arranged(fresh, order)
            for rule in range(k.RULES):
                run = arranged.copy()
                self._refill(run, list(chance), rule)
                if run[k.LACK] == 0:
                    self.kept = compiled.plain(run)
                    return True
        run, chance = self._arranged(fresh, 0)
        self._refill(run, chance, 0)
        return self._seek(run, TRY_ROUNDS)

    def keep(self) -> None:
        """Go on from the last plan that held everything it was asked to."""
        self.run = list(self.kept)

    def adds(self, kind: int, *, rounds: int) -> bool:
        """Whether one more blank can be placed beside those at hand; if so it is."""
        run = list(self.run)
        run[run[k.LOOSE_AT]] = kind
        run[k.LOOSE] = 1
        run[k.LACK] = self.board.blanks[kind * k.BLANK + k.WEIGHT]
        run, chance = self._arranged(run, 0)
        self._refill(run, chance, 0)
        if run[k.LACK] == 0:
            self.run = compiled.plain(run)
            return True
        if rounds and self._seek(run, rounds):
            self.run = list(self.kept)
            return True
        return False

    def solution(self) -> Solution:
        """Return the plan at hand."""
        return solution_of(self.run)

    def _arranged(self, loose: list[int], order: int) -> tuple[Any, list[int]]:
        """Return a run whose loose blanks stand in an order, and chance as it is after that."""
        run, chance = list(loose), [self.chance[0], k.NO_SKIP]
        k.arrange(run, chance, self.board.blanks, self._keys(), order, 1)
        return compiled.at_hand(run), chance

    def _refill(self, run: Any, chance: list[int], rule: int) -> None:
        board = self.board
        compiled.run(
            "refill", run, chance, board.blanks, board.ways, board.sheets, self._tries(),
            [0] * len(board.task.blanks), rule, board.shift, NO_LIMIT,
        )  # fmt: skip

    def _seek(self, run: Any, rounds: int) -> bool:
        board = self.board
        chance = [self.chance[0], 1 + k.SKIP_SPAN // 2]
        lack = int(run[k.LACK])
        compiled.run(
            "seek", run, run.copy(), chance, board.blanks, board.ways, board.sheets,
            self._tries(), [0] * len(board.task.blanks), self._keys(),
            [lack] * HISTORY, board.shift, NO_LIMIT, 0, rounds,
        )  # fmt: skip
        self.chance[0] = chance[0]
        if run[k.LACK]:
            return False
        self.kept = compiled.plain(run)
        return True

    def _keys(self) -> list[int]:
        return [0] * (self.board.task.n_blanks + 1)

    def _tries(self) -> list[int]:
        """Return every stock, the smallest first, so that large sheets stay whole the longest."""
        stocks: Sequence[int] = sorted(
            range(len(self.board.task.stocks)), key=lambda i: (self.board.task.stocks[i].area, i)
        )
        return [len(stocks), *stocks]
