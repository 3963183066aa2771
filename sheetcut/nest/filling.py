# ruff: noqa: PLR0912, PLR0913, PLR0917  inner loops: arrays and indices, in and out
"""The inner loops of the listing: sets of blanks, the rectangles they need, those worth having.

Written like the kernel of the search: it runs as it stands on Python lists, and compiled over
arrays of 64-bit integers, with the same answers step for step.

A set is a node of a tree in which each step down adds a blank whose *place* in the order is
not before the last. For each set its *corners* are kept: the least rectangles that it can be
cut from, edge to edge, the narrowest first, each lower than the one before. A set lies in two
parts, one above the other or side by side, so its corners come from those of its parts.
"""

from __future__ import annotations

from collections.abc import MutableSequence

Ints = MutableSequence[int]

# What stands in the head.
PLACES = 0  # kinds of blank that sets are made of
NODES = 1  # sets known so far, the empty one included
CORNERS = 2  # corners kept so far, all sets together
WIDE = 3  # no corner is wider than this
HIGH = 4  # or higher
WORK = 5  # steps taken
UNTIL = 6  # steps after which to come back
SPARE = 7  # corners in the set that is being worked out
MOST_NODES = 8
MOST_CORNERS = 9
MOST_SPARE = 10
SLOTS = 18  # a power of two, more than there can be nodes
# What only the listing needs.
ROWS = 11
ROOM_WIDE = 12  # the sheet that is being filled
ROOM_HIGH = 13
EXACT = 14  # so many blanks of a set, its first, are tried in every way
FOUND = 15  # sets listed
MOST_FOUND = 16
SIZE = 17  # blanks in the set so far
HEAD = 19

SPREAD = 2_654_435_761  # D. E. Knuth, "Sorting and Searching", 6.4: 2**32 over the golden ratio
WORD = 0xFFFFFFFF

DONE = 0
GOING_ON = 1
TOO_MUCH = 2
FULL = 3

UNKNOWN = -1


def look_up(
    head: Ints, child: Ints, ends: Ints, corners: Ints, sides: Ints,
    items: Ints, n: int, nodes: Ints, spare: Ints,
) -> int:  # fmt: skip
    """Return the node of a set, or of a part of it that no sheet holds; UNKNOWN if room ran out.

    Args:
        child: slots in which the node with one blank more is found by a node and a place.
        ends: for each node, where its corners end; they begin where those before end.
        sides: for each place, width and height of a blank in the ways it may lie; 0 for none.
        items: the places of the first n blanks, in order.
        nodes: room for the nodes of all parts; UNKNOWN never remains in it.
    """
    nodes[0] = 0
    top = 0
    mask = 1
    while mask < 1 << n:
        if mask == 2 << top:
            top += 1
        key = 1 + nodes[mask ^ (1 << top)] * head[PLACES] + items[top]
        slot = (key * SPREAD & WORD) >> 8 & head[SLOTS] - 1
        while child[2 * slot] != key and child[2 * slot] != 0:
            slot = slot + 1 & head[SLOTS] - 1
        if child[2 * slot] == 0:
            node = grow(head, ends, corners, sides, items[top], mask, nodes, spare)
            if node == UNKNOWN:
                return UNKNOWN
            child[2 * slot], child[2 * slot + 1] = key, node
        node = child[2 * slot + 1]
        head[WORK] += 1
        if ends[node] == ends[node - 1]:
            return node
        nodes[mask] = node
        mask += 1
    return nodes[mask - 1]


def grow(
    head: Ints, ends: Ints, corners: Ints, sides: Ints, item: int,
    mask: int, nodes: Ints, spare: Ints,
) -> int:  # fmt: skip
    """Work out the corners of a set all of whose parts are known, and return its node."""
    head[SPARE] = 0
    part = (mask - 1) & mask
    if part == 0:
        at = 4 * item
        if sides[at]:
            put(head, spare, sides[at], sides[at + 1])
        if sides[at + 2]:
            put(head, spare, sides[at + 2], sides[at + 3])
    while part > mask ^ part:
        join(head, ends, corners, nodes[part], nodes[mask ^ part], spare)
        part = (part - 1) & mask
    node, n, end = head[NODES], head[SPARE], head[CORNERS]
    if n < 0 or node == head[MOST_NODES] or end + n > head[MOST_CORNERS]:
        return UNKNOWN
    for k in range(2 * n):
        corners[2 * end + k] = spare[k]
    ends[node] = end + n
    head[CORNERS] = end + n
    head[NODES] = node + 1
    head[WORK] += 20 + n
    return node


