"""The work list: blanks that were cut, moved on stage by stage until they are sent, or spoiled."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from sheetcut.drawer import STAGES, InWork, Leftover, Store, move, spoil, work_list
from sheetcut.drawer.refusals import WrongAmount
from sheetcut.drawer.work import RANK
from sheetcut.page.changing import changing
from sheetcut.page.studio import clock, desk
from sheetcut.read import Refused, read_number, read_size

place = Blueprint("work", __name__, url_prefix="/work")


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of a line.

    Attributes:
        count: how many of its blanks stand there.
        before: how many could be moved to it.
    """

    name: str
    count: int
    before: int


@dataclass(frozen=True, slots=True)
class Line:
    """An order line in work, as it is shown.

    Attributes:
        stood: where its blanks stand, in words; a form that says otherwise was overtaken.
    """

    order: str
    piece: str
    client: str
    due: str
    to_cut: int
    spoiled: int
    stages: tuple[Stage, ...]
    stood: str

    @property
    def there(self) -> tuple[str, ...]:
        """The stages at which it has blanks."""
        return tuple(stage.name for stage in self.stages if stage.count)


@place.get("")
def show() -> ResponseReturnValue:
    """Show what was cut and is not sent yet, what is due first at the top."""
    return _page()


@place.post("/move")
def move_on() -> ResponseReturnValue:
    """Move blanks of a line on to a stage: as many as were typed, or all."""
    stage, typed = request.form.get("stage", ""), request.form.get("count", "").strip()

    def moved(store: Store, line: Line) -> str:
        count = None
        if typed:
            before = next((one.before for one in line.stages if one.name == stage), 0)
            count = _count(typed, before, f"at a stage before {stage}")
        return move(store, line.order, stage, now=clock(), count=count)

    return _done(moved, "count", f"{typed or 'all'} to {stage}")


@place.post("/spoiled")
def spoiled() -> ResponseReturnValue:
    """Book blanks of a line as spoiled: they are wanted again, what is kept of them goes in."""
    state, typed = request.form.get("stage", ""), request.form.get("spoiled", "").strip()

    def gone(store: Store, line: Line) -> str:
        there = sum(one.count for one in line.stages if one.name == state)
        count = _count(typed, there, state)
        left = _leftover()
        try:
            return spoil(store, line.order, now=clock(), count=count, state=state, leftover=left)
        except WrongAmount as error:
            raise _Wrong("kept" if left else "spoiled", str(error)) from error

    return _done(gone, "spoiled", f"{typed} spoiled of those {state}")


class _Wrong(Exception):
    """Something typed that cannot be, and the field it stands in."""

    def __init__(self, field: str, words: str) -> None:
        self.field, self.words = field, words
        super().__init__(words)


def _done(change: Callable[[Store, Line], str], field: str, meant: str) -> ResponseReturnValue:
    """Make a change of one line, unless the line has moved since it was shown."""
    order = request.form.get("order", "")
    with changing() as store:
        line = next((one for one in _lines(store) if one.order == order), None)
        stood = request.form.get("stood", "")
        if line is None or stood != line.stood:
            now = line.stood if line else "nothing of it is in work any more"
            return _overtaken(order, now, stood, meant), 409
        try:
            desk().tell(change(store, line))
        except _Wrong as wrong:
            return _page(order, {wrong.field: wrong.words}), 422
        except (Refused, WrongAmount) as error:
            return _page(order, {field: str(error)}), 422
    return redirect(url_for(".show"), 303)


def _count(text: str, most: int, where: str) -> int:
    count = read_number(text, "blanks")
    if count > most:
        there = f"there {'is' if most == 1 else 'are'} {most} {where}"
        remedy = f"write 1 to {most}" if most else "choose another stage"
        raise Refused(f"{count} are meant and {there}", remedy)
    return count


def _leftover() -> Leftover | None:
    """Return what is kept of a spoiled blank, as it was measured."""
    typed = request.form.get("kept", "").strip()
    if not typed:
        return None
    try:
        size = partial(read_size, unit=desk().present().settings.unit)(typed)
    except Refused as refused:
        raise _Wrong("kept", str(refused)) from refused
    return Leftover(size.width, size.height)


def _overtaken(order: str, now: str, stood: str, meant: str) -> str:
    return render_template(
        "stale.html",
        name=order,
        place="orders.work",
        rows=[("where it stands", now, stood), ("what was meant", "", meant)],
        typed={},
        version="",
    )


def _page(order: str = "", wrong: Mapping[str, str] | None = None) -> str:
    at = desk()
    at.present()
    lines: list[Line] = []
    if at.is_kept():
        with at.store() as store:
            lines = _lines(store)
    return render_template(
        "work.html",
        is_kept=at.is_kept(),
        lines=lines,
        wrong={order: wrong} if wrong else {},
        typed=request.form if wrong else {},
    )


def _lines(store: Store) -> list[Line]:
    return [_line(one) for one in work_list(store)]


def _line(one: InWork) -> Line:
    names = STAGES[one.piece.kind]
    return Line(
        order=one.piece.order,
        piece=one.piece.label or one.piece.kind,
        client=one.piece.client,
        due="" if one.due is None else one.due.isoformat(),
        to_cut=one.to_cut,
        spoiled=one.spoiled,
        stages=tuple(
            Stage(
                name,
                one.stages.get(name, 0),
                sum(n for other, n in one.stages.items() if RANK[other] < RANK[name]),
            )
            for name in names
        ),
        stood=", ".join(f"{n} {stage}" for stage, n in one.stages.items()),
    )
