"""Studios for the commands: planned once, and copied for whoever changes one."""

import shutil
from pathlib import Path

import pytest

from tests.cli.shell import here, write_studio


@pytest.fixture(scope="session")
def studio_kept(tmp_path_factory) -> Path:
    """Return the demo studio with its drawer kept and its week planned; not to be changed."""
    folder = write_studio(tmp_path_factory.mktemp("kept") / "studio")
    assert here("drawer", "import", folder, "--yes").returncode == 0
    assert here("plan", folder).returncode == 0
    return folder


@pytest.fixture
def kept(studio_kept, tmp_path) -> Path:
    """Return a copy of the kept studio that a test may change."""
    return Path(shutil.copytree(studio_kept, tmp_path / "studio"))


@pytest.fixture
def unkept(tmp_path) -> Path:
    """Return the demo studio as its files have it."""
    return write_studio(tmp_path / "studio")
