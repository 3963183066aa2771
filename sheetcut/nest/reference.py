"""The kernel's loops once more, slow and plain, on objects instead of a run of integers.

Only the tests use this: each function has the name of its twin in ``kernel`` and must do the
same to the same plan. What only draws random numbers and calls the others has no twin.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from sheetcut.nest.kernel import RULES
from sheetcut.nest.task import AS_WRITTEN, TURNED


@dataclass(eq=False)
class Node:
    """A rectangle of a sheet: a blank, or a holder of others side by side."""

    size: tuple[int, int]
    kind: int | None = None
    along: int = 0
    free: int = 0
    members: list[Node] = field(default_factory=list)
    up: Node | None = None
    stock: int = 0

    def extent(self, axis: int) -> int:
        """Its side along an axis, 0 for x."""
        return self.size[axis]

    @property
    def cross(self) -> int:
        """Its side across its members' axis."""
        return self.size[1 - self.along]

    @property
    def block(self) -> tuple[int, int]:
        """Width and height of what is left beside its members."""
        return (self.free, self.cross) if self.along == 0 else (self.cross, self.free)

    def shape(self) -> object:
        """Return what it looks like, whatever the order of its members."""
        if self.kind is not None:
            return self.size, self.kind
        members = sorted((member.shape() for member in self.members), key=repr)
        return self.size, self.along, self.free, tuple(members)


@dataclass
class Bench:
    """Sheets in use, blocks in the kernel's order, and blanks not placed."""

    stocks: Sequence[tuple[int, int, int]]  # width, height, cost
    blanks: Sequence[tuple[int, int]]
    ways: Sequence[Sequence[int]]  # by kind of blank, then stock
    empty: list[int]  # sheets left of each stock
    sheets: list[Node] = field(default_factory=list)
    blocks: list[Node] = field(default_factory=list)
    loose: list[int] = field(default_factory=list)

    @property
    def spent(self) -> int:
        """The cost of the sheets in use."""
        return sum(self.stocks[sheet.stock][2] for sheet in self.sheets)

    def shapes(self) -> list[object]:
        """Return what all sheets look like, in any order."""
        return sorted(((sheet.stock, sheet.shape()) for sheet in self.sheets), key=repr)


def set_free(bench: Bench, node: Node, free: int) -> None:
    """Give a holder its free length and keep the list of blocks in step."""
    node.free = free
    if free > 0 and node not in bench.blocks:
        bench.blocks.append(node)
    if free == 0:
        hide(bench, node)


def hide(bench: Bench, node: Node) -> None:
    """Take a holder out of the list of blocks; the last one steps into its place."""
    if node in bench.blocks:
        place = bench.blocks.index(node)
        last = bench.blocks.pop()
        if last is not node:
            bench.blocks[place] = last


def link(holder: Node, node: Node) -> None:
    """Make a node a member of a holder."""
    holder.members.append(node)
    node.up = holder


def holder_of(bench: Bench, holder: Node, along: int, extent: int, member: Node) -> Node:
    """Return a new holder across its own holder, with one member and the rest free."""
    size = (extent, holder.cross) if holder.along == 0 else (holder.cross, extent)
    node = Node(size, along=along, stock=holder.stock)
    link(holder, node)
    link(node, member)
    set_free(bench, node, size[along] - member.extent(along))
    return node


def put(
    bench: Bench, node: Node, kind: int, size: tuple[int, int], cut: int, other_way: bool
) -> None:
    """Place a blank in a block that it goes into, cut by one of three rules or the other way."""
    along, free, cross = node.along, node.free, node.cross
    run, rise = size[along], size[1 - along]
    blank = Node(size, kind)
    if rise == cross:
        link(node, blank)
        set_free(bench, node, free - run)
        return
    first = max((free - run) * cross, run * (cross - rise))
    across = max((free - run) * rise, free * (cross - rise))
    strip_first = (first >= across, free >= cross, free < cross)[cut]
    if strip_first != other_way and run < free:
        holder_of(bench, node, 1 - along, run, blank)
        set_free(bench, node, free - run)
        return
    holder = node
    if node.members:
        size_ = (free, cross) if along == 0 else (cross, free)
        holder = Node(size_, along=1 - along, stock=node.stock)
        link(node, holder)
        set_free(bench, node, 0)
    else:
        node.along = 1 - along
    if run < free:
        holder_of(bench, holder, along, rise, blank)
    else:
        link(holder, blank)
    set_free(bench, holder, cross - rise)


