"""Planning part of the orders, keeping a plan, and choosing among plans that cost the same."""

import json
import shutil

import pytest

from tests.cli.shell import here, plan_of, write_studio


@pytest.fixture(scope="module")
def planned(tmp_path_factory):
    """Return the demo studio with its plan written."""
    folder = write_studio(tmp_path_factory.mktemp("choosing") / "studio")
    done = here("plan", folder, "--seconds", 60)
    assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture
def studio(planned, tmp_path):
    return shutil.copytree(planned, tmp_path / "studio")


def test_a_kind_is_chosen_from_a_plan_that_was_written(studio):
    first = plan_of(studio)
    before = json.loads((first / "plan.json").read_text(encoding="utf-8"))
    kinds = {one["kind"] for paper in before["papers"] for one in paper["alternatives"]}
    kind = sorted(kinds)[0]
    done = here("plan", studio, "--keep", first, "--like", kind, "--json")
    assert done.returncode == 0, done.stderr
    after = json.loads(done.stdout)
    assert after["code"] != before["code"]
    for old, new in zip(before["papers"], after["papers"], strict=True):
        there = {one["kind"]: one for one in old["alternatives"]}
        wanted = there.get(kind, {"layouts": old["layouts"], "figures": old["figures"]})
        assert new["layouts"] == wanted["layouts"]
        assert new["figures"] == wanted["figures"]
        assert (new["cost"], new["sheets_used"]) == (old["cost"], old["sheets_used"])
    assert here("check", plan_of(studio)).returncode == 0


def test_a_kind_that_is_none_is_refused(studio):
    done = here("plan", studio, "--like", "prettier")
    assert done.returncode == 2
    assert "is no kind of plan; give" in done.stderr


def test_one_line_more_leaves_the_other_layouts_as_they_were(studio):
    orders = studio / "orders.csv"
    line = "\nX1,,One more card,Gullwing Laid,card,85 x 55,0,,,,,1,yes,,,,\n"
    orders.write_text(orders.read_text(encoding="utf-8-sig").rstrip() + line, encoding="utf-8")
    first = plan_of(studio)
    done = here("plan", studio, "--keep", first)
    assert done.returncode == 0, done.stderr
    assert "\nchanged: Certificate sheet, sheet" in done.stdout
    assert "as they were: Imperial, sheet 1; " in done.stdout
    assert "no longer" not in done.stdout
    assert "new: " not in done.stdout


def test_a_spoiled_plan_is_not_kept(studio):
    first = plan_of(studio) / "plan.json"
    text = first.read_text(encoding="utf-8")
    first.write_text(text.replace('"copies": 2', '"copies": 3', 1), encoding="utf-8")
    done = here("plan", studio, "--keep", first)
    assert done.returncode == 1
    assert "the plan has faults, so nothing of it is kept" in done.stderr


def test_only_what_is_due_is_planned(studio):
    done = here("plan", studio, "--due", "4 Dec 2026", "--json")
    document = json.loads(done.stdout)
    assert {one["due"] for one in document["orders"]} <= {"2026-12-03", "2026-12-04"}
    assert here("plan", studio, "--due", "4/5/2026").returncode == 2
    nothing = here("plan", studio, "--due", "2026-01-01")
    assert nothing.returncode == 2
    assert "nothing is due by 2026-01-01" in nothing.stderr
