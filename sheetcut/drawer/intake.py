"""Taking in what files say: the differences first, then those and nothing else.

A file is compared with the store and with itself as it was when last brought in. What its
owner changed in it since is a difference; what only the store changed since (a cut took
sheets, say) is not, so an old spreadsheet never undoes what was done at the mat.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Literal

from sheetcut.drawer.difference import Difference, Fate, told, told_staying
from sheetcut.drawer.history import Change
from sheetcut.drawer.lines import drop_line
from sheetcut.drawer.reading import Rows
from sheetcut.drawer.rows import Row, line_row, paper_row, setting_rows, sheet_of, sheet_row
from sheetcut.drawer.sheets import alter_sheet, drop_sheet, put_sheet
from sheetcut.drawer.store import Store
from sheetcut.job import Job

Part = Literal["sheets", "orders", "settings"]
PARTS: tuple[Part, ...] = ("settings", "sheets", "orders")
STUDIO_FILES: Mapping[str, Part] = {
    "orders.csv": "orders",
    "orders.xlsx": "orders",
    "drawer.csv": "sheets",
    "drawer.xlsx": "sheets",
    "studio.toml": "settings",
}

_TABLES: Mapping[Part, tuple[str, ...]] = {
    "settings": ("setting", "paper"),
    "sheets": ("sheet",),
    "orders": ("order_line",),
}


@dataclass(frozen=True, slots=True)
class SourceFile:
    """A file that a part of a job came from: its name in the studio, and its SHA-256."""

    name: str
    hash: str

    @classmethod
    def of(cls, path: Path) -> SourceFile:
        """Return a file as it is now."""
        return cls(path.name, hashlib.sha256(path.read_bytes()).hexdigest())


def differences(
    store: Store, job: Job, sources: Mapping[Part, SourceFile | None]
) -> tuple[Difference, ...]:
    """Return what taking in would change, and change nothing.

    Args:
        job: what the files say.
        sources: the parts of the job to look at, each with its file; None where there is none.
    """
    with store.reading() as rows:
        return tuple(one for part in _parts(sources) for one in _part(rows, job, part, sources))


def take_in(
    store: Store, job: Job, sources: Mapping[Part, SourceFile | None], *, now: datetime
) -> tuple[Difference, ...]:
    """Take in what files say, in one change, and return the differences that were applied.

    Where nothing differs there is no change, but the files count as brought in.
    """
    applied: list[Difference] = []
    with store.changing(now) as change:
        for part in _parts(sources):
            applied += _part(change, job, part, sources)
            _apply(change, job, part, sources[part])
        if not change.is_empty:
            for part in _parts(sources):
                _remember(change, job, part, sources[part])
            change.says = _says(applied, sources)
    if change.is_empty:
        for part in _parts(sources):
            source = sources[part]
            if source:
                store.note_quietly(_source_row(source, part, _wanted(job, part), change.now))
    return tuple(applied)


def note_written(store: Store, part: Part, source: SourceFile, *, now: datetime) -> None:
    """Note that a file was written out of the store, so that its later changes are known."""
    job = store.recorded()
    at = now.isoformat(timespec="seconds")
    store.note_quietly(_source_row(source, part, _wanted(job, part), at))


def newer_files(store: Store, folder: Path) -> tuple[str, ...]:
    """Return the names of a studio's files that say something not brought in yet.

    Capitals in a name do not matter, as they do not where the files are read.
    """
    with store.reading() as rows:
        known = {row["name"]: row["hash"] for row in rows.all("source")}
    rank = {name: place for place, name in enumerate(STUDIO_FILES)}
    there = [path for path in sorted(folder.iterdir()) if path.name.casefold() in rank]
    there.sort(key=lambda path: rank[path.name.casefold()])
    return tuple(
        path.name
        for path in there
        if path.is_file() and SourceFile.of(path).hash != known.get(path.name)
    )


def _parts(sources: Mapping[Part, SourceFile | None]) -> tuple[Part, ...]:
    return tuple(part for part in PARTS if part in sources)


Wanted = dict[str, dict[str, Row]]
"""For each table, the rows that a file asks for, by name."""


def _wanted(job: Job, part: Part) -> Wanted:
    if part == "sheets":
        return {"sheet": {sheet.id: sheet_row(sheet) for sheet in job.sheets}}
    if part == "orders":
        return {"order_line": {piece.order: line_row(piece) for piece in job.pieces}}
    return {
        "setting": {row["name"]: row for row in setting_rows(job)},
        "paper": {paper.name: paper_row(paper) for paper in job.papers},
    }


def _fates(rows: Rows, table: str, wanted: dict[str, Row], last: dict[str, Row]) -> Iterator[Fate]:
    present = {row["name"]: row for row in rows.all(table)}
    for name, want in wanted.items():
        if name not in present:
            # A row as it was last brought in, and gone since: it was used up or taken out here.
            yield Fate("stays" if last.get(name) == want else "added", name, {}, want)
            continue
        row, before = present[name], last.get(name, {})
        differs = {column: value for column, value in want.items() if value != row[column]}
        old = {column for column in differs if column in before and before[column] == want[column]}
        for kind, columns in (("changed", differs.keys() - old), ("stays", old)):
            values = {column: differs[column] for column in differs if column in columns}
            if values:
                yield Fate(kind, name, row, values)  # type: ignore[arg-type]
    for name, row in present.items():
        if name in last and name not in wanted:
            in_work = table == "order_line" and bool(rows.all("blank", line=row["id"]))
            yield Fate("stays" if in_work else "removed", name, row, {})


def _last(rows: Rows, source: SourceFile | None) -> Wanted:
    """Return what a file said when it was last brought in; nothing if it never was."""
    row = rows.one("source", name=source.name) if source else None
    return dict(json.loads(row["typed"])) if row else {}


def _part(
    rows: Rows, job: Job, part: Part, sources: Mapping[Part, SourceFile | None]
) -> Iterator[Difference]:
    source = sources[part]
    last = _last(rows, source)
    was_seen = source is not None and bool(rows.one("source", name=source.name, hash=source.hash))
    for table, wanted in _wanted(job, part).items():
        for fate in _fates(rows, table, wanted, last.get(table, {})):
            if fate.kind != "stays":
                yield from told(table, fate, last.get(table, {}).get(fate.name, {}))
            elif not was_seen:
                yield from told_staying(table, fate)


def _apply(change: Change, job: Job, part: Part, source: SourceFile | None) -> None:
    last = _last(change, source)
    for table, wanted in _wanted(job, part).items():
        for fate in list(_fates(change, table, wanted, last.get(table, {}))):
            _apply_one(change, table, fate)


def _apply_one(change: Change, table: str, fate: Fate) -> None:
    if fate.kind == "stays":
        return
    if table == "sheet" and fate.kind == "added":
        put_sheet(change, sheet_of(fate.values))
    elif table == "sheet" and fate.kind == "changed":
        alter_sheet(change, fate.row, fate.values)
    elif table == "sheet":
        drop_sheet(change, fate.row)
    elif fate.kind == "added":
        change.add(table, fate.values)
    elif fate.kind == "changed":
        change.alter(table, fate.row["id"], fate.values)
    elif table == "order_line":
        drop_line(change, fate.row)
    else:
        change.remove(table, fate.row["id"])


def _remember(change: Change, job: Job, part: Part, source: SourceFile | None) -> None:
    if source is None:
        return
    values = _source_row(source, part, _wanted(job, part), change.now)
    row = change.one("source", name=source.name)
    if row:
        change.alter("source", row["id"], values)
    else:
        change.add("source", values)


def _source_row(source: SourceFile, part: Part, wanted: Wanted, at: str) -> dict[str, Any]:
    return {
        "name": source.name,
        "part": part,
        "hash": source.hash,
        "at": at,
        "typed": json.dumps(wanted, ensure_ascii=False),
    }


def _says(applied: Sequence[Difference], sources: Mapping[Part, SourceFile | None]) -> str:
    files = [source.name for part in _parts(sources) if (source := sources[part])]
    counts = [
        f"{n} {kind}"
        for kind in ("added", "changed", "removed")
        if (n := len({(one.what, one.name) for one in applied if one.kind == kind}))
    ]
    return f"Brought in {_and(files) or 'a job'}: {', '.join(counts) or 'nothing new'}"


def _and(words: Iterable[str]) -> str:
    *most, last = [*words] or [""]
    return f"{', '.join(most)} and {last}" if most else last
