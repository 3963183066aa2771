"""After the knife: a plan's sheets go down, its keepers come up, its blanks are on the table."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from sheetcut.document import plan_bytes
from sheetcut.drawer.books import book
from sheetcut.drawer.history import Change, Rows
from sheetcut.drawer.lines import cut_of
from sheetcut.drawer.refusals import AlreadyCut, NotHeld, PlanOutOfDate, WrongAmount
from sheetcut.drawer.rows import Row, line_row, sheet_row
from sheetcut.drawer.sheets import named_sheet
from sheetcut.drawer.spoiling import Leftover, keep_leftover, spoil_blanks
from sheetcut.drawer.store import Store
from sheetcut.drawer.tables import length_text, money_text, words_of
from sheetcut.job import Edge, Grain
from sheetcut.layout import Keeper, Layout, PaperPlan, Placement, Plan
from sheetcut.tags import new_tags
from sheetcut.units import Area, Cents

# What of a sheet or an order line a plan stands on; price, client or note may change freely.
SHEET_FACTS = (
    "paper", "width", "height", "loss_left", "loss_right", "loss_top", "loss_foot", "side",
    "grain", "kind",
)  # fmt: skip
LINE_FACTS = (
    "paper", "width", "height", "margin_left", "margin_right", "margin_top", "margin_foot",
    "kind", "turn", "deckles",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class AsCut:
    """What really happened to the sheets of one layout.

    Attributes:
        layout: its number among the layouts of the plan, from 1.
        copies: how many of its sheets were cut; None for all that were not cut before.
        sheet: the drawer row that was really taken; None for the one planned.
        left_out: order lines of which so many blanks were not cut after all.
        spoiled: order lines of which so many blanks were cut and spoiled at once.
        kept: what was really kept, measured, of all copies together; None for the keepers as
            planned. What is neither blank nor kept is scrap.
    """

    layout: int
    copies: int | None = None
    sheet: str | None = None
    left_out: tuple[tuple[str, int], ...] = ()
    spoiled: tuple[tuple[str, int], ...] = ()
    kept: tuple[Leftover, ...] | None = None


@dataclass(slots=True)
class Done:
    """What a cut did.

    Attributes:
        says: all of it in a sentence.
        sheets: how many of each drawer row were cut up.
        keepers: the names of what went back into the drawer.
        blanks: how many blanks are on the table.
        cost: cash price of the full sheets; None where one has no price.
        notices: what its owner should hear besides.
    """

    says: str = ""
    sheets: Counter[str] = field(default_factory=Counter)
    keepers: list[str] = field(default_factory=list)
    blanks: int = 0
    spoiled: int = 0
    cost: Cents | None = 0
    notices: list[str] = field(default_factory=list)


def cut_plan(
    store: Store, plan: Plan, *, now: datetime, as_cut: Sequence[AsCut] | None = None
) -> Done:
    """Book a plan, or some of its layouts, as cut: all in one change.

    Args:
        as_cut: the layouts that were cut, and how; None for all not cut yet, as planned.

    Raises:
        AlreadyCut: if a layout was cut before.
        PlanOutOfDate: if its own sheets or order lines are no longer what they were.
    """
    with store.changing(now) as change:
        cutting = _Cutting(change, plan)
        cutting.cut(as_cut)
        change.says = cutting.done.says
        change.notices += cutting.done.notices
    return cutting.done


def hold(store: Store, plan: Plan, *, now: datetime, layouts: Sequence[int] | None = None) -> str:
    """Note that layouts are pinned up to be cut: the rest can be planned again around them.

    Raises:
        AlreadyCut, PlanOutOfDate: as for a cut.
    """
    with store.changing(now) as change:
        cutting = _Cutting(change, plan)
        held = cutting.hold(layouts)
        change.says = f"Pinned up: plan {plan.code}, layout {_numbers(held)}"
    return change.says


def release(
    store: Store, plan: Plan, *, now: datetime, layouts: Sequence[int] | None = None
) -> str:
    """Take layouts down again without cutting them.

    Raises:
        NotHeld: if a layout is not pinned up.
    """
    key = plan_key(plan)
    with store.changing(now) as change:
        rows = change.all("sheet_cut", plan=key, state="held")
        wanted = sorted({row["layout"] for row in rows}) if layouts is None else list(layouts)
        for number in wanted or [1]:
            own = [row for row in rows if row["layout"] == number]
            if not own:
                raise NotHeld(plan.code, number)
            for row in own:
                change.remove("sheet_cut", row["id"])
        change.says = f"Taken down: plan {plan.code}, layout {_numbers(wanted)}"
    return change.says


@dataclass(frozen=True, slots=True)
class LayoutState:
    """How far the sheets of one layout are: so many to cut, pinned up, and cut."""

    layout: int
    to_cut: int
    held: int
    cut: int


def layout_states(store: Store, plan: Plan) -> tuple[LayoutState, ...]:
    """Return for each layout of a plan how many of its sheets are cut or pinned up."""
    with store.reading() as rows:
        own = rows.all("sheet_cut", plan=plan_key(plan))
    states = Counter((row["layout"], row["state"]) for row in own)
    return tuple(
        LayoutState(
            number,
            layout.copies - states[number, "held"] - states[number, "cut"],
            states[number, "held"],
            states[number, "cut"],
        )
        for number, layout in enumerate(plan.layouts, start=1)
    )


def plan_key(plan: Plan) -> str:
    """Return what tells one plan from every other: the SHA-256 of its document."""
    return hashlib.sha256(plan_bytes(plan)).hexdigest()


class _Cutting:
    """One plan being cut, or pinned up, within one change."""

    def __init__(self, change: Change, plan: Plan) -> None:
        self.change = change
        self.plan = plan
        self.key = plan_key(plan)
        self.done = Done()
        self.shares = _blank_shares(plan)
        self.known = {
            (row["layout"], row["copy"]): row for row in change.all("sheet_cut", plan=self.key)
        }

    def cut(self, as_cut: Sequence[AsCut] | None) -> None:
        """Book these layouts as cut."""
        told = [AsCut(number) for number in self._to_cut()] if as_cut is None else as_cut
        if not told:
            raise WrongAmount(f"plan {self.plan.code}", "no layout is named", "name one to be cut")
        copies = [(one, self._copies(one)) for one in told]
        self._refuse_out_of_date(copies)
        for one, numbers in copies:
            _Sheets(self, one, numbers).book()
        self.done.says = self._sentence([one.layout for one in told])

    def hold(self, layouts: Sequence[int] | None) -> list[int]:
        """Note these layouts as pinned up, and return their numbers."""
        numbers = self._to_cut() if layouts is None else list(layouts)
        copies = [(AsCut(number), self._copies(AsCut(number))) for number in numbers]
        self._refuse_out_of_date(copies)
        for one, own in copies:
            layout = self.layout(one.layout)
            for copy in own:
                if (one.layout, copy) not in self.known:
                    self.change.add("sheet_cut", self.sheet_row(one, layout, copy, "held"))
        return numbers

    def layout(self, number: int) -> Layout:
        """Return a layout by its number."""
        layouts = self.plan.layouts
        if not 1 <= number <= len(layouts):
            raise WrongAmount(
                f"plan {self.plan.code}",
                f"it has no layout {number}",
                f"its layouts are 1 to {len(layouts)}",
            )
        return layouts[number - 1]

    def sheet_row(self, one: AsCut, layout: Layout, copy: int, state: str) -> Row:
        """Return the row of one sheet that is cut or pinned up."""
        wanted = Counter(self.plan.piece(place.piece).order for place in layout.placements)
        return {
            "plan": self.key,
            "code": self.plan.code,
            "layout": one.layout,
            "copy": copy,
            "state": state,
            "sheet": one.sheet or layout.sheet,
            "paper": self.plan.sheet(layout.sheet).paper,
            "wanted": json.dumps(sorted(wanted.items())),
            "at": self.change.now,
        }

    def _to_cut(self) -> list[int]:
        """Return the layouts that have sheets left to cut.

        Raises:
            AlreadyCut: if none has.
        """
        left = [
            number
            for number, layout in enumerate(self.plan.layouts, start=1)
            if any(self._is_open(number, copy) for copy in range(layout.copies))
        ]
        if not left:
            raise AlreadyCut(self.plan.code, range(1, len(self.plan.layouts) + 1))
        return left

    def _is_open(self, number: int, copy: int) -> bool:
        row = self.known.get((number, copy))
        return row is None or row["state"] == "held"

    def _copies(self, one: AsCut) -> list[int]:
        layout = self.layout(one.layout)
        left = [copy for copy in range(layout.copies) if self._is_open(one.layout, copy)]
        if not left:
            raise AlreadyCut(self.plan.code, [one.layout])
        wanted = len(left) if one.copies is None else one.copies
        if not 1 <= wanted <= len(left):
            raise WrongAmount(
                f"plan {self.plan.code}, layout {one.layout}",
                f"{wanted} sheets of it, and {len(left)} are left to cut",
                f"give 1 to {len(left)}",
            )
        return left[:wanted]

    def _refuse_out_of_date(self, copies: Sequence[tuple[AsCut, list[int]]]) -> None:
        numbers = [one.layout for one, _ in copies]
        if len(set(numbers)) < len(numbers):
            raise WrongAmount(
                f"plan {self.plan.code}",
                f"layout {_numbers(numbers)}: one stands there twice",
                "name each once",
            )
        changes = list(_changes(self, copies))
        if changes:
            alone = [one[0].layout for one in copies if not any(_changes(self, [one]))]
            raise PlanOutOfDate(self.plan.code, changes, alone)

    def _sentence(self, layouts: Sequence[int]) -> str:
        done = self.done
        sheets = ", ".join(f"{n} x {name}" for name, n in done.sheets.items())
        says = f"Cut plan {self.plan.code}, layout {_numbers(layouts)}: {sheets}"
        says += f"; {_count(done.blanks, 'blank')}"
        if done.spoiled:
            says += f", {done.spoiled} spoiled"
        if done.keepers:
            says += f"; back into the drawer: {', '.join(done.keepers)}"
        if done.cost is not None:
            says += f"; paper {money_text(done.cost)}"
        return says


def _changes(cutting: _Cutting, copies: Iterable[tuple[AsCut, list[int]]]) -> Iterator[str]:
    """Yield what is no longer as these layouts need it, a sentence each."""
    change, plan = cutting.change, cutting.plan
    sheets: Counter[str] = Counter()
    planned: set[str] = set()
    lines: Counter[str] = Counter()
    own: set[int] = set()
    for one, numbers in copies:
        layout = cutting.layout(one.layout)
        sheets[one.sheet or layout.sheet] += len(numbers)
        if one.sheet is None:
            planned.add(layout.sheet)
        wanted = Counter(plan.piece(place.piece).order for place in layout.placements)
        for order, n in wanted.items():
            skipped = sum(k for name, k in one.left_out if name == order)
            lines[order] += len(numbers) * n - skipped
        known = (cutting.known.get((one.layout, copy)) for copy in numbers)
        own |= {row["id"] for row in known if row}
    others = [row for row in change.all("sheet_cut", state="held") if row["id"] not in own]
    for name, n in sheets.items():
        fact = sheet_row(plan.sheet(name)) if name in planned else None
        yield from _sheet_changes(change, name, n, fact, others)
    cut = cut_of(change)
    facts = {piece.order: line_row(piece) for piece in plan.job.pieces}
    for order, n in lines.items():
        yield from _line_changes(change, order, n, facts[order], cut, others)


def _sheet_changes(
    rows: Rows, name: str, wanted: int, fact: Row | None, others: list[Row]
) -> Iterator[str]:
    row = rows.one("sheet", name=name)
    if row is None:
        yield f"{name} is no longer in the drawer"
        return
    if fact is not None:
        yield from _fact_changes(name, SHEET_FACTS, fact, row)
    if row["on_hand"] is None:
        return
    held = sum(one["sheet"] == name for one in others)
    if row["on_hand"] - held < wanted:
        pinned = f", {held} of them spoken for by what is pinned up" if held else ""
        yield f"{name}: {wanted} needed, {row['on_hand']} on hand{pinned}"


def _line_changes(
    rows: Rows, order: str, wanted: int, fact: Row, cut: Counter[int], others: list[Row]
) -> Iterator[str]:
    row = rows.one("order_line", name=order)
    if row is None:
        yield f"order {order} is no longer there"
        return
    yield from _fact_changes(f"order {order}", LINE_FACTS, fact, row)
    held = sum(dict(json.loads(one["wanted"])).get(order, 0) for one in others)
    left = row["count"] - cut[row["id"]] - held
    if left < wanted:
        pinned = f", {held} spoken for by what is pinned up" if held else ""
        yield (
            f"order {order}: {_count(wanted, 'blank')} in these layouts, {row['count']} wanted, "
            f"{cut[row['id']]} cut already{pinned}"
        )


def _fact_changes(who: str, facts: Sequence[str], planned: Row, present: Row) -> Iterator[str]:
    for fact in facts:
        if planned[fact] != present[fact]:
            name = fact.replace("_", " ").replace("loss", "edge loss")
            yield f"{who}: {name} was {_text(fact, planned)}, is {_text(fact, present)}"


def _text(fact: str, row: Row) -> str:
    value = row[fact]
    if isinstance(value, int):
        return length_text(value, row["unit"])
    return words_of(value) if fact == "deckles" else str(value)


class _Sheets:
    """The sheets of one layout being booked as cut."""

    def __init__(self, cutting: _Cutting, told: AsCut, copies: list[int]) -> None:
        self.cutting, self.told, self.copies = cutting, told, copies
        self.change, self.plan, self.done = cutting.change, cutting.plan, cutting.done
        self.layout = cutting.layout(told.layout)
        self.row = named_sheet(self.change, told.sheet or self.layout.sheet)
        self.area: Area = self.row["width"] * self.row["height"]
        if self.row["paper"] != self.plan.sheet(self.layout.sheet).paper:
            raise WrongAmount(
                told.sheet or "", "it is another paper than the layout's", "name another sheet"
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
        for kind, area in (("finished", finished), ("margins", blanks - finished)):
            if area:
                self._book(kind, 1, area)
        if scrap:
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
        values = self.cutting.sheet_row(self.told, self.layout, copy, "cut")
        held = self.cutting.known.get((self.told.layout, copy))
        if held is None:
            return self.change.add("sheet_cut", values)
        self.change.alter("sheet_cut", held["id"], values)
        return int(held["id"])

    def _blanks(self, copy: int, sheet_cut: int) -> list[Row]:
        shares = self.cutting.shares
        return [
            self._blank(place, sheet_cut, shares.get((self.told.layout, copy, n)))
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
            raise WrongAmount(name, "it is longer than its sheet", "measure it again")
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

    def _book(self, kind: str, n: int, area: Area, cash: Cents | None = None) -> None:
        book(
            self.change,
            self.row["paper"],
            kind,  # type: ignore[arg-type]
            n,
            area,
            cash=cash,
            what=f"plan {self.plan.code}, layout {self.told.layout}, {self.row['name']}",
        )


def true_edges(layout: Layout, keeper: Keeper, sheet: Row) -> tuple[Edge, ...]:
    """Return the edges of a keeper that are straight and clean: cut, squared, or as bought.

    An edge is not true where it lies along an edge of the sheet that loses something and was
    not squared: the deckle or bruise is still on it, beyond the keeper's measure.
    """
    squared = {one.edge for one in layout.squaring}
    _, _, width, height = layout.usable
    at_edge: tuple[tuple[Edge, bool], ...] = (
        ("left", keeper.x == 0),
        ("right", keeper.x + keeper.width == width),
        ("top", keeper.y + keeper.height == height),
        ("foot", keeper.y == 0),
    )
    return tuple(
        edge
        for edge, is_outer in at_edge
        if not is_outer or edge in squared or not sheet[f"loss_{edge}"]
    )


def _blank_shares(plan: Plan) -> dict[tuple[int, int, int], Cents]:
    """Return the cents each blank carries, by layout, copy and place in it.

    A line's share is split over its blanks evenly, the first ones carrying the odd cents.
    """
    found: dict[tuple[int, int, int], Cents] = {}
    first = 1
    for paper in plan.papers:
        found |= _paper_shares(paper, first)
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


def _numbers(numbers: Iterable[int]) -> str:
    return ", ".join(str(number) for number in numbers)


def _count(n: int, what: str) -> str:
    return f"{n} {what}" if n == 1 else f"{n} {what}s"
