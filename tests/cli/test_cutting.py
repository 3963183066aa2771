"""After the knife, from the shell: a week from the import to undo, and all that is refused."""

import json
import re
import shutil
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.cli.shell import here, plan_of, shell, write_studio
from tests.cli.test_stock import drawer_of, orders_of


def document(*arguments: object) -> dict:
    """Return what a command prints with --json."""
    done = here(*arguments, "--json")
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def work_of(studio: Path) -> dict[str, dict]:
    """Return the work list by order."""
    found = document("work", studio)
    assert found["form"] == "sheetcut work 1"
    return {row["order"]: row for row in found["lines"]}


def said(studio: Path) -> list[str]:
    """Return what stands in the diary, oldest first, each entry by its first word."""
    found = document("history", studio)
    assert found["form"] == "sheetcut history 1"
    return [entry["says"].split()[0] for entry in found["entries"]]


def numbers(plan: Path) -> dict[str, list[int]]:
    """Return the numbers of the layouts of each sheet."""
    found: dict[str, list[int]] = {}
    number = 0
    for paper in json.loads((plan / "plan.json").read_text())["papers"]:
        for layout in paper["layouts"]:
            number += 1
            found.setdefault(layout["sheet"], []).append(number)
    return found


def test_a_week_as_a_shell_sees_it(tmp_path):
    """The demo's week: 57 pieces of 25 lines, £122.44 of paper, nothing to buy."""
    studio = write_studio(tmp_path / "week")
    assert shell("drawer", "import", "--yes", cwd=studio).returncode == 0
    assert shell("plan", "--json", cwd=studio).returncode == 0
    plan = plan_of(studio)
    papers = json.loads((plan / "plan.json").read_text())["papers"]
    layouts = [layout for paper in papers for layout in paper["layouts"]]
    keepers = [name for one in layouts for keeper in one["keepers"] for name in keeper["names"]]
    assert keepers

    done = shell("cut", plan, "--yes", cwd=studio)
    assert done.returncode == 0, done.stderr
    assert "57 blanks" in done.stdout
    assert "paper 122.44" in done.stdout
    rows = drawer_of(studio)
    on_hand = {name: rows[name]["on_hand"] for name in ("HP-IMP", "HP-DE", "RAG-L", "CERT")}
    assert on_hand == {"HP-IMP": 0, "HP-DE": 0, "RAG-L": 0, "CERT": 7}
    assert "heron 7" not in rows
    assert rows["plover 3"]["on_hand"] == 1
    for name in keepers:
        assert rows[name]["kind"] == "offcut"
        assert rows[name]["origin"].startswith(f"plan {plan.name[-4:]}, from ")
        assert rows[name]["true_edges"]
    work = work_of(studio)
    assert len(work) == 25
    assert sum(row["stages"]["cut"] for row in work.values()) == 57

    again = shell("plan", cwd=studio)
    assert again.returncode == 0
    assert "nothing is wanted that is not cut or pinned up already" in again.stderr
    assert not json.loads((plan_of(studio) / "plan.json").read_text())["orders"]
    assert shell("cut", plan, "--yes", cwd=studio).returncode == 2

    assert shell("spoiled", "P10", cwd=studio).returncode == 0
    assert orders_of(studio)["P10"]["to_cut"] == 1
    here("plan", studio)
    redone = json.loads((plan_of(studio) / "plan.json").read_text())
    assert [(row["order"], row["count"]) for row in redone["orders"]] == [("P10", 1)]

    before = [path.read_bytes() for path in sorted((studio / "mirror").iterdir())]
    for _ in range(2):
        assert shell("undo", cwd=studio).returncode == 0
    assert drawer_of(studio)["HP-IMP"]["on_hand"] == 3
    assert not work_of(studio)
    for _ in range(2):
        assert shell("redo", cwd=studio).returncode == 0
    assert [path.read_bytes() for path in sorted((studio / "mirror").iterdir())] == before
    assert said(studio) == ["Brought", "Cut", "Spoiled:", "Took", "Took", "Did", "Did"]
    told = shell("history", cwd=studio).stdout.splitlines()
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", told[0])
    assert re.fullmatch(
        r"  \d\d:\d\d  Brought in studio.toml, drawer.csv and orders.csv.*", told[1]
    )


