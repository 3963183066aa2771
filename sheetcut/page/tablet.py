"""The computer's own page about tablets: where they open the studio, and with which code."""

from __future__ import annotations

from flask import Blueprint, abort, current_app, redirect, render_template, url_for
from flask.typing import ResponseReturnValue

from sheetcut.page.door import Door, is_this_machine
from sheetcut.page.pairing import Pairing
from sheetcut.page.studio import desk

place = Blueprint("tablet", __name__, url_prefix="/tablet")


@place.get("")
def show() -> ResponseReturnValue:
    """Show the address and the code."""
    pairing = _pairing()
    return render_template("tablet.html", pairing=pairing, code=spaced(pairing.code))


@place.post("/new")
def renew() -> ResponseReturnValue:
    """Show a new code."""
    _pairing().renew()
    return redirect(url_for("tablet.show"), 303)


@place.post("/forget")
def forget() -> ResponseReturnValue:
    """Let no tablet in that was let in before."""
    _pairing().forget()
    desk().tell("No tablet is let in any more.")
    return redirect(url_for("tablet.show"), 303)


def spaced(code: str) -> str:
    """Return a code as it is read out.

    >>> spaced("482913")
    '482 913'
    """
    return f"{code[:3]} {code[3:]}".strip()


def _pairing() -> Pairing:
    """Return what lets tablets in; only this machine may see it, and only where it is served."""
    door: Door = current_app.extensions["door"]
    if door.pairing is None or not is_this_machine(door):
        abort(404)
    return door.pairing