def fit(block: tuple[int, int], size: tuple[int, int], rule: int, shift: int) -> int:
    """Return how badly a blank fits a block that it goes into; less is better."""
    beside, above = block[0] - size[0], block[1] - size[1]
    area = block[0] * block[1]
    if rule == 0:
        return area
    if rule == 1:
        return min(beside, above)
    if rule == 2:
        upright = (beside * block[1], size[0] * above)
        level = (beside * size[1], block[0] * above)
        kept = max(sum((part >> shift) ** 2 for part in pair) for pair in (upright, level))
        return (area >> shift) ** 2 - int(kept)
    return min(beside * 1000 // block[0], above * 1000 // block[1])


def goes_into(block: tuple[int, int], size: tuple[int, int]) -> bool:
    """Whether a blank goes into a block."""
    return size[0] <= block[0] and size[1] <= block[1]


def place(bench: Bench, tries: Sequence[int], kind: int, rule: int, shift: int, goal: int) -> bool:
    """Place one blank in the block it fits best, or on a fresh sheet; return whether it lies."""
    cut, rule = divmod(rule, RULES)
    wide, high = bench.blanks[kind]
    both = ((AS_WRITTEN, (wide, high)), (TURNED, (high, wide)))
    options = [
        (fit(node.block, size, rule, shift), i, size)
        for i, node in enumerate(bench.blocks)
        for way, size in both
        if bench.ways[kind][node.stock] & way and goes_into(node.block, size)
    ]
    if options:
        _, i, size = min(options, key=lambda one: one[0])
        put(bench, bench.blocks[i], kind, size, cut, False)
        return True
    for stock in tries:
        way = bench.ways[kind][stock]
        if not way or not bench.empty[stock] or bench.spent + bench.stocks[stock][2] > goal:
            continue
        root = open_sheet(bench, stock)
        sizes = [size for allowed, size in both if way & allowed]
        size = min(sizes, key=lambda size: fit(root.size, size, rule, shift))
        put(bench, root, kind, size, cut, False)
        return True
    return False


def open_sheet(bench: Bench, stock: int) -> Node:
    """Take a sheet into use."""
    wide, high, _ = bench.stocks[stock]
    root = Node((wide, high), stock=stock)
    bench.empty[stock] -= 1
    bench.sheets.append(root)
    set_free(bench, root, wide)
    return root


def close_sheet(bench: Bench, root: Node) -> None:
    """Put a sheet without members back."""
    hide(bench, root)
    bench.sheets.remove(root)
    bench.empty[root.stock] += 1


def shed(bench: Bench, node: Node) -> None:
    """Forget a node and all below it; its blanks are loose from now on."""
    for member in node.members:
        shed(bench, member)
    hide(bench, node)
    if node.kind is not None:
        bench.loose.append(node.kind)


def take(bench: Bench, node: Node) -> None:
    """Take a node out of the tree, its blanks with it, and mend what is left."""
    holder = node.up
    assert holder is not None
    holder.members.remove(node)
    shed(bench, node)
    set_free(bench, holder, holder.free + node.extent(holder.along))
    mend(bench, holder)


def empty(bench: Bench, root: Node) -> None:
    """Take everything off a sheet."""
    for member in root.members:
        shed(bench, member)
    root.members.clear()
    close_sheet(bench, root)


def mend(bench: Bench, node: Node) -> None:
    """Bring a tree back to its plain form, from a changed holder up to the root."""
    holder = node.up
    if not node.members:
        if holder is None:
            close_sheet(bench, node)
            return
        holder.members.remove(node)
        hide(bench, node)
        set_free(bench, holder, holder.free + node.extent(holder.along))
        mend(bench, holder)
        return
    if holder is not None:
        narrow(bench, node, holder)
    dissolve(bench, node)
    if holder is None:
        reshape(bench, node)
    else:
        mend(bench, holder)


def slack_of(node: Node) -> int:
    """Return how much all members of a holder leave at their ends."""
    return min(0 if member.kind is not None else member.free for member in node.members)


def trim(bench: Bench, node: Node, slack: int) -> None:
    """Take what they leave off all members of a holder."""
    for member in list(node.members):
        shorter = member.extent(member.along) - slack
        member.size = (shorter, member.size[1]) if member.along == 0 else (member.size[0], shorter)
        set_free(bench, member, member.free - slack)
        dissolve(bench, member)


def narrow(bench: Bench, node: Node, holder: Node) -> None:
    """Give a holder the paper that all members of a node leave at their ends."""
    slack = slack_of(node)
    if not slack:
        return
    cross = node.cross - slack
    node.size = (node.size[0], cross) if node.along == 0 else (cross, node.size[1])
    trim(bench, node, slack)
    set_free(bench, holder, holder.free + slack)


def dissolve(bench: Bench, node: Node) -> None:
    """Replace a full holder of one member by that member, or by the member's own members."""
    if node.free or len(node.members) != 1:
        return
    only, holder = node.members[0], node.up
    if only.kind is not None:
        if holder is not None:
            holder.members.remove(node)
            link(holder, only)
        return
    hide(bench, only)
    if holder is None:
        node.along, node.members = only.along, []
        target = node
    else:
        holder.members.remove(node)
        target = holder
    for member in only.members:
        link(target, member)
    set_free(bench, target, target.free + only.free)


def reshape(bench: Bench, root: Node) -> None:
    """Cut what all members of a root leave at their ends off the whole sheet first, if larger."""
    slack = slack_of(root)
    length = root.extent(root.along)
    blocks = [member.extent(root.along) * member.free for member in root.members]
    if not slack or slack * length <= max(root.free * root.cross, *blocks):
        return
    cross = root.cross - slack
    size = (length, cross) if root.along == 0 else (cross, length)
    inner = Node(size, along=root.along, stock=root.stock)
    beside, members = root.free, root.members
    root.members, root.along = [], 1 - root.along
    link(root, inner)
    for member in members:
        link(inner, member)
    trim(bench, inner, slack)
    set_free(bench, inner, inner.free + beside)
    set_free(bench, root, slack)
    dissolve(bench, inner)


def refill(bench: Bench, tries: Sequence[int], rule: int, shift: int, goal: int) -> None:
    """Place the loose blanks one after another; those that find no room stay loose."""
    waiting, bench.loose = bench.loose, []
    for kind in waiting:
        if kind in bench.loose or not place(bench, tries, kind, rule, shift, goal):
            bench.loose.append(kind)


def burden(node: Node, weights: Sequence[int]) -> int:
    """Return the weight of all blanks on a sheet."""
    own = 0 if node.kind is None else weights[node.kind]
    return own + sum(burden(member, weights) for member in node.members)


def tidiness(bench: Bench, shift: int, toll: int) -> int:
    """Return what a tidy plan has much of: blocks squared, less a toll for each block."""
    return sum(((node.free * node.cross) >> shift) ** 2 - toll for node in bench.blocks)


def draw(x: int) -> int:
    """Return the next 32 random bits after x."""
    x ^= x << 13 & 0xFFFFFFFF
    x ^= x >> 17
    return x ^ (x << 5 & 0xFFFFFFFF)


def fill(
    wide: int, high: int, blanks: Sequence[tuple[int, int, int]]
) -> dict[tuple[int, int], int]:
    """Return the most valuable way to cut every rectangle up to a size, tried at every unit.

    Args:
        blanks: width, height and value; each may be used any number of times.
    """
    best: dict[tuple[int, int], int] = {}
    for x in range(wide + 1):
        for y in range(high + 1):
            own = [value for w, h, value in blanks if w <= x and h <= y]
            upright = [best[a, y] + best[x - a, y] for a in range(1, x)]
            level = [best[x, b] + best[x, y - b] for b in range(1, y)]
            best[x, y] = max([0, *own, *upright, *level])
    return best


def trace(
    table: Sequence[Sequence[int]],
    rest: tuple[Sequence[Sequence[int]], Sequence[Sequence[int]]],
    blanks: Sequence[tuple[int, int, int]],
    i: int,
    j: int,
) -> list[int]:
    """Return how a rectangle of a filled table is cut, in the kernel's steps, first part first.

    Args:
        rest: for both axes and two places, the place that fits into what is between them.
        blanks: least places on both axes and value of each.
    """
    value = table[i][j]
    if value == 0:
        return [-1]
    own = [n for n, (x, y, worth) in enumerate(blanks) if worth == value and x <= i and y <= j]
    if own:
        return [-2 - own[0]]
    if table[i - 1][j] == value:
        return trace(table, rest, blanks, i - 1, j)
    if table[i][j - 1] == value:
        return trace(table, rest, blanks, i, j - 1)
    for a in range(1, i):
        if table[a][j] + table[rest[0][i][a]][j] == value:
            first = trace(table, rest, blanks, a, j)
            return [2 * a, *first, *trace(table, rest, blanks, rest[0][i][a], j)]
    b = next(b for b in range(1, j) if table[i][b] + table[i][rest[1][j][b]] == value)
    first = trace(table, rest, blanks, i, b)
    return [2 * b + 1, *first, *trace(table, rest, blanks, i, rest[1][j][b])]
