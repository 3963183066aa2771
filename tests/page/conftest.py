"""Studios behind the page: planned once, and copied for whoever changes one."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from sheetcut.drawer import Store
from sheetcut.page.app import create_app
from sheetcut.page.bringing_in import bring_in
from sheetcut.page.door import Door
from sheetcut.page.studio import Desk, present_in
from sheetcut.printout.files import write_plan
from tests.page.browsing import PORT, Browsing

DEMO = Path(__file__).resolve().parent.parent.parent / "demo"
FILES = ("orders.csv", "drawer.csv", "studio.toml")


@pytest.fixture(scope="session")
def studio_planned(tmp_path_factory, demo_plan) -> Path:
    """Return the demo studio with its drawer kept and its week planned; not to be changed."""
    folder = tmp_path_factory.mktemp("page") / "studio"
    folder.mkdir()
    for name in FILES:
        shutil.copy(DEMO / name, folder / name)
    bring_in(Desk(folder))
    write_plan(replace(demo_plan, input_hash=present_in(folder).input_hash), folder)
    return folder


@pytest.fixture
def studio(studio_planned, tmp_path) -> Path:
    """Return a copy of the planned studio that a test may change."""
    return Path(shutil.copytree(studio_planned, tmp_path / "studio"))


@pytest.fixture
def browsing(studio) -> Browsing:
    """Return a browser that was let into the planned studio."""
    return let_in(studio)


@pytest.fixture
def strange(studio):
    """Return a client that was not let in, with the door it stands before."""
    door = Door(PORT)
    return create_app(studio, door).test_client(), door


def let_in(folder: Path) -> Browsing:
    """Return a browser that was let into a studio's page."""
    door = Door(PORT)
    client = create_app(folder, door).test_client()
    browsing = Browsing(client, folder)
    assert browsing.get(f"/enter/{door.token}").status_code == 303
    return browsing


def orders_kept(folder: Path) -> dict[str, object]:
    """Return the order lines of a studio by name."""
    with Store.open(folder) as store:
        return {piece.order: piece for piece in store.recorded().pieces}


def sheets_kept(folder: Path) -> dict[str, object]:
    """Return the drawer's rows of a studio by name."""
    with Store.open(folder) as store:
        return {sheet.id: sheet for sheet in store.recorded().sheets}
