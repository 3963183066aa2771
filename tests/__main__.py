"""Sets up what the tests need and runs them; with arguments, hands these to pytest.

Without arguments the style and type checks run too. Where SHEETCUT_BROWSER is set to "needed", the
tests in a browser are set up as well, and fail where there is none; else they are left out by name.
With --campaign first, the long campaign runs instead; what follows is handed to it. With --coverage
first, all tests run and every branch that one of them took is counted.
"""

import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "demo"))

from environment import begin, ready, run  # noqa: E402

STYLE = (
    ("ruff", "check", "."),
    ("ruff", "format", "--check", "."),
    ("mypy",),
)
TOGETHER = ("--numprocesses", "auto", "--maxprocesses", "4", "--dist", "loadfile")
"""A file's tests stay together: they share the plans that its fixtures make."""

COMPILE = "from sheetcut.nest import compiled as c; c.is_possible() and c.compile_all()"


def main(arguments: list[str]) -> int:
    """Return the exit code: 0 only if every check and every test passed."""
    needed = os.environ.get("SHEETCUT_BROWSER") == "needed"
    python = ready("test", "browser") if needed else ready("test")
    if arguments[:1] == ["--campaign"]:
        return run(python, "-m", "tests.campaign", *arguments[1:])
    if arguments[:1] == ["--coverage"]:
        return run(python, "-m", "tests.branches", *TOGETHER, *arguments[1:])
    if arguments:
        return run(python, "-m", "pytest", *arguments)
    # Compiled once, and meanwhile: two workers would each wait for it, or both do it.
    compiling = begin(python, "-c", COMPILE)
    failed = [" ".join(check) for check in STYLE if _told(python, *check)]
    compiling.wait()
    code = _told(python, "pytest", *TOGETHER)
    if failed:
        print(f"failed before the tests: {', '.join(failed)}", file=sys.stderr)
    return code or bool(failed)


def _told(python: Path, *words: str) -> int:
    """Run a module, saying so first, and return its exit code."""
    print(f"python -m {' '.join(words)}", file=sys.stderr, flush=True)
    return run(python, "-m", *words)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
