"""The place where a size is priced before it is ordered."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.answers.given import SheetGives
from sheetcut.answers.money import half_up
from sheetcut.answers.quote import Charging, Quote, quote, quoted_piece
from sheetcut.answers.terms import charging_of
from sheetcut.draw.measures import length_text, size_text
from sheetcut.drawer import add_order
from sheetcut.drawer.refusals import NameTaken
from sheetcut.drawer.tables import money_text
from sheetcut.errors import ProblemsFound, SheetcutError
from sheetcut.job import Piece, reading_step
from sheetcut.page.changing import changing
from sheetcut.page.figures import Stair, stair
from sheetcut.page.forms import by_field
from sheetcut.page.studio import Present, clock, desk
from sheetcut.printout import in_words, money
from sheetcut.read import Refused, typed_order
from sheetcut.read.trading import read_hours

place = Blueprint("quote", __name__, url_prefix="/quote")

ASKED = ("size", "margin", "paper", "kind", "count", "hours")
NAMED = ("order", "piece", "client", "price")
QUOTED = "quote"
UNNAMED = "it has no name; write one that no other order has"


@dataclass(frozen=True, slots=True)
class Answer:
    """A quote in words."""

    charge: str
    because: tuple[str, ...]
    price: str
    blank: str
    total: str
    costs: tuple[tuple[str, str, str], ...]
    sheets: tuple[tuple[str, str, str, str], ...]
    stair: Stair | None
    yours: str
    more: tuple[str, ...]
    room: str


@place.get("")
def show() -> ResponseReturnValue:
    """Show the form, with the answer where a size was typed."""
    return _page({name: request.args.get(name, "").strip() for name in ASKED})


@place.post("/take")
def take() -> ResponseReturnValue:
    """Make an order line of what was quoted."""
    present = desk().present()
    typed = {name: request.form.get(name, "").strip() for name in (*ASKED, *NAMED)}
    if not typed["order"]:
        return _page(typed, typed, {"order": [UNNAMED]})
    row = {name: text for name, text in typed.items() if name != "hours"}
    with changing() as store:
        try:
            told = typed_order(row, present.settings, store.recorded().sheets, where="this order")
            assert told.piece is not None
            desk().tell(add_order(store, told.piece, now=clock()))
        except NameTaken as error:
            return _page(typed, typed, {"order": [str(error)]})
        except ProblemsFound as error:
            return _page(typed, typed, by_field(error, (*ASKED, *NAMED)))
    return redirect(url_for("orders.show"), 303)


def _page(
    asked: Mapping[str, str],
    typed: Mapping[str, str] | None = None,
    wrong: Mapping[str, list[str]] | None = None,
) -> tuple[str, int]:
    present = desk().present()
    papers = tuple(dict.fromkeys(sheet.paper for sheet in present.job.sheets))
    asked = {name: asked[name] for name in ASKED}
    asked["paper"] = asked["paper"] or next(iter(papers), "")
    found = dict(wrong or {})
    answer = None
    if asked["size"]:
        try:
            charging = _charging(present, asked["hours"])
            answer = _answer(present, _piece(present, asked), charging)
        except ProblemsFound as error:
            found = {**by_field(error, ASKED), **found}
        except Refused as refused:
            found = {"hours": [str(refused)], **found}
        except SheetcutError as error:
            found = {"": [str(error)], **found}
    page = render_template(
        "quote.html",
        asked=asked,
        typed=typed or {"price": answer.price if answer else ""},
        papers=papers,
        kinds=("drawing", "print", "card"),
        usual_hours=_hours(present.settings.trading.hours),
        answer=answer,
        wrong=found,
        is_kept=present.is_kept,
    )
    return page, (422 if found else 200)


def _charging(present: Present, hours: str) -> Charging:
    """Return how a charge is made of a cost.

    Raises:
        Refused: if the hours are no number, or have no rate.
    """
    worked = read_hours(hours) if hours else None
    if worked and present.settings.trading.rate is None:
        raise Refused("an hour has no rate yet", "write one in Studio, under what a quote charges")
    return charging_of(present.settings, worked)


def _hours(hours: Fraction) -> str:
    """Return hours as a person writes them; empty where there are none."""
    return f"{float(hours):g}" if hours else ""


def _piece(present: Present, asked: Mapping[str, str]) -> Piece:
    """Return the piece that is asked for, read as a row of the orders would be."""
    typed = {name: text for name, text in asked.items() if name != "hours"} | {
        "order": QUOTED,
        "count": asked["count"] or "1",
        "kind": asked["kind"] or "drawing",
    }
    job = present.job
    told = typed_order(typed, present.settings, job.sheets, where="this size")
    assert told.piece is not None
    piece = told.piece
    around = piece.border if piece.kind == "print" else piece.margin
    image = piece.border if piece.kind == "print" else type(piece.border)()
    return quoted_piece(
        job,
        piece.width - image.across,
        piece.height - image.up,
        paper=piece.paper,
        kind=piece.kind,
        margin=around,
        count=piece.count,
        unit=piece.unit,
    )


def _answer(present: Present, piece: Piece, charging: Charging) -> Answer:
    found = quote(present.job, piece, charging=charging)
    inches = piece.unit == "in" and _is_inch(present, piece)
    usual = found.usual
    return Answer(
        charge="" if found.charge is None else _cash(found, found.charge),
        because=tuple(_because(found, usual)),
        # Paper alone is not what the client pays.
        price=money_text(found.charge) if found.charge and charging.hours and charging.rate else "",
        blank=f"{size_text(*found.blank, inches=inches)} {'in' if inches else 'mm'}",
        total="" if found.total is None or piece.count == 1 else _cash(found, found.total),
        costs=tuple(_costs(found)),
        sheets=tuple(_sheet(found, one, inches=inches) for one in found.sheets),
        stair=_stair(found, usual),
        yours=_yours(found, inches=inches),
        more=tuple(_more(found, inches=inches)),
        room=_room(found),
    )


def _is_inch(present: Present, piece: Piece) -> bool:
    return reading_step(present.job, piece.paper) % 3175 == 0


def _cash(found: Quote, cents: Any) -> str:
    return money(int(cents), found.currency)


def _because(found: Quote, usual: SheetGives | None) -> Iterator[str]:
    if usual is None or usual.cost is None or found.one_size_cost is None:
        yield "no priced sheet of this paper gives it"
        return
    price, charging = _cash(found, half_up(usual.cost * usual.count)), found.charging
    paper = _cash(found, half_up(found.one_size_cost))
    count = in_words(usual.count)
    yield f"{paper} of paper in each: {count} from one {usual.sheet.title} at {price}"
    if charging.mark_up != 1:
        marked = _cash(found, half_up(found.one_size_cost * charging.mark_up))
        yield f"times {float(charging.mark_up):g} is {marked}"
    if charging.hours and charging.rate:
        work = _cash(found, half_up(charging.hours * charging.rate))
        yield f"{float(charging.hours):g} hours at {_cash(found, charging.rate)} are {work}"
    if charging.round_up_to > 1:
        yield f"rounded up to {_cash(found, charging.round_up_to)}"


def _costs(found: Quote) -> list[tuple[str, str, str]]:
    rows = []
    if found.area_cost is not None:
        rows.append(("by area alone", "waste left out, so always too low", found.area_cost))
    if found.paper_share is not None:
        rows.append(("as a share of the present plan", "moves with the plan; not for quoting",
                     found.paper_share))  # fmt: skip
    said = [(name, note, _cash(found, half_up(cost))) for name, note, cost in rows]
    if found.opening is not None and found.opening.cost is not None:
        note = (
            "nothing more to buy" if not found.opening.cost else "cash more for this order, in all"
        )
        said.append(("what the plan costs more with it", note, _cash(found, found.opening.cost)))
    return said


def _sheet(found: Quote, one: SheetGives, *, inches: bool) -> tuple[str, str, str, str]:
    sheet = one.sheet
    size = size_text(sheet.width, sheet.height, inches=inches)
    cost = "" if one.cost is None else _cash(found, half_up(one.cost))
    return sheet.title, size, str(one.count or "none"), cost


def _stair(found: Quote, usual: SheetGives | None) -> Stair | None:
    if usual is None or not usual.steps or found.step is None:
        return None
    place_of = usual.steps.index(found.step)
    last = usual.steps[min(len(usual.steps) - 1, place_of + 1)]
    # A short way into the step after it, so that the fall shows.
    ends = max(last.least + (last.least // 3), found.piece.margin.left)
    return stair(usual.steps, found.piece.margin.left, min(ends, usual.steps[-1].most))


def _yours(found: Quote, *, inches: bool) -> str:
    smaller = found.smaller_margin
    if found.step is None or smaller is None:
        return "yours"
    less = found.piece.margin.left - smaller.margin.left
    unit = "" if inches else " mm"
    less_text = f"{length_text(less, inches=inches)}{unit}"
    return f"yours: {less_text} less margin gives {in_words(smaller.count)}"


def _more(found: Quote, *, inches: bool) -> list[str]:
    return [
        f"{size_text(one.width, one.height, inches=inches)} finished gives {in_words(one.count)}"
        for one in found.smaller_sizes
    ]


def _room(found: Quote) -> str:
    if found.room is None or not found.room.count:
        return ""
    n = found.room.count
    return f"The present plan has room for {in_words(n)} of these in what it leaves over."
