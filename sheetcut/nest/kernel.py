"""The inner loops of the search: a cut tree in one flat run of integers, taken apart and refilled.

Everything here is written so that it runs as it stands on a Python list, and can be compiled
over an array of 64-bit integers: both give the same answers, round for round.

A *record* is a node of the cut tree, named by its place in the run. A node that holds others
lays them side by side along one axis and keeps one number for all the paper left beside
them: the order of siblings is free, so that paper is always in one piece (a *block*).

    root, along x                      WIDE, HIGH  its rectangle, in whole reading steps
    +-------+-----+---------+          ALONG       0: left to right, 1: from the foot up
    |       |  c  |         |          FREE        what is left beside its members
    |   a   +-----+  FREE   |          KIND        a blank's kind from 0 up; a holder on a
    |       |  b  |         |                      sheet of kind s has -2 - s; spare records -1
    +-------+-----+---------+          SPOT        its place in the list of blocks plus 1

Empty roots stand in a chain for each kind of sheet and are not blocks until they are opened.
"""

from __future__ import annotations

from collections.abc import MutableSequence

Ints = MutableSequence[int]

# The head of a run.
TOP = 0  # where the records never used so far begin
SPARE = 1  # first of the chain of records given back
BLOCKS = 2  # how many blocks there are
LOOSE = 3  # how many blanks are not placed
LACK = 4  # their weights together
SPENT = 5  # cost of the sheets in use
BLOCKS_AT = 6  # where the list of blocks begins
LOOSE_AT = 7  # where the list of blanks not placed begins
ROOTS_AT = 8  # where the roots begin
NODES_AT = 9  # where the roots end and the other records begin
LIMIT = 10  # where the room ends
CHAINS_AT = 11  # first empty root of each kind of sheet, 0 for none
HEAD = 12

# A record.
UP = 0
NEXT = 1
PREV = 2
FIRST = 3
WIDE = 4
HIGH = 5
FREE = 6
ALONG = 7
KIND = 8
SPOT = 9
RECORD = 10

# A kind of blank: width, height, weight while not placed, then its rank in each order.
# A block: its holder, its width and height.
BLOCK = 3

ORDERS = 6
BLANK = 3 + ORDERS
WEIGHT = 2
RANKS = 3

# A kind of sheet: width, height, cost.
SHEET = 3
COST = 2

RULES = 4  # of fit
CUTS = 3  # how a block is cut for a blank; a rule is a rule of fit plus RULES times a cut
WORD = 0xFFFFFFFF
THOUSAND = 1000
FULL_NOISE = 201  # ranks are scaled by 900 to 1100 thousandths
MOST_RUINS = 8  # measured: one to eight solves more than one to four
SHEET_RUIN = 230  # thousandths of the ruins that empty a whole sheet
WHOLE_SHEETS = 300  # thousandths of the rounds that empty whole sheets and nothing else
MOST_SHEETS = 3
OTHER_WAY = 250  # thousandths of the blanks that are cut the less promising way
CLIMB = 570  # thousandths: the chance of going one level further up
# Measured on 136 published instances at 40 000 rounds: 42 sheets above the bound without the
# three numbers above and the reshaping of roots, 28 with them.
SKIP_SPAN = 86  # every 43rd fit or so is passed over, 2.3 %
NO_SKIP = 1 << 60


def draw(chance: Ints) -> int:
    """Return the next 32 random bits (G. Marsaglia, "Xorshift RNGs", 2003: 13, 17, 5)."""
    x = chance[0]
    x ^= (x << 13) & WORD
    x ^= x >> 17
    x ^= (x << 5) & WORD
    chance[0] = x
    return x


def below(chance: Ints, n: int) -> int:
    """Return a random number from 0 to n - 1."""
    return (draw(chance) * n) >> 32


