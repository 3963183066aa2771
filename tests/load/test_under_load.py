"""The page read and written at once for a few seconds: what it answers is right, and stays."""

import csv
import sqlite3
import time
from contextlib import closing, suppress
from http.client import HTTPException
from threading import Thread

import pytest

from tests.load.afterwards import assert_kept, assert_lines, assert_whole, entries_in
from tests.load.run import run
from tests.load.served import served
from tests.load.studio import begun, reads_of


@pytest.fixture(scope="module")
def studio_begun(tmp_path_factory):
    """Return the planned studio; the tests of this module change it one after the other."""
    folder = tmp_path_factory.mktemp("load") / "studio"
    begun(folder)
    return folder


def test_nothing_fails_and_nothing_is_lost_under_load(studio_begun):
    outcome = run(studio_begun, rate=25, seconds=4, writes=4)
    assert {read.path for read in outcome.reads} == set(reads_of(studio_begun))
    assert [read for read in outcome.reads if not read.is_fine] == []
    assert outcome.known.refused == []
    assert outcome.known.entries >= 5  # one turn of each kind
    assert_whole(studio_begun)
    assert_kept(studio_begun, outcome.known, entries_before=outcome.entries_before)


def test_a_page_ended_in_the_middle_of_an_answer_says_nothing_of_it(studio_begun):
    """Ctrl-C while an answer went out: a traceback came of a connection that was gone already."""
    for moment in range(4):
        with served(studio_begun) as page:
            asking = Thread(target=_asked, args=(page,))
            asking.start()
            time.sleep(0.01 * moment)  # leaving this block is Ctrl-C
        asking.join()


def _asked(page):
    with suppress(OSError, HTTPException), closing(page.visitor()) as visitor:
        visitor.get("/drawer/bring-in")


def test_a_lost_line_would_be_seen(studio_begun):
    """The check itself: a line gone, one twice, one with an older note."""
    known = {"L1": "a", "L2": ""}
    assert_lines(known, [("L1", "a"), ("L2", ""), ("D01", "")])
    for found in ([("L1", "a")], [("L1", "a"), ("L2", ""), ("L2", "")], [("L1", ""), ("L2", "")]):
        with pytest.raises(AssertionError):
            assert_lines(known, found)


def test_a_mirror_behind_its_drawer_would_be_seen(studio_begun):
    """The check itself: a line that is written past the history, and one gone from the mirror."""
    before = entries_in(studio_begun)
    mirror = studio_begun / "mirror" / "orders.csv"
    data = mirror.read_bytes()
    with mirror.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.reader(file))
    with mirror.open("w", encoding="utf-8-sig", newline="") as file:
        csv.writer(file).writerows(rows[:-1])
    with pytest.raises(AssertionError):
        assert_whole(studio_begun)
    mirror.write_bytes(data)
    assert_whole(studio_begun)
    with sqlite3.connect(studio_begun / "studio.sqlite") as database:
        database.execute("UPDATE order_line SET note = 'past the history' WHERE id = 1")
    database.close()
    assert entries_in(studio_begun) == before
    with pytest.raises(AssertionError):
        assert_whole(studio_begun)
