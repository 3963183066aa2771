"""Planning, and what takes as long, in a process of its own: the page answers meanwhile."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from threading import Lock, Thread
from typing import IO, Any, Literal

PATIENCE_S = 5.0

Task = Literal["plan", "like", "further"]
"""To plan; to take an alternative of a plan; to look for what would save a sheet of it."""


@dataclass(slots=True)
class Progress:
    """How far planning is.

    Attributes:
        task: what is going on, or was last.
        words: what is being tried.
        refused: why no plan was made; a sentence each.
    """

    is_running: bool = False
    task: Task = "plan"
    words: str = ""
    refused: tuple[str, ...] = ()

    @property
    def is_planning(self) -> bool:
        """Whether there will be another plan when it ends."""
        return self.is_running and self.task != "further"


class Planner:
    """One studio's planning: at most one run at a time."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._lock = Lock()
        self._process: subprocess.Popen[str] | None = None
        self._progress = Progress()
        self._reader: Thread | None = None
        self._found: dict[str, Any] = {}

    @property
    def progress(self) -> Progress:
        """How far it is."""
        with self._lock:
            now = self._progress
            return Progress(now.is_running, now.task, now.words, now.refused)

    def start(self, seconds: float) -> None:
        """Begin to plan, unless that is going on already; anything else is given up for it."""
        self._begin("plan", "reading the orders", str(seconds))

    def take(self, code: str, kind: str) -> None:
        """Begin to make the plan that an alternative of a plan is."""
        self._begin("like", f"drawing the layouts, {kind}", code, kind)

    def look_further(self, code: str) -> None:
        """Begin to look for what would save a sheet of a plan, and what to buy."""
        if not self.progress.is_running:
            self._begin("further", "looking at the plan", code)

    def found(self, code: str) -> dict[str, Any] | None:
        """Return what was found of a plan beyond its layouts, if that was looked for."""
        with self._lock:
            return self._found if self._found.get("code") == code else None

    def give_up(self) -> None:
        """End what is going on besides planning; nothing of it is kept."""
        if self.progress.task == "further":
            self.end()

    def _begin(self, task: Task, words: str, *arguments: str) -> None:
        if self.progress.is_planning:
            return
        self.give_up()
        with self._lock:
            if self._progress.is_running:
                return
            self._progress = Progress(is_running=True, task=task, words=words)
            command = [sys.executable, "-m", "sheetcut.page.worker", task, str(self._folder)]
            self._process = subprocess.Popen(
                [*command, *arguments],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                text=True,
                encoding="utf-8",
                start_new_session=True,  # Ctrl-C is for the page, which ends its run by itself
            )
            assert self._process.stdout is not None
            self._reader = Thread(
                target=self._follow, args=(self._process, self._process.stdout), daemon=True
            )
            self._reader.start()

    def will_do(self) -> None:
        """Have the run finish with what was found."""
        with self._lock:
            process = self._process if self._progress.is_running else None
            if process and process.stdin and not process.stdin.closed:
                self._progress.words = "finishing with what was found"
                process.stdin.close()

    def wait(self, timeout_s: float) -> bool:
        """Wait for a run to end, and return whether it has."""
        reader = self._reader
        if reader:
            reader.join(timeout_s)
        return not self.progress.is_running

    def end(self) -> None:
        """End a run that is going on; nothing of it is kept."""
        process = self._process
        if process and process.poll() is None:
            process.terminate()
            try:
                process.wait(PATIENCE_S)
            except subprocess.TimeoutExpired:
                process.kill()
        if self._reader:
            self._reader.join(PATIENCE_S)

    def _follow(self, process: subprocess.Popen[str], lines: IO[str]) -> None:
        """Read what the run says until it ends."""
        refused: tuple[str, ...] = ()
        is_done = False
        for line in lines:
            said = json.loads(line)
            refused = tuple(said.get("refused", ()))
            is_done = is_done or said.get("done", False)
            with self._lock:
                self._progress.words = said.get("trying", self._progress.words)
                self._found = said.get("found", self._found)
        process.wait()
        lines.close()
        if process.stdin and not process.stdin.closed:
            process.stdin.close()
        task = self.progress.task
        if task != "further" and not is_done and not refused:
            refused = ("Planning ended before it found a plan; plan again.",)
        with self._lock:
            self._progress = Progress(is_running=False, task=task, refused=refused)
