"""The place where an edition is decided on: blanks, sheets, cost, and where to print what."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.answers.edition import Companion, Edition
from sheetcut.answers.edition_plan import EditionPlan, edition_plan
from sheetcut.answers.money import half_up, usual_sheet
from sheetcut.answers.printing import PrintBlank, Printer, blank_of
from sheetcut.answers.quote import QUICK
from sheetcut.answers.several import Several, several_to_a_sheet
from sheetcut.answers.supply import Supplied
from sheetcut.answers.terms import printer_of
from sheetcut.drawer import add_orders
from sheetcut.drawer.refusals import NameTaken
from sheetcut.drawer.tables import length_text, size_text
from sheetcut.errors import ProblemsFound, UnusableRecord
from sheetcut.job import EDGES, Job, Piece
from sheetcut.page.changing import changing
from sheetcut.page.figures import Places, places_of
from sheetcut.page.registers import place as registers
from sheetcut.page.studio import Present, clock, desk
from sheetcut.printout import money
from sheetcut.read import Refused, read_length, read_size, typed_order

place = Blueprint("edition", __name__, url_prefix="/edition")
place.register_blueprint(registers)

ASKED = (
    "numbered", "size", "paper", "border", "artists-proofs", "other-proofs", "set-up", "spoilage",
    "sold", "certificate", "certificate-paper", "interleave", "interleave-paper", "backing",
    "backing-paper",
)  # fmt: skip
NAMED = ("order", "piece", "client")
MOST = 10_000  # of one size at once; more is a slip of the keyboard
COMPANIONS = {"certificate": "certificate", "interleave": "interleave", "backing": "backing board"}
UNASKED = "edition"
UNNAMED = "it has no name; write one that no other order has"


@dataclass(frozen=True, slots=True)
class Asked:
    """An edition as it was typed, read."""

    edition: Edition
    print: Piece
    companions: tuple[Companion, ...]
    sold: int | None


@dataclass(frozen=True, slots=True)
class Answer:
    """What an edition takes, in words.

    Attributes:
        made_up: what its blanks are made up of: how many, and what.
        papers: for each paper: its name, what is cut of it, sheets, cost, what to buy.
        places: where certificates are printed, drawn; None without any.
        positions: the same in figures: number, from the left, from the top, size.
    """

    blanks: int
    made_up: tuple[tuple[str, str], ...]
    certificates: str
    per_print: str
    over: int
    with_companions: str
    sheet_size: str
    leads: str
    minds: tuple[str, ...]
    papers: tuple[tuple[str, str, str, str, str], ...]
    places: Places | None
    places_words: str
    positions: tuple[tuple[str, str, str, str], ...]
    proofs: int
    can_be_taken: bool


class _Wrong(Exception):
    """Something typed that cannot be read, by its field."""

    def __init__(self, wrong: Mapping[str, list[str]]) -> None:
        self.wrong = dict(wrong)
        super().__init__(str(wrong))


@place.get("")
def show() -> ResponseReturnValue:
    """Show the form, with the answer where an edition was typed."""
    asked = {name: request.args.get(name, "").strip() for name in ASKED}
    return _page(asked)


@place.post("/take")
def take() -> ResponseReturnValue:
    """Make order lines of an edition: its blanks, and a line for all that goes with it."""
    present = desk().present()
    typed = {name: request.form.get(name, "").strip() for name in (*ASKED, *NAMED)}
    asked = {name: typed[name] for name in ASKED}
    if not typed["order"]:
        return _page(asked, {"order": [UNNAMED]}, typed)
    try:
        read = _read(present, typed)
        lines = _planned(present.job, read).lines.all
        with changing() as store:
            desk().tell(add_orders(store, lines, now=clock()))
    except _Wrong as error:
        return _page(asked, error.wrong, typed)
    except NameTaken as error:
        return _page(asked, {"order": [str(error)]}, typed)
    return redirect(url_for("orders.show"), 303)


def _page(
    asked: Mapping[str, str],
    wrong: Mapping[str, list[str]] | None = None,
    typed: Mapping[str, str] | None = None,
) -> tuple[str, int]:
    present = desk().present()
    papers = tuple(dict.fromkeys(sheet.paper for sheet in present.job.sheets))
    asked = _usual(present.job, papers) | {name: text for name, text in asked.items() if text}
    answer, found = None, dict(wrong or {})
    if asked["numbered"]:
        try:
            read = _read(present, {**asked, "order": UNASKED})
            answer = _answer(present.job, read)
        except _Wrong as error:
            found = {**error.wrong, **found}
    page = render_template(
        "edition.html",
        asked=asked,
        typed=typed or {},
        papers=papers,
        answer=answer,
        wrong=found,
        is_kept=present.is_kept,
    )
    return page, (422 if found else 200)


def _usual(job: Job, papers: tuple[str, ...]) -> dict[str, str]:
    """Return what the form begins with."""
    printed = [piece.paper for piece in job.pieces if piece.kind == "print"]
    cards = [piece.paper for piece in job.pieces if piece.kind == "card"]
    first = next(iter([*printed, *papers]), "")
    light = next(iter([*cards, *papers]), "")
    return dict.fromkeys(ASKED, "") | {
        "paper": first,
        "certificate-paper": light,
        "interleave-paper": light,
        "backing-paper": light,
    }


def _read(present: Present, typed: Mapping[str, str]) -> Asked:
    """Return what was typed, read.

    Raises:
        _Wrong: with everything that cannot be read, by its field.
    """
    wrong: dict[str, list[str]] = {}

    def whole(name: str, least: int = 0, most: int = MOST) -> int | None:
        text = typed.get(name, "")
        if not text:
            return None
        if not re.fullmatch(r"[0-9]{1,6}", text) or not least <= int(text) <= most:
            wrong[name] = [f'"{text}" is no number from {least} to {most}; write one of these']
            return None
        return int(text)

    numbered = whole("numbered", 1) or 1
    sold = whole("sold")
    edition = Edition(
        numbered,
        whole("artists-proofs"),
        whole("other-proofs") or 0,
        whole("set-up") or 0,
        Fraction(5 if (lost := whole("spoilage", 0, 99)) is None else lost, 100),
    )
    if sold is not None and not 1 <= sold <= edition.run:
        found = f"{sold} are made of {edition.run} with artist's proofs"
        wrong["sold"] = [f"{found}; write 1 to {edition.run}"]
    piece = _print(present, typed, wrong)
    companions = tuple(_companions(present, typed, wrong))
    if wrong or piece is None:
        raise _Wrong(wrong)
    return Asked(edition, piece, companions, sold)


def _print(present: Present, typed: Mapping[str, str], wrong: dict[str, list[str]]) -> Piece | None:
    """Return the print, read as a row of the orders would be."""
    row = {name: typed.get(name, "") for name in ("order", "piece", "client", "size", "paper")}
    row |= {"kind": "print", "count": "1", "order": row["order"] or UNASKED}
    borders = [one for one in re.split(r"\s*;\s*|\s*,\s+", typed.get("border", "")) if one]
    if len(borders) == len(EDGES):
        row |= dict(zip(EDGES, borders, strict=True))
    elif len(borders) > 1:
        found = f"there are {len(borders)} lengths"
        wrong["border"] = [f"{found}; write one, or left, right, top and foot"]
    else:
        row["margin"] = typed.get("border", "")
    if not row["size"]:
        wrong["size"] = ["no size is written; write that of the image, as in 300 x 400"]
        return None
    try:
        told = typed_order(row, present.settings, present.job.sheets, where="this edition")
    except ProblemsFound as error:
        for problem in error.problems:
            field = "border" if problem.field in ("margin", *EDGES) else problem.field
            name = field if field in (*ASKED, *NAMED) else ""
            wrong.setdefault(name, []).append(f"{problem.message}; {problem.remedy}")
        return None
    return told.piece


def _companions(
    present: Present, typed: Mapping[str, str], wrong: dict[str, list[str]]
) -> Iterator[Companion]:
    unit = present.settings.unit
    for field, name in COMPANIONS.items():
        text, paper = typed.get(field, ""), typed.get(f"{field}-paper", "")
        if not text:
            continue
        try:
            if field == "certificate":
                size = read_size(text, unit=unit)
                yield Companion(name, paper, size.width, size.height)
            else:
                yield Companion(name, paper, larger=read_length(text, unit=unit))
        except Refused as refused:
            wrong[field] = [str(refused)]


def _planned(job: Job, asked: Asked) -> EditionPlan:
    try:
        return edition_plan(
            job, asked.edition, asked.print, asked.companions, sold=asked.sold, effort=QUICK
        )
    except UnusableRecord as error:
        raise _Wrong({"": [str(error)]}) from error


def _answer(job: Job, asked: Asked) -> Answer:
    edition, plan = asked.edition, _planned(job, asked)
    blank = blank_of(asked.print, _printer())
    several = _several(job, plan, asked)
    lines = plan.lines
    both = plan.with_companions
    return Answer(
        blanks=lines.blanks.count,
        made_up=tuple(_made_up(edition, asked.sold)),
        certificates=_certificates(asked),
        per_print=_cash(job, plan.per_print),
        over=plan.share_of,
        with_companions=_cash(job, both) if lines.companions else "",
        sheet_size=_size(asked.print),
        leads=_leads(blank),
        minds=tuple(_minds(plan, blank)),
        papers=tuple(_paper(job, one) for one in plan.papers),
        places=places_of(several.sheet, several.positions) if several else None,
        places_words=_places_words(several) if several else "",
        positions=tuple(_positions(several)) if several else (),
        proofs=edition.proofs,
        can_be_taken=not plan.missing,
    )


def _printer() -> Printer:
    """Return the studio's printer, as far as its settings say."""
    present = desk().present()
    return printer_of(present.settings, present.job.rules.printer_width)


