"""The register of an edition: which numbers and proofs are made, and each one's certificate."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from sheetcut.answers.edition import Edition
from sheetcut.errors import SheetcutError

State = Literal["printed", "spoiled", "sold"]
Mark = Literal["number", "A.P."]


class EditionFull(SheetcutError):
    """More prints are asked for than the edition has."""

    def __init__(self, mark: Mark, wanted: int, left: int) -> None:
        self.left = left
        what = "artist's proofs" if mark == "A.P." else "numbers"
        super().__init__(
            f"{wanted} {what} are wanted and {left} are left; give no more than that, as the size "
            "of an edition is stated when it is first sold and does not grow"
        )


class NotInRegister(SheetcutError):
    """A print was named that is not in the register."""

    def __init__(self, name: str) -> None:
        super().__init__(f'"{name}" is not in the register; write it as 7/50 or A.P. 2/5')


@dataclass(frozen=True, slots=True)
class Print:
    """One print of the edition.

    Attributes:
        number: its n, counted within its mark.
        certificate: the number of its certificate; every print that may be sold has one.
        note: whose it is, or what went wrong with it.
    """

    mark: Mark
    number: int
    state: State
    certificate: int
    note: str = ""


@dataclass(frozen=True, slots=True)
class Register:
    """An edition and what has become of it so far.

    A print that is spoiled before it is numbered leaves no gap: its number goes to the next.
    """

    edition: Edition
    prints: tuple[Print, ...] = ()

    def most(self, mark: Mark) -> int:
        """Return how many of a mark the edition has."""
        return self.edition.numbered if mark == "number" else self.edition.proofs

    def good(self, mark: Mark) -> tuple[Print, ...]:
        """Return the prints of a mark that are not spoiled, in order of their numbers."""
        good = (one for one in self.prints if one.mark == mark and one.state != "spoiled")
        return tuple(sorted(good, key=lambda one: one.number))

    def left(self, mark: Mark) -> int:
        """Return how many of a mark are still to be printed."""
        return self.most(mark) - len(self.good(mark))

    @property
    def next_number(self) -> int | None:
        """The lowest number that no good print carries; None once all are made."""
        return next(self._free("number"), None)

    @property
    def proofs_left(self) -> int:
        """Artist's proofs still to be printed."""
        return self.left("A.P.")

    @property
    def is_complete(self) -> bool:
        """Whether everything that may be sold is printed."""
        return not self.left("number") and not self.proofs_left

    def name(self, one: Print) -> str:
        """Return what is pencilled at the lower left of a print.

        >>> register = Register(Edition(50, 5)).printed(1)
        >>> register.name(register.prints[0])
        '1/50'
        """
        fraction = f"{one.number}/{self.most(one.mark)}"
        return fraction if one.mark == "number" else f"A.P. {fraction}"

    def printed(self, count: int, mark: Mark = "number", note: str = "") -> Register:
        """Return the register with so many good prints more, on the lowest free numbers.

        Raises:
            EditionFull: if there are not so many left.
        """
        if count > self.left(mark):
            raise EditionFull(mark, count, self.left(mark))
        free = self._free(mark)
        used = {one.certificate for one in self.prints if one.state != "spoiled"}
        certificates = (n for n in range(1, self.edition.certificates + 1) if n not in used)
        new = tuple(
            Print(mark, next(free), "printed", next(certificates), note) for _ in range(count)
        )
        return replace(self, prints=self.prints + new)

    def sold(self, name: str, note: str = "") -> Register:
        """Return the register with one print sold.

        Raises:
            NotInRegister: if no good print goes by that name.
        """
        return self._changed(name, "sold", note)

    def spoiled(self, name: str, note: str = "") -> Register:
        """Return the register with one print spoiled; its number and certificate are free again.

        Raises:
            NotInRegister: if no good print goes by that name.
        """
        return self._changed(name, "spoiled", note)

    def _free(self, mark: Mark) -> Iterator[int]:
        used = {one.number for one in self.good(mark)}
        return (n for n in range(1, self.most(mark) + 1) if n not in used)

    def _changed(self, name: str, state: State, note: str) -> Register:
        for place, one in enumerate(self.prints):
            if one.state != "spoiled" and is_named(name, self.name(one)):
                changed = replace(one, state=state, note=note or one.note)
                prints = (*self.prints[:place], changed, *self.prints[place + 1 :])
                return replace(self, prints=prints)
        raise NotInRegister(name)


def is_named(typed: str, name: str) -> bool:
    """Whether somebody who typed this means the print of that name.

    >>> is_named("7", "7/50"), is_named("ap 2", "A.P. 2/5"), is_named("7/40", "7/50")
    (True, True, False)
    """
    mine, whole = (_plain(text) for text in (typed, name))
    return mine in (whole, whole.partition("/")[0])


def _plain(name: str) -> str:
    return "".join(name.replace(".", "").split()).casefold()
