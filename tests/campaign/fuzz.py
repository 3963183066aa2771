"""Spoils everything a person can hand over, and watches that it is read or refused in words.

Each case comes from a number alone, so that it can be made again. A case may take so much
processor time; whatever else than a refusal comes out is told. ``watched`` holds the memory.
"""

from __future__ import annotations

import io
import json
import random
import resource
import shutil
import signal
import tempfile
import traceback
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import openpyxl

from sheetcut.check import faults_in
from sheetcut.document import disagreements, plan_bytes, read_plan
from sheetcut.errors import SheetcutError
from sheetcut.layout import Plan
from sheetcut.nest import compiled
from sheetcut.plan import make_plan
from sheetcut.read import (
    read_count,
    read_length,
    read_money,
    read_size,
    read_studio,
    read_words,
)
from sheetcut.read.dates import read_day
from tests.campaign import laws
from tests.page.conftest import DEMO, FILES, let_in

MOST_S = 2.0

WORDS = """
0 1 -1 7 1e3 1e999 1e-999 9999999999999999999999 0.1 .5 5. 1,000 1.000,5 1'000 1_000 ½ ⅞ 8½ 81/2
8-1/2 1/0 0/0 1/64 22 1/8 mm cm in ft " '' ' ″ ′ x × X by * A4 a4 A11 Imperial imperial - – — + =
=1+1 @x #REF! nan inf -inf NaN Infinity None null true false ; : , . | \\ / % & < > ( ) [ ] { } `
~ ^ $ £ € ? ! 05-Aug 2026-12-03 31/12/2026 0000-00-00 45000 all none left right top foot yes no
alike grain up across along width height not known both one full offcut drawing print card 5 for
76.00 20+ at 13.90 packs ١٢٣ １２３ ² ³ ₂ Ⅷ 五 ๕ ß İ ı ﬁ é
"""
UNSEEN = ("", " ", "\n", "e\u0301", "\u200b", "\u202e", "\ufeff", "\u00a0", "\u2028")
TOKENS = (*WORDS.split(), *UNSEEN, "\U0001f600", "\0", "\x07", "\x1b[31m", "\ud7ff")
NUMBERS: tuple[Any, ...] = (
    0, -1, 1, 2, 3, 10**9, -(10**9), 2**31, 2**63, 2**64, 10**24, 10**30, 0.5, 0.1, 0.000125, 1e-9,
    1e300, -0.0, 1e308, None, True, "", "x", [], {}, "1e999",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Target:
    """Something that reads what people hand over.

    Attributes:
        make: the case of a number.
        run: reads it; a refusal in words is no failure.
        most_s: the processor time it may take.
    """

    name: str
    make: Callable[[random.Random], Any]
    run: Callable[[Any], None]
    most_s: float = MOST_S


class TooLong(BaseException):
    """A case took more processor time than it may; no handler of errors may catch it."""


def failure(target: Target, number: int) -> str | None:
    """Return what one case showed, or None if it was read or refused as it should be."""
    case = target.make(random.Random(f"{target.name} {number}"))
    try:
        with limited(target.most_s):
            target.run(case)
    except SheetcutError as error:
        return unfit_words(str(error))
    except TooLong:
        return f"took more than {target.most_s:g} s"
    except Exception:
        return traceback.format_exc()
    return None


def unfit_words(words: str) -> str | None:
    """Return why a message is none for people, or None."""
    plain = words.replace("\n", " ")
    if not plain.strip() or not plain.isprintable():
        return f"a message that cannot be shown: {plain[:200]!r}"
    if max(map(len, words.split("\n"))) > 1_000:
        return f"a message of {len(words)} characters: {plain[:200]!r}"
    if any(sign in words for sign in ("Traceback", "<class", "object at 0x", "msgspec.")):
        return f"a message with our insides in it: {plain[:200]!r}"
    return None


@contextmanager
def limited(most_s: float) -> Iterator[None]:
    """Raise TooLong in whatever takes more processor time than it may."""

    def stop(*_: object) -> None:
        raise TooLong

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, most_s)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def make_ready() -> None:
    """Do once what no case should pay for: load the compiled loops, plan the week, open the page.

    A form was said to take 12 seconds: it was the first to need the loops, which were compiled
    in its time. In the program another process does that.
    """
    compiled.wait()
    _document()
    for name in ("orders.csv", "drawer.csv"):
        _workbook(name)
    _routes()