def join(head: Ints, ends: Ints, corners: Ints, one: int, other: int, spare: Ints) -> None:
    """Put the corners of two parts, one above the other and side by side, with the others."""
    one_from, one_to = ends[one - 1], ends[one]
    other_from, other_to = ends[other - 1], ends[other]
    head[WORK] += one_to - one_from + other_to - other_from + 4
    i, j = one_from, other_from
    while i < one_to and j < other_to:
        # From the wider of the two narrowest on, each is as low as it gets up to its next corner.
        wide = max(corners[2 * i], corners[2 * j])
        while i + 1 < one_to and corners[2 * i + 2] <= wide:
            i += 1
        while j + 1 < other_to and corners[2 * j + 2] <= wide:
            j += 1
        put(head, spare, wide, corners[2 * i + 1] + corners[2 * j + 1])
        if j + 1 == other_to or (i + 1 < one_to and corners[2 * i + 2] < corners[2 * j + 2]):
            i += 1
        else:
            j += 1
    i, j = one_to - 1, other_to - 1
    while i >= one_from and j >= other_from:
        high = max(corners[2 * i + 1], corners[2 * j + 1])
        while i > one_from and corners[2 * i - 1] <= high:
            i -= 1
        while j > other_from and corners[2 * j - 1] <= high:
            j -= 1
        put(head, spare, corners[2 * i] + corners[2 * j], high)
        if j == other_from or (i > one_from and corners[2 * i - 1] < corners[2 * j - 1]):
            i -= 1
        else:
            j -= 1


def put(head: Ints, spare: Ints, wide: int, high: int) -> None:
    """Keep a corner unless one that is kept is as good; drop those that it makes needless."""
    n = head[SPARE]
    if wide > head[WIDE] or high > head[HIGH] or n < 0:
        return
    k = 0
    while k < n and spare[2 * k] < wide:
        k += 1
    if k > 0 and spare[2 * k - 1] <= high:
        return
    if k < n and spare[2 * k] == wide and spare[2 * k + 1] <= high:
        return
    end = k
    while end < n and spare[2 * end + 1] >= high:
        end += 1
    if end == k:
        if n == head[MOST_SPARE]:
            head[SPARE] = -1
            return
        for m in range(2 * n - 1, 2 * k - 1, -1):
            spare[m + 2] = spare[m]
        head[SPARE] = n + 1
    elif end > k + 1:
        for m in range(2 * end, 2 * n):
            spare[m - 2 * (end - k - 1)] = spare[m]
        head[SPARE] = n - (end - k - 1)
    spare[2 * k], spare[2 * k + 1] = wide, high


def holds(ends: Ints, corners: Ints, node: int, wide: int, high: int) -> bool:
    """Whether a rectangle holds a set."""
    for k in range(ends[node - 1], ends[node]):
        if corners[2 * k] <= wide and corners[2 * k + 1] <= high:
            return True
    return False


def dig(
    head: Ints, child: Ints, ends: Ints, corners: Ints, sides: Ints,
    items: Ints, nodes: Ints, spare: Ints,
    counts: Ints, loads: Ints, orders: Ints, most: Ints, need: Ints,
    load: Ints, open_: Ints, at: Ints, left: Ints, others: Ints, found: Ints,
) -> int:  # fmt: skip
    """List sets that carry enough and to which no blank can be added; return how far that came.

    Called again it goes on where it came back. Sets of more than EXACT blanks are taken as
    cuttable if they pass, see ``passes``.

    Args:
        counts: of each place, how many blanks there are.
        loads: for each row, the weight of a blank of each place. The first row leads; the
            places are in the order of its weight for the area, and areas are the second row.
        orders: for each row, the places, best weight in the first row for weight in this first.
        most, need: of each row, what a sheet carries at most and must carry.
        load: of each row, what the set so far carries.
        open_: the places of blanks that can be added, for each size of the set so far in turn.
        at: for each size of the set so far, where its places in ``open_`` go on and end.
        left: noughts; for each place.
        others: room for the items of another set.
        found: for each set listed, how many blanks of each place.
    """
    while True:
        if head[WORK] >= head[UNTIL]:
            return GOING_ON
        size = head[SIZE]
        here, end = at[2 * size], at[2 * size + 1]
        if here == end or not can_do(
            head, items, counts, loads, orders, most, need, load, open_, here, end, left
        ):
            if size == 0:
                return DONE
            add(head, loads, load, items[size - 1], -1)
            head[SIZE] = size - 1
            continue
        place = open_[here]
        at[2 * size] = here + 1
        items[size] = place
        add(head, loads, load, place, 1)
        head[SIZE] = size + 1
        stop = end
        for k in range(here, end):
            if can_add(head, items, counts, loads, most, load, open_[k]):
                if size + 2 <= head[EXACT]:
                    items[size + 1] = open_[k]
                    node = look_up(head, child, ends, corners, sides, items, size + 2, nodes, spare)
                    if node == UNKNOWN:
                        return TOO_MUCH
                    if not holds(ends, corners, node, head[ROOM_WIDE], head[ROOM_HIGH]):
                        continue
                open_[stop] = open_[k]
                stop += 1
        at[2 * size + 2], at[2 * size + 3] = end, stop
        if stop == end:
            came = settle(
                head, child, ends, corners, sides, items, nodes, spare,
                counts, loads, most, need, load, others, found,
            )  # fmt: skip
            if came != DONE:
                return came


