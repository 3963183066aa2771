"""The place where all that was done stands, day by day, and can be taken back."""

from __future__ import annotations

from itertools import groupby

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.drawer import Entry
from sheetcut.drawer.reading import Rows
from sheetcut.page.changing import changing
from sheetcut.page.studio import clock, desk
from sheetcut.printout import day

place = Blueprint("diary", __name__, url_prefix="/diary")


@place.get("")
def show() -> ResponseReturnValue:
    """Show the diary, newest first."""
    return _page()


@place.post("/<any(undo, redo):way>")
def step_back(way: str) -> ResponseReturnValue:
    """Take the latest change back, or do it again: only what the form named."""
    with changing() as store:
        with store.reading() as rows:
            meant = str(_next(rows)[way == "redo"] or "")
        if request.form.get("entry") != meant:
            desk().tell("Meanwhile something else was done; look at it first.")
            return redirect(url_for("diary.show"), 303)
        says = store.undo(now=clock()) if way == "undo" else store.redo(now=clock())
    desk().tell(says)
    return redirect(url_for("diary.show"), 303)


def _page() -> str:
    at = desk()
    at.present()
    if not at.is_kept():
        return render_template("diary.html", days=(), is_kept=False, back=None, again=None)
    with at.store() as store, store.reading() as rows:
        entries = rows.entries()
        back, again = _next(rows)
    by_number = {entry.number: entry for entry in entries}
    newest = list(reversed(entries))
    return render_template(
        "diary.html",
        is_kept=True,
        days=[(day(at_day), list(found)) for at_day, found in groupby(newest, key=_day)],
        back=by_number.get(back or 0),
        again=by_number.get(again or 0),
    )


def _next(rows: Rows) -> tuple[int | None, int | None]:
    """Return the entries that undo and redo would speak of."""
    done, undone = rows.stacks()
    return (done[-1] if done else None), (undone[-1] if undone else None)


def _day(entry: Entry) -> str:
    return entry.at[:10]
