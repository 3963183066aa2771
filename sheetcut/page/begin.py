"""The first visit: a folder without a studio is given an empty one or the demo one."""

from __future__ import annotations

from importlib.resources import files

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.page.bringing_in import bring_in
from sheetcut.page.studio import desk
from sheetcut.read import write_blank_studio, write_studio

place = Blueprint("begin", __name__)

DEMO_FILES = ("orders.csv", "drawer.csv", "studio.toml")


@place.get("/")
def home() -> ResponseReturnValue:
    """Lead to where one begins."""
    return redirect(url_for("plan.show"))


def offer() -> ResponseReturnValue:
    """Return the choice of a studio to begin with."""
    return render_template("begin.html", folder=str(desk().folder))


@place.post("/begin")
def begin() -> ResponseReturnValue:
    """Write the studio that was chosen, and keep its stock from the first."""
    at = desk()
    if request.form.get("studio") == "demo":
        _write_demo()
        at.tell("This is the invented studio Tern Point. Try anything: nothing of it is real.")
    else:
        write_blank_studio(at.folder)
        at.tell(
            "One sheet, one offcut and two orders are examples: correct them, or take them out."
        )
    bring_in(at)
    return redirect(url_for("orders.show"), 303)


def _write_demo() -> None:
    demo = files("sheetcut.page") / "demo"
    write_studio(desk().folder, {name: (demo / name).read_bytes() for name in DEMO_FILES})
