"""Who is let in: this machine by its launch address, a tablet by its code, and no other page."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, field
from ipaddress import ip_address

from flask import Flask, Response, g, redirect, render_template, request
from flask.typing import ResponseReturnValue

from sheetcut.page.pairing import Pairing

LARGEST_UPLOAD = 12 * 1024 * 1024
MOST_FIELDS = 200

HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    # With no-referrer a browser sends "Origin: null" with our own forms, and they were refused.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Cache-Control": "no-store",
}


@dataclass(frozen=True, slots=True)
class Door:
    """What a request has to show.

    Attributes:
        port: where the page is served; a request must name it in its Host.
        token: in the address that the command opens, once.
        pass_word: in the cookie that is handed out for the token.
        pairing: lets tablets of the same network in; None where they are not served.
    """

    port: int
    token: str = field(default_factory=lambda: secrets.token_urlsafe(32), repr=False)
    pass_word: str = field(default_factory=lambda: secrets.token_urlsafe(32), repr=False)
    pairing: Pairing | None = field(default=None, repr=False)

    @property
    def cookie(self) -> str:
        """The cookie's name: cookies do not tell ports apart, so the name must."""
        return f"sheetcut-{self.port}"

    @property
    def hosts(self) -> tuple[str, ...]:
        """The hosts a request from this machine may be for."""
        return (f"127.0.0.1:{self.port}", f"localhost:{self.port}")

    def knows(self, pass_word: str) -> bool:
        """Whether this is the pass word of somebody who was let in where the request came in."""
        if is_this_machine(self):
            return secrets.compare_digest(pass_word.encode(), self.pass_word.encode())
        return self.pairing is not None and self.pairing.knows(pass_word)

    @property
    def address(self) -> str:
        """The address that lets a browser in."""
        return f"http://127.0.0.1:{self.port}/enter/{self.token}"


def guard(app: Flask, door: Door) -> None:
    """Have every request pass the door, and every answer carry its headers."""
    app.config["MAX_CONTENT_LENGTH"] = LARGEST_UPLOAD
    app.config["MAX_FORM_PARTS"] = MOST_FIELDS

    app.extensions["door"] = door

    @app.before_request
    def let_in() -> ResponseReturnValue | None:
        g.nonce, g.is_in = secrets.token_urlsafe(16), False
        if not is_this_machine(door) and not _is_a_tablet(door):
            return refused("This page answers to this machine only; open it there.")
        if not _is_from_here():
            return refused(
                "This was sent from another page, so nothing was done; do it on the studio's own."
            )
        if request.endpoint in ("static", "enter", "pair"):
            return None
        if door.knows(request.cookies.get(door.cookie, "")):
            g.is_in = True
            return None
        if _is_a_tablet(door):
            return render_template("pair.html", wrong=""), 403
        return refused("Open the page by the address that sheetcut showed when it started.")

    @app.get("/enter/<token>")
    def enter(token: str) -> ResponseReturnValue:
        right = secrets.compare_digest(token.encode(), door.token.encode())
        if not (right and is_this_machine(door)):
            return refused("That address is from another time; start sheetcut page again.")
        return _welcomed(door.pass_word)

    @app.post("/pair")
    def pair() -> ResponseReturnValue:
        if door.pairing is None or not _is_a_tablet(door):
            return refused("This page answers to this machine only; open it there.")
        pass_word = door.pairing.answer(request.form.get("code", ""))
        if pass_word is None:
            wrong = "That is not the code the computer shows now; type the one that it shows."
            if not door.pairing.code:
                wrong = "That code is used up; have the computer show a new one."
            return render_template("pair.html", wrong=wrong), 403
        return _welcomed(pass_word)

    def _welcomed(pass_word: str) -> ResponseReturnValue:
        answer = redirect("/", 303)
        answer.set_cookie(door.cookie, pass_word, httponly=True, samesite="Strict", path="/")
        return answer

    @app.after_request
    def seal(answer: Response) -> Response:
        answer.headers.update(HEADERS)
        nonce = getattr(g, "nonce", "")
        answer.headers["Content-Security-Policy"] = (
            f"default-src 'none'; script-src 'nonce-{nonce}'; style-src 'nonce-{nonce}'; "
            "img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; "
            "frame-ancestors 'none'"
        )
        return answer


def is_this_machine(door: Door) -> bool:
    """Whether a request is for this machine by its own name, and came from it."""
    return request.host in door.hosts and _came_from_here()


def _is_a_tablet(door: Door) -> bool:
    """Whether a request is for the one address that tablets are served at."""
    return door.pairing is not None and request.host == door.pairing.host


def _came_from_here() -> bool:
    """Whether a request was sent from this machine: a name alone can be claimed by anybody."""
    return ip_address(request.remote_addr or "0.0.0.0").is_loopback


def _is_from_here() -> bool:
    """Whether what changes something was sent by a page of ours; a browser always says."""
    if request.headers.get("Sec-Fetch-Site") == "cross-site" and request.method != "GET":
        return False
    origin = request.headers.get("Origin")
    if origin is None:
        return request.method in ("GET", "HEAD")
    return origin == f"http://{request.host}"


def refused(why: str) -> ResponseReturnValue:
    """Return the answer to a request that is not let in."""
    return render_template("refused.html", why=why), 403
