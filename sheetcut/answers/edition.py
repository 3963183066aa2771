"""How many blanks an edition takes, and what goes with it: proofs, spoilage, companions, cost."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil, floor

from sheetcut.errors import UnusableRecord
from sheetcut.job import NO_EDGES, Kind, Piece
from sheetcut.units import Edges, Length

ARTISTS_PROOFS = Fraction(1, 10)
"""The usual ceiling of artist's proofs, of the numbered prints.

Source:
    thetrustedartguide.com, and angusfisherarts.com, "Labelling an original print".
"""

SPOILAGE = Fraction(5, 100)
"""Prints lost in the run, of prints and artist's proofs.

Source:
    Ladies of Letterpress forum, "How do you calculate your paper overage": 3 % a pass, novices
    5 %; that a fixed count stands beside the percentage, American Printer, January 1996.
"""


@dataclass(frozen=True, slots=True)
class Edition:
    """A limited edition as it is decided on.

    Attributes:
        numbered: the N of n/N.
        artists_proofs: A.P., outside the count; None for a tenth of the numbered, rounded down.
        other_proofs: printer's proofs, hors commerce and the approved print, together.
        set_up: sheets spent before the first good print, whatever the length of the run.
        spoilage: what share of the run is lost.
    """

    numbered: int
    artists_proofs: int | None = None
    other_proofs: int = 0
    set_up: int = 0
    spoilage: Fraction = SPOILAGE

    def __post_init__(self) -> None:
        for what, count, least in (
            ("numbered prints", self.numbered, 1),
            ("artist's proofs", self.artists_proofs or 0, 0),
            ("other proofs", self.other_proofs, 0),
            ("sheets to set up", self.set_up, 0),
        ):
            if count < least:
                found = f"{count} {what} are wanted"
                raise UnusableRecord("edition", found, f"give {least} or more")
        if not 0 <= self.spoilage < 1:
            raise UnusableRecord(
                "edition",
                f"{self.spoilage} of the run is spoiled",
                "give a share from 0 to below 1, as 1/20",
            )

    @property
    def proofs(self) -> int:
        """Artist's proofs, as set or as is usual."""
        if self.artists_proofs is not None:
            return self.artists_proofs
        return floor(self.numbered * ARTISTS_PROOFS)

    @property
    def run(self) -> int:
        """Numbered prints and artist's proofs: what the percentage is taken of."""
        return self.numbered + self.proofs

    @property
    def spoiled(self) -> int:
        """Blanks for prints that go wrong, rounded up."""
        return spoiled_of(self.run, self.spoilage)

    @property
    def blanks(self) -> int:
        """All blanks of the edition.

        >>> Edition(50, artists_proofs=5, other_proofs=2).blanks
        60
        """
        return self.run + self.other_proofs + self.set_up + self.spoiled

    @property
    def certificates(self) -> int:
        """One for every print that may be sold, artist's proofs too."""
        return self.run

    def blanks_for(self, sold: int) -> int:
        """Return the blanks for so many prints of an edition that is made as it is sold.

        Proofs and setting up belong to the edition as a whole and are not counted again.

        Raises:
            UnusableRecord: if more are sold than there are.
        """
        if not 0 <= sold <= self.run:
            raise UnusableRecord(
                "edition",
                f"{sold} are sold of {self.run} with artist's proofs",
                f"give 0 to {self.run}",
            )
        return sold + spoiled_of(sold, self.spoilage)


@dataclass(frozen=True, slots=True)
class Companion:
    """Something that is cut for every print, on its own paper.

    Attributes:
        name: certificate, interleave, backing board.
        width, height: of one; None for the print's own, with ``larger`` added on each side.
        larger: how much it stands out beyond the print on each side.
        for_each: whether it goes with every print that may be sold, or with every blank.
    """

    name: str
    paper: str
    width: Length | None = None
    height: Length | None = None
    larger: Length = 0
    kind: Kind = "card"
    for_each: bool = True

    def size(self, print_: Piece) -> tuple[Length, Length]:
        """Return the size of the one that goes with a print."""
        width = print_.width if self.width is None else self.width
        height = print_.height if self.height is None else self.height
        return width + 2 * self.larger, height + 2 * self.larger


@dataclass(frozen=True, slots=True)
class EditionLines:
    """Order lines of an edition: the blanks, then what goes with them."""

    blanks: Piece
    companions: tuple[Piece, ...] = field(default_factory=tuple)

    @property
    def all(self) -> tuple[Piece, ...]:
        """Every line, ready to be planned."""
        return self.blanks, *self.companions


def edition_lines(
    edition: Edition,
    print_: Piece,
    companions: Iterable[Companion] = (),
    *,
    sold: int | None = None,
) -> EditionLines:
    """Return the order lines of an edition.

    Args:
        print_: the print; its count does not matter.
        sold: how many are made now, for an edition that is printed on order.

    Raises:
        UnusableRecord: if none are made, or more than the edition has.
    """
    now = edition.run if sold is None else sold
    blanks = edition.blanks if sold is None else edition.blanks_for(sold)
    lines = []
    for companion in companions:
        n = now if companion.for_each else blanks
        width, height = companion.size(print_)
        lines.append(
            Piece(
                order=f"{print_.order} {companion.name}",
                label=f"{print_.label}, {companion.name}" if print_.label else companion.name,
                paper=companion.paper,
                width=width,
                height=height,
                count=n,
                kind=companion.kind,
                client=print_.client,
                due=print_.due,
                unit=print_.unit,
            )
        )
    return EditionLines(replace(print_, count=blanks, kind="print"), tuple(lines))


def spoiled_of(run: int, rate: Fraction) -> int:
    """Return the blanks that a run loses, rounded up.

    >>> spoiled_of(55, Fraction(5, 100))
    3
    """
    return ceil(run * rate)


def print_piece(
    order: str,
    label: str,
    paper: str,
    image: tuple[Length, Length],
    borders: Edges,
    *,
    count: int = 1,
) -> Piece:
    """Return the line of a print: its sheet is the image and the borders round it."""
    return Piece(
        order,
        label,
        paper,
        image[0] + borders.across,
        image[1] + borders.up,
        count=count,
        kind="print",
        margin=NO_EDGES,
        border=borders,
    )