def test_paper_and_money_of_the_month_are_those_of_the_plan(kept):
    plan = plan_of(kept)
    here("cut", plan, "--yes")
    written = json.loads((plan / "plan.json").read_text())["papers"]
    for one in document("history", kept, "--figures")["figures"]:
        (paper,) = [paper for paper in written if paper["paper"] == one["paper"]]
        assert one["paper_cost"] == pytest.approx(paper["cost"])
        assert one["used"] == sum(paper["sheets_used"].values())
        for mine, theirs in (("finished", "finished"), ("margins", "margins"), ("scrap", "scrap")):
            total = sum(layout["copies"] * layout["waste"][theirs] for layout in paper["layouts"])
            assert one[mine] == pytest.approx(total)
    table = here("history", kept, "--figures").stdout.splitlines()
    assert table[0].split()[:3] == ["month", "paper", "bought"]
    assert len(table) == 4


def test_what_will_be_booked_is_shown_and_asked_for(kept):
    plan = plan_of(kept)
    before = drawer_of(kept)
    for typed, told in (("", "--yes books it without asking"), ("n\n", "Nothing was changed")):
        done = here("cut", plan, typed=typed)
        assert (done.returncode, done.stdout) == (1, "")
        assert "layout 1: Imperial, sheet 1 (1 to cut)" in done.stderr
        assert "To be booked: Cut plan" in done.stderr
        assert told in done.stderr
        assert drawer_of(kept) == before
    assert here("cut", plan, typed="y\n").returncode == 0
    assert drawer_of(kept)["HP-IMP"]["on_hand"] == 0


def test_some_layouts_and_the_rest_another_day(kept):
    plan = plan_of(kept)
    one, *others = numbers(plan)["HP-IMP"]
    done = here("cut", plan, "--layout", one, "--yes")
    assert f"layout {one}: 1 x HP-IMP" in done.stdout
    assert drawer_of(kept)["HP-IMP"]["on_hand"] == 2
    done = here("cut", plan, "--layout", one, "--yes")
    assert done.returncode == 2
    assert f"layout {one}: cut already" in done.stderr
    here("cut", plan, "--yes")
    assert drawer_of(kept)["HP-IMP"]["on_hand"] == 0
    assert sum(row["stages"]["cut"] for row in work_of(kept).values()) == 57
    assert others


