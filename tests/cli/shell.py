"""Commands as a shell runs them, and in this process where many are run."""

import contextlib
import io
import os
import subprocess
import sys
from pathlib import Path
from unittest import mock

from sheetcut.cli import main

ROOT = Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "demo"
FILES = ("orders.csv", "drawer.csv", "studio.toml")


def shell(*arguments: object, **options) -> subprocess.CompletedProcess[str]:
    """Run a command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "sheetcut.cli", *map(str, arguments)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8", "PYTHONPATH": str(ROOT)},
        timeout=120,
        check=False,
        stdin=subprocess.DEVNULL if "input" not in options else None,
        **options,
    )


def here(*arguments: object, typed: str = "") -> subprocess.CompletedProcess[str]:
    """Run a command in this process; the answer looks as that of ``shell``."""
    out, err = io.StringIO(), io.StringIO()
    code = 0
    with (
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
        mock.patch("sys.stdin", io.StringIO(typed)),
    ):
        try:
            main.main([*map(str, arguments)], prog_name="sheetcut")
        except SystemExit as done:
            code = int(done.code or 0)
    return subprocess.CompletedProcess(arguments, code, out.getvalue(), err.getvalue())


def write_studio(folder: Path) -> Path:
    """Write a copy of the demo studio."""
    folder.mkdir(exist_ok=True)
    for name in FILES:
        (folder / name).write_bytes((DEMO / name).read_bytes())
    return folder


def plan_of(studio: Path) -> Path:
    """Return the newest plan folder of a studio."""
    return max((studio / "out").iterdir(), key=lambda path: path.stat().st_mtime_ns)
