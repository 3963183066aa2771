"""Each mutant against the tests that come by its lines, in a fork that has collected them already.

pytest collects once; what is to be tried is then put into a function of the loaded module, so a
mutant costs no more than its tests. A change to what a module does while it is imported is tried
in a fork that has not imported the package yet.
"""

from __future__ import annotations

import ast
import json
import math
import os
import resource
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from importlib import import_module, util
from importlib.machinery import ModuleSpec, SourceFileLoader
from mmap import mmap
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any

import pytest
from hypothesis import Phase, settings

from tests.mutation.mutants import Mutant, mutated

MEMORY = 3 << 30  # bytes a mutant may take beyond what is in use
QUICK = 0.1  # seconds of a test that may come before quicker ones
TOO_LONG = "too long"
ODD = "odd"  # a mutant that has to be tried from the start
EXITS = {0: "survived", 1: "killed", 77: ODD}
SURVIVED, KILLED, NOT_HERE = EXITS


def source_of(module: str) -> Path:
    """Return the file of a module, from the folder we run in."""
    return Path(*module.split(".")).with_suffix(".py")


class Session:
    """A pytest plugin: instead of running the tests once, runs them for each mutant."""

    def __init__(
        self, mutants: Sequence[Mutant], tell: Callable[[str], None], seconds: float
    ) -> None:
        self.mutants = mutants
        self.tell = tell
        self.seconds = seconds
        self.times: list[float] = []
        self.by_line: dict[tuple[str, int], list[int]] = {}
        self.noticed: list[int] = []  # tests that noticed a mutant, the latest last
        self.learning = False
        self.failing: set[int] = set()  # tests that fail with nothing changed
        self.now = mmap(-1, 8)  # which test a fork is at; we read it when the fork has ended

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        """Have no failure made smaller: that it failed is all we ask."""
        phases = (Phase.explicit, Phase.generate)
        settings.register_profile("mutants", parent=settings(), phases=phases)
        settings.load_profile("mutants")

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Try every mutant."""
        self._learn(session)
        for mutant in self.mutants:
            self.tell(self._verdict(session, mutant))
        return True

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_makereport(self, call: pytest.CallInfo[None]) -> None:
        """End the fork at the first failure, before anything is written about it."""
        if call.excinfo is None or call.excinfo.errisinstance(pytest.skip.Exception):
            return
        if not self.learning:
            os._exit(KILLED)
        self.failing.add(int.from_bytes(self.now))

    def _learn(self, session: pytest.Session) -> None:
        """Run all tests once, in a fork too, and learn what each takes and where it comes by.

        A test that fails with nothing changed is left out and named: it may only be slow, being
        watched.
        """
        reading, writing = os.pipe()
        pid = os.fork()
        if not pid:
            _hush(session)
            self.learning = True
            with os.fdopen(writing, "w") as file:
                json.dump(self._learned(session.items), file)
            os._exit(0)
        os.close(writing)
        with os.fdopen(reading) as file:
            self.times, lines, failing = json.load(file)
        os.waitpid(pid, 0)
        self.failing = set(failing)
        for i in failing:
            print(f"left out, as it fails unchanged: {session.items[i].nodeid}", file=sys.stderr)
        self.by_line = {(module, line): tests for module, line, tests in lines}

    def _learned(self, items: Sequence[pytest.Item]) -> tuple[list[float], list[Any], list[int]]:
        from coverage import Coverage  # noqa: PLC0415  it would slow what does not need it

        modules = {one.module for one in self.mutants}
        files = {str(source_of(module).resolve()): module for module in modules}
        watch = Coverage(data_file=None, config_file=False, include=list(files))
        watch.start()
        times = []
        for i, item in enumerate(items):
            watch.switch_context(str(i))
            self.now[:] = i.to_bytes(8)
            began = time.process_time()
            _run(item, next(iter(items[i + 1 : i + 2]), None))
            times.append(time.process_time() - began)
        watch.stop()
        data = watch.get_data()
        lines = [
            (module, line, sorted(int(one) for one in tests if one))
            for file, module in files.items()
            for line, tests in data.contexts_by_lineno(file).items()
        ]
        return times, lines, sorted(self.failing)

    def _verdict(self, session: pytest.Session, mutant: Mutant) -> str:
        tests = self._tests_of(mutant)
        if not tests:
            return "no test comes by"
        cpu = sum(self.times[i] for i in tests)

        def work() -> int:
            if not put_in(mutant):
                return NOT_HERE
            for i, following in zip(tests, (*tests[1:], None), strict=True):
                self.now[:] = i.to_bytes(8)
                _run(session.items[i], None if following is None else session.items[following])
            return SURVIVED

        found = verdict(session, work, 3 + 5 * cpu)
        if found in (EXITS[KILLED], TOO_LONG):
            self.noticed.append(int.from_bytes(self.now))
        return found

    def _tests_of(self, mutant: Mutant) -> list[int]:
        """Return the tests that come by the mutant's lines, as time allows.

        A quick one that has noticed a mutant lately is likely to notice this one and comes first;
        the others follow from the quickest on.
        """
        lines = range(mutant.line, mutant.until + 1)
        found = {i for line in lines for i in self.by_line.get((mutant.module, line), ())}
        found -= self.failing
        last = {i: n for n, i in enumerate(self.noticed) if self.times[i] < QUICK}
        chosen: list[int] = []
        left = self.seconds
        last = {i: n for n, i in enumerate(self.noticed)}
        for i in sorted(found, key=lambda i: (-last.get(i, -1), self.times[i])):
            left -= self.times[i]
            if left < 0 and chosen:
                break
            chosen.append(i)
        return chosen


def _run(item: pytest.Item, following: pytest.Item | None) -> None:
    item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)


def _hush(session: pytest.Session | None) -> None:
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for place in (1, 2):
        os.dup2(nowhere, place)
    if session is not None:
        session.config.pluginmanager.unregister(name="terminalreporter")


def verdict(session: pytest.Session | None, work: Callable[[], int], seconds: float) -> str:
    """Return what comes of some work done in a fork, with a limit to its time and memory."""
    pid = os.fork()
    if not pid:
        code = KILLED
        try:
            _hush(session)
            most = math.ceil(seconds)
            resource.setrlimit(resource.RLIMIT_CPU, (most, most + 1))
            in_use = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
            resource.setrlimit(resource.RLIMIT_AS, (in_use + MEMORY, in_use + MEMORY))
            code = work()
        finally:
            os._exit(code)
    _, status = os.waitpid(pid, 0)
    if os.WIFSIGNALED(status):
        return TOO_LONG
    return EXITS.get(os.WEXITSTATUS(status), "killed")


def put_in(mutant: Mutant) -> bool:
    """Put a mutant into its loaded module; False if its function is not to be had there."""
    path = source_of(mutant.module)
    code = compile(mutated(path.read_text("utf-8"), mutant), str(path.resolve()), "exec")
    function = _function(mutant)
    if function is None:
        return False
    for other in _codes(code):
        first = function.__code__.co_firstlineno
        if other.co_qualname == mutant.function and other.co_firstlineno == first:
            try:
                function.__code__ = other
            except ValueError:
                return False  # it closes over other names now
            return True
    return False


def _function(mutant: Mutant) -> FunctionType | None:
    found: Any = import_module(mutant.module)
    for name in mutant.function.split("."):
        found = vars(found).get(name)
        if isinstance(found, property):
            found = found.fget
        elif isinstance(found, cached_property):
            found = found.func
        while not isinstance(found, type) and hasattr(found, "__wrapped__"):
            found = found.__wrapped__
        if isinstance(found, staticmethod | classmethod):
            found = found.__func__
    return found if isinstance(found, FunctionType) else None


def _codes(code: CodeType) -> Iterator[CodeType]:
    for one in code.co_consts:
        if isinstance(one, CodeType):
            yield one
            yield from _codes(one)


class _Finder:
    """Finds one module changed, before anything else finds it as it is."""

    def __init__(self, mutant: Mutant) -> None:
        self.mutant = mutant

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        """Come before what pytest looks with: it takes modules whose examples it runs."""
        sys.meta_path.insert(0, self)

    def find_spec(self, name: str, path: object = None, target: object = None) -> ModuleSpec | None:
        if name != self.mutant.module:
            return None
        place = source_of(name).resolve()
        loader = _Loader(name, str(place))
        loader.tree = mutated(place.read_text("utf-8"), self.mutant)
        return util.spec_from_file_location(name, place, loader=loader)


class _Loader(SourceFileLoader):
    tree: ast.Module

    def get_code(self, fullname: str) -> CodeType:
        code: CodeType = compile(self.tree, self.path, "exec")
        return code


def from_the_start(mutant: Mutant, arguments: Sequence[str], seconds: float) -> str:
    """Return what comes of a mutant in a fork that imports the package with it."""
    assert "sheetcut" not in sys.modules

    def work() -> int:
        finder = _Finder(mutant)
        finder.pytest_collection()
        return KILLED if pytest.main([*arguments, "-x"], plugins=[finder]) else SURVIVED

    return verdict(None, work, seconds)
