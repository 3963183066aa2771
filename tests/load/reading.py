"""Readers who ask at a steady rate, whether or not the page keeps up."""

from __future__ import annotations

import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import count

from tests.load.served import Served

READERS = 24  # connections; a browser keeps six to a host, so four of them
FINE = (200, 302)


@dataclass(frozen=True, slots=True)
class Read:
    """One request.

    Attributes:
        waited_s: from the moment it was due, so that a queue before the page counts as well.
        took_s: from the moment it was sent.
    """

    path: str
    status: int
    waited_s: float
    took_s: float
    error: str = ""

    @property
    def is_fine(self) -> bool:
        """Whether it was answered as it should be."""
        return self.status in FINE


def reads(
    served: Served, paths: Sequence[str], *, rate: float, seconds: float, readers: int = READERS
) -> list[Read]:
    """Return what came of asking for so long, in the order the requests were due."""
    numbers, began = count(), time.monotonic() + 0.2
    last = int(rate * seconds)

    def one_reader() -> list[Read]:
        visitor, found = served.visitor(), []
        # A lock of the interpreter's own makes the next number of a count one for each thread.
        while (number := next(numbers)) < last:
            due = began + number / rate
            time.sleep(max(0.0, due - time.monotonic()))
            path = paths[number % len(paths)]
            sent = time.monotonic()
            status, error = 0, ""
            try:
                status = visitor.get(path).status
            except OSError as failed:
                error = repr(failed)
                visitor.close()
            now = time.monotonic()
            found.append(Read(path, status, now - due, now - sent, error))
        visitor.close()
        return found

    with ThreadPoolExecutor(readers) as pool:
        done = [pool.submit(one_reader) for _ in range(readers)]
        return [read for each in done for read in each.result()]