def set_free(a: Ints, node: int, free: int) -> None:
    """Give a holder its free length and keep the list of blocks in step."""
    a[node + FREE] = free
    spot = a[node + SPOT]
    if free > 0:
        if spot == 0:
            spot = a[BLOCKS] + 1
            a[BLOCKS] = spot
            a[node + SPOT] = spot
        at = a[BLOCKS_AT] + (spot - 1) * BLOCK
        a[at] = node
        if a[node + ALONG] == 0:
            a[at + 1] = free
            a[at + 2] = a[node + HIGH]
        else:
            a[at + 1] = a[node + WIDE]
            a[at + 2] = free
    elif spot != 0:
        hide(a, node)


def hide(a: Ints, node: int) -> None:
    """Take a holder out of the list of blocks; the last one steps into its place."""
    spot = a[node + SPOT]
    if spot == 0:
        return
    n = a[BLOCKS] - 1
    last = a[BLOCKS_AT] + n * BLOCK
    at = a[BLOCKS_AT] + (spot - 1) * BLOCK
    a[at] = a[last]
    a[at + 1] = a[last + 1]
    a[at + 2] = a[last + 2]
    a[a[at] + SPOT] = spot
    a[node + SPOT] = 0
    a[BLOCKS] = n


def record(a: Ints, kind: int, wide: int, high: int, along: int) -> int:
    """Return a fresh record; the run is made with room for the most that can be needed."""
    node = a[SPARE]
    if node != 0:
        a[SPARE] = a[node + NEXT]
    else:
        node = a[TOP]
        a[TOP] = node + RECORD
    a[node + UP] = 0
    a[node + NEXT] = 0
    a[node + PREV] = 0
    a[node + FIRST] = 0
    a[node + WIDE] = wide
    a[node + HIGH] = high
    a[node + FREE] = 0
    a[node + ALONG] = along
    a[node + KIND] = kind
    a[node + SPOT] = 0
    return node


def release(a: Ints, node: int) -> None:
    """Give a record back."""
    hide(a, node)
    a[node + KIND] = -1
    a[node + FIRST] = 0
    a[node + NEXT] = a[SPARE]
    a[SPARE] = node


def link(a: Ints, holder: int, node: int) -> None:
    """Make a node the first member of a holder."""
    first = a[holder + FIRST]
    a[node + UP] = holder
    a[node + PREV] = 0
    a[node + NEXT] = first
    if first != 0:
        a[first + PREV] = node
    a[holder + FIRST] = node


def unlink(a: Ints, node: int) -> None:
    """Take a node out of its holder's members."""
    before = a[node + PREV]
    after = a[node + NEXT]
    if before != 0:
        a[before + NEXT] = after
    else:
        a[a[node + UP] + FIRST] = after
    if after != 0:
        a[after + PREV] = before


def open_sheet(a: Ints, sheets: Ints, kind: int) -> int:
    """Take the next empty root of one kind of sheet into use and return it."""
    chain = a[CHAINS_AT] + kind
    root = a[chain]
    a[chain] = a[root + NEXT]
    a[root + NEXT] = 0
    a[SPENT] += sheets[kind * SHEET + COST]
    set_free(a, root, a[root + WIDE] if a[root + ALONG] == 0 else a[root + HIGH])
    return root


def close_sheet(a: Ints, sheets: Ints, root: int) -> None:
    """Put a root without members back into its chain."""
    kind = -2 - a[root + KIND]
    hide(a, root)
    a[root + FREE] = 0
    a[root + FIRST] = 0
    chain = a[CHAINS_AT] + kind
    a[root + NEXT] = a[chain]
    a[chain] = root
    a[SPENT] -= sheets[kind * SHEET + COST]


