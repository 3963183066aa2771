"""The best plans so far, and how plans that are equal by the aim are told apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sheetcut.nest.board import Board, Solution
from sheetcut.nest.hunt import Found
from sheetcut.nest.task import Task


@dataclass(frozen=True, slots=True)
class Best:
    """A plan and the task whose blanks it speaks of."""

    task: Task
    found: Found

    @property
    def price(self) -> int:
        """Its value by the aim."""
        return self.found.value[0]

    @property
    def uses_offcuts(self) -> bool:
        """Whether it spends an offcut."""
        return any(not self.task.stocks[stock].is_full for stock in self.found.solution.used())


def whole(task: Task, solution: Solution) -> Best:
    """Return a complete plan as one of the best."""
    return Best(task, Found(0, task.value(solution.used()), solution))


@dataclass
class Standing:
    """The best plans found so far.

    Attributes:
        bare: the best complete one from full sheets alone.
        any: the best complete one.
        fullest: the one that holds most, as long as none holds everything.
    """

    bare: Best | None = None
    any: Best | None = None
    fullest: Best | None = None

    @property
    def best(self) -> Best | None:
        """The best complete plan: without offcuts, unless they make it better by the aim."""
        if self.bare and (self.any is None or self.bare.price <= self.any.price):
            return self.bare
        return self.any

    def take(self, new: Best, *, bare: bool) -> bool:
        """Keep a complete plan if it is better than the one so far; return whether it was."""
        old = self.bare if bare else self.any
        if old is not None and old.found.value <= new.found.value:
            return False
        if bare:
            self.bare = new
        else:
            self.any = new
        return True

    def take_part(self, new: Best) -> None:
        """Keep a plan that lacks blanks if it lacks less than the one so far."""
        if self.fullest is None or new.found.lack < self.fullest.found.lack:
            self.fullest = new


def tie_board(best: Best) -> Board:
    """Return a board that counts, after the aim, areas of full sheets and then of offcuts.

    Offcuts may be spent only if the plan spends some already.
    """
    task = best.task
    offcuts = best.uses_offcuts
    allowed = [stock.is_full or offcuts for stock in task.stocks]
    areas = [stock.sheet.area // task.step**2 + 1 for stock in task.stocks]
    many = min(task.n_blanks, 1 + sum(best.found.solution.used().values()) * 4)
    # Where areas are too fine for the kernel's numbers they are counted more coarsely.
    room = 58 - (1 + max(stock.price for stock in task.stocks) * many).bit_length()
    fine = max(0, (max(areas) * many).bit_length() - room // 2)
    units = [area >> fine for area in areas]
    scale = max(units) * many + 1
    costs = [
        (stock.price * scale + unit) * scale if stock.is_full else unit
        for stock, unit in zip(task.stocks, units, strict=True)
    ]
    return Board(task, costs, allowed)


def without_offcuts(task: Task) -> Task:
    """Return the task with no offcut left on hand."""
    stocks = tuple(stock if stock.is_full else replace(stock, limit=0) for stock in task.stocks)
    return replace(task, stocks=stocks)


def cost_of(found: Found, costs: Sequence[int]) -> int:
    """Return what a plan's sheets cost, counted in some way."""
    return sum(costs[stock] * n for stock, n in found.solution.used().items())


def limits_on(board: Board) -> list[int | None]:
    """Return how many sheets of each stock may be used on a board."""
    return [
        stock.limit if open_ else 0
        for stock, open_ in zip(board.task.stocks, board.allowed, strict=True)
    ]
