"""A plan with its task, and how plans that are equal by the aim are told apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sheetcut.nest.board import Board
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