def put(a: Ints, node: int, kind: int, wide: int, high: int, cut: int, other_way: bool) -> None:
    """Place a blank in a block that it goes into.

    Either the strip of the blank's run is cut off first and the blank from that strip, or
    the whole block is cut across first, at the blank's rise:

        +----+-------+        +------------+
        |    |       |        |            |
        +----+       |        +----+-------+
        | ## |       |        | ## |       |
        +----+-------+        +----+-------+

    Args:
        cut: 0 so that the larger block possible remains, 1 across the longer side of the block
            first, 2 across the shorter.
        other_way: whether to do the opposite.
    """
    along = a[node + ALONG]
    free = a[node + FREE]
    own = a[node + KIND]
    if along == 0:
        run, rise, cross = wide, high, a[node + HIGH]
    else:
        run, rise, cross = high, wide, a[node + WIDE]
    blank = record(a, kind, wide, high, 0)
    if rise == cross:
        link(a, node, blank)
        set_free(a, node, free - run)
        return
    if cut == 0:
        strip_first = max((free - run) * cross, run * (cross - rise)) >= max(
            (free - run) * rise, free * (cross - rise)
        )
    else:
        strip_first = (free >= cross) == (cut == 1)
    if other_way:
        strip_first = not strip_first
    if strip_first and run < free:
        if along == 0:
            strip = record(a, own, run, cross, 1)
        else:
            strip = record(a, own, cross, run, 0)
        link(a, node, strip)
        set_free(a, node, free - run)
        link(a, strip, blank)
        set_free(a, strip, cross - rise)
        return
    holder = node
    if a[node + FIRST] == 0:
        a[node + ALONG] = 1 - along  # an empty root has no cuts yet: it simply turns
    else:
        if along == 0:
            holder = record(a, own, free, cross, 1)
        else:
            holder = record(a, own, cross, free, 0)
        link(a, node, holder)
        set_free(a, node, 0)
    if run < free:
        if along == 0:
            strip = record(a, own, free, rise, 0)
        else:
            strip = record(a, own, rise, free, 1)
        link(a, holder, strip)
        link(a, strip, blank)
        set_free(a, strip, free - run)
    else:
        link(a, holder, blank)
    set_free(a, holder, cross - rise)


def fit(free_wide: int, free_high: int, wide: int, high: int, rule: int, shift: int) -> int:
    """Return how badly a blank fits a block that it goes into; less is better."""
    if rule == 0:
        return free_wide * free_high
    if rule == 1:
        return min(free_wide - wide, free_high - high)
    if rule == 2:
        block = (free_wide * free_high) >> shift
        beside = ((free_wide - wide) * free_high) >> shift
        above = (wide * (free_high - high)) >> shift
        short = ((free_wide - wide) * high) >> shift
        over = (free_wide * (free_high - high)) >> shift
        return block * block - max(beside * beside + above * above, short * short + over * over)
    return min(
        (free_wide - wide) * THOUSAND // free_wide, (free_high - high) * THOUSAND // free_high
    )


def place(
    a: Ints,
    chance: Ints,
    blanks: Ints,
    ways: Ints,
    sheets: Ints,
    tries: Ints,
    kind: int,
    rule: int,
    shift: int,
    goal: int,
) -> bool:
    """Place one blank in the block it fits best, or on a fresh sheet; return whether it lies.

    Args:
        ways: for each kind of blank and of sheet, 1 as written + 2 turned.
        tries: how many kinds of sheet may be opened, then those kinds in order.
        goal: the sheets in use may cost this much.
    """
    n_sheets = len(sheets) // SHEET
    cut = rule // RULES
    rule = rule % RULES
    wide = blanks[kind * BLANK]
    high = blanks[kind * BLANK + 1]
    at = a[BLOCKS_AT]
    best = -1
    home = 0
    turned = 0
    for i in range(at, at + a[BLOCKS] * BLOCK, BLOCK):
        free_wide = a[i + 1]
        free_high = a[i + 2]
        upright = wide <= free_wide and high <= free_high
        lying = high <= free_wide and wide <= free_high
        if not (upright or lying):
            continue
        way = ways[kind * n_sheets - 2 - a[a[i] + KIND]]
        if upright and way & 1:
            score = fit(free_wide, free_high, wide, high, rule, shift)
            if best < 0 or score < best:
                chance[1] -= 1
                if chance[1] <= 0:
                    chance[1] = 1 + below(chance, SKIP_SPAN)
                else:
                    best, home, turned = score, a[i], 0
        if lying and way & 2:
            score = fit(free_wide, free_high, high, wide, rule, shift)
            if best < 0 or score < best:
                chance[1] -= 1
                if chance[1] <= 0:
                    chance[1] = 1 + below(chance, SKIP_SPAN)
                else:
                    best, home, turned = score, a[i], 1
    if best < 0:
        for i in range(1, tries[0] + 1):
            sheet = tries[i]
            way = ways[kind * n_sheets + sheet]
            if (
                way == 0
                or a[a[CHAINS_AT] + sheet] == 0
                or a[SPENT] + sheets[sheet * SHEET + COST] > goal
            ):
                continue
            home = open_sheet(a, sheets, sheet)
            free_wide = a[home + WIDE]
            free_high = a[home + HIGH]
            turned = 0
            if way & 2 and (
                way & 1 == 0
                or fit(free_wide, free_high, high, wide, rule, shift)
                < fit(free_wide, free_high, wide, high, rule, shift)
            ):
                turned = 1
            best = 0
            break
    if best < 0:
        return False
    other_way = chance[1] < NO_SKIP // 2 and below(chance, THOUSAND) < OTHER_WAY
    if turned:
        put(a, home, kind, high, wide, cut, other_way)
    else:
        put(a, home, kind, wide, high, cut, other_way)
    return True


