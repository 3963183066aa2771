"""The hunts of one search: with and without offcuts, and for equal plans from less paper."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sheetcut.nest.best import Best, Standing, cost_of, limits_on, tie_board
from sheetcut.nest.board import Board
from sheetcut.nest.hunt import Found, Hunt, better_and_better
from sheetcut.nest.rows import Row, least
from sheetcut.nest.task import Task

ALONE_ROUNDS = 150_000  # of one search before a second starts beside it
TIE_SEED = 1000


class Hunts:
    """Hunts of each kind, in a fixed order, each with the goal that the best plan leaves it.

    Attributes:
        since_proved: rounds of each kind since the best plan was proved.
    """

    def __init__(self, tasks: Sequence[Task], seed: int, standing: Standing) -> None:
        self.tasks = tuple(tasks)
        self.seed = seed
        self.standing = standing
        self.since_proved = {"bare": 0, "tie": 0}
        self._started: dict[bool, list[Hunt]] = {}
        self._tie: Hunt | None = None

    def build(self, *, bare: bool, is_enough: Callable[[], bool]) -> None:
        """Construct plans, until one is enough, and let hunts start from the best of each task."""
        hunts = []
        for number, task in enumerate(self.tasks):
            board = Board(
                task,
                [stock.price for stock in task.stocks],
                [stock.is_full or not bare for stock in task.stocks],
            )
            start = self._construct(board, bare=bare, is_enough=is_enough)
            if start is not None:
                own = 10 * number + (1 if bare else 2)
                hunts.append(Hunt(board, self.seed, own, start))
                if len(self.tasks) == 1:  # two go side by side; more ways have hunts enough
                    hunts.append(Hunt(board, self.seed, own + 500, start))
        self._started[bare] = hunts
        self.set_goals()

    def _construct(
        self, board: Board, *, bare: bool, is_enough: Callable[[], bool]
    ) -> Found | None:
        found: Found | None = None
        for found in better_and_better(board, self.seed):
            new = Best(board.task, found)
            if found.lack == 0:
                self.register(new, bare=bare)
            else:
                self.standing.take_part(new)
            if is_enough():
                break
        return found

    def register(self, new: Best, *, bare: bool) -> None:
        """Keep a complete plan if it is better; ties are then sought anew."""
        if self.standing.take(new, bare=bare):
            self._tie = None
            self.since_proved["tie"] = 0

    def set_goals(self) -> None:
        """Let each hunt look only for plans that would replace the best one."""
        best = self.standing.best
        if best is None:
            return
        for hunt in self._started.get(False, []):
            hunt.aim_below(best.price)
        for hunt in self._started.get(True, []):
            # Without offcuts a plan wins even where it is only as good as one with them.
            hunt.aim_below(best.price if self.standing.bare is best else best.price + 1)

    def started(self, *, bare: bool) -> list[Hunt]:
        """Return the hunts of one kind; a second one joins once the first has gone far."""
        hunts = self._started.get(bare, [])
        if len(self.tasks) == 1 and hunts and hunts[0].used < ALONE_ROUNDS:
            return hunts[:1]
        return hunts

    def count(self, hunt: Hunt, used: int) -> None:
        """Count rounds that go on although the best plan is proved."""
        if hunt is self._tie:
            self.since_proved["tie"] += used
        elif hunt in self._started.get(True, []):
            self.since_proved["bare"] += used

    def tie(self, best: Best, rows: Sequence[Row], used: int) -> Hunt | None:
        """Return the hunt for equal plans from less paper, or None where there can be none.

        Args:
            rows: all that is proved of any plan.
            used: rounds of the whole search so far; they make this hunt unlike those before.
        """
        if self._tie is None:
            board = tie_board(best)
            value = cost_of(best.found, board.costs)
            floor = least(rows, board.costs, limits_on(board))
            if floor is not None and floor < value and board.allowed.count(True) > 1:
                self._tie = Hunt(board, self.seed, TIE_SEED + used, best.found)
                self._tie.aim_below(value)
            else:
                self._tie = Hunt(board, self.seed, 0, best.found, goal=-1)
        return self._tie if self._tie.goal >= 0 else None
