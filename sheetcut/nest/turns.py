"""Hunts taking turns on one core, or side by side on two, with the same outcome.

On two cores every hunt of a turn goes ahead at once, as if none of the others found anything.
Where one does find a plan, those after it are put back and go again, so that all happens just
as it would have on one core.
"""

from __future__ import annotations

import os
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from types import ModuleType

from sheetcut.nest import compiled
from sheetcut.nest.hunt import Found, Hunt
from sheetcut.nest.stop import Stop

POLL_SECONDS = 0.02
LONG_ENOUGH = 0.4  # seconds: what loading the compiled kernel takes
LONGEST_CHUNK = 4096
MOST_CORES = 2

Outcome = tuple[int, Found | None]
"""How many rounds a hunt used, and the plan it found."""


class Turns:
    """Lets hunts go ahead and looks at the clock now and then.

    Attributes:
        stopped: whether the search was ended from outside.
    """

    def __init__(self, stop: Stop, cores: int | None = None) -> None:
        self.stop = stop
        self.cores = min(MOST_CORES, _cores() if cores is None else cores)
        self.stopped = False
        self._chunk = 16
        self._began = time.perf_counter()

    def stops(self) -> bool:
        """Whether it is time to stop."""
        if self.stop.is_due():
            self.stopped = True
        return self.stopped

    def machine(self) -> ModuleType | None:
        """Return the compiled kernel once the search has gone on long enough to be worth it."""
        if time.perf_counter() - self._began < LONG_ENOUGH:
            return compiled.loaded()
        return compiled.ready()

    def take(self, hunts: Sequence[Hunt], rounds: int, room: int) -> Iterator[tuple[Hunt, Outcome]]:
        """Let each hunt have so many rounds and yield what came of it, in their order.

        Args:
            room: the rounds that are left for all of them.
        """
        at = 0
        while at < len(hunts) and room > 0 and not self.stopped:
            waiting = hunts[at:]
            pair = min(self.cores, len(waiting))
            if pair < 2 or compiled.loaded() is None or room < pair * rounds:
                outcome = self._alone(waiting[0], min(rounds, room))
                at, room = at + 1, room - outcome[0]
                yield waiting[0], outcome
                continue
            for hunt, outcome in self._together(waiting[:pair], rounds):
                at, room = at + 1, room - outcome[0]
                yield hunt, outcome

    def _together(self, hunts: Sequence[Hunt], rounds: int) -> Iterator[tuple[Hunt, Outcome]]:
        """Yield outcomes up to the first plan that is found; put the later hunts back."""
        before = [hunt.kept() for hunt in hunts]
        with ThreadPoolExecutor(len(hunts)) as pool:
            outcomes = list(pool.map(lambda hunt: self._rounds_of(hunt, rounds), hunts))
        for i, (hunt, outcome) in enumerate(zip(hunts, outcomes, strict=True)):
            if self.stopped:
                hunt.restore(before[i])
                continue
            if outcome[1] is not None:
                for later, kept in zip(hunts[i + 1 :], before[i + 1 :], strict=True):
                    later.restore(kept)
                yield hunt, outcome
                return
            yield hunt, outcome

    def _rounds_of(self, hunt: Hunt, rounds: int) -> Outcome:
        used = 0
        while used < rounds and not self.stops():
            more, found = hunt.advance(min(rounds - used, self._chunk), compiled.loaded())
            used += more
            if found is not None or not more:
                return used, found
        return used, None

    def _alone(self, hunt: Hunt, rounds: int) -> Outcome:
        used = 0
        while used < rounds:
            began = time.perf_counter()
            more, found = hunt.advance(min(rounds - used, self._chunk), self.machine())
            taken = time.perf_counter() - began
            used += more
            if self.stops() or found is not None or not more:
                return used, found
            # How many rounds go between two looks at the clock changes nothing in the plan.
            if taken < POLL_SECONDS / 2:
                self._chunk = min(2 * self._chunk, LONGEST_CHUNK)
            elif taken > POLL_SECONDS:
                self._chunk = max(1, self._chunk // 2)
        return used, None


def _cores() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
