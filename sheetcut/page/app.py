"""The page's application: one studio, its places, and a door that every request passes."""

from __future__ import annotations

from pathlib import Path
from threading import Lock

from flask import Flask, render_template, request
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import HTTPException

from sheetcut.errors import FaultsFound, ProblemsFound, SheetcutError
from sheetcut.page.begin import offer
from sheetcut.page.begin import place as begin
from sheetcut.page.diary import place as diary
from sheetcut.page.door import Door, guard
from sheetcut.page.drawer import place as drawer
from sheetcut.page.exchange import place as exchange
from sheetcut.page.mat import place as mat
from sheetcut.page.orders import place as orders
from sheetcut.page.plan import place as plan
from sheetcut.page.planner import Planner
from sheetcut.page.quote import place as quote
from sheetcut.page.settings import place as settings
from sheetcut.page.studio import Desk, NothingYet

PLACES = (
    ("plan.show", "Plan"),
    ("mat.show", "At the mat"),
    ("drawer.show", "Drawer"),
    ("orders.show", "Orders"),
    ("quote.show", "Quote"),
    ("diary.show", "Diary"),
    ("settings.show", "Studio"),
)


def create_app(folder: Path, door: Door) -> Flask:
    """Return the page of a studio's folder."""
    app = Flask(__name__)
    folder = folder.absolute()
    app.extensions["planner"] = Planner(folder)
    app.extensions["desk"] = Desk(folder)
    app.extensions["changing"] = Lock()
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    guard(app, door)
    for place in (begin, plan, mat, drawer, orders, quote, diary, exchange, settings):
        app.register_blueprint(place)

    @app.context_processor
    def around() -> dict[str, object]:
        desk: Desk = app.extensions["desk"]
        return {
            "places": PLACES,
            "studio": desk.name(),
            "said": desk.told() if request.method == "GET" else (),
        }

    @app.errorhandler(NothingYet)
    def nothing_yet(_error: NothingYet) -> ResponseReturnValue:
        return offer()

    @app.errorhandler(SheetcutError)
    def in_words(error: SheetcutError) -> ResponseReturnValue:
        lines = [str(error)]
        if isinstance(error, ProblemsFound):
            lines = [str(problem) for problem in error.problems]
        elif isinstance(error, FaultsFound):
            lines = [str(fault) for fault in error.faults]
        return render_template("sentence.html", lines=lines), 409

    @app.errorhandler(HTTPException)
    def not_so(error: HTTPException) -> ResponseReturnValue:
        words = {
            404: "There is no such page here.",
            405: "That is done with a button, not by an address.",
            413: "That is larger than any studio's table; nothing was read.",
        }
        said = words.get(error.code or 0, "That could not be understood; nothing was changed.")
        return render_template("sentence.html", lines=[said]), error.code or 400

    return app
