"""What a studio's computer may deny: a network, always; and room on its disk, on a bad day."""

import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from tests import no_network
from tests.cli.shell import ROOT, plan_of, shell, write_studio
from tests.wheel import tried


@pytest.fixture
def denied(tmp_path):
    """Return a path that makes every Python refuse a network, those that sheetcut starts too."""
    source = Path(no_network.__file__).read_text("utf-8")
    (tmp_path / "patch").mkdir()
    (tmp_path / "patch" / "sitecustomize.py").write_text(f"{source}\n\ninstall()\n")
    path = f"{tmp_path / 'patch'}{os.pathsep}{ROOT}"
    asked = [sys.executable, "-c", "import socket; socket.create_connection(('203.0.113.7', 9))"]
    answer = subprocess.run(
        asked, env={**os.environ, "PYTHONPATH": path}, capture_output=True, text=True, check=False
    )
    assert "a network was asked for: socket.getaddrinfo 203.0.113.7" in answer.stderr
    return path


def test_no_command_asks_for_a_network(denied, tmp_path, monkeypatch):
    """From its start in a Python of its own; ``tests/conftest.py`` holds the rest to the same."""
    monkeypatch.setattr("tests.cli.shell.ROOT", denied)
    apart = write_studio(tmp_path / "studio")
    for words in ("plan", "quote A4", "gives A4", "buy", "drawer import --yes", "plan", "history"):
        done = shell(*words.split(), cwd=apart)
        assert done.returncode == 0, f"{words}: {done.stderr}"
    for words in ("check", "print", "cut --yes"):
        command, *options = words.split()
        done = shell(command, plan_of(apart), *options, cwd=apart)
        assert done.returncode == 0, f"{words}: {done.stderr}"


def test_the_page_is_served_without_a_network(denied, tmp_path):
    """Its program begins a studio, plans it, and answers at this computer's own address alone."""
    said = tried(sys.executable, tmp_path, {**os.environ, "PYTHONPATH": denied})
    assert "paper in all: £122.44" in said


@pytest.mark.parametrize(
    "ask",
    [
        lambda: socket.create_connection(("203.0.113.7", 80), timeout=1),  # RFC 5737: nobody's
        lambda: socket.getaddrinfo("example.org", 80),
        lambda: socket.gethostbyname("example.org"),
        lambda: socket.socket(type=socket.SOCK_DGRAM).sendto(b"?", ("203.0.113.7", 53)),
    ],
)
@pytest.mark.filterwarnings("ignore:unclosed:ResourceWarning")
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
def test_tests_themselves_reach_no_other_computer(ask):
    """Else the guard that every test stands under would be one that cannot fail."""
    with pytest.raises(no_network.OutsideRefused):
        ask()
    assert len(no_network.asked) == 1
    no_network.asked.clear()


def no_room():
    """Let no file grow beyond 20 kB: what a full disk does, for this process alone."""
    import resource  # noqa: PLC0415 - not on Windows

    resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such limit")
def test_a_full_disk_leaves_nothing_half_written(tmp_path):
    studio = write_studio(tmp_path / "studio")
    assert shell("plan", studio).returncode == 0
    plan = plan_of(studio)
    printed = tmp_path / "print.pdf"
    assert shell("print", plan, "-o", printed).returncode == 0
    good, before = printed.read_bytes(), sorted(tmp_path.rglob("*"))
    for command in (("plan", studio), ("print", plan, "-o", printed)):
        done = shell(*command, preexec_fn=no_room)
        assert done.returncode == 2, f"{command}: {done.stdout}{done.stderr}"
        assert "File too large" in done.stderr
        assert "Traceback" not in done.stderr
    assert printed.read_bytes() == good  # the print that was there is still whole
    assert sorted(tmp_path.rglob("*")) == before
