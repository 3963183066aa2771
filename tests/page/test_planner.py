"""Planning goes on in a process of its own, and can be ended with what was found."""

import shutil

from sheetcut.page.planner import Planner
from sheetcut.page.studio import Desk
from tests.page.conftest import let_in


def test_a_plan_is_made_and_shown(studio):
    shutil.rmtree(studio / "out")
    browsing = let_in(studio)
    browsing.post("/plan/start", longest="30")
    assert "That will do" in browsing.get("/plan").get_data(as_text=True)
    assert browsing.get("/plan/now").json["running"]
    browsing.post("/plan/will-do")
    planner: Planner = browsing.client.application.extensions["planner"]
    assert planner.wait(60)
    assert not planner.progress.refused
    assert Desk(studio).newest_plan() is not None
    assert "Orders or drawer have changed" not in browsing.get("/plan").get_data(as_text=True)


def test_what_cannot_be_read_is_said(tmp_path):
    (tmp_path / "orders.csv").write_text("order,paper,size\n1,Rag,21O\n")
    (tmp_path / "drawer.csv").write_text("sheet,paper,size\nA,Rag,500 x 700\n")
    planner = Planner(tmp_path)
    planner.start(1)
    assert planner.wait(60)
    assert "21O" in planner.progress.refused[0]
    page = let_in(tmp_path).get("/plan").get_data(as_text=True)
    assert "orders.csv, row 2" in page