def shed(a: Ints, blanks: Ints, node: int) -> None:
    """Give back a node and all below it; its blanks are loose from now on."""
    at = node
    while True:
        while a[at + FIRST] != 0:
            at = a[at + FIRST]
        kind = a[at + KIND]
        if kind >= 0:
            a[a[LOOSE_AT] + a[LOOSE]] = kind
            a[LOOSE] += 1
            a[LACK] += blanks[kind * BLANK + WEIGHT]
        after = a[at + NEXT]
        holder = a[at + UP]
        release(a, at)
        if at == node:
            return
        if after != 0:
            at = after
        else:
            at = holder
            a[at + FIRST] = 0


def take(a: Ints, blanks: Ints, sheets: Ints, node: int) -> None:
    """Take a node out of the tree, its blanks with it, and mend what is left."""
    holder = a[node + UP]
    extent = a[node + WIDE] if a[holder + ALONG] == 0 else a[node + HIGH]
    unlink(a, node)
    a[node + NEXT] = 0
    a[node + UP] = 0
    shed(a, blanks, node)
    set_free(a, holder, a[holder + FREE] + extent)
    mend(a, sheets, holder)


def empty(a: Ints, blanks: Ints, sheets: Ints, root: int) -> None:
    """Take everything off a sheet and put it back into its chain."""
    node = a[root + FIRST]
    while node != 0:
        after = a[node + NEXT]
        a[node + NEXT] = 0
        a[node + UP] = 0
        shed(a, blanks, node)
        node = after
    a[root + FIRST] = 0
    close_sheet(a, sheets, root)


def mend(a: Ints, sheets: Ints, node: int) -> None:
    """Bring a tree back to its plain form, from a changed holder up to the root.

    Holders without members go; a holder whose members all leave paper at the same end is
    narrowed and gives that paper up; a holder that adds nothing is dissolved.
    """
    while True:
        holder = a[node + UP]
        if a[node + FIRST] == 0:
            if holder == 0:
                close_sheet(a, sheets, node)
                return
            extent = a[node + WIDE] if a[holder + ALONG] == 0 else a[node + HIGH]
            unlink(a, node)
            release(a, node)
            set_free(a, holder, a[holder + FREE] + extent)
            node = holder
            continue
        if holder != 0:
            narrow(a, node, holder)
        if a[node + FREE] == 0 and a[a[node + FIRST] + NEXT] == 0:
            dissolve(a, node, holder)
        if holder == 0:
            reshape(a, node)
            return
        node = holder


