"""The place where a studio says how it works: all of studio.toml without opening the file."""

from __future__ import annotations

import difflib
import hashlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from flask import Blueprint, current_app, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.drawer import Difference, SourceFile, Store, differences, take_in, write_whole
from sheetcut.errors import Problem, ProblemsFound, SheetcutError
from sheetcut.job import EDGES, Job
from sheetcut.page.bringing_in import newer
from sheetcut.page.changing import changing
from sheetcut.page.settings_form import (
    KINDS,
    SECTIONS,
    SETTINGS,
    TABLES,
    Fields,
    Rows,
    Table,
    by_name,
    changes_of,
    field_of,
    fields_of,
    lacking,
)
from sheetcut.page.studio import Desk, clock, desk
from sheetcut.read import Settings
from sheetcut.read.folder import SETTINGS_FILE, bytes_of
from sheetcut.read.settings_out import rewritten, written_settings
from sheetcut.read.studio import read_settings
from sheetcut.read.tables import decoded

place = Blueprint("settings", __name__, url_prefix="/studio")

KEPT_COPIES = 30
MOST_ROWS = 200  # papers, or parcels


class SettingsNotWritten(SheetcutError):
    """The system does not let the settings be written."""

    def __init__(self, reason: str) -> None:
        self.reason = reason
        super().__init__(
            f"{SETTINGS_FILE}: it could not be written ({reason}) and stays as it was; see that "
            "you may write into its folder"
        )


@dataclass(frozen=True, slots=True)
class Meant:
    """What was typed, as the file would have it.

    Attributes:
        data: the file as it would be.
        settings: what it says then; None where something in it cannot be read.
        wrong: by field, what is wrong that was not wrong before.
        changes: a setting, as it was, as it would be.
    """

    data: bytes
    settings: Settings | None
    wrong: Mapping[str, list[str]]
    changes: tuple[tuple[str, str, str], ...]


@place.get("")
def show() -> ResponseReturnValue:
    """Show the settings as the file has them."""
    data = _data(desk())
    return _page(_fields(data), data)


@place.post("")
def again() -> ResponseReturnValue:
    """Show the form as it was typed, to go on typing."""
    return _page(_typed(), _data(desk()), version=request.form.get("version", ""))


@place.post("/look")
def look() -> ResponseReturnValue:
    """Show what would change in the file, and change nothing."""
    at, typed = desk(), _typed()
    data = _data(at)
    if request.form.get("version") != _version(data):
        return _both_versions(data, typed), 409
    meant = _meant(data, typed)
    if meant.wrong:
        return _page(typed, data, meant.wrong), 422
    if not meant.changes:
        at.tell("Nothing was typed otherwise than it stands.")
        return redirect(url_for("settings.show"), 303)
    return render_template(
        "studio_look.html",
        changes=meant.changes,
        lines=_lines(data, meant.data),
        also=_also(at, meant),
        hidden=_names(typed),
        version=_version(data),
    )


@place.post("/keep")
def keep() -> ResponseReturnValue:
    """Write what was shown into the file, and have plans go by it."""
    at, typed = desk(), _typed()
    with _writing(at) as store:
        data = _data(at)
        if request.form.get("version") != _version(data):
            return _both_versions(data, typed), 409
        meant = _meant(data, typed)
        if meant.wrong:
            return _page(typed, data, meant.wrong), 422
        try:
            _write(at.folder, data, meant.data)
        except OSError as error:
            raise SettingsNotWritten(error.strerror or str(error)) from error
        names = ", ".join(name for name, _, _ in meant.changes)
        at.tell(f"Written into {SETTINGS_FILE}: {names or 'nothing'}.")
        if store is not None:
            _take_in(at, store, meant.settings)
    return redirect(url_for("settings.show"), 303)


@contextmanager
def _writing(at: Desk) -> Iterator[Store | None]:
    """Keep every other page from writing; the store, where it is the truth, does so itself."""
    if at.is_kept():
        with changing() as store:
            yield store
    else:
        with current_app.extensions["changing"]:
            yield None


def _data(at: Desk) -> bytes:
    """Return the settings file as it is; nothing where there is none."""
    path = at.folder / SETTINGS_FILE
    return bytes_of(path) if path.exists() else b""


def _version(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:20]


def _fields(data: bytes) -> Fields:
    return fields_of(written_settings(SETTINGS_FILE, data), _papers(desk()))


def _papers(at: Desk) -> tuple[str, ...]:
    """Return the papers in the drawer; none where files cannot be read before they are mended."""
    if at.is_kept():
        with at.store() as store:
            sheets = store.recorded().sheets
    else:
        try:
            sheets = at.present().job.sheets
        except ProblemsFound:
            sheets = ()
    return tuple(dict.fromkeys(sheet.paper for sheet in sheets))


def _meant(data: bytes, typed: Fields) -> Meant:
    """Return what was typed as the file would have it; what was wrong in it before is let be."""
    shown = _fields(data)
    half = dict(lacking(typed))
    if half:
        return Meant(data, None, {name: [words] for name, words in half.items()}, ())
    after = rewritten(SETTINGS_FILE, data, changes_of(shown, typed))
    before = {(one.field, one.message) for one in _problems(data)[1]}
    settings, problems = _problems(after)
    fresh = [one for one in problems if (one.field, one.message) not in before]
    return Meant(
        after,
        None if problems else settings,
        by_name(fresh, typed),
        _changes(shown, typed) if after != data else (),
    )


