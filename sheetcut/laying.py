"""Lays out the papers of a job, one after the other or as tasks for an executor."""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Executor, Future, wait
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

from sheetcut.job import Job
from sheetcut.layout import Answer
from sheetcut.nest import Stop, lay_out

Tell = Callable[[str], None]

LOOK_S = 0.05  # between two looks at whether tasks are done, or are to finish
GRACE_S = 0.2  # that tasks have to hand over what they found; later they are left alone
SEED_STEP = 1_000_003  # between the seeds of two restarts, so that seeds near each other differ


@dataclass(frozen=True, slots=True)
class Task:
    """One search for one paper.

    Attributes:
        restart: its number among the searches for that paper, from 0.
        rounds: at most; None for as many as seem worth while.
    """

    paper: str
    restart: int
    seed: int
    rounds: int | None


def tasks_for(
    job: Job, *, seed: int, restarts: int, rounds: int | Mapping[str, int] | None
) -> tuple[Task, ...]:
    """Return every search that a plan may take: all restarts of a paper before the next paper."""
    return tuple(
        Task(
            paper,
            n,
            seed + n * SEED_STEP,
            rounds.get(paper) if isinstance(rounds, Mapping) else rounds,
        )
        for paper in job.papers_ordered
        for n in range(restarts)
    )


def answers_here(
    job: Job, tasks: Sequence[Task], *, stop: Stop, tell: Tell | None = None
) -> list[Answer]:
    """Return an answer for each paper, searched for one task after the other."""
    found: dict[str, list[Answer]] = defaultdict(list)
    for done, task in enumerate(tasks):
        if any(is_proved(job, answer) for answer in found[task.paper]):
            continue
        if stop.is_due() and found[task.paper]:
            continue
        share = stop.share(of=len(tasks) - done)
        found[task.paper].append(_laid_out(job, task, share, _prefixed(tell, task.paper)))
    return [best_of(job, answers) for answers in found.values()]


def answers_from(
    job: Job, tasks: Sequence[Task], executor: Executor, *, stop: Stop, tell: Tell | None = None
) -> list[Answer]:
    """Return an answer for each paper, the same ones, searched for by an executor.

    A task ends when its share of the time is over, or when it sees that the search is to
    finish. One that does not hand over in time, on a machine that cannot see it, is left
    alone; a paper without any answer is then laid out here, without a search.
    """
    workers = getattr(executor, "_max_workers", None) or len(tasks)  # as many as it admits to
    seconds = stop.seconds_left()
    share = None if seconds is None else seconds * min(1.0, workers / max(1, len(tasks)))
    with TemporaryDirectory(prefix="sheetcut-") as folder:
        sign = Path(folder) / "finish"
        ends = None if seconds is None else time.time() + seconds
        futures = [executor.submit(_task, job, one, share, ends, str(sign)) for one in tasks]
        try:
            _wait_for(job, tasks, futures, stop, sign, tell)
        finally:
            sign.touch()
            for future in futures:
                future.cancel()
    found: dict[str, list[Answer]] = defaultdict(list)
    for task, future in zip(tasks, futures, strict=True):
        answers = found[task.paper]
        if any(is_proved(job, answer) for answer in answers):
            continue
        if future.done() and not future.cancelled():
            answers.append(future.result())
    due = Stop(0)
    for task in tasks:
        if not found[task.paper]:
            found[task.paper].append(_laid_out(job, task, due, None))
    return [best_of(job, answers) for answers in found.values()]


def _wait_for(
    job: Job,
    tasks: Sequence[Task],
    futures: Sequence[Future[Answer]],
    stop: Stop,
    sign: Path,
    tell: Tell | None,
) -> None:
    """Wait until every paper has its answers, or for as long as tasks have to hand over."""
    left_alone: float | None = None
    while True:
        waiting = _needed(job, tasks, futures)
        if not waiting:
            return
        done, _ = wait(waiting, timeout=LOOK_S)
        if done and tell:
            tell(f"{sum(one.done() for one in futures)} of {len(futures)} searches done")
        if stop.is_due():
            sign.touch()
            left_alone = left_alone or time.monotonic() + GRACE_S
            if time.monotonic() >= left_alone:
                return


def _needed(
    job: Job, tasks: Sequence[Task], futures: Sequence[Future[Answer]]
) -> list[Future[Answer]]:
    """Return the tasks still to wait for: none after one of the same paper that is proved."""
    waiting: list[Future[Answer]] = []
    over: set[str] = set()
    for task, future in zip(tasks, futures, strict=True):
        if task.paper in over:
            future.cancel()
        elif not future.done():
            waiting.append(future)
            # Whether later ones count is not known before this one is done.
        elif is_proved(job, future.result()) and not any(
            not earlier.done()
            for other, earlier in zip(tasks, futures, strict=True)
            if other.paper == task.paper and other.restart < task.restart
        ):
            over.add(task.paper)
    return waiting


def best_of(job: Job, answers: Sequence[Answer]) -> Answer:
    """Return the best answer of several searches for one paper, the earliest among equals.

    Its bound is the strongest that any of them has for the same pieces.
    """
    best = min(answers, key=lambda answer: (_lack(job, answer), value_of(job, answer)))
    alike = [one for one in answers if one.short == best.short]
    bound = max((one.bound for one in alike), key=lambda bound: bound.value)
    if bound.value > best.bound.value:
        best = replace(best, bound=bound)
    return replace(best, stopped=any(answer.stopped for answer in answers))


def is_proved(job: Job, answer: Answer) -> bool:
    """Whether no search can do better: everything is cut, and the bound is met."""
    return not answer.short and value_of(job, answer) == answer.bound.value


def value_of(job: Job, answer: Answer) -> int:
    """Return what an answer's bound speaks of, for its plan: full sheets, or cents."""
    full = {sheet.id: sheet.price or 0 for sheet in job.sheets if sheet.kind == "full"}
    used = [name for name, _ in answer.candidates[0].trees if name in full]
    return len(used) if answer.bound.measure == "sheets" else sum(full[name] for name in used)


def _lack(job: Job, answer: Answer) -> int:
    return sum(job.pieces[one.piece].asked_area * one.count for one in answer.short)


class _Watched(Stop):
    """A stop that is due, too, once a file is there: what a task in another process looks at."""

    __slots__ = ("_looked_at", "_sees", "_sign", "_until")

    def __init__(self, seconds: float | None, ends: float | None, sign: str) -> None:
        super().__init__(seconds)
        self._sign = Path(sign)
        self._until = ends
        self._looked_at = 0.0
        self._sees = False

    def is_due(self) -> bool:
        """Whether it is time to stop."""
        now = time.time()
        if not self._sees and now - self._looked_at >= LOOK_S:
            self._looked_at = now
            self._sees = self._sign.exists() or (self._until is not None and now >= self._until)
        return self._sees or super().is_due()


def _task(job: Job, task: Task, seconds: float | None, ends: float | None, sign: str) -> Answer:
    return _laid_out(job, task, _Watched(seconds, ends, sign), None)


def _laid_out(job: Job, task: Task, stop: Stop, tell: Tell | None) -> Answer:
    return lay_out(job, task.paper, seed=task.seed, rounds=task.rounds, stop=stop, tell=tell)


def _prefixed(tell: Tell | None, paper: str) -> Tell | None:
    return (lambda words: tell(f"{paper}: {words}")) if tell else None
