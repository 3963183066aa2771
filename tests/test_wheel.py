"""What is installed is all that is needed: the wheel runs by itself, away from the checkout."""

import os
import re
import subprocess
import sys
import zipfile
from email.parser import Parser
from pathlib import Path

import pytest

from sheetcut.version import VERSION
from tests.wheel import ROOT, built, tried


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    return built(tmp_path_factory.mktemp("wheel"), "--no-build-isolation")


@pytest.fixture(scope="module")
def files(wheel):
    with zipfile.ZipFile(wheel) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


def test_everything_in_the_package_is_in_the_wheel(files):
    package = ROOT / "sheetcut"
    kept = {
        path.relative_to(ROOT).as_posix()
        for path in package.rglob("*")
        if path.is_file() and path.suffix != ".pyc"
    }
    packed = {name for name in files if name.startswith("sheetcut/")}
    assert packed == kept
    assert "sheetcut/py.typed" in packed


def test_nothing_else_is(files):
    assert {Path(name).parts[0] for name in files} == {
        "sheetcut",
        f"sheetcut-{VERSION}.dist-info",
    }


def test_its_metadata_says_what_it_is(files):
    (name,) = [name for name in files if name.endswith(".dist-info/METADATA")]
    said = Parser().parsestr(files[name].decode())
    assert said["Name"] == "sheetcut"
    assert said["Version"] == VERSION
    assert said["License-Expression"] == "MIT"
    assert said["Requires-Python"] == ">=3.11"
    assert "heavy paper" in said["Summary"]
    assert said.get_payload().startswith("# sheetcut")
    assert any(name.endswith("licenses/sheetcut/LICENSE") for name in files)


def test_the_version_is_written_once():
    holders = [
        path.name
        for path in [*(ROOT / "sheetcut").rglob("*.py"), ROOT / "pyproject.toml"]
        if re.search(rf"[\"']{re.escape(VERSION)}[\"']", path.read_text(encoding="utf-8"))
    ]
    assert holders == ["version.py"]


def test_the_command_is_installed(files):
    (name,) = [name for name in files if name.endswith(".dist-info/entry_points.txt")]
    assert "sheetcut = sheetcut.cli:main" in files[name].decode()


def test_it_plans_and_opens_its_page_away_from_the_checkout(wheel, tmp_path):
    site = tmp_path / "site"
    with zipfile.ZipFile(wheel) as packed:
        packed.extractall(site)
    environment = {**os.environ, "PYTHONPATH": str(site)}
    where = subprocess.run(
        [sys.executable, "-c", "import sheetcut; print(sheetcut.__file__)"],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    assert Path(where.stdout.strip()).is_relative_to(site)
    assert "paper in all: £122.44" in tried(sys.executable, tmp_path, environment)