def memory_kb() -> int:
    """Return the most memory this process has had at any time."""
    status = Path("/proc/self/status")
    if not status.exists():
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    # Not by getrusage, which also counts what the process was before it became this program.
    return next(int(line.split()[1]) for line in status.read_text().splitlines() if "VmHWM" in line)


# What is spoiled, and how


def spoiled_bytes(chance: random.Random, data: bytes) -> bytes:
    """Return bytes with a few places changed, as a bad disk or a bad program would."""
    out = bytearray(data)
    for _ in range(chance.choice((1, 1, 2, 4, 12))):
        at = chance.randrange(len(out) + 1)
        how = chance.randrange(6)
        if how == 0 and at < len(out):
            out[at] ^= 1 << chance.randrange(8)
        elif how == 1:
            out[at:at] = chance.choice(TOKENS).encode("utf-8", "surrogatepass")
        elif how == 2:
            del out[at : at + chance.choice((1, 1, 2, 10, 100, 5000))]
        elif how == 3:
            there = chance.randrange(len(out) + 1)
            out[at:at] = out[there : there + chance.choice((1, 5, 50, 500))]
        elif how == 4:
            out[at : at + 1] = bytes([chance.randrange(256)])
        elif chance.random() < 0.02:
            out[at:at] = chance.choice((b"9", b'"', b",", b"\n", b"[", b" ")) * 100_000
    return bytes(out)


def spoiled_cells(chance: random.Random, data: bytes) -> bytes:
    """Return a CSV table with a few cells, rows or headings changed, still a table."""
    rows = [line.split(",") for line in data.decode().splitlines()]
    for _ in range(chance.choice((1, 2, 3, 8))):
        row = chance.choice(rows)
        how = chance.randrange(8)
        if how < 5 and row:
            row[chance.randrange(len(row))] = typed(chance)
        elif how == 5:
            rows.insert(chance.randrange(len(rows)), list(chance.choice(rows)))
        elif how == 6 and len(rows) > 2:
            rows.remove(row)
        elif row:
            del row[chance.randrange(len(row))]
    mark = chance.choice((",", ",", ",", ";", "\t"))
    text = chance.choice(("\n", "\n", "\r\n", "\r")).join(mark.join(row) for row in rows)
    coding = chance.choice(("utf-8", "utf-8", "utf-8-sig", "utf-16", "cp1252"))
    return text.encode(coding, "replace")


def typed(chance: random.Random) -> str:
    """Return what somebody might type into a cell or a field."""
    words = [chance.choice(TOKENS) for _ in range(chance.choice((0, 1, 1, 2, 3, 4, 9)))]
    text = chance.choice(("", " ", " ")).join(words)
    return text * chance.choice((1,) * 40 + (300,))


def spoiled_tree(chance: random.Random, data: bytes) -> bytes:
    """Return a JSON document with a few of its values changed, still JSON."""
    tree = json.loads(data)
    for _ in range(chance.choice((1, 1, 1, 2, 3))):
        _spoil_one(chance, tree)
    return json.dumps(tree).encode()


def _spoil_one(chance: random.Random, tree: Any) -> None:
    places = list(_places(tree))
    holder, key = chance.choice(places)
    value = holder[key]
    how = chance.randrange(7)
    if how == 0:
        holder[key] = chance.choice(NUMBERS)
    elif how == 1 and isinstance(value, int | float):
        holder[key] = chance.choice((value + 1, value - 1, -value, value * 2, value + 0.5))
    elif how == 2 and isinstance(value, list) and value:
        value.append(json.loads(json.dumps(chance.choice(value))))
    elif how == 3 and isinstance(value, list) and value:
        del value[chance.randrange(len(value))]
    elif how == 4 and isinstance(value, dict) and value:
        del value[chance.choice(list(value))]
    elif how == 5 and isinstance(value, list) and len(value) > 1:
        chance.shuffle(value)
    else:
        other, there = chance.choice(places)
        holder[key] = json.loads(json.dumps(other[there]))


