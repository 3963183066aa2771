"""Tables in by choosing a file, and out as a file that any spreadsheet opens."""

from __future__ import annotations

import hashlib
import io
import tempfile
from dataclasses import dataclass, replace
from pathlib import Path, PurePath

from flask import (
    Blueprint,
    abort,
    current_app,
    redirect,
    render_template,
    request,
    send_file,
    url_for,
)
from flask.typing import ResponseReturnValue

from sheetcut.drawer import (
    Part,
    SourceFile,
    Store,
    csv_bytes,
    differences,
    drawer_rows,
    order_rows,
    take_in,
)
from sheetcut.errors import SheetcutError
from sheetcut.job import Job
from sheetcut.page.changing import changing
from sheetcut.page.studio import clock, desk
from sheetcut.read import orders_in, settings_in, sheets_in

place = Blueprint("exchange", __name__, url_prefix="/exchange")

ENDINGS = (".csv", ".xlsx")
LONGEST_NAME = 80


class NoTable(SheetcutError):
    """A file was chosen that is no table by its name, or none was."""

    def __init__(self, name: str) -> None:
        self.name = name
        found = f'"{name}" ends in neither .csv nor .xlsx' if name else "no file was chosen"
        super().__init__(f"{found}; choose a table that a spreadsheet saved")


@dataclass(frozen=True, slots=True)
class Chosen:
    """A table that was chosen and is not brought in yet."""

    table: str
    name: str
    data: bytes

    @property
    def source(self) -> SourceFile:
        """What it counts as once it is brought in."""
        return SourceFile(f"{self.name} (chosen)", hashlib.sha256(self.data).hexdigest())

    @property
    def part(self) -> Part:
        """The part of the studio that it has."""
        return "orders" if self.table == "orders" else "sheets"

    def job(self, store: Store) -> Job:
        """Return what is kept, with this table in its place."""
        settings, job = settings_in(desk().folder), store.recorded()
        with tempfile.TemporaryDirectory(prefix="sheetcut-") as scratch:
            # Only the ending is taken from the name that came with it.
            path = Path(scratch) / f"{self.table}{PurePath(self.name).suffix.lower()}"
            path.write_bytes(self.data)
            if self.table == "orders":
                return replace(job, pieces=orders_in(path, settings, job.sheets)[0])
            return replace(job, sheets=sheets_in(path, settings)[0])


@place.post("/choose")
def choose() -> ResponseReturnValue:
    """Take a file in hand; nothing is brought in before its differences were seen."""
    table, file = request.form.get("table", ""), request.files.get("file")
    name = PurePath((file.filename or "").replace("\\", "/")).name if file else ""
    if table not in ("orders", "drawer"):
        abort(400)
    if file is None or PurePath(name).suffix.lower() not in ENDINGS:
        raise NoTable(name)
    current_app.extensions["chosen"] = Chosen(table, name[-LONGEST_NAME:], file.read())
    return redirect(url_for("exchange.show"), 303)


@place.get("/chosen")
def show() -> ResponseReturnValue:
    """Show what the chosen file would change."""
    chosen = _in_hand()
    if chosen is None:
        return redirect(url_for("drawer.show"))
    with desk().store() as store:
        found = differences(store, chosen.job(store), {chosen.part: chosen.source})
    return render_template(
        "bring_in.html",
        heading=f"What {chosen.name} would change",
        found=found,
        seen=chosen.source.hash,
        is_kept=True,
        newer=(),
        action=url_for("exchange.take"),
        leave=url_for(f"{chosen.table}.show"),
    )


@place.post("/chosen")
def take() -> ResponseReturnValue:
    """Bring in the chosen file, if it is the one that was shown."""
    chosen = _in_hand()
    if chosen is None or request.form.get("seen") != chosen.source.hash:
        desk().tell("Another file was chosen since; look at what it would change.")
        return redirect(url_for("exchange.show"), 303)
    with changing() as store:
        applied = take_in(store, chosen.job(store), {chosen.part: chosen.source}, now=clock())
    current_app.extensions.pop("chosen", None)
    changed = len({(one.what, one.name) for one in applied if one.kind != "stays"})
    desk().tell(f"Brought in {chosen.name}; rows changed: {changed}. The diary can take it back.")
    return redirect(url_for(f"{chosen.table}.show"), 303)


@place.get("/<any(drawer, orders):table>.csv")
def give(table: str) -> ResponseReturnValue:
    """Give a table as a file; brought in again as it is, it changes nothing."""
    with desk().store() as store, store.reading() as rows:
        data = csv_bytes(drawer_rows(rows) if table == "drawer" else order_rows(rows))
    return send_file(io.BytesIO(data), "text/csv", as_attachment=True, download_name=f"{table}.csv")


def _in_hand() -> Chosen | None:
    """Return the file that was chosen last and is not brought in."""
    found: Chosen | None = current_app.extensions.get("chosen")
    return found