def _problems(data: bytes) -> tuple[Settings, list[Problem]]:
    return read_settings(SETTINGS_FILE, data)


def _changes(shown: Fields, typed: Fields) -> tuple[tuple[str, str, str], ...]:
    before, after = shown.told(), typed.told()
    return tuple(
        (name, before.get(name, ""), text)
        for name, text in after.items()
        if text != before.get(name, "")
    )


def _write(folder: Path, before: bytes, after: bytes) -> None:
    """Write the file whole, and keep a copy of what it was."""
    path = folder / SETTINGS_FILE
    if before:
        copies = folder / "backups"
        copies.mkdir(exist_ok=True)
        stamp = clock().strftime("%Y-%m-%d-%H%M%S")
        write_whole(copies / f"{path.stem}-{stamp}{path.suffix}", before)
        for old in sorted(copies.glob(f"{path.stem}-*{path.suffix}"))[:-KEPT_COPIES]:
            old.unlink()
    write_whole(path.resolve(), after)


def _take_in(at: Desk, store: Store, settings: Settings | None) -> None:
    if settings is None:
        at.tell(f"{SETTINGS_FILE} still has something to put right; until then plans go as before.")
        return
    source = SourceFile.of(at.folder / SETTINGS_FILE)
    take_in(store, _job(store, settings), {"settings": source}, now=clock())


def _job(store: Store, settings: Settings) -> Job:
    """Return what is kept with these settings, papers as the drawer writes them."""
    job = store.recorded()
    names = {sheet.paper.casefold(): sheet.paper for sheet in job.sheets}
    papers = tuple(
        replace(paper, name=names.get(paper.name.casefold(), paper.name))
        for paper in settings.papers
    )
    return replace(
        job,
        rules=settings.rules,
        papers=papers,
        studio=settings.name,
        currency=settings.currency,
    )


def _also(at: Desk, meant: Meant) -> tuple[Difference, ...]:
    """Return what comes in besides: what was changed in the file by hand and not brought in yet."""
    if meant.settings is None or SETTINGS_FILE not in newer(at):
        return ()
    with at.store() as store:
        source = SourceFile(SETTINGS_FILE, hashlib.sha256(meant.data).hexdigest())
        return differences(store, _job(store, meant.settings), {"settings": source})


def _lines(before: bytes, after: bytes) -> list[tuple[str, str]]:
    """Return the lines of the file that change: a sign, and the line."""
    old, new = (decoded(SETTINGS_FILE, data)[0].splitlines() for data in (before, after))
    found = difflib.ndiff(old, new)
    return [(line[0], line[2:]) for line in found if line[0] in "+-"]


def _both_versions(data: bytes, typed: Fields) -> str:
    stands, yours = _fields(data).told(), typed.told()
    names = dict.fromkeys([*stands, *yours])
    return render_template(
        "studio_stale.html",
        rows=[
            (name, stands.get(name, ""), yours.get(name, ""))
            for name in names
            if stands.get(name, "") != yours.get(name, "")
        ],
        hidden=_names(typed),
        version=_version(data),
    )


def _page(
    fields: Fields,
    data: bytes,
    wrong: Mapping[str, list[str]] | None = None,
    *,
    version: str = "",
) -> str:
    at = desk()
    still = by_name(_problems(data)[1], fields) if wrong is None else {}
    return render_template(
        "studio.html",
        sections=SECTIONS,
        tables=TABLES,
        field_of=field_of,
        edges=EDGES,
        fields=fields,
        wrong=wrong or still,
        version=version or request.form.get("version") or _version(data),
        path=str(at.folder / SETTINGS_FILE),
        is_newer=SETTINGS_FILE in newer(at),
    )


def _typed() -> Fields:
    """Return the form as it was typed."""

    def text(name: str) -> str:
        typed = request.form.get(name, "").replace("\r\n", "\n")
        return "\n".join(" ".join(line.split()) for line in typed.strip().split("\n"))

    def row(table: Table, place: object) -> tuple[str, ...]:
        return tuple(text(f"{table.kind}-{place}-{one.name}") for one in table.settings)

    def rows(table: Table) -> Rows:
        names = ((n, request.form.get(f"{table.kind}-{n}", "")) for n in range(MOST_ROWS))
        return {name: row(table, n) for n, name in names if name}

    return Fields(
        plain={name: text(name) for name in SETTINGS},
        margins={kind: tuple(text(f"margin-{kind}-{edge}") for edge in EDGES) for kind in KINDS},
        tables={table.kind: rows(table) for table in TABLES},
        new={table.kind: (text(f"{table.kind}-new"), *row(table, "new")) for table in TABLES},
    )


def _names(fields: Fields) -> dict[str, str]:
    """Return each field's text by its name in the form."""
    hidden: dict[str, str] = dict(fields.plain)
    for kind, lengths in fields.margins.items():
        hidden |= {f"margin-{kind}-{e}": one for e, one in zip(EDGES, lengths, strict=True)}
    for table in TABLES:
        rows = [(str(n), name, texts) for n, (name, texts) in
                enumerate(fields.tables[table.kind].items())]  # fmt: skip
        new, *texts = fields.new[table.kind]
        for place, name, values in [*rows, ("new", new, tuple(texts))]:
            hidden[f"{table.kind}-{place}"] = name
            for one, value in zip(table.settings, values, strict=True):
                hidden[f"{table.kind}-{place}-{one.name}"] = value
    return hidden
