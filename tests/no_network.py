"""Refuses every way out of this computer to a Python, and keeps what it was asked for.

Python raises these audit events before it does what they name, whatever library asked for it; a
hook cannot be taken away again. The computer's own addresses are no way out.
"""

from __future__ import annotations

import ipaddress
import socket
import sys

asked: list[str] = []
"""What was asked for and refused, in this process."""

HOST_FIRST = {"socket.getaddrinfo", "socket.gethostbyname", "socket.gethostbyaddr"}
HOST_SECOND = {"socket.connect", "socket.sendto", "socket.sendmsg"}
NOBODY = ipaddress.ip_network("192.0.2.0/24")
"""RFC 5737: for examples only. To choose it as a destination sends nothing."""


class OutsideRefused(Exception):
    """Somebody asked for another computer."""


def refuse(event: str, given: tuple[object, ...]) -> None:
    """Raise if an audit event would reach another computer."""
    if event in HOST_FIRST:
        host = given[0]
    elif event in HOST_SECOND and isinstance(given[1], tuple):
        host = given[1][0]
    else:  # the path of a Unix socket, or none for one that is connected already
        return
    if not is_here(host):
        asked.append(f"{event}: {host}")
        raise OutsideRefused(f"a network was asked for: {event} {host}")


def is_here(host: object) -> bool:
    """Whether a host is this computer: by RFC 6761, or because a socket can be bound to it.

    >>> [is_here(host) for host in ("localhost", "127.0.0.1", "::1", "", None)]
    [True, True, True, True, True]
    >>> [is_here(host) for host in ("example.org", "203.0.113.7", "127.0.0.1.example.org")]
    [False, False, False]
    """
    name = host.decode() if isinstance(host, bytes) else str(host or "")
    if name in ("", "localhost"):
        return True
    try:
        address = ipaddress.ip_address(name)
    except ValueError:
        return False
    return address.is_loopback or address in NOBODY or _is_own(address)


def _is_own(address: ipaddress.IPv4Address | ipaddress.IPv6Address) -> bool:
    family = socket.AF_INET if address.version == 4 else socket.AF_INET6
    with socket.socket(family, socket.SOCK_DGRAM) as tried:
        try:
            tried.bind((str(address), 0))
        except OSError:
            return False
    return True


def install() -> None:
    """Refuse from now on, until this Python ends."""
    sys.addaudithook(refuse)