def reshape(a: Ints, root: int) -> None:
    """Cut what all members of a root leave at their ends off the whole sheet first, if larger.

    The members then stand in a holder of their own, beside one long block:

        +----+------+---+        +---------------+
        |    +------+   |        |               |
        +----+      |   |        +----+------+---+
        | ## | #### |   |        | ## | #### |   |
        +----+------+---+        +----+------+---+
    """
    along = a[root + ALONG]
    length, cross = a[root + WIDE], a[root + HIGH]
    if along == 1:
        length, cross = cross, length
    slack = -1
    largest = a[root + FREE] * cross
    member = a[root + FIRST]
    while member != 0:
        free = a[member + FREE]
        if a[member + KIND] >= 0 or free == 0:
            return
        if slack < 0 or free < slack:
            slack = free
        extent = a[member + WIDE] if along == 0 else a[member + HIGH]
        largest = max(largest, extent * free)
        member = a[member + NEXT]
    if slack * length <= largest:
        return
    if along == 0:
        inner = record(a, a[root + KIND], length, cross - slack, 0)
    else:
        inner = record(a, a[root + KIND], cross - slack, length, 1)
    side = HIGH if along == 0 else WIDE
    beside = a[root + FREE]
    member = a[root + FIRST]
    a[root + FIRST] = 0
    a[root + ALONG] = 1 - along
    link(a, root, inner)
    while member != 0:
        after = a[member + NEXT]
        link(a, inner, member)
        a[member + side] -= slack
        set_free(a, member, a[member + FREE] - slack)
        if a[member + FREE] == 0 and a[a[member + FIRST] + NEXT] == 0:
            dissolve(a, member, inner)
        member = after
    set_free(a, inner, a[inner + FREE] + beside)
    set_free(a, root, slack)
    if a[inner + FREE] == 0 and a[a[inner + FIRST] + NEXT] == 0:
        dissolve(a, inner, root)


def narrow(a: Ints, node: int, holder: int) -> None:
    """Give a holder the paper that all members of a node leave at their ends."""
    slack = -1
    member = a[node + FIRST]
    while member != 0:
        if a[member + KIND] >= 0 or a[member + FREE] == 0:
            return
        if slack < 0 or a[member + FREE] < slack:
            slack = a[member + FREE]
        member = a[member + NEXT]
    side = HIGH if a[node + ALONG] == 0 else WIDE
    a[node + side] -= slack
    member = a[node + FIRST]
    while member != 0:
        after = a[member + NEXT]
        a[member + side] -= slack
        set_free(a, member, a[member + FREE] - slack)
        if a[member + FREE] == 0 and a[a[member + FIRST] + NEXT] == 0:
            dissolve(a, member, node)
        member = after
    set_free(a, node, a[node + FREE])
    set_free(a, holder, a[holder + FREE] + slack)


def dissolve(a: Ints, node: int, holder: int) -> None:
    """Replace a full holder of one member by that member, or by the member's own members."""
    only = a[node + FIRST]
    if a[only + KIND] >= 0:
        if holder != 0:
            unlink(a, node)
            release(a, node)
            link(a, holder, only)
        return
    target = holder
    if holder == 0:
        target = node
        a[node + ALONG] = a[only + ALONG]
        a[node + FIRST] = 0
    else:
        unlink(a, node)
    member = a[only + FIRST]
    free = a[only + FREE]
    release(a, only)
    if holder != 0:
        release(a, node)
    while member != 0:
        after = a[member + NEXT]
        link(a, target, member)
        member = after
    set_free(a, target, a[target + FREE] + free)


def ruin(a: Ints, chance: Ints, blanks: Ints, sheets: Ints) -> None:
    """Take a few random parts of the plan away: whole sheets, blanks, or what holds them."""
    if below(chance, THOUSAND) < WHOLE_SHEETS:
        for _ in range(1 + below(chance, MOST_SHEETS)):
            root = random_sheet(a, chance)
            if root != 0:
                empty(a, blanks, sheets, root)
        return
    for _ in range(1 + below(chance, MOST_RUINS)):
        if below(chance, THOUSAND) < SHEET_RUIN:
            root = random_sheet(a, chance)
            if root != 0:
                empty(a, blanks, sheets, root)
            continue
        node = random_blank(a, chance)
        if node == 0:
            return
        while a[a[node + UP] + UP] != 0 and below(chance, THOUSAND) < CLIMB:
            node = a[node + UP]
        take(a, blanks, sheets, node)


