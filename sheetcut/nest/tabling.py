# ruff: noqa: PLR0913, PLR0917  inner loops: arrays and indices, in and out
"""The inner loops of the table of values: filled, and read back as cuts.

Written like the kernel of the search: it runs as it stands on Python lists, and compiled over
arrays of 64-bit integers, with the same answers. The table stands row by row, widths first;
see ``grid``.
"""

from __future__ import annotations

from collections.abc import MutableSequence

Ints = MutableSequence[int]

# A blank as it may lie in a table: its least places on both axes, its value.
LYING = 3


def fill(v: Ints, nx: int, ny: int, rest_x: Ints, rest_y: Ints, half_x: Ints, half_y: Ints) -> None:
    """Give every rectangle of a table the best of all ways to cut it in two.

    The table stands row by row, widths first; see ``grid``.
    """
    for i in range(1, nx):
        row = i * ny
        for j in range(ny):
            v[row + j] = max(v[row + j], v[row - ny + j])
        for a in range(1, half_x[i] + 1):
            one = a * ny
            other = rest_x[i * nx + a] * ny
            for j in range(ny):
                v[row + j] = max(v[row + j], v[one + j] + v[other + j])
        for j in range(1, ny):
            best = max(v[row + j], v[row + j - 1])
            for a in range(1, half_y[j] + 1):
                best = max(best, v[row + a] + v[row + rest_y[j * ny + a]])
            v[row + j] = best


def trace(
    v: Ints,
    nx: int,
    ny: int,
    rest_x: Ints,
    rest_y: Ints,
    half_x: Ints,
    half_y: Ints,
    lying: Ints,
    at: int,
    todo: Ints,
    steps: Ints,
) -> int:
    """Write down how a rectangle of a filled table is cut; return how many steps there are.

    A part is followed by the steps of its first piece, then those of its second.

    Args:
        lying: for each blank as it may lie, its places on both axes and its value.
        at: the rectangle's place in ``v``.
        todo: room for the parts that wait.
        steps: room for the answer: 2 a for a cut at place a across the widths, 2 b + 1 for one
            across the heights, -1 where nothing is cut, -2 - n for blank n.
    """
    todo[0] = at
    waiting = 1
    n = 0
    while waiting > 0:
        waiting -= 1
        i = todo[waiting] // ny
        j = todo[waiting] % ny
        value = v[i * ny + j]
        step = -1
        if value > 0:
            step = blank_of(lying, i, j, value)
            while step == -1:
                if v[i * ny - ny + j] == value:
                    i -= 1
                elif v[i * ny + j - 1] == value:
                    j -= 1
                else:
                    break
                step = blank_of(lying, i, j, value)
        if value > 0 and step == -1:
            step = cut_of(v, nx, ny, rest_x, rest_y, half_x, half_y, i, j)
            if step % 2 == 0:
                todo[waiting] = rest_x[i * nx + step // 2] * ny + j
                todo[waiting + 1] = step // 2 * ny + j
            else:
                todo[waiting] = i * ny + rest_y[j * ny + step // 2]
                todo[waiting + 1] = i * ny + step // 2
            waiting += 2
        steps[n] = step
        n += 1
    return n


def blank_of(lying: Ints, i: int, j: int, value: int) -> int:
    """Return the step that a blank of this value is, the first that fits; -1 for none."""
    for n in range(len(lying) // LYING):
        if lying[n * LYING + 2] == value and lying[n * LYING] <= i and lying[n * LYING + 1] <= j:
            return -2 - n
    return -1


def cut_of(
    v: Ints,
    nx: int,
    ny: int,
    rest_x: Ints,
    rest_y: Ints,
    half_x: Ints,
    half_y: Ints,
    i: int,
    j: int,
) -> int:
    """Return the step that is the first cut which gives a rectangle its value."""
    value = v[i * ny + j]
    for a in range(1, half_x[i] + 1):
        if v[a * ny + j] + v[rest_x[i * nx + a] * ny + j] == value:
            return 2 * a
    for b in range(1, half_y[j] + 1):
        if v[i * ny + b] + v[i * ny + rest_y[j * ny + b]] == value:
            return 2 * b + 1
    return -1
