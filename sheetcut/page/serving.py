"""Serving the page: on this machine alone, or besides to a tablet of the same network."""

from __future__ import annotations

import errno
import logging
import socket
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from ipaddress import ip_address
from pathlib import Path
from threading import Event, Thread
from typing import Any

from waitress import create_server  # type: ignore[import-untyped]

from sheetcut.errors import SheetcutError
from sheetcut.page.app import create_app
from sheetcut.page.door import Door
from sheetcut.page.pairing import Pairing

LOOPBACK = "127.0.0.1"
THREADS = 4  # more of them hand the interpreter to each other more than they answer
LAST_ANSWERS_S = 0.5
LOOK_UP_S = 0.5  # Ctrl-C is heard at once on most systems, and so soon on the others


class PortTaken(SheetcutError):
    """The port that was asked for cannot be had."""

    def __init__(self, port: int, error: OSError) -> None:
        self.port = port
        is_used = error.errno == errno.EADDRINUSE
        found = (
            "another program uses it" if is_used else f"the system refused it ({error.strerror})"
        )
        super().__init__(f"port {port}: {found}; give another, or none for a free one")


class NoNetwork(SheetcutError):
    """There is no network of one's own that a tablet could be in."""

    def __init__(self, address: str = "") -> None:
        found = (
            f"its address is {address}, which the whole internet can reach"
            if address
            else ("it has no address in a network")
        )
        super().__init__(
            f"this computer cannot be reached by a tablet: {found}; "
            "connect it to the network at home, or leave --tablet out"
        )


@dataclass(frozen=True, slots=True)
class Serving:
    """A page that is being served.

    Attributes:
        address: what lets a browser of this machine in.
        pairing: where a tablet opens it, and with which code; None where none is served.
        closed: set once the page was closed by its own button.
        ending: set once its connections are taken away.
    """

    address: str
    server: Any
    pairing: Pairing | None
    closed: Event
    ending: Event

    def run(self) -> None:
        """Answer requests until the page is closed, or the program is told to end."""
        Thread(target=self._answer, daemon=True).start()
        with suppress(KeyboardInterrupt):
            while not self.closed.wait(LOOK_UP_S):
                pass

    def _answer(self) -> None:
        try:
            self.server.run()
        except (OSError, ValueError):
            # It was listening on connections that are closed: at the end that is no news.
            if not self.ending.is_set():
                raise


@contextmanager
def serving(folder: Path, port: int = 0, network: str = "") -> Iterator[Serving]:
    """Give a studio's page, listening; it answers once it is run.

    Args:
        port: 0 for any that is free.
        network: this machine's address in the network of a tablet; empty to serve none.

    Raises:
        PortTaken: if something else has it.
    """
    with ExitStack() as opened:
        listeners = [opened.enter_context(_listener(LOOPBACK, port))]
        port = listeners[0].getsockname()[1]
        if network:
            listeners.append(opened.enter_context(_listener(network, port)))
        door = Door(port, pairing=Pairing(f"{network}:{port}") if network else None)
        app = create_app(folder, door)
        # It would tell the terminal of every request that waits for the one before it; and where
        # nobody reads what is told, the page stops once the pipe is full.
        logging.getLogger("waitress.queue").setLevel(logging.ERROR)
        server = create_server(app, sockets=listeners, threads=THREADS, ident=None)
        ending = Event()
        try:
            yield Serving(door.address, server, door.pairing, app.extensions["closed"], ending)
        finally:
            app.extensions["planner"].end()
            ending.set()
            _close(server)


def _close(server: Any) -> None:
    """Have requests in hand answered, as far as that takes no longer than anybody waits."""
    # A thread that still answers finds its connection gone, which is no news now.
    logging.getLogger("waitress").setLevel(logging.CRITICAL)
    server.task_dispatcher.shutdown(timeout=LAST_ANSWERS_S)
    server.close()


def network_address() -> str:
    """Return this machine's address in the network that a tablet can be in.

    Raises:
        NoNetwork: if it has none, or one that is everybody's.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Nobody has this address (RFC 5737), and nothing is sent: the system only chooses
            # which of its own addresses it would send from.
            probe.connect(("192.0.2.1", 9))
        except OSError as error:
            raise NoNetwork from error
        address = str(probe.getsockname()[0])
    found = ip_address(address)
    if found.is_loopback or found.is_unspecified:
        raise NoNetwork
    if not found.is_private:
        raise NoNetwork(address)
    return address


def _listener(address: str, port: int) -> socket.socket:
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listener.bind((address, port))
    except OSError as error:
        listener.close()
        raise PortTaken(port, error) from error
    return listener
