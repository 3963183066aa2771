"""One layout's sheets as cut: they go down, blanks and keepers come up, the rest is scrap."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator

from sheetcut.drawer.as_cut import AsCut, Cutting
from sheetcut.drawer.books import Kind, book
from sheetcut.drawer.refusals import WrongAmount
from sheetcut.drawer.rows import Row
from sheetcut.drawer.sheets import named_sheet
from sheetcut.drawer.spoiling import Leftover, keep_leftover, spoil_blanks
from sheetcut.drawer.tables import size_text
from sheetcut.job import EDGES, Edge, Grain
from sheetcut.layout import Keeper, Layout, PaperPlan, Placement, Plan
from sheetcut.tags import new_tags
from sheetcut.units import Area, Cents

Shares = dict[tuple[int, int, int], Cents]
"""The cents that a blank carries, by its layout, copy and place in it."""


class Sheets:
    """The sheets of one layout being booked as cut."""

    def __init__(self, cutting: Cutting, shares: Shares, told: AsCut, copies: list[int]) -> None:
        self.cutting, self.told, self.copies = cutting, told, copies
        self.shares = shares
        self.change, self.plan, self.done = cutting.change, cutting.plan, cutting.done
        self.layout = cutting.layout(told.layout)
        self.row = named_sheet(self.change, told.sheet or self.layout.sheet)
        self.area: Area = self.row["width"] * self.row["height"]
        if self.row["paper"] != self.plan.sheet(self.layout.sheet).paper:
            raise WrongAmount(
                self.row["name"],
                f"it is {self.row['paper']}, another paper than the layout's",
                "name another sheet",
            )

    def book(self) -> None:
        """Take the sheets, enter the blanks and keepers, and call the rest scrap."""
        self._take()
        made: list[Row] = []
        for copy in self.copies:
            made += self._blanks(copy, self._sheet_cut(copy))
        made = self._without_left_out(made)
        for blank in made:
            blank["id"] = self.change.add("blank", blank)
        kept = self._keepers()
        finished = sum(blank["finished"] for blank in made)
        blanks = sum(blank["width"] * blank["height"] for blank in made)
        scrap = len(self.copies) * self.area - blanks - kept
        if scrap < 0:
            raise WrongAmount(
                f"plan {self.plan.code}, layout {self.told.layout}",
                "blanks and what was kept are larger than the sheets they came from",
                "measure again what was kept",
            )
        self._book("finished", 1, finished)
        self._book("margins", 1, blanks - finished)
        self._book("scrap", 1, scrap)
        self.done.blanks += len(made)
        self._spoil(made)

    def _take(self) -> None:
        """Take the sheets off their row; a spent offcut's row goes with the last of it."""
        row, n = self.row, len(self.copies)
        full = row["kind"] == "full"
        cash = (None if row["price"] is None else n * row["price"]) if full else 0
        self._book("used", n, self.area, cash)
        self.done.sheets[row["name"]] += n
        if cash is None or self.done.cost is None:
            self.done.cost = None
        else:
            self.done.cost += cash
        if row["on_hand"] is None:
            # Nobody counts these, so they come into the books only as they are cut.
            self._book("bought", n, self.area, cash)
            return
        left = row["on_hand"] - n
        if left or full:
            self.change.alter("sheet", row["id"], {"on_hand": left})
        else:
            self.change.remove("sheet", row["id"])
        if row["low"] is not None and left <= row["low"]:
            self.done.notices.append(
                f"{row['name']}: {left} on hand; time to buy (at {row['low']} or fewer)"
            )

    def _sheet_cut(self, copy: int) -> int:
        values = self.cutting.sheet_row(self.told, copy, "cut")
        held = self.cutting.known.get((self.told.layout, copy))
        if held is None:
            return self.change.add("sheet_cut", values)
        self.change.alter("sheet_cut", held["id"], values)
        return int(held["id"])

    def _blanks(self, copy: int, sheet_cut: int) -> list[Row]:
        return [
            self._blank(place, sheet_cut, self.shares.get((self.told.layout, copy, n)))
            for n, place in enumerate(self.layout.placements)
        ]

    def _blank(self, place: Placement, sheet_cut: int, share: Cents | None) -> Row:
        piece = self.plan.piece(place.piece)
        line = self.change.one("order_line", name=piece.order)
        assert line is not None
        sides = (place.height, place.width) if place.turned else (place.width, place.height)
        return {
            "line": line["id"],
            "sheet_cut": sheet_cut,
            "paper": self.row["paper"],
            "width": sides[0],
            "height": sides[1],
            "finished": piece.width * piece.height,
            "share": share,
            "sheet_price": self.row["price"],
            "sheet_area": self.area,
            "grain": _turned(self.row["grain"]) if place.turned else self.row["grain"],
            "side": self.row["side"],
            "unit": piece.unit,
            "state": "cut",
            "since": self.change.now,
        }

    def _without_left_out(self, blanks: list[Row]) -> list[Row]:
        """Return the blanks that were cut; of those left out, the last ones go."""
        skip = self._by_line("left out", self.told.left_out, blanks)
        kept = []
        for blank in reversed(blanks):
            if skip[blank["line"]]:
                skip[blank["line"]] -= 1
            else:
                kept.append(blank)
        return kept[::-1]

    def _spoil(self, made: list[Row]) -> None:
        for line, n in self._by_line("spoiled", self.told.spoiled, made).items():
            own = [blank for blank in made if blank["line"] == line][:n]
            spoil_blanks(self.change, own, None)
            self.done.spoiled += n

    def _by_line(
        self, what: str, told: tuple[tuple[str, int], ...], blanks: list[Row]
    ) -> Counter[int]:
        """Return how many of each line's blanks are meant, all of which must be there."""
        found: Counter[int] = Counter()
        for order, n in told:
            line = self.change.one("order_line", name=order)
            found[line["id"] if line else 0] += n
            have = sum(line is not None and blank["line"] == line["id"] for blank in blanks)
            if n < 1 or found[line["id"] if line else 0] > have:
                raise WrongAmount(
                    f"plan {self.plan.code}, layout {self.told.layout}",
                    f"{n} of {order} {what}, and there are {have} in it",
                    "give blanks that this layout has",
                )
        return found

    def _keepers(self) -> Area:
        """Put what was kept into the drawer, and return its area."""
        if self.told.kept is not None:
            return sum(self._keep(one) for one in self.told.kept)
        return sum(
            self._keep(
                Leftover(keeper.width, keeper.height, keeper.names[copy]),
                true_edges(self.layout, keeper, self.row),
            )
            for keeper in self.layout.keepers
            for copy in self.copies
        )

    def _keep(self, kept: Leftover, edges: tuple[Edge, ...] = ()) -> Area:
        name = kept.name
        taken = [row["name"] for row in self.change.all("sheet")]
        if not name or name.casefold() in {one.casefold() for one in taken}:
            name = next(new_tags([*taken, *_planned_names(self.plan)]))
            if kept.name:
                self.done.notices.append(
                    f"{kept.name} is in the drawer already: pencil {name} on the new keeper instead"
                )
        if kept.width > self.row["width"] or kept.height > self.row["height"]:
            unit = self.row["unit"]
            size = size_text(kept.width, kept.height, unit)
            whole = size_text(self.row["width"], self.row["height"], unit)
            raise WrongAmount(name, f"{size} is more than its sheet, {whole}", "measure it again")
        keep_leftover(
            self.change,
            name,
            kept,
            source=self.row,
            grain=self.row["grain"],
            origin=f"plan {self.plan.code}, from {self.row['name']}",
            true_edges=edges,
        )
        self.done.keepers.append(name)
        return kept.width * kept.height

    def _book(self, kind: Kind, n: int, area: Area, cash: Cents | None = None) -> None:
        book(
            self.change,
            self.row["paper"],
            kind,
            n,
            area,
            cash=cash,
            what=f"plan {self.plan.code}, layout {self.told.layout}, {self.row['name']}",
        )


