"""Who is let in: only this machine, only whoever has the launch address, only from our own page."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, field

from flask import Flask, Response, g, redirect, render_template, request
from flask.typing import ResponseReturnValue

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
    """

    port: int
    token: str = field(default_factory=lambda: secrets.token_urlsafe(32), repr=False)
    pass_word: str = field(default_factory=lambda: secrets.token_urlsafe(32), repr=False)

    @property
    def cookie(self) -> str:
        """The cookie's name: cookies do not tell ports apart, so the name must."""
        return f"sheetcut-{self.port}"

    @property
    def hosts(self) -> tuple[str, ...]:
        """The hosts a request may be for."""
        return (f"127.0.0.1:{self.port}", f"localhost:{self.port}")

    @property
    def address(self) -> str:
        """The address that lets a browser in."""
        return f"http://127.0.0.1:{self.port}/enter/{self.token}"


def guard(app: Flask, door: Door) -> None:
    """Have every request pass the door, and every answer carry its headers."""
    app.config["MAX_CONTENT_LENGTH"] = LARGEST_UPLOAD
    app.config["MAX_FORM_PARTS"] = MOST_FIELDS

    @app.before_request
    def let_in() -> ResponseReturnValue | None:
        g.nonce = secrets.token_urlsafe(16)
        if request.host not in door.hosts:
            return refused("This page answers to this machine only.")
        if not _is_from_here():
            return refused("This was sent from another page, so nothing was done.")
        if request.endpoint in ("static", "enter"):
            return None
        shown = request.cookies.get(door.cookie, "")
        if not secrets.compare_digest(shown.encode(), door.pass_word.encode()):
            return refused("Open the page by the address that sheetcut showed when it started.")
        return None

    @app.get("/enter/<token>")
    def enter(token: str) -> ResponseReturnValue:
        if not secrets.compare_digest(token.encode(), door.token.encode()):
            return refused("That address is from another time; start sheetcut page again.")
        answer = redirect("/", 303)
        answer.set_cookie(door.cookie, door.pass_word, httponly=True, samesite="Strict", path="/")
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