def test_blanks_spoiled_or_left_out_are_wanted_again(kept):
    plan = plan_of(kept)
    done = here(
        "cut", plan, "--yes", "--spoiled", "D02", "--spoiled", "D02", "--left-out", "D08",
        "--in", kept,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "56 blanks, 2 spoiled" in done.stdout
    rows = orders_of(kept)
    assert (rows["D02"]["to_cut"], rows["D08"]["to_cut"], rows["D01"]["to_cut"]) == (2, 1, 0)
    assert work_of(kept)["D02"]["spoiled"] == 2


def test_a_layout_cut_otherwise_is_booked_as_it_was(kept):
    plan = plan_of(kept)
    (number,) = numbers(plan)["HP-DE"]
    here("drawer", "receive", "HP-DE", 1, "--measured", "690 x 1016", "--in", kept)
    done = here(
        "cut", plan, "--yes", "--layout", number, "--sheet", "HP-DE (2)", "--kept", "180 x 170",
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    rows = drawer_of(kept)
    assert (rows["HP-DE"]["on_hand"], rows["HP-DE (2)"]["on_hand"]) == (1, 0)
    (tag,) = [name for name, row in rows.items() if row["origin"].endswith("from HP-DE (2)")]
    assert (rows[tag]["width"], rows[tag]["height"]) == (180, 170)
    (other,) = numbers(plan)["CERT"][-1:]
    assert here("cut", plan, "--yes", "--layout", other, "--kept", "none").returncode == 0
    assert not [row for row in drawer_of(kept).values() if row["origin"].endswith("from CERT")]


def test_what_is_pinned_up_is_spoken_for(kept):
    plan = plan_of(kept)
    one = numbers(plan)["RAG-L"][-1]  # the last stands for one sheet alone
    done = here("hold", plan, "--layout", one)
    assert done.returncode == 0, done.stderr
    assert f"layout {one}: Marram large, sheet 4 (1 pinned up)" in done.stderr
    assert drawer_of(kept)["RAG-L"]["held"] == 1
    here("plan", kept)
    rest = json.loads((plan_of(kept) / "plan.json").read_text())
    written = json.loads((plan / "plan.json").read_text())["papers"]
    layouts = [layout for paper in written for layout in paper["layouts"]]
    held = len(layouts[one - 1]["blanks"])
    assert sum(row["count"] for row in rest["orders"]) == 57 - held
    (rag,) = [paper for paper in rest["papers"] if paper["paper"] == "Marram Rag"]
    assert rag["sheets_used"] == {"RAG-L": 3}
    assert here("release", plan, "--layout", one).returncode == 0
    assert drawer_of(kept)["RAG-L"]["held"] == 0
    done = here("release", plan, "--layout", one)
    assert done.returncode == 2
    assert "it is not pinned up" in done.stderr


def test_a_plan_is_booked_in_the_studio_it_lies_in(kept, tmp_path, monkeypatch):
    """Wherever the shell stands, unless the plan lies elsewhere by now."""
    other = tmp_path / "other"
    shutil.copytree(kept, other)
    monkeypatch.chdir(other)
    (number,) = numbers(plan_of(kept))["HP-DE"]
    assert here("cut", plan_of(kept), "--yes", "--layout", number).returncode == 0
    assert (drawer_of(kept)["HP-DE"]["on_hand"], drawer_of(other)["HP-DE"]["on_hand"]) == (0, 1)
    alone = tmp_path / "desk" / "plan.json"
    alone.parent.mkdir()
    shutil.copy(plan_of(kept) / "plan.json", alone)
    assert here("cut", alone, "--yes", "--layout", number).returncode == 0
    assert drawer_of(other)["HP-DE"]["on_hand"] == 0


def test_a_plan_is_refused_only_where_its_own_sheets_changed(kept):
    plan = plan_of(kept)
    here("drawer", "correct", "plover", "3", "--note", "still here", "--in", kept)
    here("drawer", "correct", "RAG-L", "--on-hand", 3, "--in", kept)
    here("orders", "correct", "D01", "--size", "297 x 400", "--in", kept)
    done = here("cut", plan, "--yes")
    assert done.returncode == 2
    assert "RAG-L: 4 needed, 3 on hand" in done.stderr
    assert "order D01: height was 420 mm, is 400 mm" in done.stderr
    assert "Nothing was changed" in done.stderr
    (number,) = numbers(plan)["HP-DE"]
    assert here("cut", plan, "--yes", "--layout", number).returncode == 0


def test_a_plan_with_faults_is_not_booked(kept):
    path = plan_of(kept) / "plan.json"
    written = json.loads(path.read_text())
    written["papers"][0]["layouts"][0]["blanks"].pop()
    path.write_text(json.dumps(written))
    done = here("cut", path, "--yes")
    assert done.returncode == 1
    assert f"{path}: the plan has faults, so it is not booked" in done.stderr
    assert drawer_of(kept)["HP-IMP"]["on_hand"] == 3


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("--layout 99", "it has no layout 99; name one from 1 to 10"),
        ("--layout 1 --layout 1", "one stands there twice"),
        ("--spoiled D99", "1 of D99 spoiled, and the layouts to be cut have 0"),
        ("--spoiled D01 --spoiled D01", "2 of D01 spoiled, and the layouts to be cut have 1"),
        ("--kept A5", "--copies, --sheet and --kept tell of one layout; name it with --layout"),
        ("--layout 1 --kept A5x", '--kept: "A5x" is not a size'),
        ("--layout 1 --kept 900x900", "is more than its sheet"),
        ("--layout 1 --copies 2", "2 sheets of it, and left to cut of them: 1; give 1"),
        ("--layout 1 --sheet HP-DF", "HP-DF is no longer in the drawer"),
        ("--layout 1 --sheet RAG-A2", "another paper than the layout's"),
    ],
)
def test_what_cannot_have_been_cut_is_refused(kept, words, told):
    before = drawer_of(kept)
    for answer in (("--yes",), ()):
        done = here("cut", plan_of(kept), *words.split(), *answer)
        assert done.returncode == 2, done.stdout
        assert told in done.stderr
    assert drawer_of(kept) == before


