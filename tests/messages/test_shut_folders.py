"""Where nothing can be written, whatever writes says a sentence and leaves all as it was."""

from __future__ import annotations

import errno
import re
import shlex
import shutil

import pytest

from tests.cli.shell import here
from tests.messages.commanding import plan_it
from tests.messages.paging import (
    booked,
    filled,
    let_in,
    said_by,
    settings_kept,
    studio_on,
)
from tests.messages.reading_cells import studio_of
from tests.messages.shut import contents, shut

WHY = {
    errno.EACCES: "Permission denied",
    errno.EROFS: "Read-only file system",
    errno.ENOSPC: "No space left on device",
}
FILED = (
    "start new",
    "plan .",
    "quote A5 -o quote.csv",
    "quote A5 -o quote.svg",
    "gives A4 -o gives.xlsx",
    "buy -o buy.csv",
    "edition 10 -o register.csv",
    "scan A3 -o scans.csv",
    "drawer import --yes",
    "page new --no-browser",
    "page . --desktop",
)
KEPT = (
    "drawer add --paper Rag --size A3 --kind offcut",
    "drawer correct L --price 12",
    "drawer remove L",
    "drawer receive L 2",
    "drawer low L 1",
    "drawer found L --left 5",
    "drawer export -o kept.csv",
    "buy --arrived L 2",
    "orders add D9 --paper Rag --size A5",
    "orders correct D1 --count 3",
    "orders remove D1",
    "orders export -o kept.xlsx",
    "undo",
    "register begin 'Slack Water' 40",
    "history --chart chart.svg",
    "cut made --yes",
    "hold made",
    "print made",
    "plan . --keep made",
)


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    folder = tmp_path_factory.mktemp("shut") / "studio"
    folder.mkdir()
    plan_it(studio_of(folder))
    return folder


def refused(folder, command, code, monkeypatch):
    """Run a command in a folder that is shut; return what it says, all being as it was."""
    before = contents(folder)
    monkeypatch.chdir(folder)
    monkeypatch.setenv("XDG_DESKTOP_DIR", str(folder))
    with shut(folder, code):
        done = here(*shlex.split(command))
    assert contents(folder) == before
    assert done.returncode == 2
    return done.stderr


def assert_is_a_sentence(said, why):
    last = said.strip().splitlines()[-1]
    assert ": " in last
    assert "; " in last
    assert why in said or "it cannot be written here" in said
    assert not re.search(r"Errno|Traceback|[Ii]nvalid", said)


@pytest.mark.parametrize("code", WHY, ids=WHY.get)
@pytest.mark.parametrize("command", FILED)
def test_a_studio_of_files_stays_as_it_was(tmp_path, monkeypatch, command, code):
    assert_is_a_sentence(refused(studio_of(tmp_path), command, code, monkeypatch), WHY[code])


@pytest.mark.parametrize("command", KEPT)
def test_a_kept_studio_stays_as_it_was(kept, tmp_path, monkeypatch, command):
    folder = shutil.copytree(kept, tmp_path / "studio")
    said = refused(folder, command, errno.EACCES, monkeypatch)
    assert_is_a_sentence(said, WHY[errno.EACCES])


ASKS = {
    "begin with the demo": ("none", lambda b: b.post("/begin", studio="demo")),
    "begin with a new one": ("none", lambda b: b.post("/begin", studio="own")),
    "bring in": ("filed", filled("/drawer/bring-in", "/drawer/bring-in")),
    "add an order": ("planned", filled("/orders", "/orders/add", size="A5", paper="Rag")),
    "book a cut": ("planned", booked()),
    "settings": ("planned", settings_kept),
    "take back": ("planned", filled("/diary", "/diary/undo")),
    "begin a register": (
        "planned",
        filled("/edition/register", "/edition/register/begin", name="Slack Water", numbered="40"),
    ),
}


@pytest.mark.parametrize("code", WHY, ids=WHY.get)
@pytest.mark.parametrize("name", ASKS)
def test_the_page_says_so_and_leaves_all_as_it_was(tmp_path, name, code):
    studio, ask = ASKS[name]
    browsing = let_in(studio_on(tmp_path, studio))
    before = contents(tmp_path)
    with shut(tmp_path, code):
        answer = ask(browsing)
    assert contents(tmp_path) == before
    assert answer.status_code in (409, 422)
    said = next(line for line in said_by(answer).splitlines() if "; " in line)
    assert_is_a_sentence(said, WHY[code])
