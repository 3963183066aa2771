"""The page's application: one studio, its places, and a door that every request passes."""

from __future__ import annotations

from pathlib import Path
from threading import Event, Lock

from flask import Flask, g, render_template, request
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import HTTPException

from sheetcut.errors import FaultsFound, ProblemsFound, SheetcutError, SystemRefused
from sheetcut.page.begin import offer
from sheetcut.page.begin import place as begin
from sheetcut.page.closing import place as closing
from sheetcut.page.diary import place as diary
from sheetcut.page.door import Door, guard, is_this_machine
from sheetcut.page.drawer import place as drawer
from sheetcut.page.edition import place as edition
from sheetcut.page.exchange import place as exchange
from sheetcut.page.mat import place as mat
from sheetcut.page.orders import place as orders
from sheetcut.page.plan import place as plan
from sheetcut.page.planner import Planner
from sheetcut.page.quote import place as quote
from sheetcut.page.settings import place as settings
from sheetcut.page.studio import Desk, NothingYet
from sheetcut.page.tablet import place as tablet

PLACES = (
    ("plan.show", "Plan"),
    ("mat.show", "At the mat"),
    ("drawer.show", "Drawer"),
    ("orders.show", "Orders"),
    ("quote.show", "Quote"),
    ("edition.show", "Edition"),
    ("diary.show", "Diary"),
    ("settings.show", "Studio"),
)

BLUEPRINTS = (
    begin,
    plan,
    mat,
    drawer,
    orders,
    quote,
    edition,
    diary,
    exchange,
    settings,
    tablet,
    closing,
)


def create_app(folder: Path, door: Door) -> Flask:
    """Return the page of a studio's folder."""
    app = Flask(__name__)
    folder = folder.absolute()
    app.extensions["planner"] = Planner(folder)
    app.extensions["desk"] = Desk(folder)
    app.extensions["changing"] = Lock()
    app.extensions["closed"] = Event()
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    guard(app, door)
    for place in BLUEPRINTS:
        app.register_blueprint(place)

    @app.context_processor
    def around() -> dict[str, object]:
        desk: Desk = app.extensions["desk"]
        return {
            "places": PLACES,
            "studio": desk.name(),
            "is_this_machine": is_this_machine(door),
            "has_tablet": door.pairing is not None,
            "said": desk.told() if request.method == "GET" and g.get("is_in") else (),
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
            found = "The newest plan has faults; move it away from the folder out, and plan again:"
            lines = [found, *map(str, error.faults)]
        return render_template("sentence.html", lines=lines), 409

    @app.errorhandler(OSError)
    def not_let(error: OSError) -> ResponseReturnValue:
        return in_words(SystemRefused(error))

    @app.errorhandler(HTTPException)
    def not_so(error: HTTPException) -> ResponseReturnValue:
        words = {
            404: "There is no such page here; choose one of the places above.",
            405: "That is done with a button, not by an address; go back and use the button.",
            413: "That is larger than any studio's table, and was not read; choose a smaller file.",
        }
        said = words.get(
            error.code or 0,
            "That could not be understood, and nothing was changed; go back and try again.",
        )
        return render_template("sentence.html", lines=[said]), error.code or 400

    return app