def test_a_spoiled_blank_leaves_what_is_kept_of_it(kept):
    here("cut", plan_of(kept), "--yes")
    here("work", "move", "D02", "drawn", "--count", 2, "--in", kept)
    done = here("spoiled", "D02", "--in", kept)
    assert done.returncode == 2
    assert "its blanks are at different stages (2 cut, 2 drawn)" in done.stderr
    done = here("spoiled", "D02", "--at", "drawn", "--kept", "160 x 150", "--in", kept)
    assert done.returncode == 0, done.stderr
    (tag,) = re.findall(r"(\w+ \d+) goes into the drawer", done.stdout)
    row = drawer_of(kept)[tag]
    assert (row["width"], row["height"], row["on_hand"]) == (160, 150, 1)
    assert work_of(kept)["D02"]["stages"] == {"cut": 2, "drawn": 1}
    assert work_of(kept)["D02"]["to_cut"] == 1


def test_blanks_move_through_their_stages_and_out(kept):
    here("cut", plan_of(kept), "--yes")
    assert here("work", "move", "D01", "Drawn", "--in", kept).returncode == 0
    assert "D01    Pascoe-Vane" in here("work", kept).stdout
    here("work", "move", "D01", "sent", "--in", kept)
    assert "D01" not in work_of(kept)
    assert "D01" not in orders_of(kept)
    done = here("work", "move", "D02", "printed", "--in", kept)
    assert done.returncode == 2
    assert 'a drawing is never "printed"; write one of drawn, trimmed, signed, sent' in done.stderr


def test_keepers_are_used_by_the_next_plan(kept):
    """Nothing but what the first plan kept is left to cut an order of its size from."""
    here("cut", plan_of(kept), "--yes")
    kept_now = {name: row for name, row in drawer_of(kept).items() if row["origin"]}
    name, row = max(kept_now.items(), key=lambda one: one[1]["width"] * one[1]["height"])
    for sheet, other in drawer_of(kept).items():
        if other["paper"] == row["paper"] and sheet != name:
            here("drawer", "remove", sheet, "--in", kept)
    size = f"{row['width'] - 20} x {row['height'] - 20} mm"
    here("orders", "add", "N1", "--paper", row["paper"], "--kind", "card", "--size", size,
         "--in", kept)  # fmt: skip
    assert here("plan", kept).returncode == 0
    (paper,) = json.loads((plan_of(kept) / "plan.json").read_text())["papers"]
    assert paper["sheets_used"] == {name: 1}
    assert here("cut", plan_of(kept), "--yes").returncode == 0
    assert name not in drawer_of(kept)


def test_the_chart_shows_each_paper_and_is_never_written_over(kept):
    here("cut", plan_of(kept), "--yes")
    chart = kept / "chart.svg"
    done = here("history", kept, "--chart", chart)
    assert (done.returncode, done.stdout) == (0, f"{chart}\n")
    words = [node.text for node in ElementTree.parse(chart).iter() if node.tag.endswith("text")]
    assert {"Slatehouse Smooth", "Marram Rag", "Gullwing Laid"} <= set(words)
    assert {"bought", "used", "wasted", "square metres"} <= set(words)
    assert here("history", kept, "--chart", chart).returncode == 2
    assert here("history", kept, "--chart", kept / "chart.png").returncode == 2