def _made_up(edition: Edition, sold: int | None) -> Iterator[tuple[str, str]]:
    if sold is not None:
        yield str(sold), f"prints of an edition of {edition.numbered}"
        yield str(edition.blanks_for(sold) - sold), "for spoilage; proofs were counted before"
        return
    n = edition.numbered
    rows = (
        (n, f"numbered 1/{n} to {n}/{n}"),
        (edition.proofs, "artist’s proofs, A.P."),
        (edition.other_proofs, "other proofs"),
        (edition.set_up, "to set up"),
        (edition.spoiled, f"for spoilage, {float(edition.spoilage * 100):g} in a hundred"),
    )
    yield from ((str(count), words) for count, words in rows if count)


def _certificates(asked: Asked) -> str:
    if asked.sold is not None:
        return ""
    return f"{asked.edition.certificates} certificates, one for each print that may be sold"


def _cash(job: Job, cents: Fraction | None) -> str:
    return "" if cents is None else money(half_up(cents), job.currency)


def _size(piece: Piece) -> str:
    return size_text(piece.width, piece.height, piece.unit).replace(" x ", " × ")


def _leads(blank: PrintBlank) -> str:
    if not blank.leads:
        return ""
    first, *others = blank.leads
    rest = f"; or {', '.join(others)}" if others else ""
    return f"Into the printer with its {first} first{rest}."


