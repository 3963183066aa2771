"""Several programs in one studio at the same time: nothing is lost, and whoever waits is told."""

import sqlite3
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path
from threading import Event

import pytest

from sheetcut.drawer import FILE_NAME
from sheetcut.drawer.store import PATIENCE_S
from tests.cli.shell import plan_of, shell, write_studio
from tests.load.afterwards import assert_lines, assert_whole, entries_in
from tests.load.served import served
from tests.load.studio import begun
from tests.load.writing import Writer

ROUNDS = ("--rounds", "300")  # so that both come to the same plan, at the same moment
MADE = 3  # changes by each program


@pytest.fixture(scope="module")
def begun_once(tmp_path_factory):
    """Return the planned studio, not to be changed."""
    folder = tmp_path_factory.mktemp("two") / "studio"
    begun(folder)
    return folder


@pytest.fixture
def studio(begun_once, tmp_path):
    """Return a copy of the planned studio."""
    subprocess.run(["cp", "-r", str(begun_once), str(tmp_path / "studio")], check=True)
    return tmp_path / "studio"


def started(*arguments: object) -> subprocess.Popen[str]:
    """Start a command and go on at once."""
    return subprocess.Popen(
        [sys.executable, "-m", "sheetcut.cli", *map(str, arguments)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8",
    )  # fmt: skip


def ended(process: subprocess.Popen[str]) -> tuple[int, str]:
    """Return how a command ended and all that it said."""
    out, err = process.communicate(timeout=120)
    assert "Traceback" not in err, err
    return process.returncode, out + err


def add_by_command(studio: Path, mark: str) -> dict[str, str]:
    """Add order lines one after the other, and return those that were acknowledged."""
    known = {}
    for number in range(MADE):
        name, note = f"{mark}{number}", f"note {number}"
        done = shell("orders", "add", "--in", studio, name, "--piece", "By command", "--paper",
                     "Marram Rag", "--size", "100 x 150", "--note", note)  # fmt: skip
        assert done.returncode == 0, done.stderr
        known[name] = note
    return known


def lines_in(studio: Path) -> list[tuple[str, str]]:
    """Return name and note of every order line, as they lie in the file."""
    with closing(sqlite3.connect(studio / FILE_NAME)) as database:
        return database.execute("SELECT name, note FROM order_line").fetchall()


def test_planners_that_come_to_the_same_plan_each_write_it_whole(tmp_path):
    """They share files and a code, so the later one names its folder one further."""
    studio = write_studio(tmp_path / "studio")
    planners = [started("plan", studio, *ROUNDS) for _ in range(2)]
    told = [ended(planner) for planner in planners]
    assert {code for code, _ in told} <= {0, 1}, told  # 1: the demo's week is short of nothing
    folders = sorted((studio / "out").iterdir())
    first = folders[0].name
    assert [folder.name for folder in folders] == [first, f"{first}-2"]
    files = [{path.name for path in folder.iterdir()} for folder in folders]
    assert files[0] == files[1]
    for folder in folders:
        assert shell("check", folder).returncode == 0


def test_a_name_that_another_planner_has_just_taken_is_passed_over(tmp_path, demo_plan):
    """Between looking and moving: the other's plan was there, and ours ended in a traceback."""
    from sheetcut.printout.files import write_plan  # noqa: PLC0415

    first = write_plan(demo_plan, tmp_path).folder
    aside, there = tmp_path / "aside", Path.exists
    first.rename(aside)

    def looked(path: Path, **how: bool) -> bool:
        found = there(path, **how)
        if path == first and not found:
            aside.rename(first)
        return found

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(Path, "exists", looked)
        second = write_plan(demo_plan, tmp_path).folder
    assert second.name == f"{first.name}-2"
    assert {path.name for path in first.iterdir()} == {path.name for path in second.iterdir()}


def test_planning_goes_on_while_orders_are_added_and_sheets_are_cut(studio):
    before, plan = entries_in(studio), plan_of(studio)
    planners = [started("plan", studio, "--seconds", "1") for _ in range(2)]
    cutter = started("cut", plan, "--layout", "1", "--yes")
    known = add_by_command(studio, "P")
    told = [ended(one) for one in (*planners, cutter)]
    assert [code for code, _ in told] == [0, 0, 0], told
    assert_lines(known, lines_in(studio))
    assert entries_in(studio) - before == MADE + 1
    assert_whole(studio)
    for folder in (studio / "out").iterdir():
        assert shell("check", folder).returncode == 0


def test_two_pages_and_the_command_line_lose_nothing_of_each_other(studio):
    """Each adds and corrects its own lines, through doors of their own, all at once."""
    before = entries_in(studio)
    with served(studio) as one, served(studio) as other, ThreadPoolExecutor(3) as pool:

        def by_page(page, mark):
            with closing(page.visitor()) as visitor:
                writer = Writer(visitor, "", mark)
                for number in range(0, 2 * MADE, 2):
                    writer.add_order(number)
                    writer.correct_order(number + 1)
                return writer.known

        pages = [pool.submit(by_page, one, "A"), pool.submit(by_page, other, "B")]
        command = pool.submit(add_by_command, studio, "C")
        known = [each.result() for each in pages]
        typed = command.result()
    assert [each.refused for each in known] == [[], []]
    for each in known:
        assert_lines(each.orders, lines_in(studio))
    assert_lines(typed, lines_in(studio))
    assert entries_in(studio) - before == sum(each.entries for each in known) + MADE
    assert_whole(studio)


def test_of_two_pages_that_correct_one_line_the_later_is_shown_both_versions(studio):
    """A form that was overtaken through the other page's door changes nothing."""
    with (
        served(studio) as one,
        served(studio) as other,
        closing(one.visitor()) as first,
        closing(other.visitor()) as second,
    ):
        forms = [
            visitor.get("/orders?order=D02").form("/orders/correct") for visitor in (first, second)
        ]
        assert first.post("/orders/correct", forms[0] | {"note": "ours"}).status == 303
        refused = second.post("/orders/correct", forms[1] | {"note": "theirs"})
    assert refused.status == 409
    assert "ours" in refused.words
    assert ("D02", "ours") in lines_in(studio)
    assert_whole(studio)


def test_settings_written_through_two_pages_are_each_seen_by_the_other(studio):
    before = entries_in(studio)
    over = Event()
    over.set()
    with served(studio) as one, served(studio) as other, ThreadPoolExecutor(2) as pool:

        def renamed(page, first):
            with closing(page.visitor()) as visitor:
                writer = Writer(visitor, "")
                for number in range(first, first + MADE):
                    writer.rename(number)
                return writer.known

        known = [each.result() for each in [pool.submit(renamed, one, 100),
                                            pool.submit(renamed, other, 200)]]  # fmt: skip
    # Whoever had opened the form before the other wrote was shown both versions instead.
    assert all(": 409 " in words for each in known for words in each.refused)
    done = sum(each.entries for each in known)
    assert done + sum(len(each.refused) for each in known) == 2 * MADE
    assert entries_in(studio) - before == done
    assert_whole(studio)
    assert_kept_last(studio, {each.name for each in known if each.name})


def assert_kept_last(studio: Path, names: set[str]) -> None:
    """Assert that file and drawer have one of the names that were acknowledged last."""
    import tomllib  # noqa: PLC0415

    written = tomllib.loads((studio / "studio.toml").read_text(encoding="utf-8"))["name"]
    with closing(sqlite3.connect(studio / FILE_NAME)) as database:
        (kept,) = database.execute("SELECT value FROM setting WHERE name = 'studio'").fetchone()
    assert written in names
    assert written in kept


def test_whoever_waits_too_long_for_the_drawer_is_told_in_a_sentence(studio):
    """Another program holds the file, longer than anybody is asked to wait."""
    name = ("W1", "--piece", "Late", "--paper", "Marram Rag", "--size", "100 x 150")
    with served(studio) as page, closing(page.visitor()) as visitor:
        fields = visitor.get("/orders").form("/orders/add") | {
            "order": "W2", "piece": "Late", "paper": "Marram Rag", "size": "100 x 150",
        }  # fmt: skip
        with closing(sqlite3.connect(studio / FILE_NAME, isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            command = started("orders", "add", "--in", studio, *name)
            answer = visitor.post("/orders/add", fields)
            assert visitor.get("/orders").status == 200  # to look is not to write
            code, said = ended(command)
            other.execute("ROLLBACK")
        assert answer.status == 409
        words = "another sheetcut is writing to it; try again when it is done. Nothing was changed"
        assert words in answer.words
        assert code == 2
        assert words in said
        assert visitor.post("/orders/add", fields).status == 303
    assert shell("orders", "add", "--in", studio, *name).returncode == 0
    assert_whole(studio)


def test_whoever_waits_less_than_that_waits_and_is_served(studio):
    """The lock is let go while the command waits for it."""
    with closing(sqlite3.connect(studio / FILE_NAME, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        command = started("orders", "add", "--in", studio, "W3", "--piece", "In time", "--paper",
                          "Marram Rag", "--size", "100 x 150")  # fmt: skip
        with pytest.raises(subprocess.TimeoutExpired):
            command.wait(PATIENCE_S / 2)
        other.execute("ROLLBACK")
    assert ended(command)[0] == 0
    assert "W3" in dict(lines_in(studio))
    assert_whole(studio)
