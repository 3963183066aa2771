"""Flat runs of integers for the kernel: made from a task, read back as trees."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from sheetcut.nest import kernel as k
from sheetcut.nest.kernel import Ints
from sheetcut.nest.task import AS_WRITTEN, Task

FINEST_WEIGHT = 1_000_000
HISTORY = 200


@dataclass(frozen=True, slots=True)
class Tree:
    """A rectangle of a sheet in whole steps: a blank, or members side by side and what is left.

    Attributes:
        along: 0 where its members follow each other from left to right, 1 from the foot up.
        kind: for a blank its place in ``Task.blanks``; None elsewhere.
        free: what is left beside the members, along their axis.
    """

    wide: int
    high: int
    along: int = 0
    members: tuple[Tree, ...] = ()
    free: int = 0
    kind: int | None = None

    def kinds(self) -> Counter[int]:
        """Return how many blanks of each kind lie in it."""
        total: Counter[int] = Counter()
        todo = [self]
        while todo:
            one = todo.pop()
            if one.kind is None:
                todo.extend(one.members)
            else:
                total[one.kind] += 1
        return total


@dataclass(frozen=True, slots=True)
class Solution:
    """Trees for sheets in use: for each, the stock it comes from and its tree."""

    sheets: tuple[tuple[int, Tree], ...]

    def used(self) -> Counter[int]:
        """Return how many sheets of each stock are cut."""
        return Counter(stock for stock, _ in self.sheets)

    def kinds(self) -> Counter[int]:
        """Return how many blanks of each kind lie on all sheets."""
        total: Counter[int] = Counter()
        for _, tree in self.sheets:
            total += tree.kinds()
        return total


class Board:
    """Everything a search works on, for one task and one way to count cost."""

    def __init__(self, task: Task, costs: Sequence[int], allowed: Sequence[bool]) -> None:
        self.task = task
        self.costs = tuple(costs)
        self.allowed = tuple(allowed)
        self.blanks = _blank_table(task)
        self.ways = [
            way if open_ else 0
            for blank in task.blanks
            for way, open_ in zip(blank.ways, allowed, strict=True)
        ]
        self.sheets = [
            number
            for stock, cost in zip(task.stocks, costs, strict=True)
            for number in (stock.wide, stock.high, cost)
        ]
        self.shift = max(0, max(stock.area for stock in task.stocks).bit_length() - 30)

    def fresh(self, roots: Sequence[int], loose: Counter[int] | None = None) -> list[int]:
        """Return a run with so many empty roots of each stock and all blanks loose."""
        task = self.task
        counts = Counter({i: one.count for i, one in enumerate(task.blanks)})
        n = sum(counts.values())
        roots_at = k.HEAD + len(task.stocks)
        nodes_at = roots_at + sum(roots) * k.RECORD
        # A cut tree of n blanks has at most 4 n holders (see the tests), and the blanks.
        blocks_at = nodes_at + (6 * n + 16) * k.RECORD
        loose_at = blocks_at + (5 * n + sum(roots) + 8) * k.BLOCK
        limit = loose_at + n + 1
        run = [0] * limit
        run[k.TOP] = nodes_at
        run[k.BLOCKS_AT], run[k.LOOSE_AT] = blocks_at, loose_at
        run[k.ROOTS_AT], run[k.NODES_AT], run[k.LIMIT] = roots_at, nodes_at, blocks_at
        run[k.CHAINS_AT] = k.HEAD
        root = roots_at
        for stock, many in enumerate(roots):
            row = task.stocks[stock]
            for i in range(many):
                run[root + k.WIDE], run[root + k.HIGH] = row.wide, row.high
                run[root + k.KIND] = -2 - stock
                if i + 1 < many:
                    run[root + k.NEXT] = root + k.RECORD
                if i == 0:
                    run[k.HEAD + stock] = root
                root += k.RECORD
        at = loose_at
        for kind, many in (counts if loose is None else loose).items():
            for _ in range(many):
                run[at] = kind
                at += 1
                run[k.LACK] += self.blanks[kind * k.BLANK + k.WEIGHT]
        run[k.LOOSE] = at - loose_at
        return run

    def load(self, solution: Solution, roots: Sequence[int]) -> list[int]:
        """Return a run that holds a plan, blanks that are not in it loose."""
        lying = solution.kinds()
        loose = Counter(
            {
                i: blank.count - lying[i]
                for i, blank in enumerate(self.task.blanks)
                if blank.count > lying[i]
            }
        )
        run = self.fresh(roots, loose)
        for stock, tree in solution.sheets:
            root = k.open_sheet(run, self.sheets, stock)
            self._load_members(run, root, tree, -2 - stock)
        return run

    def _load_members(self, run: Ints, holder: int, tree: Tree, own: int) -> None:
        run[holder + k.ALONG] = tree.along
        for member in reversed(tree.members):
            if member.kind is not None:
                node = k.record(run, member.kind, member.wide, member.high, 0)
                k.link(run, holder, node)
                continue
            node = k.record(run, own, member.wide, member.high, member.along)
            k.link(run, holder, node)
            self._load_members(run, node, member, own)
        k.set_free(run, holder, tree.free)

    def roots_under(self, goal: int | None) -> list[int]:
        """Return how many sheets of each stock a plan within a limit of cost can use."""
        n = self.task.n_blanks
        roots = []
        for stock, cost, open_ in zip(self.task.stocks, self.costs, self.allowed, strict=True):
            most = n if stock.limit is None else min(n, stock.limit)
            if goal is not None and cost > 0:
                most = min(most, goal // cost)
            roots.append(most if open_ else 0)
        return roots


def solution_of(run: Ints) -> Solution:
    """Return the trees of all sheets in use."""
    sheets = [
        (-2 - run[root + k.KIND], _tree(run, root))
        for root in range(run[k.ROOTS_AT], run[k.NODES_AT], k.RECORD)
        if run[root + k.FIRST] != 0
    ]
    return Solution(tuple(sheets))


def _tree(run: Ints, node: int) -> Tree:
    kind = int(run[node + k.KIND])
    wide, high = int(run[node + k.WIDE]), int(run[node + k.HIGH])
    if kind >= 0:
        return Tree(wide, high, kind=kind)
    members = []
    member = run[node + k.FIRST]
    while member != 0:
        members.append(_tree(run, member))
        member = run[member + k.NEXT]
    return Tree(wide, high, int(run[node + k.ALONG]), tuple(members), int(run[node + k.FREE]))


def _blank_table(task: Task) -> list[int]:
    """Return width, height, weight and the six ranks of each kind of blank.

    Blanks that are not placed are counted by area squared (measured: the best exponent).
    """
    largest = max((blank.area for blank in task.blanks), default=1)
    table = []
    for blank in task.blanks:
        natural = (blank.wide, blank.high)
        if not any(way & AS_WRITTEN for way in blank.ways):
            natural = (blank.high, blank.wide)
        weight = max(1, FINEST_WEIGHT * blank.area**2 // largest**2)
        table += [blank.wide, blank.high, weight]
        table += [blank.area, blank.wide, *natural, blank.wide + blank.high, blank.high]
    return table
