"""The registers of editions: what is printed, sold or spoiled, with each print's certificate."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.answers.edition import Edition
from sheetcut.answers.kept_register import (
    begin,
    enter_printed,
    enter_sold,
    enter_spoiled,
    registers,
)
from sheetcut.answers.register import EditionFull, NotInRegister, Register
from sheetcut.drawer import Store, remove_edition
from sheetcut.drawer.refusals import NameTaken
from sheetcut.drawer.registers import EditionInUse
from sheetcut.page.changing import changing, version_of
from sheetcut.page.studio import clock, desk
from sheetcut.read import Refused, read_number, read_words

place = Blueprint("registers", __name__, url_prefix="/register")

Entry = Literal["printed", "sold", "spoiled"]
MOST = 10_000  # prints of one edition; more is a slip of the keyboard
PROOFS = "artist’s proofs"


@dataclass(frozen=True, slots=True)
class Shown:
    """A register as it is shown.

    Attributes:
        next: what is next, and what is left, in words.
        prints: of each print its name, certificate, state and note, the newest last.
        good: the names of those that are not spoiled; of those not sold.
    """

    name: str
    next: str
    prints: tuple[tuple[str, str, str, str], ...]
    good: tuple[str, ...]
    unsold: tuple[str, ...]
    version: str


@place.get("")
def show() -> ResponseReturnValue:
    """Show all registers, one of them opened."""
    return _page(request.args.get("edition", ""))


@place.post("/begin")
def begin_one() -> ResponseReturnValue:
    """Begin the register of an edition."""
    typed = {name: request.form.get(name, "").strip() for name in ("name", "numbered", "proofs")}
    wrong: dict[str, str] = {}
    name = _words(typed["name"], "name", wrong)
    if not name and not wrong:
        wrong["name"] = "nothing is written; write what the edition is called"
    numbered = _whole(typed["numbered"], "numbered", wrong, least=1)
    proofs = _whole(typed["proofs"], "proofs", wrong) if typed["proofs"] else None
    if wrong:
        return _page("", wrong, typed), 422
    with changing() as store:
        try:
            desk().tell(begin(store, name, Edition(numbered, proofs), now=clock()))
        except NameTaken as error:
            return _page("", {"name": str(error)}, typed), 422
    return redirect(url_for(".show", edition=name), 303)


@place.post("/enter")
def enter() -> ResponseReturnValue:
    """Enter prints that were made, sold or spoiled, unless the register has moved on since."""
    name, what = request.form.get("edition", ""), request.form.get("what", "")
    typed = {one: request.form.get(one, "").strip() for one in ("count", "kind", "print", "note")}
    wrong: dict[str, str] = {}
    field = "count" if what == "printed" else "print"
    note = _words(typed["note"], "note", wrong)
    count = _whole(typed["count"], "count", wrong, least=1) if what == "printed" else 0
    with changing() as store:
        shown = next((one for one in _shown(store) if one.name == name), None)
        if shown is None or request.form.get("version") != shown.version:
            return _overtaken(name, shown, f"{what} {typed[field]}"), 409
        if wrong:
            return _page(name, _of(what, wrong), typed), 422
        try:
            if what == "printed":
                is_proof = typed["kind"] == PROOFS
                mark: Literal["number", "A.P."] = "A.P." if is_proof else "number"
                said = enter_printed(store, name, count, mark=mark, now=clock(), note=note)
            elif what == "sold":
                said = enter_sold(store, name, typed["print"], to=note, now=clock())
            else:
                said = enter_spoiled(store, name, typed["print"], why=note, now=clock())
            desk().tell(said)
        except (EditionFull, NotInRegister) as error:
            return _page(name, _of(what, {field: str(error)}), typed), 422
    return redirect(url_for(".show", edition=name), 303)


@place.post("/remove")
def remove() -> ResponseReturnValue:
    """Take a register out that nothing was entered in."""
    name = request.form.get("edition", "")
    with changing() as store:
        try:
            desk().tell(remove_edition(store, name, now=clock()))
        except EditionInUse as error:
            return _page(name, {"": str(error)}), 409
    return redirect(url_for(".show"), 303)


def _of(what: str, wrong: Mapping[str, str]) -> dict[str, str]:
    """Return what is wrong by its field's id: each of the three forms has a note."""
    return {f"{what}-{name}": words for name, words in wrong.items()}


def _words(text: str, field: str, wrong: dict[str, str]) -> str:
    try:
        return read_words(text) if text else ""
    except Refused as refused:
        wrong[field] = str(refused)
        return ""


def _whole(text: str, field: str, wrong: dict[str, str], *, least: int = 0) -> int:
    try:
        number = 0 if text == "0" else read_number(text, "prints")
    except Refused as refused:
        wrong[field] = str(refused)
        return least
    if not least <= number <= MOST:
        wrong[field] = f"{number} is no number from {least} to {MOST}; write one of these"
        return least
    return number


def _shown(store: Store) -> list[Shown]:
    return [_one(name, register) for name, register in registers(store).items()]


def _one(name: str, register: Register) -> Shown:
    prints = tuple(
        (
            register.name(one),
            "" if one.state == "spoiled" else str(one.certificate),
            one.state,
            one.note,
        )
        for one in register.prints
    )
    return Shown(
        name=name,
        next=next_of(register),
        prints=prints,
        good=tuple(row[0] for row in prints if row[2] != "spoiled"),
        unsold=tuple(row[0] for row in prints if row[2] == "printed"),
        version=version_of([" ".join(row) for row in prints]),
    )


def next_of(register: Register) -> str:
    """Return what is next in an edition and what is left of it."""
    number, of = register.next_number, register.most("number")
    then = "All numbers are printed" if number is None else f"Next is {number}/{of}"
    left = register.proofs_left
    proofs = f"{left} artist’s proof{'' if left == 1 else 's'}"
    return f"{then}; {register.left('number')} numbers and {proofs} left"


def _overtaken(name: str, shown: Shown | None, meant: str) -> str:
    now = f"{len(shown.prints)} prints entered. {shown.next}" if shown else "not in the register"
    return render_template(
        "stale.html",
        name=name,
        place="edition.registers",
        rows=[("the register", now, ""), ("what was meant", "", meant)],
        typed={},
        version="",
    )


def _page(
    opened: str,
    wrong: Mapping[str, str] | None = None,
    typed: Mapping[str, str] | None = None,
) -> str:
    desk().present()
    with desk().store() as store:
        found = _shown(store)
    begun = {name: request.args.get(name, "") for name in ("name", "numbered", "proofs")}
    return render_template(
        "registers.html",
        registers=found,
        one=next((one for one in found if one.name == opened), None),
        kinds=("numbers", PROOFS),
        wrong=wrong or {},
        typed={**begun, **(typed or {})},
        what=request.form.get("what", ""),
    )
