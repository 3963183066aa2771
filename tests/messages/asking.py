"""What records can never be, what a plan document must say, and questions without an answer."""

# ruff: noqa: E501 (a message stands on one line, as it is read)
from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from sheetcut.answers.alternatives import like
from sheetcut.answers.buying import cheapest
from sheetcut.answers.due import due_by
from sheetcut.answers.edition import Edition
from sheetcut.answers.quote import quote
from sheetcut.answers.relay import relay
from sheetcut.answers.scanning import scan_passes
from sheetcut.document import disagreements, plan_bytes, read_plan
from sheetcut.draw import overleaf, pin_up
from sheetcut.draw.primitives import A4, Page
from sheetcut.draw.steps import steps_of
from sheetcut.draw.view import view_of
from sheetcut.job import Job, Pack, Piece, Rules, Sheet
from sheetcut.plan import make_plan, sound
from sheetcut.printout import files as files_written
from sheetcut.units import Edges, mm
from tests.check.plans import IMPERIAL, JOB, PAPER
from tests.check.test_faults import PLAN, with_paper
from tests.messages.cases import Case

LAYOUT = PLAN.papers[0].layouts[0]
PIECE = JOB.pieces[0]
STAMP = Page("a stamp", 40, 40)


def _made(name: str, says: str, make: Callable[[], object]) -> Case:
    return Case(f"asked: {name}", lambda _: make(), says)


def _document(change: Callable[[dict], object]) -> Callable[[], object]:
    """Return what reads the studio's plan from a document with something else in it."""

    def read() -> object:
        document = json.loads(plan_bytes(PLAN))
        change(document)
        return read_plan(json.dumps(document).encode(), source="plan.json")

    return read


def _disagreeing() -> object:
    document = json.loads(plan_bytes(PLAN))
    document["papers"][0]["figures"]["cuts"] = 17
    data = json.dumps(document).encode()
    return "\n".join(map(str, disagreements(data, read_plan(data))))


def _priceless() -> object:
    job = Job((replace(IMPERIAL, price=None),), (PIECE,), Rules(aim="least cost"))
    return make_plan(job, rounds=1)


def _narrow() -> object:
    """A print of 200 on a sheet of 204: 4 mm would be cut off, and less than 10 mm is refused."""
    rules = Rules(reading_step=mm(1), narrowest_strip=mm(10), narrow_strips="refused")
    sheet = Sheet("S", PAPER, mm(204), mm(300), grain="none")
    return make_plan(
        Job((sheet,), (Piece("P", "", PAPER, mm(200), mm(300), kind="print"),), rules), rounds=1
    )


def _crowded() -> object:
    return pin_up(PLAN, PLAN.papers[0], LAYOUT, title="", sheet_numbers="", made="", on=STAMP)


def _crowded_overleaf() -> object:
    view = view_of(PLAN, LAYOUT)
    return overleaf.leaves(steps_of(view, inches=False), view, A4, 40.0)


def _ten_thousand(folder: Path) -> object:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(files_written, "MOST_ALIKE", 2)
        files_written.write_plan(PLAN, folder)
        return files_written.write_plan(PLAN, folder)


