"""Runs the fuzz in a process of its own: what hangs, swells or dies is told, and not lost."""

from __future__ import annotations

import io
import multiprocessing
import resource
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import redirect_stdout
from dataclasses import dataclass
from itertools import chain
from multiprocessing.connection import Connection
from typing import Any

MOST_MEMORY_KB = 400 * 1024
"""Of memory in use at any time, libraries and compiled loops and all."""
MOST_SPACE = 3 << 30
"""Bytes of address space: a case that asks for everything fails, and the machine goes on."""
GIVEN_UP_S = 300.0
"""By the clock: a case that is deaf to its own watch is ended after so long."""


@dataclass(frozen=True, slots=True)
class Case:
    """What one case showed.

    Attributes:
        seconds: of processor time; None if the process ended with it.
        memory_kb: the most its process has had so far.
        broken: what was wrong, or None.
    """

    target: str
    number: int
    seconds: float | None = None
    memory_kb: int = 0
    broken: str | None = None


def serve_fuzz(there: Connection) -> None:
    """Run what the fuzz hands over, until nobody asks any more."""
    from tests.campaign import fuzz  # noqa: PLC0415  # nothing of it in the process that watches

    resource.setrlimit(resource.RLIMIT_AS, (MOST_SPACE, MOST_SPACE))
    fuzz.make_ready()
    serve(there, fuzz.TARGETS)


def watched(
    names: Sequence[str],
    numbers: Iterable[int],
    *,
    serving: Callable[[Connection], None] = serve_fuzz,
    patience_s: float = GIVEN_UP_S,
) -> Iterator[Case]:
    """Yield what each case showed; a process that dies is replaced, and the next case goes on.

    Args:
        names: of the targets, each of which gets every number.
        serving: what the other process does.
        patience_s: how long an answer is waited for, by the clock.
    """
    cases = ((number, name) for number in numbers for name in names)
    for first in cases:
        yield from _until_it_ends(chain([first], cases), serving, patience_s)


def _until_it_ends(
    cases: Iterable[tuple[int, str]], serving: Callable[[Connection], None], patience_s: float
) -> Iterator[Case]:
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe()
    child = context.Process(target=serving, args=(there,))
    child.start()
    there.close()
    here.recv()  # it is ready
    try:
        for number, name in cases:
            here.send((number, name))
            case = _answer(here, number, name, patience_s)
            yield case
            if case.seconds is None or case.memory_kb > MOST_MEMORY_KB:
                return
    finally:
        here.close()  # a child that listens ends by this
        child.join(5)
        child.kill()
        child.join()


def _answer(here: Connection, number: int, name: str, patience_s: float) -> Case:
    if not here.poll(patience_s):
        return Case(name, number, broken=f"nothing came in {patience_s:g} s by the clock")
    try:
        case: Case = here.recv()
    except EOFError:
        return Case(name, number, broken="the process died")
    return case


def serve(there: Connection, targets: Iterable[Any]) -> None:
    """Try what is asked for, until nobody asks any more."""
    by_name = {target.name: target for target in targets}
    there.send("ready")
    while True:
        try:
            number, name = there.recv()
        except EOFError:
            return
        there.send(tried(by_name[name], number))


def tried(target: Any, number: int) -> Case:
    """Return what a case showed in this process."""
    from tests.campaign import fuzz  # noqa: PLC0415

    before, said = fuzz.memory_kb(), io.StringIO()
    began = time.process_time()
    with redirect_stdout(said):
        broken = fuzz.failure(target, number)
    took = time.process_time() - began
    if broken is None and said.getvalue():
        broken = f"printed {said.getvalue()[:200]!r}"
    now = fuzz.memory_kb()
    if broken is None and now > MOST_MEMORY_KB:
        broken = f"the process came from {before // 1024} to {now // 1024} MB"
    return Case(target.name, number, took, now, broken)
