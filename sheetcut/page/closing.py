"""Closing the studio from its own page: who started it by a double click has no terminal to end."""

from __future__ import annotations

from threading import Timer

from flask import Blueprint, abort, current_app, render_template
from flask.typing import ResponseReturnValue

from sheetcut.page.door import Door, is_this_machine

place = Blueprint("closing", __name__)

ANSWERED_S = 0.4  # the goodbye is sent before the page ends


@place.post("/close")
def close() -> ResponseReturnValue:
    """End the page; a tablet does not."""
    door: Door = current_app.extensions["door"]
    if not is_this_machine(door):
        abort(404)
    Timer(ANSWERED_S, current_app.extensions["closed"].set).start()
    return render_template("closed.html")