CASES = [
    # records
    _made(
        "pack",
        "pack: 1000 cents for 3 or more are no whole cents a sheet; give a price that the count divides",
        lambda: Pack(3, 1000, or_more=True),
    ),
    _made(
        "losses",
        "sheet HP-IMP: its edge losses leave no paper to use of 560 x 760 mm; give losses that leave some",
        lambda: replace(IMPERIAL, edge_loss=Edges(mm(300), mm(300))),
    ),
    _made(
        "room and a day",
        "order D01: it is cut only if there is room, and has a day or keeps a deckle; leave one of them out",
        lambda: replace(PIECE, if_room=True, due=date(2026, 12, 3)),
    ),
    _made(
        "borders",
        "order D01: its borders leave no room for an image in 297 x 420 mm; give borders that leave some",
        lambda: replace(PIECE, border=Edges(mm(150), mm(150))),
    ),
    _made(
        "reading step",
        "rules: the reading step is 0 mm; give more than 0 and at most 10 m",
        lambda: Rules(reading_step=0),
    ),
    _made(
        "keep size",
        "rules: the keep size is 300 by 200 mm; give its short side first",
        lambda: Rules(keep_short=mm(300), keep_long=mm(200)),
    ),
    _made(
        "half ticks",
        "sheet L: its width is 0.5; give a whole number of ticks, as mm(297)",
        lambda: Sheet("L", PAPER, 0.5, 1),
    ),
    _made(
        "no height",
        "sheet L: its height is 0 mm; give more than 0 and at most 10 m",
        lambda: Sheet("L", PAPER, 1, 0),
    ),
    _made(
        "three edges",
        "order D01: 3 lengths are given for its edges; give left, right, top and foot",
        lambda: replace(PIECE, margin=(1, 2, 3)),
    ),
    _made(
        "less than no margin",
        "order D01: -1 is given for an edge; give ticks from 0 to 10 m, as mm(15)",
        lambda: replace(PIECE, margin=Edges(-1)),
    ),
    _made(
        "no deckle",
        "sheet HP-IMP: its left has no deckle to leave or keep; name that edge among the deckles as well",
        lambda: replace(IMPERIAL, leave=("left",)),
    ),
    _made(
        "two kept",
        "sheet HP-IMP: deckles are kept at left and right, and readings need one true edge; trim one of the two",
        lambda: replace(IMPERIAL, deckles=("left", "right"), keep=("left", "right")),
    ),
    _made(
        "word",
        "order D01: its turn is 'perhaps'; give one of yes, no, grain up, grain across, alike",
        lambda: replace(PIECE, turn="perhaps"),
    ),
    _made(
        "count",
        "order D01: its count is 0; give a whole number from 1",
        lambda: replace(PIECE, count=0),
    ),
    _made(
        "price",
        "sheet HP-IMP: its price is 15.2; give a whole number from 0 (money is in whole cents)",
        lambda: replace(IMPERIAL, price=15.2),
    ),
    _made(
        "twice",
        "sheet HP-IMP: the name stands there twice; give each its own",
        lambda: Job((IMPERIAL, IMPERIAL), ()),
    ),
    _made(
        "edition of none",
        "edition: 0 numbered prints are wanted; give 1 or more",
        lambda: Edition(0),
    ),
    _made(
        "all spoiled",
        "edition: 1 of the run is spoiled; give a share from 0 to below 1, as 1/20",
        lambda: Edition(40, spoilage=Fraction(1)),
    ),
    _made(
        "oversold",
        "edition: 50 are sold of 44 with artist's proofs; give 0 to 44",
        lambda: Edition(40).blanks_for(50),
    ),
    _made(
        "overlap",
        "scan: an overlap of 216 mm leaves nothing of a bed 216 mm wide; give less than that",
        lambda: scan_passes(mm(297), mm(420), overlap=mm(216)),
    ),
    # a plan document
    _made(
        "empty document",
        "plan.json: the file is empty; give the plan.json that a plan wrote",
        lambda: read_plan(b"", source="plan.json"),
    ),
    _made(
        "no document",
        'plan.json: it does not read as a plan document (Object missing required field "form"); give the plan.json that a plan wrote',
        lambda: read_plan(b"{}", source="plan.json"),
    ),
    _made(
        "another form",
        'plan.json: its form is "recipe 1" and not "sheetcut plan 1"; give the plan.json that a plan wrote',
        _document(lambda d: d.update(form="recipe 1")),
    ),
    _made(
        "impossible sheet",
        "plan.json: sheet HP-IMP: its width is 0 mm; give the plan.json that a plan wrote",
        _document(lambda d: d["sheets"][0].update(width=0)),
    ),
    _made(
        "no figure",
        "plan.json: a figure in it is no figure of a plan; give the plan.json that a plan wrote",
        _document(lambda d: d["sheets"][0].update(width=1e30)),
    ),
    _made(
        "too fine",
        "plan.json: 0.00001 mm is finer than anything held here; give the plan.json that a plan wrote",
        _document(lambda d: d["sheets"][0].update(width=0.00001)),
    ),
    _made(
        "no corner",
        "plan.json: a layout starts at foot, left, which is no corner; give the plan.json that a plan wrote",
        _document(lambda d: d["papers"][0]["layouts"][0].update(start=["foot", "left"])),
    ),
    _made(
        "no such order",
        'plan.json: no order line is called "D99"; give the plan.json that a plan wrote',
        _document(lambda d: d["papers"][0]["layouts"][0]["blanks"][0].update(order="D99")),
    ),
    _made(
        "said twice",
        "plan, papers 1, figures, cuts: 17 stands there, but the rest of the plan makes it 18",
        _disagreeing,
    ),
    _made(
        "faults",
        "The plan failed its own check and was not kept; nothing was written. Please report this, with the studio folder:\n  Slatehouse Smooth: the cost is given as 15.20; it is 30.40",
        lambda: sound(with_paper(PLAN, cost=1520)),
    ),
    # questions
    _made(
        "no alternative",
        "plan : no alternative is strips only; it has none, so cut it as it is",
        lambda: like(PLAN, "strips only"),
    ),
    _made(
        "no price",
        "HP-IMP: neither a price nor packs are known; write them in the drawer's table",
        lambda: cheapest({"HP-IMP": 1}, ()),
    ),
    _made(
        "nothing due",
        "nothing is due by 2026-01-01; give a later day, or leave the day out for all orders",
        lambda: due_by(JOB, date(2026, 1, 1)),
    ),
    _made(
        "no such paper",
        'the drawer has no sheet of the paper "Vellum"; name one of Slatehouse Smooth',
        lambda: quote(JOB, Piece("D", "", "Vellum", mm(100), mm(100))),
    ),
    _made(
        "no drawer",
        'the drawer has no sheet of the paper "Vellum"; put its sheets in first',
        lambda: quote(Job((), ()), Piece("D", "", "Vellum", mm(100), mm(100))),
    ),
    _made(
        "no such step",
        "there is no step 11 in this layout; give one from 1 to 10",
        lambda: relay(PLAN, LAYOUT, step=11, spoiled=1),
    ),
    _made(
        "no such blank",
        "there is no blank 9 in this layout; give one from 1 to 5",
        lambda: relay(PLAN, LAYOUT, step=3, spoiled=9),
    ),
    _made(
        "priceless",
        "Slatehouse Smooth: the plan is to cost least, but HP-IMP has no price; write its price in the drawer, or set the aim to fewest sheets",
        _priceless,
    ),
    _made(
        "narrow strip",
        "Slatehouse Smooth, S: strips of 4 mm would be cut, and less than 10 mm is refused; widen a border, or set narrow-strips to allowed",
        _narrow,
    ),
    # pages and files
    _made(
        "no room on the page",
        "A layout with 9 steps has no room on a stamp; draw it on a larger page.",
        _crowded,
    ),
    _made(
        "no room overleaf",
        "A layout with 9 steps has no room on A4; draw it on a larger page.",
        _crowded_overleaf,
    ),
    Case(
        "asked: no name left",
        _ten_thousand,
        "FOLDER/out: - stands there ten thousand times; clear some away",
    ),
]
