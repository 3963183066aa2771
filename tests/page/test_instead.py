"""Other ways to cut a plan, shown side by side, and one of them taken in its place."""

import re

from sheetcut.page.planner import Planner
from sheetcut.page.studio import Desk


def page_of(browsing) -> str:
    return browsing.get("/plan").get_data(as_text=True)


def kinds_on(page: str) -> list[str]:
    return re.findall(r'<button class="quiet" name="kind" value="([^"]*)"', page)


def test_the_alternatives_stand_beside_the_plan_with_their_figures(browsing, demo_plan):
    page = page_of(browsing)
    with_some = [paper for paper in demo_plan.papers if paper.alternatives]
    kinds = {one.kind for paper in with_some for one in paper.alternatives}
    assert kinds  # the demo has at least one
    assert set(kinds_on(page)) == kinds
    ways = page.split('class="ways"')[1].split("</section>")[0]
    assert ways.count('<svg class="drawing"') == 1 + len(kinds)
    assert ways.count("settings · ") == len(with_some) * (1 + len(kinds))
    for paper in demo_plan.papers:
        assert (paper.paper in ways) == (paper in with_some)


def test_one_of_them_is_taken_and_can_be_changed_back(browsing, demo_plan):
    kind = kinds_on(page_of(browsing))[0]
    answer = browsing.post("/plan/like", code=demo_plan.code, kind=kind)
    assert answer.status_code == 303
    planner: Planner = browsing.client.application.extensions["planner"]
    assert planner.wait(300)
    assert not planner.progress.refused
    taken = Desk(browsing.folder).newest_plan()
    assert taken.code != demo_plan.code
    assert kind in {paper.kind for paper in taken.papers}
    assert taken.papers[0].cost == demo_plan.papers[0].cost
    page = page_of(browsing)
    assert f"Plan {taken.code}" in page
    assert "Orders or drawer have changed" not in page
    before = {paper.kind for paper in demo_plan.papers if paper.alternatives}
    assert before & set(kinds_on(page))


def test_a_plan_that_is_overtaken_is_not_changed(browsing, demo_plan):
    kind = kinds_on(page_of(browsing))[0]
    browsing.post("/plan/like", code="XXXX", kind=kind)
    assert "another plan" in browsing.said()[0]
    fields = browsing.form("/orders?order=D02", "/orders/correct")
    browsing.post("/orders/correct", **(fields | {"count": "5"}))
    browsing.said()
    assert kinds_on(page_of(browsing)) == []
    browsing.post("/plan/like", code=demo_plan.code, kind=kind)
    assert "plan again" in browsing.said()[0]
    assert Desk(browsing.folder).newest_plan().code == demo_plan.code


def test_a_kind_that_there_is_not_changes_nothing(browsing, demo_plan):
    for kind in ("", "<script>alert(1)</script>"):
        assert browsing.post("/plan/like", code=demo_plan.code, kind=kind).status_code == 303
    planner: Planner = browsing.client.application.extensions["planner"]
    assert not planner.progress.is_running