def random_sheet(a: Ints, chance: Ints) -> int:
    """Return a random root in use, or 0 where a few draws hit none."""
    n = (a[NODES_AT] - a[ROOTS_AT]) // RECORD
    for _ in range(64):
        root = a[ROOTS_AT] + RECORD * below(chance, n)
        if a[root + FIRST] != 0:
            return root
    return 0


def random_blank(a: Ints, chance: Ints) -> int:
    """Return a random blank that lies somewhere, or 0 where a few draws hit none."""
    n = (a[TOP] - a[NODES_AT]) // RECORD
    if n == 0:
        return 0
    for _ in range(64):
        node = a[NODES_AT] + RECORD * below(chance, n)
        if a[node + KIND] >= 0:
            return node
    return 0


def arrange(a: Ints, chance: Ints, blanks: Ints, keys: Ints, order: int, noise: int) -> None:
    """Bring the loose blanks into one of the orders, largest first, more or less.

    Shell's method, with gaps 1, 4, 13, 40, ...
    """
    at = a[LOOSE_AT]
    n = a[LOOSE]
    for i in range(n):
        keys[i] = blanks[a[at + i] * BLANK + RANKS + order] * (900 + below(chance, noise))
    gap = 1
    while gap * 3 + 1 < n:
        gap = gap * 3 + 1
    while gap > 0:
        for i in range(gap, n):
            key = keys[i]
            kind = a[at + i]
            j = i
            while j >= gap and keys[j - gap] < key:
                keys[j] = keys[j - gap]
                a[at + j] = a[at + j - gap]
                j -= gap
            keys[j] = key
            a[at + j] = kind
        gap //= 3


def refill(
    a: Ints,
    chance: Ints,
    blanks: Ints,
    ways: Ints,
    sheets: Ints,
    tries: Ints,
    failed: Ints,
    rule: int,
    shift: int,
    goal: int,
) -> None:
    """Place the loose blanks one after another; those that find no room stay loose.

    Blocks only get smaller on the way, so a kind that found no room is not tried again.
    """
    for i in range(len(failed)):
        failed[i] = 0
    at = a[LOOSE_AT]
    n = a[LOOSE]
    left = 0
    for i in range(n):
        kind = a[at + i]
        if failed[kind] == 0 and place(
            a, chance, blanks, ways, sheets, tries, kind, rule, shift, goal
        ):
            a[LACK] -= blanks[kind * BLANK + WEIGHT]
        else:
            failed[kind] = 1
            a[at + left] = kind
            left += 1
    a[LOOSE] = left


def shuffle_tries(chance: Ints, tries: Ints, n_sheets: int) -> None:
    """Choose which kinds of sheet this refill may open, and in which order."""
    for i in range(n_sheets):
        tries[i + 1] = i
    for i in range(n_sheets - 1, 0, -1):
        j = below(chance, i + 1)
        kind = tries[i + 1]
        tries[i + 1] = tries[j + 1]
        tries[j + 1] = kind
    barred = min(below(chance, 3), n_sheets - 1)
    tries[0] = n_sheets - barred


def afford(a: Ints, blanks: Ints, sheets: Ints, goal: int) -> None:
    """Empty sheets, the ones with the least on them first, until the rest cost no more."""
    while a[SPENT] > goal:
        least = -1
        worst = 0
        for root in range(a[ROOTS_AT], a[NODES_AT], RECORD):
            if a[root + FIRST] == 0 or sheets[(-2 - a[root + KIND]) * SHEET + COST] == 0:
                continue
            load = burden(a, blanks, root)
            if least < 0 or load < least:
                least = load
                worst = root
        if worst == 0:
            return
        empty(a, blanks, sheets, worst)


