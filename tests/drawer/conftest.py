"""A folder for each test's store, in memory where the machine has such a place."""

import tempfile
from pathlib import Path

import pytest

from tests.drawer.studio import begun, demo_drawing_paper

IN_MEMORY = Path("/dev/shm")
PLACE = str(IN_MEMORY) if IN_MEMORY.is_dir() else None


@pytest.fixture
def folder():
    """Return a fresh studio folder; where it lies decides only how quick the test is."""
    with tempfile.TemporaryDirectory(dir=PLACE, prefix="sheetcut-") as made:
        yield Path(made)


@pytest.fixture
def store(folder):
    """Return a store of the demo studio's drawing paper."""
    with begun(folder, demo_drawing_paper()) as store:
        yield store
