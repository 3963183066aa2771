"""The kernel compiled by numba, where it is there: the same source, the same answers, sooner.

Small jobs are answered before it is even loaded. The first time ever it is compiled by a child
process, into the user's cache folder, while plain Python goes on searching.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from types import FunctionType, ModuleType
from typing import Any

from sheetcut.nest import filling, kernel, tabling

CHOICE = "SHEETCUT_KERNEL"
"""An environment variable: ``plain`` never compiles, ``compiled`` waits for it to be compiled."""

ENTRIES = {
    kernel: ("seek", "tidy", "refill"),
    tabling: ("fill", "trace"),
    filling: ("look_up", "holds", "dig"),
}
"""The sources that are compiled, and what of each is called from Python."""
GIVEN_UP = 300  # seconds after which a child that has not finished is taken for dead


@dataclass
class _State:
    """What is known in this process."""

    loaded: ModuleType | None = None
    child: subprocess.Popen[bytes] | None = None
    out_of_reach: bool = False


_state = _State()


def ready() -> ModuleType | None:
    """Return the compiled kernel if it can be had at once, else have it made and return None."""
    if _state.loaded is not None or _state.out_of_reach:
        return _state.loaded
    choice = os.environ.get(CHOICE, "")
    if choice == "plain" or not is_possible():
        _state.out_of_reach = True
        return None
    try:
        if choice == "compiled" or _mark().exists():
            _state.loaded = _load()
        else:
            _have_it_compiled()
    except Exception:  # whatever is wrong with a compiler, plain Python goes on
        _state.out_of_reach = True
    return _state.loaded


def is_possible() -> bool:
    """Whether there is a compiler on this machine."""
    return importlib.util.find_spec("numba") is not None


def wait() -> ModuleType:
    """Return the compiled kernel, however long that takes."""
    if _state.loaded is None:
        _state.loaded = _load()
    return _state.loaded


def loaded() -> ModuleType | None:
    """Return the compiled kernel if it is at hand already."""
    return _state.loaded


def array(numbers: Any) -> Any:
    """Return a run of integers as the compiled kernel takes it."""
    import numpy as np  # noqa: PLC0415

    return np.array(numbers, dtype=np.int64)


def at_hand(numbers: list[int]) -> Any:
    """Return a run as the kernel at hand takes it at once, compiled or plain."""
    return numbers if loaded() is None else array(numbers)


def plain(numbers: Any) -> list[int]:
    """Return a run as a list, whichever kernel it comes from."""
    found: list[int] = numbers if isinstance(numbers, list) else numbers.tolist()
    return found


def noughts(n: int) -> Any:
    """Return so many noughts as the compiled kernel takes them."""
    import numpy as np  # noqa: PLC0415

    return np.zeros(n, dtype=np.int64)


def run(name: str, *arguments: Any) -> int | None:
    """Call an entry of the kernel, compiled if that is at hand; lists are changed in place."""
    machine = loaded()
    if machine is None:
        found: int | None = getattr(kernel, name)(*arguments)
        return found
    held = [array(one) if isinstance(one, list) else one for one in arguments]
    found = getattr(machine, name)(*held)
    for one, now in zip(arguments, held, strict=True):
        if isinstance(one, list):
            one[:] = now.tolist()
    return found


def compile_all() -> None:
    """Compile everything into the cache folder and leave a mark there."""
    _load()
    _mark().touch()


def _load() -> ModuleType:
    import numba  # noqa: PLC0415

    folder = _folder()
    folder.mkdir(parents=True, exist_ok=True)
    numba.config.CACHE_DIR = str(folder)  # type: ignore[attr-defined]
    machine = ModuleType("sheetcut.nest._machine")
    for source, entries in ENTRIES.items():
        module = _compiled(source)
        for name in entries:
            setattr(machine, name, getattr(module, name))
    _call_each(machine)
    _call_listed(machine)
    return machine


def _compiled(source: ModuleType) -> ModuleType:
    """Return a second copy of a module with all its functions compiled."""
    import numba  # noqa: PLC0415

    name = f"sheetcut.nest._{source.__name__.rpartition('.')[2]}"
    assert source.__file__ is not None
    spec = importlib.util.spec_from_file_location(name, source.__file__)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    for name, function in list(vars(module).items()):
        if isinstance(function, FunctionType):
            entry = name in ENTRIES[source]
            setattr(module, name, numba.njit(cache=entry, nogil=True)(function))
    return module


def _call_each(module: ModuleType) -> None:
    """Call each entry once on next to nothing, so that it is compiled or comes from the cache."""
    head = [0] * 64
    head[kernel.TOP] = head[kernel.ROOTS_AT] = head[kernel.NODES_AT] = 32
    head[kernel.BLOCKS_AT] = head[kernel.LOOSE_AT] = head[kernel.CHAINS_AT] = 16
    runs = [array(head) for _ in range(2)]
    some = [array([1, 1, 1]) for _ in range(8)]
    module.seek(*runs, *some, 0, 0, 0, 0)
    module.tidy(*runs, *some[:7], 0, 0, 0, 0)
    module.refill(runs[0], *some[:6], 0, 0, 0)
    table = [array([0]) for _ in range(8)]
    module.fill(table[0], 1, 1, *table[1:5])
    module.trace(table[0], 1, 1, *table[1:6], 0, *table[6:])


def _call_listed(module: ModuleType) -> None:
    head = [0] * filling.HEAD
    module.dig(array(head), *[array([0, 0]) for _ in range(18)])
    module.look_up(*[array([0]) for _ in range(6)], 0, array([0]), array([0]))
    module.holds(array([0, 0]), array([0]), 1, 0, 0)


def _have_it_compiled() -> None:
    """Start the child once; another program's child is left to finish."""
    if _state.child is not None:
        return
    folder = _folder()
    folder.mkdir(parents=True, exist_ok=True)
    lock = _mark().with_suffix(".busy")
    if lock.exists() and time.time() - lock.stat().st_mtime < GIVEN_UP:
        return
    lock.touch()
    _state.child = subprocess.Popen(
        [sys.executable, "-m", "sheetcut.nest.compiled"],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def _folder() -> Path:
    import platformdirs  # noqa: PLC0415

    return Path(platformdirs.user_cache_dir("sheetcut", appauthor=False)) / "kernel"


def _mark() -> Path:
    """Return the file that says this very source is compiled for this very interpreter."""
    from importlib.metadata import version  # noqa: PLC0415

    parts = [sys.version, version("numba")]
    for module in ENTRIES:
        source = Path(module.__file__ or "")
        parts += [source.read_text("utf-8"), str(source), str(source.stat().st_mtime_ns)]
    digest = hashlib.sha256(repr(parts).encode())
    return _folder() / f"{digest.hexdigest()[:16]}.done"


if __name__ == "__main__":
    compile_all()
