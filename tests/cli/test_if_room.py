"""A line that is cut only if there is room, from the table to the knife and back."""

import json

from tests.cli.shell import here, plan_of


def add_column(studio, row):
    """Add the heading "if room" to the orders' table, and a row that has it."""
    path = studio / "orders.csv"
    first, *rest = path.read_text(encoding="utf-8-sig").splitlines()
    text = "\n".join([f"{first},if room", *(f"{line}," for line in rest), row, ""])
    path.write_text(text, encoding="utf-8-sig")


STRIP = "T1,,test strip,Marram Rag,print,80 x 300,0,,,,,6,yes,,,,,yes"


def test_test_strips_come_out_of_the_weeks_scrap(unkept):
    """Four large sheets and 45.60 with or without them."""
    add_column(unkept, STRIP)
    done = here("plan", unkept)
    assert done.returncode == 0, done.stderr
    assert "note: T1 is cut if there is room: " in done.stdout
    assert "Marram Rag: £45.60" in done.stdout
    assert "to buy: nothing" in done.stdout
    assert here("check", plan_of(unkept)).returncode == 0
    drawn = "".join(one.read_text(encoding="utf-8") for one in plan_of(unkept).glob("*.svg"))
    assert "test strip, if room" in drawn
    assert "buy" not in here("buy", "--in", unkept).stdout.replace("to buy: nothing", "")


def test_strips_that_were_cut_are_not_planned_again(unkept):
    add_column(unkept, STRIP)
    assert here("drawer", "import", unkept, "--yes").returncode == 0
    assert here("plan", unkept).returncode == 0
    folder = plan_of(unkept)
    document = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    n = sum(
        layout["copies"]
        for paper in document["papers"]
        for layout in paper["layouts"]
        for blank in layout["blanks"]
        if blank["order"] == "T1"
    )
    assert 0 < n <= 6
    assert here("cut", folder, "--yes").returncode == 0
    work = json.loads(here("work", unkept, "--json").stdout)
    line = next(one for one in work["lines"] if one["order"] == "T1")
    assert (line["stages"], line["to_cut"]) == ({"cut": n}, 6 - n)
    assert here("undo", unkept).returncode == 0
    assert here("orders", "remove", "T1", "--in", unkept).returncode == 0


def test_a_line_is_made_to_wait_for_room(kept):
    added = here(
        "orders", "add", "T2", "--paper", "Marram Rag", "--size", "80 x 300", "--kind", "print",
        "--if-room", "yes", "--in", kept,
    )  # fmt: skip
    assert added.returncode == 0, added.stderr
    assert here("orders", "correct", "T2", "--if-room", "no", "--in", kept).returncode == 0
    done = here("orders", "correct", "D01", "--if-room", "yes", "--in", kept)
    assert done.returncode == 2
    assert "it is cut only if there is room, and has a day" in done.stderr
