"""What several folders of tests share: the demo studio's week, read from its files."""

import os
from pathlib import Path

import pytest
from hypothesis import settings

from sheetcut.read import read_studio
from tests import no_network

# Speed is measured and not asserted; and what is landed is judged by the same examples twice.
settings.register_profile("here", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "here")

no_network.install()

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def demo_job():
    """Return the job of the demo studio."""
    return read_studio(ROOT / "demo").job


@pytest.fixture(scope="session")
def demo_plan(demo_job):
    """Return the plan of the demo studio's week, searched to its end on a busy machine too."""
    from sheetcut.plan import make_plan  # noqa: PLC0415

    return make_plan(demo_job, seconds=120, made="2026-11-25T09:00:00+00:00")


@pytest.fixture(autouse=True)
def nothing_left_this_computer():
    """Hold that no test asked for another computer, even where something caught the refusal."""
    yield
    asked, no_network.asked[:] = list(no_network.asked), []
    assert asked == []


def pytest_addoption(parser):
    """Add the switch for tests that take minutes."""
    parser.addoption("--all-published", action="store_true", help="check every published problem")
