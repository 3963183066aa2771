"""From trees of blank kinds to cut trees with names: whose blank is cut where."""

from __future__ import annotations

from collections import Counter
from datetime import date

from sheetcut.job import Job, ways
from sheetcut.layout import Axis, Candidate, Part
from sheetcut.nest.board import Solution, Tree
from sheetcut.nest.task import Task
from sheetcut.units import Length

AXES: tuple[Axis, Axis] = ("x", "y")


def priority(job: Job, line: int) -> tuple[date, int]:
    """Return what decides between order lines: the day promised, then the row."""
    return job.pieces[line].due or date.max, line


def candidate_of(task: Task, solution: Solution) -> Candidate:
    """Return the plan as cut trees in ticks with a name on every blank.

    Sheets cut alike stand together and get the same names as far as the counts allow, the
    earliest due first.
    """
    groups: dict[tuple[int, Tree], int] = {}
    for stock, tree in solution.sheets:
        key = stock, tidy_order(tree)
        groups[key] = groups.get(key, 0) + 1
    left = {
        kind: dict(sorted(blank.lines, key=lambda row: priority(task.job, row[0])))
        for kind, blank in enumerate(task.blanks)
    }
    trees: list[tuple[str, Part]] = []
    order = sorted(groups, key=lambda key: (key[0], -groups[key], _likeness(key[1])))
    for stock, tree in order:
        copies = groups[stock, tree]
        while copies:
            alike, names = _names(tree, left, copies)
            part = _whole(task, stock, tree, names)
            trees.extend([(task.stocks[stock].sheet.id, part)] * alike)
            copies -= alike
    return Candidate(tuple(trees))


def tidy_order(tree: Tree) -> Tree:
    """Return the tree with its members in one fixed order, so that equal trees are equal.

    The longest stand first and equal ones together; what is left stands last.
    """
    if tree.kind is not None:
        return tree
    members = sorted((tidy_order(member) for member in tree.members), key=_likeness)
    extent = 0 if tree.along == 0 else 1
    members.sort(key=lambda one: -(one.wide, one.high)[extent])
    return Tree(tree.wide, tree.high, tree.along, tuple(members), tree.free)


def _likeness(tree: Tree) -> tuple[object, ...]:
    """Return a key that puts similar trees next to each other."""
    return (
        -tree.wide * tree.high,
        tree.along,
        -1 if tree.kind is None else tree.kind,
        tree.wide,
        tuple(_likeness(member) for member in tree.members),
    )


def _names(
    tree: Tree, left: dict[int, dict[int, int]], copies: int
) -> tuple[int, dict[int, list[int]]]:
    """Take names for the most equal copies of a tree that can carry the same ones.

    Returns how many copies that is, and for each kind the lines of its blanks in one copy.
    """
    wanted = tree.kinds()
    for alike in range(copies, 0, -1):
        if all(
            sum(n // alike for n in left[kind].values()) >= many for kind, many in wanted.items()
        ):
            return alike, {kind: _take(left[kind], many, alike) for kind, many in wanted.items()}
    raise AssertionError("more blanks lie on the sheets than are wanted")


def _take(lines: dict[int, int], many: int, alike: int) -> list[int]:
    names: list[int] = []
    for line, n in lines.items():
        share = min(n // alike, many - len(names))
        names.extend([line] * share)
        lines[line] -= share * alike
    return names


def _whole(task: Task, stock: int, tree: Tree, names: dict[int, list[int]]) -> Part:
    """Return the cut tree of a whole sheet; what is less than a step goes to a leftover."""
    sheet = task.stocks[stock].sheet
    maker = _PartMaker(task, stock, {kind: iter(lines) for kind, lines in names.items()})
    return maker.part(tree, sheet.usable_width, sheet.usable_height)


class _PartMaker:
    """Turns one tree into parts, dealing names in the order blanks are met."""

    def __init__(self, task: Task, stock: int, names: dict[int, object]) -> None:
        self.task = task
        self.stock = stock
        self.names = names

    def part(self, tree: Tree, width: Length, height: Length) -> Part:
        """Return the parts that fill a rectangle, which may be larger than the tree needs."""
        step = self.task.step
        own = tree.wide * step, tree.high * step
        across = 1 if tree.kind is not None else 1 - tree.along
        room = width, height
        if tree.kind is None and all(member.free > 0 for member in tree.members):
            return self._row(tree, room)
        if own[across] < room[across]:
            inner = (own[0], room[1]) if across == 0 else (room[0], own[1])
            return _beside(across, self.part(tree, *inner), room)
        if tree.kind is None:
            return self._row(tree, room)
        if own != room:
            return _beside(0, self.part(tree, *own), room)
        return self._blank(tree)

    def _row(self, tree: Tree, room: tuple[Length, Length]) -> Part:
        """Return the members side by side, each as wide as the room across them."""
        step = self.task.step
        parts = []
        used = 0
        for member in tree.members:
            extent = (member.wide, member.high)[tree.along] * step
            size = (extent, room[1]) if tree.along == 0 else (room[0], extent)
            parts.append(self.part(member, *size))
            used += extent
        rest = room[tree.along] - used
        if rest:
            parts.append(Part(*((rest, room[1]) if tree.along == 0 else (room[0], rest))))
        if len(parts) == 1:
            return parts[0]
        return Part(*room, along=AXES[tree.along], parts=tuple(parts))

    def _blank(self, tree: Tree) -> Part:
        assert tree.kind is not None
        line = next(self.names[tree.kind])  # type: ignore[call-overload]
        turned = self._turned(line, tree)
        step = self.task.step
        return Part(tree.wide * step, tree.high * step, piece=line, turned=turned)

    def _turned(self, line: int, tree: Tree) -> bool:
        """Return whether a line's piece is turned to lie as the tree has it.

        A square lies as its rule says, as written where that is free.
        """
        task = self.task
        piece = task.job.pieces[line]
        allowed = ways(task.turns[line], task.stocks[self.stock].sheet.grain)
        if tree.wide == tree.high:
            return allowed[0]
        upright = -(-piece.asked_width // task.step) == tree.wide
        return not upright


def _beside(axis: int, part: Part, room: tuple[Length, Length]) -> Part:
    """Return a part and the leftover that fills a larger rectangle along one axis."""
    rest = room[axis] - (part.width, part.height)[axis]
    if not rest:
        return part
    left = Part(*((rest, room[1]) if axis == 0 else (room[0], rest)))
    if part.along == AXES[axis]:
        last = part.parts[-1]
        if last.is_leftover:  # one leftover instead of two
            wider = Part(
                *((last.width + rest, room[1]) if axis == 0 else (room[0], last.height + rest))
            )
            return Part(*room, along=part.along, parts=(*part.parts[:-1], wider))
        return Part(*room, along=part.along, parts=(*part.parts, left))
    return Part(*room, along=AXES[axis], parts=(part, left))


def counts_of(candidate: Candidate) -> Counter[int]:
    """Return how many blanks of each line a candidate holds."""
    total: Counter[int] = Counter()
    parts = [tree for _, tree in candidate.trees]
    while parts:
        part = parts.pop()
        if part.piece is not None:
            total[part.piece] += 1
        parts.extend(part.parts)
    return total
