"""Forms for the rows of a table: added, corrected and taken out, none from a form overtaken."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Generic

from flask import redirect, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.drawer import Store
from sheetcut.drawer.refusals import LineInWork, NameTaken
from sheetcut.errors import ProblemsFound
from sheetcut.kept_tables import Cells, Kept, KeptTable
from sheetcut.page.changing import changing
from sheetcut.page.forms import both_versions, by_field, is_overtaken, typed_cells
from sheetcut.page.studio import clock, desk


@dataclass(frozen=True, slots=True)
class RowForms(Generic[Kept]):
    """The forms of one place.

    Attributes:
        place: its name, as "orders".
        where: what a row of it is called in what is told, as "this line".
        page: shows the place; it is given what was typed and what is wrong with it.
        fill: fills in what was left open in a new row.
    """

    table: KeptTable[Kept]
    place: str
    where: str
    page: Callable[..., str]
    fill: Callable[[Store, Cells], Cells]

    def add(self) -> ResponseReturnValue:
        """Add a row."""
        typed = typed_cells(self.table.headings)
        with changing() as store:
            try:
                record = self._read(store, self.fill(store, typed))
                desk().tell(self.table.add(store, record, now=clock()))
            except (ProblemsFound, NameTaken) as error:
                return self.page(adding=typed, wrong=self._wrong(error)), 422
        return self._shown()

    def correct(self) -> ResponseReturnValue:
        """Give a row the values that were typed, unless it was changed elsewhere meanwhile."""
        name, typed = request.form.get("line", ""), typed_cells(self.table.headings)
        with changing() as store:
            before = self.table.find(store, name)
            kept = self.table.row(before)
            if is_overtaken(kept):
                return both_versions(name, typed, kept, self.place), 409
            # What was not touched stays, also where a length for every edge is new.
            touched = {one: text for one, text in typed.items() if text != kept[one]}
            try:
                record = self._read(store, self.table.retyped(before, touched))
                if touched:
                    desk().tell(self.table.give(store, name, record, touched, now=clock()))
            except (ProblemsFound, NameTaken) as error:
                wrong = self._wrong(error)
                return self.page(opened=name, correcting=typed, wrong=wrong), 422
        return self._shown()

    def remove(self) -> ResponseReturnValue:
        """Take a row out, unless it was changed elsewhere meanwhile."""
        name = request.form.get("line", "")
        with changing() as store:
            kept = self.table.row(self.table.find(store, name))
            if is_overtaken(kept):
                return both_versions(name, {}, kept, self.place), 409
            try:
                desk().tell(self.table.remove(store, name, now=clock()))
            except LineInWork as error:
                return self.page(opened=name, wrong={"": [str(error)]}), 409
        return self._shown()

    def _read(self, store: Store, typed: Mapping[str, str]) -> Kept:
        settings = desk().present().settings
        record, notes = self.table.typed(store, typed, settings, where=self.where)
        desk().tell(*(note.removeprefix(f"{self.where}: ") for note in notes))
        return record

    def _wrong(self, error: ProblemsFound | NameTaken) -> dict[str, list[str]]:
        return by_field(error, self.table.headings)

    def _shown(self) -> ResponseReturnValue:
        return redirect(url_for(f"{self.place}.show"), 303)


def as_typed(_store: Store, typed: Cells) -> Cells:
    """Return a new row as it was typed."""
    return typed
