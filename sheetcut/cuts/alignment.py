"""The order of parts within each piece in hand, so that readings line up with neighbours."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import chain, permutations, product
from math import prod

from sheetcut.layout import Axis, Part
from sheetcut.units import Length

ORDERS_TRIED = 240  # all of them together: measured at 3 to 8 ms on sheets of a dozen blanks
STEPS_TRIED = 1_000  # for a sheet of 40 different blanks 0.1 s
PARTS_READ = 150_000  # in all those steps: on a sheet of many blanks each of them takes long
MOST_SHUFFLED = 4  # parts of different form in one piece in hand


@dataclass(frozen=True, slots=True)
class _Form:
    """A part without the names of its blanks and without the order of its parts.

    ``is_lowest`` says that none of its parts is divided again;
    ``forms`` are the numbers of its parts' forms; ``looks`` sorts forms the same way whatever
    order the tree came in.
    """

    width: Length
    height: Length
    along: Axis | None
    is_leftover: bool
    is_lowest: bool
    forms: tuple[int, ...]
    looks: tuple[object, ...]

    def side(self, along: Axis | None) -> Length:
        return self.width if along == "x" else self.height


Order = dict[int, tuple[int, ...]]
"""For each form that has parts, its parts' forms from the start corner on."""


@dataclass(slots=True)
class _Forms:
    """All forms of one tree, numbered; equal parts have one number."""

    forms: list[_Form] = field(default_factory=list)
    numbers: dict[_Form, int] = field(default_factory=dict)
    of_part: dict[int, int] = field(default_factory=dict)
    parts: int = 0

    def add(self, part: Part) -> int:
        below = tuple(sorted(map(self.add, part.parts), key=self.looks))
        size = part.width, part.height
        looks = (*size, part.along or "", part.is_leftover, tuple(map(self.looks, below)))
        is_lowest = not any(self.forms[one].forms for one in below)
        form = _Form(*size, part.along, part.is_leftover, is_lowest, below, looks)
        number = self.numbers.setdefault(form, len(self.forms))
        if number == len(self.forms):
            self.forms.append(form)
        self.of_part[id(part)] = number
        self.parts += 1
        return number

    def looks(self, number: int) -> tuple[object, ...]:
        return self.forms[number].looks


@lru_cache(maxsize=4096)  # the same tree is looked at again whatever decides first
def aligned(tree: Part, *, step: Length = 1) -> Part:
    """Return a tree whose parts are put in order, leftovers last and equal parts together.

    Fewest ruler settings first, then fewest readings from fresh edges, then the smaller part
    nearer to the start corner. Few orders are all tried; among many, one piece in hand after
    the other is put right until nothing gets better.

    Args:
        step: what the ruler is read to. A part that is no whole number of steps long comes
            last but for leftovers, so that no reading begins or ends beyond it.
    """
    forms = _Forms()
    root = forms.add(tree)
    divided = [n for n, form in enumerate(forms.forms) if form.forms]
    choices = {n: _orders(forms, n, step) for n in sorted(divided, key=forms.looks)}
    if prod(len(orders) for orders in choices.values()) <= ORDERS_TRIED:
        order = _best_of_all(forms, root, choices)
    else:
        order = _step_by_step(forms, root, choices)
    return _put_in_order(tree, forms, order)


def _orders(forms: _Forms, number: int, step: Length) -> list[tuple[int, ...]]:
    """Return the orders to try for the parts of one form, the plainest first."""
    form = forms.forms[number]
    blanks = [one for one in form.forms if not forms.forms[one].is_leftover]
    leftovers = (one for one in form.forms if forms.forms[one].is_leftover)
    uneven = (one for one in blanks if forms.forms[one].side(form.along) % step)
    counts = Counter(one for one in blanks if forms.forms[one].side(form.along) % step == 0)
    rest = (*uneven, *leftovers)

    def by_size(one: int) -> tuple[Length, tuple[object, ...]]:
        return forms.forms[one].side(form.along), forms.looks(one)

    different = tuple(sorted(counts, key=by_size))
    many = len(different) > MOST_SHUFFLED
    tried = [different, *_moved(different)] if many else list(permutations(different))
    return [(*chain.from_iterable((one,) * counts[one] for one in row), *rest) for row in tried]


def _moved(row: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Yield every order in which one member has changed its place."""
    for n, one in enumerate(row):
        others = (*row[:n], *row[n + 1 :])
        for place in range(len(row)):
            if place != n:
                yield (*others[:place], one, *others[place:])


def _best_of_all(forms: _Forms, root: int, choices: dict[int, list[tuple[int, ...]]]) -> Order:
    orders = (dict(zip(choices, row, strict=True)) for row in product(*choices.values()))
    return min(orders, key=lambda order: _effort(forms, root, order))


def _step_by_step(forms: _Forms, root: int, choices: dict[int, list[tuple[int, ...]]]) -> Order:
    order = {number: rows[0] for number, rows in choices.items()}
    least = _effort(forms, root, order)
    left = min(STEPS_TRIED, PARTS_READ // forms.parts)
    while True:
        before = least
        for number, rows in choices.items():
            for row in rows[:left] if len(rows) > 1 else ():
                left -= 1
                effort = _effort(forms, root, {**order, number: row})
                if effort < least:
                    order, least = {**order, number: row}, effort
        if least == before:
            return order


def _effort(forms: _Forms, root: int, order: Order) -> tuple[int, int]:
    """Return ruler settings and readings from fresh edges."""
    settings: set[tuple[int, Length, Length]] = set()
    fresh = 0
    counted: set[tuple[int, int, Length]] = set()
    waiting = [(root, 0, 0, 1)]
    for number, x, y, level in waiting:  # grows while it is read
        form = forms.forms[number]
        row = order.get(number, ())
        origin = x if form.along == "x" else y
        fresh += max(0, len(row) - 1) * (origin > 0)
        # On a sheet of many small blanks most rows are alike, and share their placings.
        is_new = (number, level, origin) not in counted
        counted.add((number, level, origin))
        if not is_new and form.is_lowest:
            continue
        at = origin
        for one in row:
            if at > origin:
                settings.add((level, at, origin))
            if one in order:
                there = (at, y) if form.along == "x" else (x, at)
                waiting.append((one, *there, level + 1))
            at += forms.forms[one].side(form.along)
    return len(settings), fresh


def _put_in_order(part: Part, forms: _Forms, order: Order) -> Part:
    if not part.parts:
        return part
    places = {form: n for n, form in enumerate(order[forms.of_part[id(part)]])}
    parts = sorted(part.parts, key=lambda one: places[forms.of_part[id(one)]])
    return replace(part, parts=tuple(_put_in_order(one, forms, order) for one in parts))
