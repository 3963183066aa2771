"""The place where all that was done stands, day by day, is taken back, and is added up by month."""

from __future__ import annotations

import io
from itertools import groupby

from flask import Blueprint, redirect, render_template, request, send_file, url_for
from flask.typing import ResponseReturnValue

from sheetcut.drawer import Entry, Figures, Store, figures
from sheetcut.drawer.reading import Rows
from sheetcut.drawer.tables import money_text
from sheetcut.page.changing import changing
from sheetcut.page.inline import inline
from sheetcut.page.studio import clock, desk
from sheetcut.printout import day
from sheetcut.printout.chart import figures_chart
from sheetcut.units import Area, in_mm2

place = Blueprint("diary", __name__, url_prefix="/diary")

HEADINGS = (
    "month", "paper", "bought", "m²", "spent", "used", "m²", "paper cost",
    "finished m²", "margins m²", "scrap m²",
)  # fmt: skip


@place.get("")
def show() -> ResponseReturnValue:
    """Show the diary, newest first."""
    return _page()


@place.get("/figures")
def by_month() -> ResponseReturnValue:
    """Show what was bought, used and wasted of each paper, month by month."""
    at = desk()
    at.present()
    with at.store() as store:
        found, studio = _told(store), store.recorded().studio
    return render_template(
        "figures.html",
        headings=HEADINGS,
        rows=[_row(one) for one in found],
        svg=inline(figures_chart(found, studio)),
    )


@place.get("/figures.svg")
def chart() -> ResponseReturnValue:
    """Give the chart as a file."""
    with desk().store() as store:
        data = figures_chart(_told(store), store.recorded().studio).encode()
    name = "paper-by-month.svg"
    return send_file(io.BytesIO(data), "image/svg+xml", as_attachment=True, download_name=name)


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


def _told(store: Store) -> list[Figures]:
    """Return the figures of months and papers in which anything was bought, used or wasted."""
    return [one for one in figures(store) if one.bought or one.used or one.wasted]


def _row(one: Figures) -> tuple[str, ...]:
    return (
        one.month,
        one.paper,
        str(one.bought),
        _square_metres(one.bought_area),
        money_text(one.spent),
        str(one.used),
        _square_metres(one.used_area),
        money_text(one.cost),
        *map(_square_metres, (one.finished, one.margins, one.wasted)),
    )


def _square_metres(area: Area) -> str:
    return f"{in_mm2(area) / 10**6:.3f}"


def _next(rows: Rows) -> tuple[int | None, int | None]:
    """Return the entries that undo and redo would speak of."""
    done, undone = rows.stacks()
    return (done[-1] if done else None), (undone[-1] if undone else None)


def _day(entry: Entry) -> str:
    return entry.at[:10]
