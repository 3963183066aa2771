"""Paper that has come: booked into the drawer, also where it measures otherwise."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import TypeVar

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.drawer import Store, in_drawer, receive
from sheetcut.drawer.refusals import NotThere, WrongAmount
from sheetcut.page.changing import changing, version_of
from sheetcut.page.studio import clock, desk
from sheetcut.read import Refused, read_money, read_number, read_size, read_words

place = Blueprint("arrivals", __name__, url_prefix="/arrived")

T = TypeVar("T")

FIELDS = ("sheet", "number", "paid", "measured", "batch")


@place.get("")
def show() -> ResponseReturnValue:
    """Show the form, filled in as the plan's list of what to buy asks."""
    return _page({name: request.args.get(name, "") for name in FIELDS})


@place.post("")
def book() -> ResponseReturnValue:
    """Book sheets in, unless the drawer has changed since the form was shown."""
    typed = {name: request.form.get(name, "").strip() for name in FIELDS}
    present = desk().present()
    wrong: dict[str, str] = {}

    def read(name: str, reader: Callable[[str], T], default: T) -> T:
        try:
            return reader(typed[name]) if typed[name] else default
        except Refused as refused:
            wrong[name] = str(refused)
            return default

    number = read("number", partial(read_number, what="sheets"), 0)
    paid = read("paid", partial(read_money, currency=present.job.currency), None)
    size = read("measured", partial(read_size, unit=present.settings.unit), None)
    batch = read("batch", read_words, "")
    if not number and not wrong:
        wrong["number"] = "nothing is written; write how many sheets have come"
    if wrong:
        return _page(typed, wrong), 422
    with changing() as store:
        if request.form.get("version") != _version(store):
            return _overtaken(store, typed), 409
        try:
            said = receive(
                store,
                typed["sheet"],
                number,
                now=clock(),
                paid=paid,
                measured=(size.width, size.height) if size else None,
                batch=batch,
            )
        except (NotThere, WrongAmount) as error:
            return _page(typed, {"sheet": str(error)}), 422
    desk().tell(said)
    return redirect(url_for("drawer.show"), 303)


def _version(store: Store) -> str:
    return version_of([f"{one.sheet.id} {one.sheet.on_hand}" for one in in_drawer(store)])


def _overtaken(store: Store, typed: Mapping[str, str]) -> str:
    now = next((s.on_hand for s in store.recorded().sheets if s.id == typed["sheet"]), None)
    return render_template(
        "stale.html",
        name="The drawer",
        place="plan.arrivals",
        rows=[
            (typed["sheet"], f"{'any' if now is None else now} on hand", f"{typed['number']} more")
        ],
        typed={},
        version="",
    )


def _page(typed: Mapping[str, str], wrong: Mapping[str, str] | None = None) -> str:
    with desk().store() as store:
        counted = [one.sheet for one in in_drawer(store) if one.sheet.on_hand is not None]
        found = [sheet for sheet in counted if sheet.kind == "full"]
        version = _version(store)
    return render_template(
        "arrived.html", sheets=found, typed=typed, wrong=wrong or {}, version=version
    )
