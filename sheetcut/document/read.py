"""Reads a plan document back: JSON to rows to records."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import msgspec

from sheetcut.document.rows import (
    FORM,
    AlternativeRow,
    BlankRow,
    CutRow,
    Four,
    LayoutRow,
    OrderRow,
    PaperPlanRow,
    PlanDocument,
    SheetRow,
    SkewRow,
    Two,
)
from sheetcut.document.write import plan_bytes
from sheetcut.errors import Fault, SheetcutError, UnusableRecord
from sheetcut.job import Job, Pack, Paper, Piece, Rules, Sheet, Skew
from sheetcut.layout import (
    Alternative,
    Bound,
    Cut,
    Keeper,
    Layout,
    PaperPlan,
    Placement,
    Plan,
    Short,
    Squaring,
    Waste,
)
from sheetcut.out_of_square import Measured
from sheetcut.units import TICKS_PER_MM, Cents, Edges, Length, plain

_DECODER = msgspec.json.Decoder(PlanDocument)


class UnreadablePlan(SheetcutError):
    """A plan document cannot be read back."""

    def __init__(self, source: str, message: str) -> None:
        super().__init__(f"{source}: {message}; give the plan.json that a plan wrote")


def read_plan(data: bytes, *, source: str = "the plan") -> Plan:
    """Return the plan that a document holds.

    Raises:
        UnreadablePlan: if it is not such a document, with the place of the first mistake, or
            if a sheet, order or rule in it can never be right.
    """
    try:
        written = _DECODER.decode(data)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise UnreadablePlan(source, _found(data, error)) from error
    if written.form != FORM:
        raise UnreadablePlan(source, f'its form is "{written.form[:40]}" and not "{FORM}"')
    try:
        return _Reader(written, source).plan()
    except UnusableRecord as error:
        raise UnreadablePlan(source, f"{error.record}: {error.message}") from error
    except (ValueError, ArithmeticError, LookupError) as error:
        # Python's decimals say nothing of what was wrong with a figure.
        words = "a figure in it is no figure of a plan"
        raise UnreadablePlan(
            source, words if isinstance(error, ArithmeticError) else str(error)
        ) from error


def disagreements(data: bytes, plan: Plan) -> tuple[Fault, ...]:
    """Return a fault for every figure in a document that its own other figures contradict.

    A document says some things twice, so that its readers need no sums: the plan read from
    it is written again, and what then stands elsewhere in other words is a fault.
    """
    found, restated = msgspec.json.decode(data), msgspec.json.decode(plan_bytes(plan))
    return tuple(
        Fault(place, f"{_short(one)} stands there, but the rest of the plan makes it {_short(two)}")
        for place, one, two in _differences(found, restated, "plan")
    )


def _differences(found: Any, restated: Any, place: str) -> Iterator[tuple[str, Any, Any]]:
    if isinstance(found, dict) and isinstance(restated, dict):
        for key, value in restated.items():
            if key in found:
                yield from _differences(found[key], value, f"{place}, {key}")
        return
    if isinstance(found, list) and isinstance(restated, list) and len(found) == len(restated):
        for number, (one, two) in enumerate(zip(found, restated, strict=True), start=1):
            yield from _differences(one, two, f"{place} {number}")
        return
    if found != restated:
        yield place, found, restated


def _short(value: Any) -> str:
    text = str(value)
    return text if len(text) <= 40 else text[:39] + "…"


def _found(data: bytes, error: Exception) -> str:
    if not data.strip():
        return "the file is empty"
    words = str(error).replace("`", '"')
    return f"it does not read as a plan document ({words})"


def _ticks(millimetres: Decimal) -> Length:
    return _whole(millimetres * TICKS_PER_MM, f"{plain(millimetres)} mm")


def _square_ticks(square_mm: Decimal) -> int:
    return _whole(square_mm * TICKS_PER_MM**2, f"{plain(square_mm)} mm²")


def _cents(money: Decimal) -> Cents:
    return _whole(money * 100, f"a sum of {plain(money)}")


def _whole(number: Decimal, what: str) -> int:
    if not number.is_finite() or abs(number) > 10**24:
        raise ValueError(f"{what} is no figure of a plan")
    if number != number.to_integral_value():
        raise ValueError(f"{what} is finer than anything held here")
    return int(number)


def _maybe_ticks(millimetres: Decimal | None) -> Length | None:
    return None if millimetres is None else _ticks(millimetres)


def _maybe_cents(money: Decimal | None) -> Cents | None:
    return None if money is None else _cents(money)


def _pair(two: Two) -> tuple[Length, Length]:
    return _ticks(two[0]), _ticks(two[1])


def _edges(four: Four) -> Edges:
    return Edges(*(_ticks(edge) for edge in four))


def _rectangle(four: Four) -> tuple[Length, Length, Length, Length]:
    x, y, width, height = (_ticks(one) for one in four)
    return x, y, width, height


class _Reader:
    """Turns the rows of one document into records."""

    def __init__(self, written: PlanDocument, source: str) -> None:
        self.written = written
        self.source = source
        self.places = {row.order: place for place, row in enumerate(written.orders)}

    def plan(self) -> Plan:
        """Return the plan."""
        written = self.written
        return Plan(
            job=self._job(),
            papers=tuple(self._paper(row) for row in written.papers),
            short=tuple(Short(self._place(row.order), row.count, row.why) for row in written.short),
            seed=written.seed,
            rounds=written.rounds,
            stopped=written.stopped,
            version=written.version,
            code=written.code,
            made=written.made,
            input_hash=written.input_hash,
        )

    def _place(self, order: str) -> int:
        if order not in self.places:
            raise UnreadablePlan(self.source, f'no order line is called "{_short(order)}"')
        return self.places[order]

    def _job(self) -> Job:
        written, rules = self.written, self.written.rules
        keep_short, keep_long = _pair(rules.keep_size)
        return Job(
            sheets=tuple(_sheet(row) for row in written.sheets),
            pieces=tuple(_piece(row) for row in written.orders),
            rules=Rules(
                reading_step=_maybe_ticks(rules.reading_step),
                narrowest_strip=_maybe_ticks(rules.narrowest_strip),
                keep_short=keep_short,
                keep_long=keep_long,
                mat=None if rules.mat is None else _pair(rules.mat),
                ruler=_maybe_ticks(rules.ruler),
                printer_width=_maybe_ticks(rules.printer_width),
                aim=rules.aim,
                preference=rules.preference,
                narrow_strips=rules.narrow_strips,
            ),
            papers=tuple(
                Paper(row.name, row.grammage, row.passes, row.aim) for row in written.paper_facts
            ),
            studio=written.studio,
            currency=written.currency,
        )

    def _paper(self, row: PaperPlanRow) -> PaperPlan:
        bound = row.bound
        value = _cents(bound.value) if bound.measure == "cost" else _whole(bound.value, "a bound")
        return PaperPlan(
            paper=row.paper,
            aim=row.aim,
            sheets_used=row.sheets_used,
            cost=_maybe_cents(row.cost),
            bound=Bound(bound.measure, value, bound.reason, bound.certificate),
            layouts=tuple(self._layout(one) for one in row.layouts),
            shares={self._place(order): _cents(share) for order, share in row.shares.items()},
            proved=row.proved,
            rounds=row.rounds,
            stopped=row.stopped,
            kind=row.kind,
            alternatives=tuple(self._alternative(one) for one in row.alternatives),
            notes=row.notes,
        )

    def _alternative(self, row: AlternativeRow) -> Alternative:
        return Alternative(row.kind, tuple(self._layout(one) for one in row.layouts))

    def _layout(self, row: LayoutRow) -> Layout:
        x, y, width, height = _rectangle(row.usable)
        waste = row.waste
        return Layout(
            sheet=row.sheet,
            copies=row.copies,
            twins=row.twins,
            start=_corner(row.start),
            width=_ticks(row.width),
            height=_ticks(row.height),
            usable=(x, y, width, height),
            squaring=tuple(
                Squaring(one.number, one.edge, _ticks(one.reading)) for one in row.squaring
            ),
            placements=tuple(self._placement(one) for one in row.blanks),
            cuts=tuple(_cut(one) for one in row.cuts),
            keepers=tuple(
                Keeper(one.names, *_rectangle((one.x, one.y, one.width, one.height)))
                for one in row.keepers
            ),
            leftovers=tuple(_rectangle(one) for one in row.leftovers),
            waste=Waste(
                finished=_square_ticks(waste.finished),
                margins=_square_ticks(waste.margins),
                keepers=_square_ticks(waste.keepers),
                scrap=_square_ticks(waste.scrap),
                edges=_square_ticks(waste.edges),
                extra=_square_ticks(waste.extra),
            ),
        )

    def _placement(self, row: BlankRow) -> Placement:
        return Placement(
            piece=self._place(row.order),
            x=_ticks(row.x),
            y=_ticks(row.y),
            width=_ticks(row.width),
            height=_ticks(row.height),
            turned=row.turned,
            rounding=_pair(row.rounding),
            leave_on=_edges(row.leave_on),
        )


def _corner(start: tuple[str, str]) -> Any:
    across, up = start
    if across not in ("left", "right") or up not in ("foot", "top"):
        raise ValueError(f"a layout starts at {across}, {up}, which is no corner")
    return across, up


def _cut(row: CutRow) -> Cut:
    edge: Any = row.edge
    if isinstance(edge, str) and edge != "start":
        raise ValueError(f'a cut is read from "{_short(edge)}", which is neither start nor a cut')
    return Cut(
        number=row.number,
        along=row.along,
        at=_ticks(row.at),
        start=_ticks(row.start),
        stop=_ticks(row.stop),
        level=row.level,
        setting=row.setting,
        edge=edge,
        reading=_ticks(row.reading),
    )


def _sheet(row: SheetRow) -> Sheet:
    return Sheet(
        id=row.id,
        paper=row.paper,
        width=_ticks(row.width),
        height=_ticks(row.height),
        on_hand=row.on_hand,
        price=_maybe_cents(row.price),
        edge_loss=_edges(row.edge_loss),
        deckles=row.deckles,
        side=row.side,
        grain=row.grain,
        packs=tuple(Pack(n, _cents(price), n in row.or_more) for n, price in row.packs),
        kind=row.kind,
        name=row.name,
        unit=row.unit,
        note=row.note,
        leave=row.leave,
        keep=row.keep,
        watermark=row.watermark,
        skew=None if row.skew is None else _skew(row.skew),
    )


def _skew(row: SkewRow) -> Skew:
    measured = Measured(
        foot=_ticks(row.foot),
        top=_ticks(row.top),
        left=_ticks(row.left),
        right=_ticks(row.right),
        diagonal=_ticks(row.diagonal),
    )
    return Skew(measured, row.along, _edges(row.loss))


def _piece(row: OrderRow) -> Piece:
    return Piece(
        order=row.order,
        label=row.piece,
        paper=row.paper,
        width=_ticks(row.width),
        height=_ticks(row.height),
        count=row.count,
        turn=row.turn,
        kind=row.kind,
        margin=_edges(row.margin),
        border=_edges(row.border),
        client=row.client,
        deckles=row.deckles,
        due=row.due,
        price=_maybe_cents(row.price),
        unit=row.unit,
        note=row.note,
        if_room=row.if_room,
    )
