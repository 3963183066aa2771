"""What to buy: the packs, single sheets and carriage that cost least for so many sheets.

Solved exactly, as an integer programme: how many of each pack, which price break, and which
band of carriage the goods fall into. Buying more than is needed is allowed, since a larger
pack or free carriage can cost less than exactly enough.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sheetcut.errors import SheetcutError
from sheetcut.job import Pack, Sheet
from sheetcut.nest.cover import solver
from sheetcut.units import Cents


class NotForSale(SheetcutError):
    """Sheets are needed of which nobody has said what they cost."""

    def __init__(self, sheets: Sequence[str]) -> None:
        self.sheets = tuple(sheets)
        names = ", ".join(sheets)
        super().__init__(
            f"{names}: neither a price nor packs are known; write them in the drawer's table"
        )


@dataclass(frozen=True, slots=True)
class Offer:
    """One way a sheet is sold.

    Attributes:
        count: sheets in the pack; for a price break, the fewest sheets it is for.
        price: of the pack; for a price break, of one sheet.
        is_break: whether any number from ``count`` up is sold at this price a sheet.
    """

    sheet: str
    count: int
    price: Cents
    is_break: bool = False


@dataclass(frozen=True, slots=True)
class Carriage:
    """What a supplier charges for sending, by the value of the goods.

    Attributes:
        bands: (goods from, charge), the first from nothing; the last that is reached holds.
    """

    bands: tuple[tuple[Cents, Cents], ...] = ((0, 0),)

    def __post_init__(self) -> None:
        starts = [start for start, _ in self.bands]
        if starts[:1] != [0] or starts != sorted(set(starts)):
            raise ValueError("carriage begins with goods from 0, and each band starts higher")

    def charge(self, goods: Cents) -> Cents:
        """Return the charge for goods of this value.

        >>> Carriage(((0, 950), (15000, 0))).charge(14999)
        950
        """
        return next(fee for start, fee in reversed(self.bands) if goods >= start)


@dataclass(frozen=True, slots=True)
class Bought:
    """One line of what to buy: so many packs, or so many sheets at a price break."""

    offer: Offer
    number: int

    @property
    def sheets(self) -> int:
        """How many sheets it brings."""
        return self.number if self.offer.is_break else self.number * self.offer.count

    @property
    def cost(self) -> Cents:
        """What it costs."""
        return self.number * self.offer.price


@dataclass(frozen=True, slots=True)
class Purchase:
    """The cheapest way to buy what is needed.

    Attributes:
        surplus: by sheet id, how many more come than are needed; only those above none.
    """

    lines: tuple[Bought, ...] = ()
    carriage: Cents = 0
    surplus: Mapping[str, int] = field(default_factory=dict)

    @property
    def goods(self) -> Cents:
        """What the paper costs."""
        return sum(line.cost for line in self.lines)

    @property
    def cost(self) -> Cents:
        """What the paper and its carriage cost."""
        return self.goods + self.carriage


def offers_of(sheet: Sheet) -> tuple[Offer, ...]:
    """Return how a sheet is sold: in its packs, or where no pack says so singly at its price.

    A price for so many or more says what a larger number costs, and not that fewer cannot be
    had; a pack of so many does say that.
    """
    packs = tuple(_offer(sheet, pack) for pack in sheet.packs)
    if sheet.price is None or not all(offer.is_break for offer in packs):
        return packs
    return (Offer(sheet.id, 1, sheet.price), *packs)


def _offer(sheet: Sheet, pack: Pack) -> Offer:
    if pack.or_more:
        return Offer(sheet.id, pack.count, pack.price // pack.count, is_break=True)
    return Offer(sheet.id, pack.count, pack.price)


def cheapest(
    needs: Mapping[str, int], offers: Iterable[Offer], carriage: Carriage | None = None
) -> Purchase:
    """Return what to buy so that at least the needed sheets come for the least in all.

    Among purchases that cost the same, the one that brings the fewest sheets.

    Args:
        needs: by sheet id, how many are wanted.

    Raises:
        NotForSale: if a needed sheet has no offer.
    """
    needs = {name: n for name, n in needs.items() if n > 0}
    offers, carriage = tuple(offers), carriage or Carriage()
    missing = [name for name in needs if all(offer.sheet != name for offer in offers)]
    if missing:
        raise NotForSale(missing)
    if not needs:
        return Purchase()
    numbers = _numbers(needs, offers, carriage)
    lines = tuple(Bought(offer, n) for offer, n in zip(offers, numbers, strict=True) if n)
    come: dict[str, int] = {}
    for line in lines:
        come[line.offer.sheet] = come.get(line.offer.sheet, 0) + line.sheets
    surplus = {name: n - needs.get(name, 0) for name, n in come.items() if n > needs.get(name, 0)}
    return Purchase(lines, carriage.charge(sum(line.cost for line in lines)), surplus)


def _numbers(
    needs: Mapping[str, int], offers: Sequence[Offer], carriage: Carriage
) -> tuple[int, ...]:
    """Return how many of each offer to take: the least cost, then the fewest sheets."""
    programme = _Programme(needs, offers, carriage)
    least = programme.solved(programme.costs)
    cost = sum(one * n for one, n in zip(programme.costs, least, strict=True))
    programme.hold(programme.costs, cost)
    fewest = programme.solved(programme.brings)
    return fewest[: len(offers)]


class _Programme:
    """Columns: how many of each offer, whether each price break is used, the band of carriage."""

    def __init__(
        self, needs: Mapping[str, int], offers: Sequence[Offer], carriage: Carriage
    ) -> None:
        import highspy  # noqa: PLC0415  most weeks need nothing

        self.highspy = highspy
        self.model: Any = solver()
        self.model.setOptionValue("mip_rel_gap", 0.0)
        self.model.setOptionValue("mip_abs_gap", 0.5)  # everything counted is whole
        breaks = [place for place, offer in enumerate(offers) if offer.is_break]
        fees = [fee for _, fee in carriage.bands]
        self.costs = [offer.price for offer in offers] + [0] * len(breaks) + fees
        self.brings = [1 if offer.is_break else offer.count for offer in offers]
        self.brings += [0] * (len(breaks) + len(fees))
        most = [_most_of(offer, needs.get(offer.sheet, 0), carriage) for offer in offers]
        for upper in most + [1] * (len(breaks) + len(fees)):
            self._column(upper)
        for name, n in needs.items():
            mine = [place for place, offer in enumerate(offers) if offer.sheet == name]
            self._row(n, None, mine, [self.brings[place] for place in mine])
        for used, place in enumerate(breaks, start=len(offers)):
            self._row(0, None, [place, used], [1, -offers[place].count])
            self._row(None, 0, [place, used], [1, -most[place]])
        self._carriage(offers, carriage, most, first=len(offers) + len(breaks))

    def solved(self, costs: Sequence[int]) -> tuple[int, ...]:
        """Return the columns that make a sum of them least."""
        for place, cost in enumerate(costs):
            self.model.changeColCost(place, float(cost))
        self.model.run()
        if self.model.getModelStatus() != self.highspy.HighsModelStatus.kOptimal:
            raise AssertionError("with enough of every offer there is always a cheapest purchase")
        return tuple(round(value) for value in self.model.getSolution().col_value)

    def hold(self, costs: Sequence[int], most: int) -> None:
        """Let a sum be no more than this from now on."""
        self._row(None, most, range(len(costs)), costs)

    def _carriage(
        self, offers: Sequence[Offer], carriage: Carriage, most: Sequence[int], *, first: int
    ) -> None:
        """Hold the value of the goods within the one band that is chosen."""
        starts = [start for start, _ in carriage.bands]
        dearest = sum(offer.price * n for offer, n in zip(offers, most, strict=True))
        ends = [start - 1 for start in starts[1:]] + [max(dearest, starts[-1])]
        bands = list(range(first, first + len(starts)))
        places = [*range(len(offers)), *bands]
        prices = [offer.price for offer in offers]
        self._row(1, 1, bands, [1] * len(bands))
        self._row(0, None, places, [*prices, *(-start for start in starts)])
        self._row(None, 0, places, [*prices, *(-end for end in ends)])

    def _column(self, upper: int) -> None:
        place = self.model.getNumCol()
        self.model.addCol(0.0, 0.0, float(upper), 0, [], [])
        self.model.changeColIntegrality(place, self.highspy.HighsVarType.kInteger)

    def _row(
        self, least: int | None, most: int | None, places: Sequence[int], values: Sequence[int]
    ) -> None:
        infinite = self.highspy.kHighsInf
        self.model.addRow(
            -infinite if least is None else float(least),
            infinite if most is None else float(most),
            len(places),
            list(places),
            [float(value) for value in values],
        )


def _most_of(offer: Offer, need: int, carriage: Carriage) -> int:
    """Return more of an offer than any cheapest purchase takes.

    Enough for all that is needed, or enough to reach the last band of carriage alone.
    """
    each = 1 if offer.is_break else offer.count
    for_need = max(-(-need // each), offer.count if offer.is_break else 0)
    last_band = carriage.bands[-1][0]
    for_band = -(-last_band // offer.price) if offer.price else 0
    return for_need + for_band
