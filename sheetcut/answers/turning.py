"""How a line's pieces may lie on a sheet, with "alike" taken one way at a time."""

from __future__ import annotations

from sheetcut.job import Grain, Turn, ways

ALIKE: tuple[Turn, Turn] = ("grain up", "grain across")


def settled(turn: Turn) -> tuple[Turn, ...]:
    """Return the rules one of which all pieces of a line obey.

    >>> settled("alike"), settled("yes")
    (('grain up', 'grain across'), ('yes',))
    """
    return ALIKE if turn == "alike" else (turn,)


def ways_to_lie(turn: Turn, grain: Grain) -> tuple[tuple[bool, ...], ...]:
    """Return the sets of "turned", of which all pieces on one sheet keep to one.

    >>> ways_to_lie("alike", "along width"), ways_to_lie("alike", "none")
    (((True,), (False,)), ((False, True),))
    """
    return tuple(dict.fromkeys(ways(one, grain) for one in settled(turn)))
