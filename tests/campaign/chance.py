"""Jobs by chance over every rule of a drawer and its orders, one for each seed."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any, get_args

from sheetcut.errors import UnusableRecord
from sheetcut.job import (
    EDGES,
    Grain,
    Job,
    NarrowStrips,
    Pack,
    Paper,
    Piece,
    Preference,
    Rules,
    Sheet,
    SheetCorner,
    Turn,
)
from sheetcut.units import Edges, Length, inch, mm

PAPERS = ("Slatehouse Smooth", "Marram Rag", "Gullwing Laid")
STEPS = (None, None, None, mm(1), mm("0.5"), inch(1) // 16, inch(1) // 32, mm(2), mm(5))
STUDIOS = ("", "Tern Point", "Tern Point Drawing Room & Sons, of the long pier")
CURRENCIES = ("£", "€", "", "kr")
FIRST_DAY = date(2026, 11, 25)


def job_of(seed: int) -> Job:
    """Return the job that a seed stands for, the same on every machine.

    Raises:
        UnusableRecord: never; a record that cannot be is drawn again.
    """
    chance = random.Random(seed)
    papers = PAPERS[: chance.choices((1, 2, 3), (6, 3, 1))[0]]
    sheets = [
        _usable(_sheet, chance, f"{paper[:3]} {n}", paper)
        for paper in papers
        for n in range(chance.choices((1, 2, 3, 4), (4, 3, 2, 1))[0])
    ]
    most = chance.choices((1, 3, 6, 12), (4, 10, 6, 1))[0]
    pieces = [
        _usable(_piece, chance, f"line {n}", chance.choice(papers), sheets)
        for n in range(chance.randint(1, most))
    ]
    return Job(
        sheets=tuple(sheets),
        pieces=tuple(pieces),
        rules=_usable(_rules, chance),
        papers=tuple(_paper(chance, name) for name in papers if chance.random() < 0.4),
        studio=chance.choice(
            ("", "Tern Point", "Tern Point Drawing Room & Sons, of the long pier")
        ),
        currency=chance.choice(CURRENCIES),
    )


def _usable(draw: Any, *arguments: Any) -> Any:
    while True:
        try:
            return draw(*arguments)
        except UnusableRecord:
            continue


def _rules(chance: random.Random) -> Rules:
    short = chance.choice((20, 60, 100, 150, 300))
    return Rules(
        reading_step=chance.choice(STEPS),
        narrowest_strip=chance.choice((None, None, mm(5), mm(10), mm(20), mm(40))),
        keep_short=mm(short),
        keep_long=mm(short + chance.choice((0, 50, 400))),
        mat=chance.choice((None, None, (mm(300), mm(200)), (mm(900), mm(600)))),
        ruler=chance.choice((None, None, mm(300), mm(600), mm(1000))),
        printer_width=chance.choice((None, None, mm(100), mm(329), mm(610))),
        aim=chance.choice((None, None, None, "fewest sheets", "least cost")),
        preference=chance.choice(get_args(Preference)),
        narrow_strips=chance.choices(get_args(NarrowStrips), (9, 1))[0],
    )


def _paper(chance: random.Random, name: str) -> Paper:
    return Paper(
        name,
        grammage=chance.choice((None, 120, 300, 640, 1200)),
        passes=chance.choice((None, None, 1, 4)),
        aim=chance.choice((None, None, "fewest sheets", "least cost")),
    )


def _length(chance: random.Random, least: int, most: int) -> Length:
    """Return a length between two of mm, as a ruler, a scale or nobody would have it."""
    whole = chance.randint(least, most)
    return chance.choice(
        (
            mm(whole),
            mm(whole),
            mm(whole) // 10 * chance.randint(9, 11),
            inch(max(1, round(whole / 25.4 * 16))) // 16,
            inch(max(1, round(whole / 25.4 * 64))) // 64,
            mm(whole) + chance.choice((-1, 1, 3999, 4000, 4001)),
        )
    )


def _edges(chance: random.Random, most: int, often: float) -> Edges:
    if chance.random() > often:
        return Edges()
    if chance.random() < 0.4:
        return Edges(*[mm(chance.randint(0, most))] * 4)
    return Edges(*(chance.choice((0, _length(chance, 1, most))) for _ in EDGES))


def _sheet(chance: random.Random, name: str, paper: str) -> Sheet:
    shape = chance.random()
    if shape < 0.1:
        sides = [_length(chance, 15, 80), _length(chance, 500, 3000)]
    elif shape < 0.3:
        sides = [_length(chance, 40, 200), _length(chance, 40, 200)]
    else:
        sides = [_length(chance, 200, 800), _length(chance, 300, 1300)]
    chance.shuffle(sides)
    offcut = chance.random() < 0.3
    deckles = tuple(edge for edge in EDGES if chance.random() < 0.5) if _one_in(chance, 3) else ()
    return Sheet(
        id=name,
        paper=paper,
        width=sides[0],
        height=sides[1],
        on_hand=1 if offcut else chance.choice((None, None, None, 0, 1, 2, 5, 50)),
        price=None if _one_in(chance, 5) else chance.choice((0, 1, 480, 1520, 2980, 999_999)),
        edge_loss=_edges(chance, 12, 0.4),
        deckles=deckles,
        side=chance.choice(("one", "both")),
        grain=chance.choice(get_args(Grain)),
        packs=tuple(_packs(chance)) if _one_in(chance, 5) else (),
        kind="offcut" if offcut else "full",
        name=chance.choice(("", "", "Imperial", "A very long name for one size of sheet")),
        unit=chance.choice(("mm", "mm", "cm", "in")),
        leave=tuple(edge for edge in deckles if _one_in(chance, 3)),
        keep=tuple(edge for edge in deckles if _one_in(chance, 4)),
        watermark=chance.choice((None, None, *get_args(SheetCorner))),
    )


def _packs(chance: random.Random) -> list[Pack]:
    count = chance.randint(1, 25)
    return [Pack(count, count * chance.randint(1, 3000), or_more=_one_in(chance, 2))]


def _one_in(chance: random.Random, n: int) -> bool:
    return chance.randrange(n) == 0


def _piece(chance: random.Random, name: str, paper: str, sheets: Sequence[Sheet]) -> Piece:
    own = [sheet for sheet in sheets if sheet.paper == paper]
    sides = list(_sides(chance, own))
    if _one_in(chance, 2):
        sides.reverse()
    kind = chance.choices(("drawing", "print", "card"), (3, 1, 1))[0]
    keeps = _one_in(chance, 12)
    return Piece(
        order=name,
        label=chance.choice(("", "Ketch", "Ünïcode at the pier, a title that goes on", "קטש", "٣")),
        paper=paper,
        width=sides[0],
        height=sides[1],
        count=_count(chance, sides, own),
        turn=chance.choices(get_args(Turn), (4, 1, 1, 1, 1))[0],
        kind=kind,
        margin=_edges(chance, 20, 0.4),
        border=_edges(chance, 5, 0.5) if kind == "print" else Edges(),
        client=chance.choice(("", "Mrs Arden")),
        deckles=tuple(edge for edge in EDGES if _one_in(chance, 3)) if keeps else (),
        due=None if _one_in(chance, 2) else FIRST_DAY + timedelta(days=chance.randint(0, 9)),
        price=chance.choice((None, 0, 12_050)),
        unit=chance.choice(("mm", "in")),
    )


def _sides(chance: random.Random, own: Sequence[Sheet]) -> tuple[Length, Length]:
    shape = chance.random()
    if own and shape < 0.35:  # what divides a sheet, to a tick
        sheet = chance.choice(own)
        across, up = chance.choice((1, 1, 2, 3, 5, 7)), chance.choice((1, 1, 2, 3, 4))
        more = chance.choice((0, 0, 0, 0, -1, 1, mm(1), -mm(1)))
        return (
            max(1, sheet.usable_width // across + more),
            max(1, sheet.usable_height // up + chance.choice((0, more))),
        )
    if shape < 0.45:
        return _length(chance, 2, 20), _length(chance, 100, 2000)
    if shape < 0.5:
        return _length(chance, 1, 5), _length(chance, 1, 5)
    if shape < 0.75:
        return _length(chance, 20, 150), _length(chance, 20, 150)
    return _length(chance, 60, 500), _length(chance, 60, 500)


def _count(chance: random.Random, sides: Sequence[Length], own: Sequence[Sheet]) -> int:
    count = chance.choices((1, 2, 3, 4, 7, 25, 200, 2000), (8, 4, 3, 2, 2, 1, 0.2, 0.05))[0]
    area = max((sheet.area for sheet in own), default=0)
    # What a drawing would need a ream for is made less, as one job is one of many.
    return min(count, max(4, 150 * area // max(1, sides[0] * sides[1])))


def shrunk(job: Job, fails: Any) -> Job:
    """Return a smaller job that still fails: lines, sheets and rules taken away one at a time.

    Args:
        fails: whether a job shows what is looked for.
    """
    smaller = True
    while smaller:
        smaller = False
        for other in _less(job):
            if fails(other):
                job, smaller = other, True
                break
    return job


def _less(job: Job) -> Any:
    for n in range(len(job.pieces)):
        yield replace(job, pieces=job.pieces[:n] + job.pieces[n + 1 :])
    for n in range(len(job.sheets)):
        yield replace(job, sheets=job.sheets[:n] + job.sheets[n + 1 :])
    yield from _plainer(job, "papers", ())
    for field, value in _defaults(Rules()).items():
        for rules in _plainer(job.rules, field, value):
            yield replace(job, rules=rules)
    for n, piece in enumerate(job.pieces):
        for change in _piece_changes(piece):
            yield from _made(
                lambda n=n, c=change: replace(
                    job, pieces=(*job.pieces[:n], replace(job.pieces[n], **c), *job.pieces[n + 1 :])
                )
            )
    for n, sheet in enumerate(job.sheets):
        for change in _sheet_changes(sheet):
            yield from _made(
                lambda n=n, c=change: replace(
                    job, sheets=(*job.sheets[:n], replace(job.sheets[n], **c), *job.sheets[n + 1 :])
                )
            )


def _made(make: Any) -> Any:
    try:
        yield make()
    except UnusableRecord:
        return


def _plainer(record: Any, field: str, value: Any) -> Any:
    if getattr(record, field) != value:
        yield replace(record, **{field: value})


def _defaults(record: Any) -> dict[str, Any]:
    return {field: getattr(record, field) for field in record.__slots__}


def _piece_changes(piece: Piece) -> list[dict[str, Any]]:
    plain = {"label": "", "turn": "yes", "kind": "drawing", "margin": Edges(), "border": Edges()}
    plain |= {"client": "", "deckles": (), "due": None, "price": None, "unit": "mm"}
    found = [{key: value} for key, value in plain.items() if getattr(piece, key) != value]
    if piece.count > 1:
        found += [{"count": piece.count // 2}, {"count": piece.count - 1}]
    return found + _rounder(piece)


def _sheet_changes(sheet: Sheet) -> list[dict[str, Any]]:
    plain = {"edge_loss": Edges(), "side": "both", "grain": "none", "packs": (), "kind": "full"}
    plain |= {"name": "", "unit": "mm", "leave": (), "keep": (), "watermark": None, "price": None}
    plain |= {"on_hand": None}
    found = [{key: value} for key, value in plain.items() if getattr(sheet, key) != value]
    if sheet.deckles and not (sheet.leave or sheet.keep):
        found.append({"deckles": ()})
    return found + _rounder(sheet)


def _rounder(record: Any) -> list[dict[str, Any]]:
    found = []
    for side in ("width", "height"):
        value = getattr(record, side)
        for unit in (mm(100), mm(10), mm(1)):
            if value > unit and value % unit:
                found.append({side: value // unit * unit})
                break
    return found