def _minds(plan: EditionPlan, blank: PrintBlank) -> Iterator[str]:
    yield from blank.faults
    yield from blank.warnings
    yield from (f"not in the drawer: {paper}" for paper in plan.missing)
    for piece in plan.too_large:
        what = piece.label or "the print"
        yield f"fits no sheet of {piece.paper}: {what}, {_size(piece)}"


def _paper(job: Job, one: Supplied) -> tuple[str, str, str, str, str]:
    titles = {sheet.id: sheet.title for sheet in job.sheets}
    used: dict[str, int] = {}
    for name, _ in one.trees:
        used[name] = used.get(name, 0) + 1
    what = " and ".join(f"{p.count} × {p.label or 'print'}" for p in one.job.pieces)
    in_cash = one.job.papers[0].aim == "least cost"
    buy = ", ".join(f"{n} × {titles[name]}" for name, n in one.supposed.items())
    return (
        one.job.papers[0].name,
        what,
        ", ".join(f"{n} × {titles[name]}" for name, n in used.items()),
        money(one.value, job.currency) if in_cash else "",
        buy,
    )


def _several(job: Job, plan: EditionPlan, asked: Asked) -> Several | None:
    cards = [one for one in plan.lines.companions if one.order.endswith(" certificate")]
    if not cards:
        return None
    full = [one for one in job.sheets_of(cards[0].paper) if one.kind == "full"]
    sheet = usual_sheet(full) or next(iter(full), None)
    found = several_to_a_sheet(job, cards[0], sheet) if sheet else None
    return found if found and found.count else None


def _places_words(several: Several) -> str:
    sheets = "sheet" if several.sheets == 1 else "sheets"
    return (
        f"{several.count} to a {several.sheet.title}, {several.sheets} {sheets}, "
        f"{several.spare} over."
    )


def _positions(several: Several) -> Iterator[tuple[str, str, str, str]]:
    unit = several.piece.unit
    for one in several.positions:
        size = size_text(one.width, one.height, unit).replace(" x ", " × ")
        yield str(one.number), length_text(one.left, unit), length_text(one.top, unit), size
