"""What a studio's computer may deny: a network, always; and room on its disk, on a bad day."""

import os
import subprocess
import sys

import pytest

from tests.cli.shell import ROOT, plan_of, shell, write_studio

# Read by every Python that starts, those that sheetcut starts itself too.
NO_NETWORK = """
import socket

def refused(*_given, **_named):
    raise RuntimeError("a network was asked for")

socket.socket.connect = socket.socket.connect_ex = socket.socket.sendto = refused
socket.getaddrinfo = socket.gethostbyname = socket.create_connection = refused
"""


@pytest.fixture
def apart(tmp_path, monkeypatch):
    """Return a demo studio on a computer without a network."""
    patch = tmp_path / "patch"
    patch.mkdir()
    (patch / "sitecustomize.py").write_text(NO_NETWORK)
    monkeypatch.setattr("tests.cli.shell.ROOT", f"{patch}{os.pathsep}{ROOT}")
    asked = [sys.executable, "-c", "import socket; socket.create_connection(('127.0.0.1', 9))"]
    path = {**os.environ, "PYTHONPATH": str(patch)}
    tried = subprocess.run(asked, env=path, capture_output=True, text=True, check=False)
    assert "a network was asked for" in tried.stderr
    return write_studio(tmp_path / "studio")


def test_no_command_asks_for_a_network(apart):
    for words in ("plan", "quote A4", "gives A4", "buy", "drawer import --yes", "plan", "history"):
        done = shell(*words.split(), cwd=apart)
        assert done.returncode == 0, f"{words}: {done.stderr}"
    for words in ("check", "print", "cut --yes"):
        command, *options = words.split()
        done = shell(command, plan_of(apart), *options, cwd=apart)
        assert done.returncode == 0, f"{words}: {done.stderr}"


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
