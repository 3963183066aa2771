"""Serving the page on this machine alone."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from waitress import create_server  # type: ignore[import-untyped]

from sheetcut.errors import SheetcutError
from sheetcut.page.app import create_app
from sheetcut.page.door import Door

LOOPBACK = "127.0.0.1"
THREADS = 6


class PortTaken(SheetcutError):
    """Something else answers at the port that was asked for."""

    def __init__(self, port: int) -> None:
        self.port = port
        super().__init__(
            f"port {port}: another program uses it; give another, or none for a free one"
        )


@dataclass(frozen=True, slots=True)
class Serving:
    """A page that is being served.

    Attributes:
        address: what lets a browser in.
    """

    address: str
    server: Any

    def run(self) -> None:
        """Answer requests until the program is told to end."""
        self.server.run()


@contextmanager
def serving(folder: Path, port: int = 0) -> Iterator[Serving]:
    """Give a studio's page, listening; it answers once it is run.

    Args:
        port: 0 for any that is free.

    Raises:
        PortTaken: if something else has it.
    """
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        try:
            listener.bind((LOOPBACK, port))
        except OSError as error:
            raise PortTaken(port) from error
        door = Door(listener.getsockname()[1])
        app = create_app(folder, door)
        server = create_server(app, sockets=[listener], threads=THREADS, ident=None)
        try:
            yield Serving(door.address, server)
        finally:
            app.extensions["planner"].end()
            server.close()
    finally:
        listener.close()
