"""When to stop searching: after so many seconds, or when somebody says "That will do"."""

from __future__ import annotations

import time
from collections.abc import Callable


class Stop:
    """A limit of time that can also be called from another thread or a signal handler."""

    __slots__ = ("_clock", "_ends", "_finished", "_whole")

    def __init__(
        self, seconds: float | None = None, *, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._clock = clock
        self._ends = None if seconds is None else clock() + seconds
        self._finished = False
        self._whole: Stop | None = None

    def is_due(self) -> bool:
        """Whether it is time to stop."""
        if self._finished or (self._whole is not None and self._whole.is_due()):
            return True
        return self._ends is not None and self._clock() >= self._ends

    def finish(self) -> None:
        """Stop as soon as a plan can be handed over."""
        self._finished = True

    def seconds_left(self) -> float | None:
        """Return how long there is until it is due; None where only ``finish`` ends it."""
        if self.is_due():
            return 0.0
        own = None if self._ends is None else max(0.0, self._ends - self._clock())
        whole = None if self._whole is None else self._whole.seconds_left()
        known = [one for one in (own, whole) if one is not None]
        return min(known, default=None)

    def share(self, *, of: int) -> Stop:
        """Return a stop for the next of so many tasks, with its equal share of what is left.

        It is also due whenever the whole is.
        """
        seconds = None if self._ends is None else max(0.0, self._ends - self._clock()) / of
        part = Stop(seconds, clock=self._clock)
        part._whole = self
        return part
