"""Makes and keeps a virtual environment in the project folder; needs Python's own library only."""

from __future__ import annotations

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PLACE = ROOT / ".environment"
LOG = PLACE / "install.log"
STAMP = PLACE / "made-from"
OLDEST = (3, 11)
WRONG = 2


def ready(*extras: str) -> Path:
    """Return the environment's Python, after making or renewing the environment if need be.

    Args:
        extras: of pyproject.toml that must be installed besides what sheetcut itself needs.

    Raises:
        SystemExit: with code 2 and one sentence, if it cannot be made here.
    """
    if sys.version_info < OLDEST:
        _give_up(f"Python 3.11 or later is needed and this is {sys.version.split()[0]}.")
    wanted = {*extras, *_installed_extras()}
    made_from = f"{_fingerprint()}\n{' '.join(sorted(wanted))}\n"
    if not (STAMP.exists() and STAMP.read_text() == made_from and _python().exists()):
        _make(sorted(wanted))
        STAMP.write_text(made_from)
    return _python()


def run(python: Path, *arguments: str) -> int:
    """Run the environment's Python from the project folder and return its exit code."""
    return begin(python, *arguments).wait()


def begin(python: Path, *arguments: str) -> subprocess.Popen[bytes]:
    """Start the environment's Python in the project folder, without waiting for it."""
    inherited = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    return subprocess.Popen([python, *arguments], cwd=ROOT, env=inherited)


def _python() -> Path:
    return PLACE / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def _fingerprint() -> str:
    """Return a digest of all that decides what is installed."""
    digest = hashlib.sha256(f"{sys.version_info[:2]} {ROOT}".encode())
    for name in ("pyproject.toml", "tests/constraints.txt"):
        digest.update((ROOT / name).read_bytes())
    return digest.hexdigest()


def _installed_extras() -> set[str]:
    """Return the extras of an environment that is still good, so that none is lost to another."""
    lines = STAMP.read_text().splitlines() if STAMP.exists() else []
    return set(lines[1].split()) if len(lines) > 1 and lines[0] == _fingerprint() else set()


def _make(extras: Sequence[str]) -> None:
    if any(importlib.util.find_spec(name) is None for name in ("venv", "ensurepip")):
        _give_up(
            "This Python lacks its venv and ensurepip modules; install them (on Debian and "
            "Ubuntu the package is python3-venv) and run this again."
        )
    print("Setting up (once): libraries go into .environment in this folder.", file=sys.stderr)
    shutil.rmtree(PLACE, ignore_errors=True)
    made = subprocess.run(
        [sys.executable, "-m", "venv", str(PLACE)], capture_output=True, text=True, check=False
    )
    if made.returncode:
        shutil.rmtree(PLACE, ignore_errors=True)
        _give_up(
            "Python could not make a virtual environment in this folder; check that the folder "
            "can be written to and that Python's venv module is complete (on Debian and Ubuntu "
            "the package is python3-venv), and run this again."
        )
    what = f"{ROOT}[{','.join(extras)}]" if extras else str(ROOT)
    tested = ["--constraint", str(ROOT / "tests" / "constraints.txt")]
    # The tested versions first; on a Python too new for them, whatever fits.
    if _install(what, tested) and _install(what, []):
        _give_up(
            "The libraries could not be installed: no package registry could be reached, or one "
            f"of them has no version for this Python; see {LOG}, connect to the network once, "
            "and run this again."
        )


def _install(what: str, options: Sequence[str]) -> int:
    command = [_python(), "-m", "pip", "install", "--quiet", "--no-input", *options]
    with LOG.open("ab") as log:
        return subprocess.run(
            [*command, "--editable", what], stdout=log, stderr=log, check=False
        ).returncode


def _give_up(sentence: str) -> None:
    print(sentence, file=sys.stderr)
    raise SystemExit(WRONG)