def true_edges(layout: Layout, keeper: Keeper, sheet: Row) -> tuple[Edge, ...]:
    """Return the edges of a keeper that are straight and clean: cut, squared, or as bought.

    An edge is not true where it lies along an edge of the sheet that loses something and was
    not squared: the deckle or bruise is still on it, beyond the keeper's measure. Along an
    offcut's own edge it is as true as that was.
    """
    made = {one.edge for one in layout.squaring}
    if sheet["true_edges"] is None:
        made |= {edge for edge in EDGES if not sheet[f"loss_{edge}"]}
    else:
        made |= set(json.loads(sheet["true_edges"]))
    _, _, width, height = layout.usable
    at_edge: tuple[tuple[Edge, bool], ...] = (
        ("left", keeper.x == 0),
        ("right", keeper.x + keeper.width == width),
        ("top", keeper.y + keeper.height == height),
        ("foot", keeper.y == 0),
    )
    return tuple(edge for edge, is_outer in at_edge if not is_outer or edge in made)


def blank_shares(plan: Plan) -> Shares:
    """Return the cents each blank carries, by layout, copy and place in it.

    A line's share is split over its blanks evenly, the first ones carrying the odd cents.
    """
    found: Shares = {}
    first = 1
    for paper in plan.papers:
        found |= dict(_paper_shares(paper, first))
        first += len(paper.layouts)
    return found


def _paper_shares(paper: PaperPlan, first: int) -> Iterator[tuple[tuple[int, int, int], Cents]]:
    places: dict[int, list[tuple[int, int, int]]] = {}
    for number, layout in enumerate(paper.layouts, start=first):
        for copy in range(layout.copies):
            for n, place in enumerate(layout.placements):
                places.setdefault(place.piece, []).append((number, copy, n))
    for piece, share in paper.shares.items():
        own = places.get(piece, [])
        for rank, place_key in enumerate(own):
            yield place_key, share // len(own) + (rank < share % len(own))


def _planned_names(plan: Plan) -> Iterator[str]:
    for layout in plan.layouts:
        for keeper in layout.keepers:
            yield from keeper.names


def _turned(grain: Grain) -> Grain:
    flipped: dict[str, Grain] = {"along width": "along height", "along height": "along width"}
    return flipped.get(grain, grain)