def _places(tree: Any) -> Iterator[tuple[Any, Any]]:
    inside = tree.items() if isinstance(tree, dict) else enumerate(tree)
    for key, value in inside:
        yield tree, key
        if isinstance(value, dict | list):
            yield from _places(value)


# What reads it


@cache
def _file(name: str) -> bytes:
    return (DEMO / name).read_bytes()


@cache
def _workbook(name: str) -> bytes:
    book = openpyxl.Workbook()
    for line in _file(name).decode("utf-8-sig").splitlines():
        book.active.append(line.split(","))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@cache
def demo_plan() -> Plan:
    """Return the plan of the demo studio's week."""
    return make_plan(read_studio(DEMO).job, rounds=2_000, seconds=600, made=laws.MADE)


@cache
def _document() -> bytes:
    return plan_bytes(demo_plan())


def _lengths(text: str) -> None:
    for read in (read_length, read_size, read_count, read_money, read_day, read_words):
        try:
            read(text)
        except SheetcutError as error:
            if wrong := unfit_words(str(error)):
                raise AssertionError(f"{read.__name__}({text[:99]!r}): {wrong}") from None


def _studio(files: dict[str, bytes]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        for name, data in files.items():
            (Path(folder) / name).write_bytes(data)
        read_studio(Path(folder))


def _one_file(chance: random.Random, name: str, data: bytes) -> dict[str, bytes]:
    others = {"orders.csv", "drawer.csv", "studio.toml"} - {name, name.replace(".xlsx", ".csv")}
    return {name: data} | {other: _file(other) for other in sorted(others)}


def _table(chance: random.Random) -> dict[str, bytes]:
    name = chance.choice(("orders.csv", "drawer.csv"))
    spoil = chance.choice((spoiled_cells, spoiled_cells, spoiled_bytes))
    return _one_file(chance, name, spoil(chance, _file(name)))


def _settings(chance: random.Random) -> dict[str, bytes]:
    lines = _file("studio.toml").decode().splitlines()
    if chance.random() < 0.5:
        at = chance.randrange(len(lines))
        key = lines[at].partition("=")[0]
        quote = chance.choice(('"', "'", ""))
        lines[at] = f"{key}= {quote}{typed(chance)}{quote}"
        return _one_file(chance, "studio.toml", "\n".join(lines).encode("utf-8", "replace"))
    return _one_file(chance, "studio.toml", spoiled_bytes(chance, _file("studio.toml")))


def _book(chance: random.Random) -> dict[str, bytes]:
    name = chance.choice(("orders", "drawer"))
    data = _workbook(f"{name}.csv")
    if chance.random() < 0.3:
        return _one_file(chance, f"{name}.xlsx", spoiled_bytes(chance, data))
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        spoiled = chance.choice(old.namelist())
        for part in old.namelist():
            inside = old.read(part)
            new.writestr(part, spoiled_bytes(chance, inside) if part == spoiled else inside)
    return _one_file(chance, f"{name}.xlsx", out.getvalue())


def _plan_document(chance: random.Random) -> bytes:
    return chance.choice((spoiled_tree, spoiled_tree, spoiled_bytes))(chance, _document())


def _certificate(chance: random.Random) -> bytes:
    tree = json.loads(_document())
    paper = chance.choice([one for one in tree["papers"] if one["bound"]["certificate"]])
    for _ in range(chance.choice((1, 1, 2, 3))):
        _spoil_one(chance, paper["bound"])
    return json.dumps(tree).encode()


def check_document(data: bytes) -> None:
    """Check a plan document as the command does; one that passes must keep every law.

    Raises:
        AssertionError: if it passes and breaks one.
    """
    plan = read_plan(data)
    if faults_in(plan) or disagreements(data, plan):
        return
    broken = [f"{law.__name__}: {found}" for law in laws.LAWS for found in law(plan)]
    if broken:
        raise AssertionError(f"passed its check, and {broken[:3]}")


class _Page:
    """A browser in a studio of its own, made anew after so many forms."""

    def __init__(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.left = 0

    def send(self, case: tuple[str, dict[str, str], list[str]]) -> None:
        path, fields, sent = case
        if self.left == 0:
            self._begin()
        self.left -= 1
        if not sent:
            answer = self.browsing.client.get(
                path, base_url="http://127.0.0.1:8765", query_string=fields
            )
        else:
            answer = self.browsing.post(path, **fields)
        if answer.status_code >= 500:
            raise AssertionError(f"{answer.status_code} for {path} {fields}")

    def _begin(self) -> None:
        shutil.rmtree(self.folder, ignore_errors=True)
        self.folder.mkdir()
        for name in FILES:
            shutil.copy(DEMO / name, self.folder / name)
        self.browsing = let_in(self.folder)
        self.browsing.client.application.config["PROPAGATE_EXCEPTIONS"] = True
        fields = self.browsing.form("/drawer/bring-in", "/drawer/bring-in")
        self.browsing.post("/drawer/bring-in", **fields)
        self.left = 200


@cache
def _page() -> _Page:
    return _Page()


@cache
def _routes() -> tuple[tuple[str, bool], ...]:
    """Return every address of the page that takes a form or a question, but those that plan."""
    page = _page()
    if page.left == 0:
        page._begin()
    rules = page.browsing.client.application.url_map.iter_rules()
    code = "ABCD"
    found = []
    for rule in sorted(rules, key=str):
        path = str(rule)
        if path.startswith(("/static", "/enter", "/close", "/plan/start", "/begin", "/tablet")):
            continue
        for piece, value in (("<code>", code), ("<any(undo, redo):way>", "undo")):
            path = path.replace(piece, value)
        path = path.replace("<any(drawer, orders):table>", "drawer").replace("<pages>", "pin-up")
        for name in ("number", "step", "blank", "sheet", "now"):
            path = path.replace(f"<int:{name}>", "1")
        if "<" not in path:
            found += [
                (path, method == "POST") for method in ("GET", "POST") if method in rule.methods
            ]
    return tuple(found)


FIELDS = (
    "order", "client", "piece", "paper", "kind", "size", "margin", "left", "right", "top", "foot",
    "count", "turn", "deckle", "due", "price", "note", "sheet", "edge-loss", "side", "grain",
    "on-hand", "packs", "version", "line", "stage", "spoiled", "kept", "stood", "entry", "layout",
    "copies", "hours", "number", "proofs", "spoilage", "certificate", "certificate-paper", "border",
    "name", "currency", "mat", "ruler", "step", "keep", "code", "studio", "longest", "table",
    "seen",
)  # fmt: skip


def _form(chance: random.Random) -> tuple[str, dict[str, str], list[str]]:
    path, is_post = chance.choice(_routes())
    names = chance.sample(FIELDS, chance.randint(1, 12))
    good = {"order": "D01", "sheet": "HP-IMP", "line": "D02", "paper": "Marram Rag", "size": "A4"}
    fields = {name: typed(chance) for name in names}
    for name, value in good.items():
        if chance.random() < 0.4:
            fields[name] = value
    return path, fields, ["post"] if is_post else []


TARGETS: tuple[Target, ...] = (
    Target("lengths", typed, _lengths),
    Target("tables", _table, _studio),
    Target("workbooks", _book, _studio),
    Target("settings", _settings, _studio),
    Target("documents", _plan_document, check_document),
    Target("certificates", _certificate, check_document),
    # A quote plans the week again, with and without the piece.
    Target("forms", _form, lambda case: _page().send(case), most_s=12.0),
)