def add(head: Ints, loads: Ints, load: Ints, place: int, n: int) -> None:
    """Count n blanks more of a place."""
    for row in range(head[ROWS]):
        load[row] += n * loads[row * head[PLACES] + place]


def spare_of(head: Ints, items: Ints, counts: Ints, place: int) -> int:
    """Return how many blanks of a place are not in the set, if none of later places is."""
    n = counts[place]
    k = head[SIZE] - 1
    while k >= 0 and items[k] == place:
        n -= 1
        k -= 1
    return n


def can_add(
    head: Ints, items: Ints, counts: Ints, loads: Ints, most: Ints, load: Ints, place: int
) -> bool:
    """Whether there is another blank of a place and all rows allow it."""
    head[WORK] += 1
    if spare_of(head, items, counts, place) <= 0:
        return False
    for row in range(head[ROWS]):
        if load[row] + loads[row * head[PLACES] + place] > most[row]:
            return False
    return True


def can_do(
    head: Ints, items: Ints, counts: Ints, loads: Ints, orders: Ints,
    most: Ints, need: Ints, load: Ints, open_: Ints, here: int, end: int, left: Ints,
) -> bool:  # fmt: skip
    """Whether blanks of open places may still add what a set lacks."""
    n_places = head[PLACES]
    for row in range(head[ROWS]):
        lack = need[row] - load[row]
        k = here
        while k < end and lack > 0:
            head[WORK] += 1
            lack -= loads[row * n_places + open_[k]] * counts[open_[k]]
            k += 1
        if lack > 0:
            return False
    if need[0] <= load[0]:
        return True
    for k in range(here, end):
        left[open_[k]] = spare_of(head, items, counts, open_[k])
    can = True
    for row in range(1, head[ROWS]):
        lack = need[0] - load[0]
        room = most[row] - load[row]
        k = row * n_places
        while k < (row + 1) * n_places and lack > 0 and room >= 0:
            place = orders[k]
            k += 1
            head[WORK] += 1
            if left[place] == 0:
                continue
            worth, weight = loads[place], loads[row * n_places + place]
            if worth == 0:
                break
            if weight * left[place] > room:
                lack -= worth * room // weight
                room = -1
            else:
                lack -= worth * left[place]
                room -= weight * left[place]
        if lack > 0:
            can = False
            break
    for k in range(here, end):
        left[open_[k]] = 0
    return can


def settle(
    head: Ints, child: Ints, ends: Ints, corners: Ints, sides: Ints,
    items: Ints, nodes: Ints, spare: Ints,
    counts: Ints, loads: Ints, most: Ints, need: Ints,
    load: Ints, others: Ints, found: Ints,
) -> int:  # fmt: skip
    """List the set at hand if it carries enough and no set with one blank more is listed."""
    n_places, size = head[PLACES], head[SIZE]
    for row in range(head[ROWS]):
        if load[row] < need[row]:
            return DONE
    for place in range(items[size - 1]):
        n = 0
        for k in range(size):
            if items[k] == place:
                n += 1
        fits = n < counts[place]
        for row in range(head[ROWS]):
            if load[row] + loads[row * n_places + place] > most[row]:
                fits = False
        head[WORK] += 1
        if not fits:
            continue
        head[WORK] += size
        k = 0
        while k < size and items[k] <= place:
            others[k] = items[k]
            k += 1
        others[k] = place
        while k < size:
            others[k + 1] = items[k]
            k += 1
        came = passes(head, child, ends, corners, sides, others, size + 1, nodes, spare)
        if came != FULL:
            return came
    if size == 0:
        return DONE
    if head[FOUND] == head[MOST_FOUND]:
        return FULL
    for k in range(size):
        found[head[FOUND] * n_places + items[k]] += 1
    head[FOUND] += 1
    return DONE


def passes(
    head: Ints, child: Ints, ends: Ints, corners: Ints, sides: Ints,
    items: Ints, size: int, nodes: Ints, spare: Ints,
) -> int:  # fmt: skip
    """Return DONE if a set is cuttable as far as that is tried while listing, else FULL.

    Its first EXACT blanks are tried together, and each of the others in place of the last.
    """
    first = min(size, head[EXACT])
    for k in range(first - 1, size):
        kept = items[first - 1]
        items[first - 1] = items[k]
        node = look_up(head, child, ends, corners, sides, items, first, nodes, spare)
        items[first - 1] = kept
        if node == UNKNOWN:
            return TOO_MUCH
        if not holds(ends, corners, node, head[ROOM_WIDE], head[ROOM_HIGH]):
            return FULL
    return DONE
