"""What fails half way leaves nothing behind, and what was said to the wind is no failure."""

from __future__ import annotations

import contextlib
import errno
import io
import os
import tempfile
import webbrowser
from pathlib import Path

import pytest

from sheetcut.cli import main
from sheetcut.page.sorry import show_sorry
from sheetcut.printout.files import write_plan
from tests.cli.shell import here
from tests.messages.asking import PLAN
from tests.messages.paging import let_in, said_by
from tests.messages.shut import contents, shut

FULL = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_a_plan_that_finds_no_room_leaves_no_folder(tmp_path, monkeypatch):
    """The empty folder out stayed behind in a studio that had never planned before."""

    def refuse(*_: object) -> None:
        raise FULL

    monkeypatch.setattr(os, "rename", refuse)
    with pytest.raises(OSError, match="No space left"):
        write_plan(PLAN, tmp_path)
    assert contents(tmp_path) == {}
    (tmp_path / "out").mkdir()
    with pytest.raises(OSError, match="No space left"):
        write_plan(PLAN, tmp_path)
    assert contents(tmp_path) == {"out": None}  # not ours to take away


def test_the_demo_comes_whole_or_not_at_all(tmp_path, monkeypatch):
    """A full disk left its orders there without a drawer, and the page with a traceback."""
    real = Path.open

    def full_after_one(path, mode="r", *args, **options):
        if path.name == "drawer.csv" and "x" in mode:
            raise FULL
        return real(path, mode, *args, **options)

    browsing = let_in(tmp_path)
    monkeypatch.setattr(Path, "open", full_after_one)
    answer = browsing.post("/begin", studio="demo")
    assert answer.status_code == 409
    assert "nothing was written (No space left on device); name a folder" in said_by(answer)
    assert contents(tmp_path) == {}


def test_whoever_reads_no_further_hears_of_no_failure():
    """A closed pipe was told as a file that the system refused, with nothing changed by it."""

    read, write = os.pipe()
    os.close(read)
    said = io.StringIO()
    with (
        contextlib.suppress(BrokenPipeError),
        os.fdopen(write, "w") as closed,
        contextlib.redirect_stdout(closed),
        contextlib.redirect_stderr(said),
        pytest.raises(SystemExit),
    ):
        main.main(["sizes"], prog_name="sheetcut")
    assert said.getvalue() == ""


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EROFS])
def test_a_double_click_on_a_full_disk_ends_in_words(tmp_path, monkeypatch, code):
    """The page that says sorry lies in the cache, else where the system keeps what is passing."""
    shown = []
    monkeypatch.setattr(webbrowser, "open", shown.append)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    passing = tmp_path / "passing"
    monkeypatch.setattr(tempfile, "gettempdir", lambda: str(passing))
    with shut(tmp_path / "cache", code):
        assert show_sorry("the disk is full") == passing / "not-opened.html"
    assert shown == [(passing / "not-opened.html").as_uri()]
    with shut(tmp_path, code):
        assert show_sorry("the disk is full") is None
        done = here("page", tmp_path / "nowhere", "--double-click")
    assert "this folder is not there; give the folder" in done.stderr
    assert len(shown) == 1
