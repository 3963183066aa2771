"""Builds the wheel, and tries it in an empty environment of each Python that is named."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Mapping
from http.cookiejar import CookieJar
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BUILT_FROM = ("pyproject.toml", "README.md", "sheetcut")
LEFT_OUT = shutil.ignore_patterns("__pycache__", "*.pyc")


def built(folder: Path, *options: str) -> Path:
    """Return a wheel of this checkout, made in a folder; options go to pip."""
    source = folder / "source"
    source.mkdir()
    for name in BUILT_FROM:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, source / name, ignore=LEFT_OUT)
        else:
            shutil.copy(ROOT / name, source / name)
    command = ["-m", "pip", "wheel", "--quiet", "--no-deps", *options, "--wheel-dir", str(folder)]
    _done(sys.executable, *command, str(source))
    (wheel,) = folder.glob("*.whl")
    return wheel


def tried(python: Path | str, folder: Path, environment: Mapping[str, str]) -> str:
    """Start, plan and open the page of a studio with a Python that has the wheel.

    Returns what the plan says. The commands run in the folder, away from the checkout.
    """
    studio = folder / "studio"
    _done(python, "-m", "sheetcut.cli", "start", str(studio), cwd=folder, env=environment)
    demo = ROOT / "demo"
    for name in ("orders.csv", "drawer.csv", "studio.toml"):
        shutil.copy(demo / name, studio / name)
    said = _done(python, "-m", "sheetcut.cli", "plan", str(studio), cwd=folder, env=environment)
    _open_page(python, studio, environment)
    return said


def _open_page(python: Path | str, studio: Path, environment: Mapping[str, str]) -> None:
    command = [str(python), "-m", "sheetcut.cli", "page", str(studio), "--no-browser"]
    with subprocess.Popen(
        command, cwd=studio, env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as page:
        assert page.stdout
        try:
            address = page.stdout.readline().decode().strip()
            assert re.match(r"http://127\.0\.0\.1:\d+/", address), address
            cookies = urllib.request.HTTPCookieProcessor(CookieJar())
            with urllib.request.build_opener(cookies).open(address, timeout=20) as answer:
                assert "Tern Point Drawing Room" in answer.read().decode()
        finally:
            page.terminate()


def _done(*command: Path | str, **options: object) -> str:
    done = subprocess.run(
        [str(part) for part in command],
        capture_output=True,
        encoding="utf-8",
        timeout=600,
        check=False,
        **options,  # type: ignore[call-overload]
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}{done.stderr}"
    return str(done.stdout)


def main(pythons: list[str]) -> None:
    """Install the wheel for each Python and say what its plan of the demo says."""
    with tempfile.TemporaryDirectory() as place:
        wheel = built(Path(place))
        for number, python in enumerate(pythons or [sys.executable]):
            folder = Path(place) / f"{number}"
            environment = folder / "environment"
            _done(python, "-m", "venv", environment)
            inside = environment / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
            began = time.perf_counter()
            _done(inside, "-m", "pip", "install", "--quiet", wheel)
            installed = time.perf_counter() - began
            clean = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
            last = tried(inside, folder, clean).strip().splitlines()[-2:]
            version = _done(inside, "--version").strip()
            print(f"{wheel.name}, {version}: installed in {installed:.0f} s; {'; '.join(last)}")


if __name__ == "__main__":
    main(sys.argv[1:])
