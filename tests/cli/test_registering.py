"""The register of an edition from the shell, kept in the drawer with undo."""

import csv
import json

from tests.cli.shell import here


def run(studio, *arguments, code=0):
    done = here(*arguments, "--in", studio)
    assert done.returncode == code, done.stderr
    return done.stdout


def test_an_edition_from_its_first_print_to_a_sale(kept):
    assert run(kept, "register") == ""
    run(kept, "register", "begin", "Slack Water", 40)
    run(kept, "register", "printed", "slack water", 5)
    run(kept, "register", "printed", "Slack Water", 2, "--proofs")
    run(kept, "register", "sold", "Slack Water", "2/40", "--to", "Merrin, Pilot House")
    run(kept, "register", "spoiled", "Slack Water", "AP 1", "--why", "head strike")
    assert run(kept, "register").splitlines() == [
        "edition      of  next  numbers left  proofs left",
        "Slack Water  40  6/40            35            3",
    ]
    assert run(kept, "register", "Slack Water").splitlines() == [
        "print     certificate  state    note",
        "1/40                1  printed",
        "2/40                2  sold     Merrin, Pilot House",
        "3/40                3  printed",
        "4/40                4  printed",
        "5/40                5  printed",
        "A.P. 1/4            -  spoiled  head strike",
        "A.P. 2/4            7  printed",
        "",
        "next is 6/40; 35 numbers and 3 artist's proofs left",
    ]


def test_the_register_is_taken_back_like_everything_else(kept):
    run(kept, "register", "begin", "Beacon", 75)
    run(kept, "register", "printed", "Beacon", 3)
    assert here("undo", kept).returncode == 0
    assert (
        run(kept, "register", "Beacon") == "next is 1/75; 75 numbers and 7 artist's proofs left\n"
    )
    assert "Printed of Beacon: 1/75 to 3/75" in here("history", kept).stdout


def test_the_register_as_a_table_holds_no_day_of_the_year(kept, tmp_path):
    """A spreadsheet takes 1/40 for January: number and edition stand in columns of their own."""
    run(kept, "register", "begin", "Slack Water", 3, "--artists-proofs", 1)
    run(kept, "register", "printed", "Slack Water", 1)
    out = tmp_path / "register.csv"
    run(kept, "register", "Slack Water", "-o", out)
    assert list(csv.reader(out.read_text(encoding="utf-8-sig").splitlines())) == [
        ["proof", "number", "of", "certificate", "state", "note"],
        ["", "1", "3", "1", "printed", ""],
        ["", "2", "3", "2", "to print", ""],
        ["", "3", "3", "3", "to print", ""],
        ["A.P.", "1", "1", "4", "to print", ""],
    ]
    run(kept, "register", "-o", tmp_path / "all.xlsx")


def test_two_editions_alike_keep_their_names(kept):
    run(kept, "register", "begin", "One", 10)
    run(kept, "register", "begin", "Two", 10)
    document = json.loads(run(kept, "register", "Two", "--json"))
    assert document["form"] == "sheetcut register 1"
    assert [one["name"] for one in document["editions"]] == ["Two"]
    assert len(json.loads(run(kept, "register", "--json"))["editions"]) == 2


def test_a_register_needs_a_drawer_that_is_kept(unkept):
    done = here("register", "begin", "One", 10, "--in", unkept)
    assert done.returncode == 2
    assert "drawer import" in done.stderr


def test_what_the_register_does_not_have_is_told(kept):
    run(kept, "register", "begin", "One", 10)
    assert "3/10" in here("register", "sold", "One", "3/10", "--in", kept).stderr
    assert here("register", "remove", "One", "--in", kept).returncode == 0
    assert here("register", "One", "--in", kept).returncode == 2
