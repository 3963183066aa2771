"""What several folders of tests share: the demo studio's week, read from its files."""

from pathlib import Path

import pytest

from sheetcut.read import read_studio

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def demo_job():
    """Return the job of the demo studio."""
    return read_studio(ROOT / "demo").job


@pytest.fixture(scope="session")
def demo_plan(demo_job):
    """Return the plan of the demo studio's week."""
    from sheetcut.plan import make_plan  # noqa: PLC0415

    return make_plan(demo_job, made="2026-11-25T09:00:00+00:00")
