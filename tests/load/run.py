"""Readers and a writer at one page for so long, and what came of it."""

from __future__ import annotations

import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from threading import Event

from tests.load.afterwards import entries_in
from tests.load.reading import Read, reads
from tests.load.served import Served, served
from tests.load.studio import reads_of, searches_of
from tests.load.writing import Acknowledged, Writer

WRITES = 3.0  # a second


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a run came to.

    Attributes:
        first: the first visit to every address, one after the other, before the run.
        searched: answers that plan anew.
        memory_mb: of the page, when every address was visited once and at the end.
        cpu_s: processor time of the page and of those who asked, meanwhile.
        entries_before: of the diary.
    """

    first: list[Read]
    reads: list[Read]
    searched: list[Read]
    known: Acknowledged
    seconds: float
    memory_mb: tuple[float, float]
    cpu_s: tuple[float, float]
    entries_before: int


def run(
    folder: Path, *, rate: float, seconds: float, writes: float = WRITES, search_every_s: float = 0
) -> Outcome:
    """Serve a studio that is begun, and have it read and written for so long.

    Args:
        search_every_s: how often something is asked besides that is answered by planning anew,
            a second or more of processor time each; 0 for never.
    """
    paths, before = reads_of(folder), entries_in(folder)
    done_page = next(path for path in paths if path.startswith("/mat/") and path.endswith("/11"))
    over = Event()
    with served(folder) as page, ThreadPoolExecutor(2) as pool:
        first = [_asked(page, path) for path in paths]
        memory, own, its = page.memory_mb(), time.process_time(), page.cpu_s()
        began = time.monotonic()
        writer = pool.submit(_written, page, done_page, over, writes)
        asked = searches_of(folder) if search_every_s else ()
        search = pool.submit(_searches, page, asked, over, search_every_s)
        try:
            found = reads(page, paths, rate=rate, seconds=seconds)
        finally:
            over.set()
        known, searched = writer.result(), search.result()
        return Outcome(
            first, found, searched, known, time.monotonic() - began,
            (memory, page.memory_mb()), (page.cpu_s() - its, time.process_time() - own), before,
        )  # fmt: skip


def _asked(page: Served, path: str) -> Read:
    sent = time.monotonic()
    with closing(page.visitor()) as visitor:
        status = visitor.get(path).status
    took = time.monotonic() - sent
    return Read(path, status, took, took)


def _written(page: Served, done_page: str, over: Event, writes: float) -> Acknowledged:
    with closing(page.visitor()) as visitor:
        return Writer(visitor, done_page).write_until(over, rate=writes)


def _searches(page: Served, paths: tuple[str, ...], over: Event, every_s: float) -> list[Read]:
    found: list[Read] = []
    while paths and not over.wait(every_s):
        found.append(_asked(page, paths[len(found) % len(paths)]))
    return found
