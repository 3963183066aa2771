"""The registers that the drawer keeps, entered by the rules of an edition."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from sheetcut.answers.edition import Edition
from sheetcut.answers.register import Mark, Print, Register
from sheetcut.drawer import (
    KeptEdition,
    KeptPrint,
    Store,
    begin_edition,
    enter_prints,
    kept_edition,
    kept_editions,
)


def begin(store: Store, name: str, edition: Edition, *, now: datetime) -> str:
    """Begin the register of an edition; return what was done, in a sentence.

    Raises:
        NameTaken: if there is one of that name.
    """
    return begin_edition(store, KeptEdition(name, edition.numbered, edition.proofs), now=now)


def registers(store: Store) -> dict[str, Register]:
    """Return every register by the name of its edition."""
    return {one.name: _register(one) for one in kept_editions(store)}


def register_of(store: Store, name: str) -> tuple[str, Register]:
    """Return one register, and its edition's name as it was begun.

    Raises:
        NoEdition: if there is none.
    """
    kept = kept_edition(store, name)
    return kept.name, _register(kept)


def enter_printed(
    store: Store, name: str, count: int, *, now: datetime, mark: Mark = "number", note: str = ""
) -> str:
    """Enter so many good prints, on the lowest free numbers.

    Raises:
        NoEdition: if it has no register.
        EditionFull: if it has not so many left.
    """
    return _enter(store, name, "Printed", lambda one: one.printed(count, mark, note), now=now)


def enter_sold(store: Store, name: str, print_: str, *, now: datetime, to: str = "") -> str:
    """Enter that a print is sold, or gone from the studio otherwise, and to whom.

    Raises:
        NoEdition: if it has no register.
        NotInRegister: if no good print goes by that name.
    """
    return _enter(store, name, "Sold", lambda one: one.sold(print_, to), now=now)


def enter_spoiled(store: Store, name: str, print_: str, *, now: datetime, why: str = "") -> str:
    """Enter that a print is spoiled: its number and certificate are free again.

    Raises:
        NoEdition: if it has no register.
        NotInRegister: if no good print goes by that name.
    """
    return _enter(store, name, "Spoiled", lambda one: one.spoiled(print_, why), now=now)


def _enter(
    store: Store, name: str, what: str, change: Callable[[Register], Register], *, now: datetime
) -> str:
    def entered(kept: KeptEdition) -> tuple[list[KeptPrint], str]:
        before = _register(kept)
        after = change(before)
        known = len(before.prints)
        new = [one for place, one in enumerate(after.prints)
               if place >= known or one != before.prints[place]]  # fmt: skip
        return [_kept(one) for one in after.prints], _said(what, kept.name, after, new)

    return enter_prints(store, name, entered, now=now)


def _said(what: str, name: str, register: Register, new: list[Print]) -> str:
    """Return what was entered in a sentence, with the certificates that go with it."""
    if not new:
        return f"{what} of {name}: as it was"
    first, last = new[0], new[-1]
    prints = register.name(first)
    papers = f"certificate {first.certificate}"
    if last is not first:
        prints += f" to {register.name(last)}"
        papers = f"certificates {first.certificate} to {last.certificate}"
        if last.number - first.number != len(new) - 1:
            prints = ", ".join(register.name(one) for one in new)
        if last.certificate - first.certificate != len(new) - 1:
            papers = "certificates " + ", ".join(str(one.certificate) for one in new)
    note = f", {first.note}" if first.note else ""
    free = " free again" if what == "Spoiled" else ""
    return f"{what} of {name}: {prints}, {papers}{free}{note}"


def _register(kept: KeptEdition) -> Register:
    prints = tuple(
        Print(one.mark, one.number, one.state, one.certificate, one.note)  # type: ignore[arg-type]
        for one in kept.prints
    )
    return Register(Edition(kept.numbered, kept.proofs), prints)


def _kept(one: Print) -> KeptPrint:
    return KeptPrint(one.mark, one.number, one.certificate, one.state, one.note)
