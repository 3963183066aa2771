"""The commands after the knife: cut, spoiled, and hold and release for what is pinned up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetcut.cli.shown import NO, WRONG, Shown, plan_path, sound_plan
from sheetcut.cli.studio import STORE_FILE, clock, in_option, kept_store
from sheetcut.cli.typing_in import typed_size

if TYPE_CHECKING:
    from sheetcut.drawer import AsCut, Leftover, Store
    from sheetcut.layout import Plan

plan_argument = click.argument("plan_file", metavar="PLAN", type=click.Path(path_type=Path))
plan_in_option = click.option(
    "--in",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    help="The studio's folder.  [default: the one that the plan lies in]",
)
layouts_option = click.option(
    "--layout",
    "layouts",
    multiple=True,
    type=click.IntRange(1),
    help="Only this layout, by its number; can be given again.",
)


@dataclass(frozen=True, slots=True)
class Otherwise:
    """How a layout was cut otherwise than planned.

    Attributes:
        kept: sizes as typed; one word, "none", for nothing.
    """

    copies: int | None = None
    sheet: str | None = None
    kept: tuple[str, ...] = ()

    @property
    def is_told(self) -> bool:
        """Whether anything was."""
        return self.copies is not None or self.sheet is not None or bool(self.kept)


@click.command()
@plan_argument
@layouts_option
@click.option(
    "--spoiled",
    multiple=True,
    metavar="ORDER",
    help="A blank that was spoiled at once, by its order line; can be given again.",
)
@click.option(
    "--left-out",
    multiple=True,
    metavar="ORDER",
    help="A blank that was not cut after all; can be given again.",
)
@click.option("--copies", type=click.IntRange(1), help="How many sheets of the one layout.")
@click.option("--sheet", metavar="SHEET", help="The sheet the one layout was really cut from.")
@click.option(
    "--kept",
    multiple=True,
    metavar="SIZE",
    help='What the one layout really left to keep, or "none"; can be given again.',
)
@click.option("--yes", is_flag=True, help="Book it without asking.")
@plan_in_option
def cut(  # noqa: PLR0917
    plan_file: Path,
    layouts: tuple[int, ...],
    spoiled: tuple[str, ...],
    left_out: tuple[str, ...],
    copies: int | None,
    sheet: str | None,
    kept: tuple[str, ...],
    yes: bool,
    folder: Path | None,
) -> None:
    """Book a plan as cut: sheets down, keepers up, blanks onto the work list.

    PLAN is a plan.json or the folder it lies in. What will be booked is shown, and asked for.
    Without --layout it is all that is not cut yet. `sheetcut undo` takes it back.
    """
    from sheetcut.drawer import cut_plan, layout_states, told_of, try_cut  # noqa: PLC0415

    plan, where = _sound_plan(plan_file, folder)
    otherwise = Otherwise(copies, sheet, kept)
    if otherwise.is_told and len(layouts) != 1:
        raise Shown(
            "cut: --copies, --sheet and --kept tell of one layout; name it with --layout", WRONG
        )
    with kept_store(where) as store:
        told: Sequence[AsCut] | None = None
        if layouts or spoiled or left_out:
            states = layout_states(store, plan)
            told = told_of(plan, states, layouts or None, spoiled=spoiled, left_out=left_out)
        if told and otherwise.is_told:
            told = [_cut_otherwise(told[0], otherwise, where)]
        if not yes:
            ahead = try_cut(store, plan, now=clock(), as_cut=told)
            for line in _layout_lines(store, plan, layouts):
                click.echo(line, err=True)
            _ask(f"To be booked: {ahead.says}")
        click.echo(cut_plan(store, plan, now=clock(), as_cut=told).says)


@click.command()
@plan_argument
@layouts_option
@plan_in_option
def hold(plan_file: Path, layouts: tuple[int, ...], folder: Path | None) -> None:
    """Note that layouts are pinned up to be cut, so that the rest is planned around them."""
    from sheetcut.drawer import hold as pin_up  # noqa: PLC0415

    plan, where = _sound_plan(plan_file, folder)
    with kept_store(where) as store:
        said = pin_up(store, plan, now=clock(), layouts=layouts or None)
        click.echo(said)
        for line in _layout_lines(store, plan, layouts):
            click.echo(line, err=True)


@click.command()
@plan_argument
@layouts_option
@plan_in_option
def release(plan_file: Path, layouts: tuple[int, ...], folder: Path | None) -> None:
    """Take layouts down again without cutting them."""
    from sheetcut.drawer import release as take_down  # noqa: PLC0415

    plan, where = _sound_plan(plan_file, folder)
    with kept_store(where) as store:
        click.echo(take_down(store, plan, now=clock(), layouts=layouts or None))


@click.command()
@click.argument("order")
@click.option("--count", default=1, show_default=True, type=click.IntRange(1), help="How many.")
@click.option("--at", "state", metavar="STAGE", help="How far they were, as in printed.")
@click.option(
    "--kept", metavar="SIZE", help="What is left of them in hand and kept; its width first."
)
@in_option
def spoiled(order: str, count: int, state: str | None, kept: str | None, folder: Path) -> None:
    """Book blanks that were spoiled, however long after they were cut.

    They are wanted again, and their paper is waste, less what is kept of it.
    """
    from sheetcut.drawer import spoil  # noqa: PLC0415

    with kept_store(folder) as store:
        leftover = None if kept is None else _leftover(kept, folder)
        said = spoil(store, order, now=clock(), count=count, state=state, leftover=leftover)
        click.echo(said)


def _sound_plan(plan_file: Path, folder: Path | None) -> tuple[Plan, Path]:
    """Return a plan that passes its check, and the folder of its studio."""
    plan = sound_plan(plan_file, "it is not booked; plan again. Nothing was changed")
    return plan, folder or _studio_of(plan_path(plan_file))


def _studio_of(path: Path) -> Path:
    """Return the studio that a plan lies in, in a folder of its out; else the current folder."""
    around = path.absolute().parents[:3]
    return next((one for one in around if (one / STORE_FILE).exists()), Path())


def _cut_otherwise(one: AsCut, otherwise: Otherwise, folder: Path) -> AsCut:
    changed = replace(one, copies=otherwise.copies, sheet=otherwise.sheet)
    if not otherwise.kept:
        return changed
    if otherwise.kept == ("none",):
        return replace(changed, kept=())
    return replace(changed, kept=tuple(_leftover(text, folder) for text in otherwise.kept))


def _leftover(text: str, folder: Path) -> Leftover:
    from sheetcut.drawer import Leftover  # noqa: PLC0415
    from sheetcut.read import settings_in  # noqa: PLC0415

    return Leftover(*typed_size("--kept", text, settings_in(folder)))


def _layout_lines(store: Store, plan: Plan, layouts: Sequence[int]) -> list[str]:
    """Return a line for each layout that is meant, with how far its sheets are."""
    from sheetcut.drawer import layout_states  # noqa: PLC0415
    from sheetcut.printout import layout_titles  # noqa: PLC0415

    lines = []
    for state, title in zip(layout_states(store, plan), layout_titles(plan), strict=True):
        if layouts and state.layout not in layouts:
            continue
        counts = (("to cut", state.to_cut), ("pinned up", state.held), ("cut", state.cut))
        far = ", ".join(f"{n} {words}" for words, n in counts if n)
        lines.append(f"  layout {state.layout}: {title} ({far})")
    return lines


def _ask(what: str) -> None:
    """Ask whether to go on.

    Raises:
        Shown: if the answer is no, or nobody is there to give one.
    """
    try:
        is_wanted = click.confirm(f"{what}\nBook it?", err=True)
    except click.Abort:
        click.echo(err=True)
        raise Shown("Nothing was changed; --yes books it without asking", NO) from None
    if not is_wanted:
        raise Shown("Nothing was changed", NO)
