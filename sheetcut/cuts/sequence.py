"""Which mark is cut next: fewest placings of the ruler, then fewest changes of what is in hand."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import groupby, permutations
from math import prod

from sheetcut.cuts.marks import Mark
from sheetcut.units import Length

MOST_CUTS = 200  # in one company: each is a call within a call
MOST_STATES = 4_000  # beyond so many ways to be half done, readings alone decide

Run = tuple[Mark, ...]
Ruler = tuple[Length, Length]
Step = tuple[Ruler, tuple[int, ...]]
Steps = tuple[Step, ...]


def in_turn(marks: tuple[Mark, ...]) -> list[Mark]:
    """Return the marks in the order they are cut.

    Level after level, and in each piece in hand the farthest reading first. All cuts of a
    level lie the same way, so the paper is turned once between levels. Cuts that share a
    placing of the ruler follow each other; then a piece taken in hand is put away as seldom
    as can be. Everything else goes from the far side to the start corner.
    """
    order: list[Mark] = []
    for level in sorted({mark.level for mark in marks}):
        strips = _strips(mark for mark in marks if mark.level == level)
        for together in _joined(strips):
            order.extend(_fewest_changes(together) or _by_reading(together))
    return order


def _strips(marks: Iterator[Mark]) -> list[Run]:
    """Return the marks of each piece in hand, farthest reading first; the farthest piece first."""
    by_strip = sorted(marks, key=lambda mark: (mark.strip, -mark.at))
    strips = [tuple(run) for _, run in groupby(by_strip, key=lambda mark: mark.strip)]
    return sorted(strips, key=lambda run: (-run[0].start, -run[0].origin))


def _joined(strips: list[Run]) -> list[list[Run]]:
    """Return the pieces in hand in companies that share no placing of the ruler between them."""
    companies: list[list[int]] = []
    for place, strip in enumerate(strips):
        rulers = {mark.ruler for mark in strip}
        mine = [place]
        for company in list(companies):
            if any(mark.ruler in rulers for one in company for mark in strips[one]):
                companies.remove(company)
                mine.extend(company)
        companies.append(sorted(mine))
    return [[strips[place] for place in company] for company in sorted(companies)]


def _by_reading(strips: list[Run]) -> list[Mark]:
    """Return all marks from the far side in, whatever is in hand."""
    marks = [(mark, place) for place, strip in enumerate(strips) for mark in strip]
    marks.sort(key=lambda one: (-one[0].at, one[0].origin, one[1]))
    return [mark for mark, _ in marks]


def _fewest_changes(strips: list[Run]) -> list[Mark]:
    """Return the order with fewest changes of the piece in hand; nothing if there are too many.

    A state says how far each piece in hand is done, and which of them was in hand last.
    """
    if len(strips) == 1:
        return list(strips[0])
    too_long = sum(map(len, strips)) > MOST_CUTS
    if too_long or prod(len(strip) + 1 for strip in strips) > MOST_STATES:
        return []
    users: dict[Ruler, list[int]] = {}
    for place, strip in enumerate(strips):
        for mark in strip:
            users.setdefault(mark.ruler, []).append(place)

    @cache
    def least(done: tuple[int, ...], last: int) -> tuple[int, Steps]:
        best: tuple[int, Steps] | None = None
        for step in _next_steps(strips, users, done):
            _, places = step
            after = tuple(n + (place in places) for place, n in enumerate(done))
            changes, steps = least(after, places[-1])
            changes += len(places) - 1 + (places[0] != last)
            if best is None or changes < best[0]:
                best = changes, (step, *steps)
        return best or (0, ())

    _, steps = least((0,) * len(strips), -1)
    of_ruler = [{mark.ruler: mark for mark in strip} for strip in strips]
    return [of_ruler[place][ruler] for ruler, places in steps for place in places]


def _next_steps(
    strips: list[Run], users: dict[Ruler, list[int]], done: tuple[int, ...]
) -> Iterator[Step]:
    """Yield each placing of the ruler that may come next, with each order worth trying.

    It may come next if it is the farthest that is left in every piece it serves. Of these
    pieces only the first and the last matter: they may be in hand before and after.
    """
    farthest = {strip[n].ruler for strip, n in zip(strips, done, strict=True) if n < len(strip)}
    for ruler in sorted(farthest, key=lambda ruler: users[ruler]):
        places = users[ruler]
        if any(_next_ruler(strips[place], done[place]) != ruler for place in places):
            continue
        if len(places) == 1:
            yield ruler, (places[0],)
        for first, final in permutations(places, 2):
            between = [place for place in places if place not in (first, final)]
            yield ruler, (first, *between, final)


def _next_ruler(strip: Run, n: int) -> Ruler | None:
    return strip[n].ruler if n < len(strip) else None
