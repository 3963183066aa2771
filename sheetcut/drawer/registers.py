"""The registers of editions as they are kept: every print with its certificate and whose it is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from difflib import get_close_matches

from sheetcut.drawer.history import Change
from sheetcut.drawer.reading import Rows
from sheetcut.drawer.refusals import UNTOUCHED, NameTaken
from sheetcut.drawer.rows import Row
from sheetcut.drawer.store import Store
from sheetcut.errors import SheetcutError


class NoEdition(SheetcutError):
    """An edition that has no register."""

    def __init__(self, name: str, known: Sequence[str]) -> None:
        self.name = name
        near = get_close_matches(name, known, 1, 0.6)
        remedy = f'did you mean "{near[0]}"?' if near else "begin it with: sheetcut register begin"
        super().__init__(f'there is no edition "{name}" in the register; {remedy}')


class EditionInUse(SheetcutError):
    """An edition of which prints are made."""

    def __init__(self, name: str, prints: int) -> None:
        super().__init__(
            f'edition "{name}": its register has {prints} prints, so it stays; undo takes back '
            f"what was entered last. {UNTOUCHED.capitalize()}"
        )


@dataclass(frozen=True, slots=True)
class KeptPrint:
    """One print as its row has it.

    Attributes:
        mark: "number", or "A.P." for an artist's proof.
        number: counted within its mark.
        state: "printed", "sold" or "spoiled".
        note: whose it is, or what went wrong with it.
    """

    mark: str
    number: int
    certificate: int
    state: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class KeptEdition:
    """An edition as it was begun, with its prints in the order they were entered."""

    name: str
    numbered: int
    proofs: int
    prints: tuple[KeptPrint, ...] = ()


Entered = tuple[Sequence[KeptPrint], str]
"""All prints of an edition after something was entered, and a sentence that says what."""


def begin_edition(store: Store, edition: KeptEdition, *, now: datetime) -> str:
    """Begin the register of an edition; return what was done, in a sentence.

    Raises:
        NameTaken: if there is one of that name.
    """
    with store.changing(now) as change:
        known = [row["name"].casefold() for row in change.all("edition")]
        if edition.name.casefold() in known:
            raise NameTaken("edition", edition.name)
        values = {"name": edition.name, "numbered": edition.numbered, "proofs": edition.proofs}
        change.add("edition", values)
        change.says = (
            f"Began the register of {edition.name}: {edition.numbered} numbered and "
            f"{edition.proofs} artist's proofs"
        )
    return change.says


def enter_prints(
    store: Store, name: str, enter: Callable[[KeptEdition], Entered], *, now: datetime
) -> str:
    """Enter what has become of an edition's prints; return what was done, in a sentence.

    Args:
        enter: is given the edition as it stands, and returns all its prints as they then are;
            those that were there keep their places.

    Raises:
        NoEdition: if it has no register.
    """
    with store.changing(now) as change:
        row = _named(change, name)
        prints, change.says = enter(_edition_of(change, row))
        _put(change, row, prints)
    return change.says


def remove_edition(store: Store, name: str, *, now: datetime) -> str:
    """Take a register out that nothing was entered in.

    Raises:
        NoEdition: if there is none.
        EditionInUse: if prints were entered.
    """
    with store.changing(now) as change:
        row = _named(change, name)
        prints = change.all("print", edition=row["id"])
        if prints:
            raise EditionInUse(row["name"], len(prints))
        change.remove("edition", row["id"])
        change.says = f"Took out the register of {row['name']}"
    return change.says


def kept_editions(store: Store) -> tuple[KeptEdition, ...]:
    """Return every edition with its prints, in the order they were begun."""
    with store.reading() as rows:
        return tuple(_edition_of(rows, row) for row in rows.all("edition"))


def kept_edition(store: Store, name: str) -> KeptEdition:
    """Return one edition.

    Raises:
        NoEdition: if it has no register.
    """
    with store.reading() as rows:
        return _edition_of(rows, _named(rows, name))


def _named(rows: Rows, name: str) -> Row:
    """Return an edition's row; capitals and spaces in its name do not matter."""
    wanted = " ".join(name.split()).casefold()
    known = rows.all("edition")
    row = next((one for one in known if one["name"].casefold() == wanted), None)
    if row is None:
        raise NoEdition(name, [one["name"] for one in known])
    return row


def _edition_of(rows: Rows, row: Row) -> KeptEdition:
    prints = tuple(
        KeptPrint(one["mark"], one["number"], one["certificate"], one["state"], one["note"])
        for one in rows.all("print", edition=row["id"])
    )
    return KeptEdition(row["name"], row["numbered"], row["proofs"], prints)


def _put(change: Change, edition: Row, prints: Sequence[KeptPrint]) -> None:
    there = change.all("print", edition=edition["id"])
    if len(prints) < len(there):
        raise ValueError("a print that was entered stays in the register")
    for place, one in enumerate(prints):
        values = {
            "mark": one.mark,
            "number": one.number,
            "certificate": one.certificate,
            "state": one.state,
            "note": one.note,
        }
        if place >= len(there):
            change.add("print", {"edition": edition["id"], **values, "since": change.now})
        elif values != {name: there[place][name] for name in values}:
            change.alter("print", there[place]["id"], {**values, "since": change.now})
