"""Planning goes on in a process of its own, and can be ended with what was found."""

import shutil
import signal
import socket
import subprocess
import sys

import pytest

from sheetcut.page import serving
from sheetcut.page.planner import Planner
from sheetcut.page.serving import PortTaken
from sheetcut.page.studio import Desk
from tests.page.conftest import let_in


def test_a_plan_is_made_and_shown(studio):
    shutil.rmtree(studio / "out")
    browsing = let_in(studio)
    browsing.post("/plan/start", longest="30")
    assert "That will do" in browsing.get("/plan").get_data(as_text=True)
    assert browsing.get("/plan/now").json["running"]
    browsing.post("/plan/will-do")
    planner: Planner = browsing.client.application.extensions["planner"]
    assert planner.wait(300)
    assert not planner.progress.refused
    assert Desk(studio).newest_plan() is not None
    assert "Orders or drawer have changed" not in browsing.get("/plan").get_data(as_text=True)


def test_what_cannot_be_read_is_said(tmp_path):
    (tmp_path / "orders.csv").write_text("order,paper,size\n1,Rag,21O\n")
    (tmp_path / "drawer.csv").write_text("sheet,paper,size\nA,Rag,500 x 700\n")
    planner = Planner(tmp_path)
    planner.start(1)
    assert planner.wait(300)
    assert "21O" in planner.progress.refused[0]
    page = let_in(tmp_path).get("/plan").get_data(as_text=True)
    assert "orders.csv, row 2" in page


def test_the_command_shows_its_address_answers_and_ends(studio):
    """As a person has it: the address on standard output, Ctrl-C to end."""
    command = [sys.executable, "-m", "sheetcut.cli", "page", str(studio), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        address = process.stdout.readline().decode().strip()
        with socket.create_connection(("127.0.0.1", int(address.split(":")[2].split("/")[0])), 5):
            pass
        process.send_signal(signal.SIGINT)
        try:
            _, words = process.communicate(timeout=20)
        finally:
            process.kill()
    assert address.startswith("http://127.0.0.1:")
    assert b"Traceback" not in words


def test_a_port_that_is_taken_is_said_so(studio):
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = other.getsockname()[1]
        with pytest.raises(PortTaken, match=str(port)), serving(studio, port):
            pass
