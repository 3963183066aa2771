"""The real page in a process of its own, and visitors who ask it over loopback."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path
from tempfile import TemporaryFile
from urllib.parse import urlencode, urlsplit

from tests.page.browsing import Form, Forms

PATIENCE_S = 60.0  # nothing is timed by it: only a page that hangs is noticed
WELCOME = "The page is open for this machine alone; Ctrl-C ends it."


@dataclass(frozen=True, slots=True)
class Answered:
    """What came back for one request."""

    status: int
    body: bytes
    location: str

    def form(self, action: str) -> dict[str, str]:
        """Return what a form of it would send if nothing were typed into it."""
        forms = Forms()
        forms.feed(self.body.decode())
        found: list[Form] = [form for form in forms.found if form.action == action]
        assert found, f"there is no form {action}: {self.words}"
        return dict(found[0].fields)

    @property
    def words(self) -> str:
        """Its main part without tags, to say in a failure what was shown instead."""
        main = self.body.decode(errors="replace").split("<main", 1)[-1]
        return " ".join(re.sub(r"<[^>]*>", " ", main).split())[:500]


class Visitor:
    """Somebody who was let in, with one connection that is kept."""

    def __init__(self, port: int, cookie: str) -> None:
        self.port, self.cookie = port, cookie
        self._connection = HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)

    def get(self, path: str) -> Answered:
        """Ask for a page."""
        return self._asked("GET", path, None, {})

    def post(self, path: str, fields: dict[str, str]) -> Answered:
        """Send a form as our own page would."""
        headers = {
            "Origin": f"http://127.0.0.1:{self.port}",
            "Content-Type": "application/x-www-form-urlencoded",
        }
        return self._asked("POST", path, urlencode(fields), headers)

    def close(self) -> None:
        """Let go of the connection."""
        self._connection.close()

    def _asked(self, method: str, path: str, body: str | None, headers: dict[str, str]) -> Answered:
        self._connection.request(method, path, body, {"Cookie": self.cookie, **headers})
        answer = self._connection.getresponse()
        return Answered(answer.status, answer.read(), answer.getheader("Location", ""))


@dataclass(frozen=True, slots=True)
class Served:
    """A page that is being served.

    Attributes:
        cookie: what whoever is let in shows with each request.
    """

    process: subprocess.Popen[str]
    port: int
    cookie: str

    def visitor(self) -> Visitor:
        """Return somebody new who was let in."""
        return Visitor(self.port, self.cookie)

    def memory_mb(self) -> float:
        """Return the memory that it holds now, where the system says so (Linux)."""
        status = Path(f"/proc/{self.process.pid}/status")
        found = re.search(r"VmRSS:\s+(\d+) kB", status.read_text()) if status.exists() else None
        return int(found[1]) / 1024 if found else float("nan")

    def cpu_s(self) -> float:
        """Return the processor time it has taken, where the system says so (Linux)."""
        stat = Path(f"/proc/{self.process.pid}/stat")
        if not stat.exists():
            return float("nan")
        user, system = stat.read_text().rsplit(")", 1)[1].split()[11:13]
        return (int(user) + int(system)) / 100  # clock ticks, of which Linux tells 100 a second


@contextmanager
def served(folder: Path) -> Iterator[Served]:
    """Serve a studio by the command itself; it ends by Ctrl-C, and nothing was amiss meanwhile."""
    command = [sys.executable, "-m", "sheetcut.cli", "page", str(folder), "--no-browser"]
    with TemporaryFile("w+", encoding="utf-8") as errors:
        process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=errors, text=True)
        try:
            assert process.stdout is not None
            address = process.stdout.readline().strip()
            if address:
                port = urlsplit(address).port or 0
                yield Served(process, port, _let_in(port, urlsplit(address).path))
                process.send_signal(signal.SIGINT)
                process.wait(PATIENCE_S)
        finally:
            process.kill()
            process.communicate()
        errors.seek(0)
        said = errors.read()
    assert process.returncode == 0, said
    assert said.splitlines() == [WELCOME], said


def _let_in(port: int, path: str) -> str:
    connection = HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)
    connection.request("GET", path)
    answer = connection.getresponse()
    answer.read()
    connection.close()
    return answer.getheader("Set-Cookie", "").partition(";")[0]