def burden(a: Ints, blanks: Ints, root: int) -> int:
    """Return the weight of all blanks on a sheet."""
    load = 0
    at = a[root + FIRST]
    while at != 0:
        if a[at + KIND] >= 0:
            load += blanks[a[at + KIND] * BLANK + WEIGHT]
        if a[at + FIRST] != 0:
            at = a[at + FIRST]
            continue
        while at != root and a[at + NEXT] == 0:
            at = a[at + UP]
        if at == root:
            return load
        at = a[at + NEXT]
    return load


def copy(here: Ints, there: Ints) -> None:
    """Make one run the same as another, as far as it is in use."""
    end = here[TOP]
    there[0:end] = here[0:end]
    at = here[BLOCKS_AT]
    end = at + here[BLOCKS] * BLOCK
    there[at:end] = here[at:end]
    at = here[LOOSE_AT]
    end = at + here[LOOSE]
    there[at:end] = here[at:end]


def seek(
    a: Ints,
    b: Ints,
    chance: Ints,
    blanks: Ints,
    ways: Ints,
    sheets: Ints,
    tries: Ints,
    failed: Ints,
    keys: Ints,
    history: Ints,
    shift: int,
    goal: int,
    start: int,
    rounds: int,
) -> int:
    """Ruin and refill under a limit of cost until every blank lies; return the rounds used.

    A trial is kept if it lacks no more than the plan at hand, or less than the one of
    ``len(history)`` rounds ago (late acceptance). ``a`` holds the plan at the end.
    """
    n_sheets = len(sheets) // SHEET
    here = a
    there = b
    swapped = False
    used = 0
    afford(here, blanks, sheets, goal)
    while used < rounds and here[LACK] > 0:
        copy(here, there)
        ruin(there, chance, blanks, sheets)
        arrange(there, chance, blanks, keys, below(chance, ORDERS), FULL_NOISE)
        shuffle_tries(chance, tries, n_sheets)
        rule = below(chance, RULES)
        refill(there, chance, blanks, ways, sheets, tries, failed, rule, shift, goal)
        spot = (start + used) % len(history)
        lack = there[LACK]
        before = here[LACK]
        if lack <= before or lack < history[spot]:
            here, there = there, here
            swapped = not swapped
        history[spot] = before
        used += 1
    if swapped:
        copy(here, there)
    return used


def tidiness(a: Ints, shift: int, toll: int) -> int:
    """Return what a tidy plan has much of: blocks squared, less a toll for each block.

    Pieces and sheets being the same, every block costs one cut.
    """
    total = 0
    at = a[BLOCKS_AT]
    for i in range(at, at + a[BLOCKS] * BLOCK, BLOCK):
        block = (a[i + 1] * a[i + 2]) >> shift
        total += block * block - toll
    return total


def tidy(
    a: Ints,
    b: Ints,
    chance: Ints,
    blanks: Ints,
    ways: Ints,
    sheets: Ints,
    tries: Ints,
    failed: Ints,
    keys: Ints,
    shift: int,
    toll: int,
    goal: int,
    rounds: int,
) -> int:
    """Ruin and refill a whole plan for fewer cuts and larger leftovers; return its tidiness."""
    n_sheets = len(sheets) // SHEET
    here = a
    there = b
    swapped = False
    value = tidiness(here, shift, toll)
    for _ in range(rounds):
        copy(here, there)
        ruin(there, chance, blanks, sheets)
        arrange(there, chance, blanks, keys, below(chance, ORDERS), FULL_NOISE)
        shuffle_tries(chance, tries, n_sheets)
        rule = below(chance, RULES)
        refill(there, chance, blanks, ways, sheets, tries, failed, rule, shift, goal)
        if there[LACK] > 0:
            continue
        found = tidiness(there, shift, toll)
        if found >= value:
            value = found
            here, there = there, here
            swapped = not swapped
    if swapped:
        copy(here, there)
    return value
