"""The commands that lay out and check: start, plan, check."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetcut.cli.keeping import kept_lines, typed_day
from sheetcut.cli.liking import kind_of, liked
from sheetcut.cli.shown import (
    NO,
    YES,
    echo_json,
    folder_argument,
    json_option,
    plan_path,
    progress,
    sound_plan,
    will_do,
)
from sheetcut.cli.studio import studio_job

if TYPE_CHECKING:
    from datetime import date

    from sheetcut.job import Preference
    from sheetcut.layout import Plan
    from sheetcut.nest import Stop
    from sheetcut.read import Studio


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
def start(folder: Path) -> None:
    """Write a studio folder to fill in: orders, drawer and settings."""
    from sheetcut.read import write_blank_studio  # noqa: PLC0415

    for path in write_blank_studio(folder):
        click.echo(path)
    click.echo(f"Fill these in, then: sheetcut plan {folder}", err=True)


@click.command()
@folder_argument
@json_option
@click.option(
    "--seconds",
    default=5.0,
    show_default=True,
    type=click.FloatRange(min=0, max=86_400),
    help="Longest time to search.",
)
@click.option("--seed", default=0, show_default=True, type=click.IntRange(0), help="For chance.")
@click.option("--rounds", type=click.IntRange(0), help="Search so many rounds, as a plan records.")
@click.option(
    "--like",
    metavar="KIND",
    help="Which of the plans that cost the same: quicker to cut, better leftover, strips only.",
)
@click.option("--due", metavar="DAY", help="Only what is due by a day, as in 2026-12-03.")
@click.option(
    "--keep",
    metavar="PLAN",
    type=click.Path(path_type=Path),
    help="Keep the layouts of this plan as far as can be; lay out what is wanted besides.",
)
@click.option(
    "--more", is_flag=True, help="Say too what would save a sheet, what room is left, what to buy."
)
def plan(  # noqa: PLR0917
    folder: Path,
    as_json: bool,
    seconds: float,
    seed: int,
    rounds: int | None,
    like: str | None,
    due: str | None,
    keep: Path | None,
    more: bool,
) -> None:
    """Lay out the orders, and draw every sheet.

    Drawings, waste and plan go into FOLDER/out. Ctrl-C keeps the best found up to then.
    """
    from sheetcut.nest import Stop  # noqa: PLC0415
    from sheetcut.printout.files import write_plan  # noqa: PLC0415
    from sheetcut.printout.pages import missing_words  # noqa: PLC0415

    asked = _Asked(
        seconds=seconds,
        seed=seed,
        rounds=rounds,
        kind=None if like is None else kind_of(like),
        day=None if due is None else typed_day(due),
        before=None if keep is None else sound_plan(keep, "nothing of it is kept"),
    )
    studio = studio_job(folder)
    for note in studio.notes:
        click.echo(f"note: {note}", err=True)
    stop = Stop(seconds)
    with will_do(stop), progress() as tell:
        made, told = _planned(studio, asked, stop, tell)
        tell("drawing the layouts")
        written = write_plan(made, folder)
    for missing in written.missing:
        click.echo(f"note: {missing_words(missing)}", err=True)
    _show(made, as_json=as_json)
    if more:
        from sheetcut.cli.further import more_lines  # noqa: PLC0415

        told = (*told, *more_lines(made, studio.settings))
    for line in told:
        click.echo(line, err=as_json)
    click.echo(f"drawings and figures: {written.folder}", err=True)
    raise SystemExit(NO if made.short else YES)


@dataclass(frozen=True, slots=True)
class _Asked:
    """How a plan is asked for, beside what the studio's files say.

    Attributes:
        kind: of the plans that cost the same, which; None for the studio's preference.
        day: only what is due by then; None for everything.
        before: a plan whose layouts are kept as far as can be.
    """

    seconds: float
    seed: int
    rounds: int | None
    kind: Preference | None
    day: date | None
    before: Plan | None


def _planned(
    studio: Studio, asked: _Asked, stop: Stop, tell: Callable[[str], None]
) -> tuple[Plan, Sequence[str]]:
    """Return the plan that is asked for, and what has to be said of it besides."""
    from datetime import datetime  # noqa: PLC0415

    from sheetcut.plan import make_plan  # noqa: PLC0415

    job, input_hash = studio.job, studio.input_hash
    if asked.day is not None:
        from sheetcut.answers.due import due_by  # noqa: PLC0415

        job, input_hash = due_by(job, asked.day), ""
    now = datetime.now().astimezone().isoformat(timespec="seconds")
    told: Sequence[str] = ()
    if asked.before is not None:
        from sheetcut.answers.keeping import keeping  # noqa: PLC0415
        from sheetcut.answers.supply import Effort  # noqa: PLC0415

        effort = Effort(asked.seed, asked.rounds, asked.seconds)
        kept = keeping(job, asked.before, effort=effort, stop=stop, made=now, input_hash=input_hash)
        made, told = kept.plan, list(kept_lines(asked.before, kept))
    else:
        made = make_plan(
            job,
            seconds=asked.seconds,
            seed=asked.seed,
            rounds=asked.rounds,
            made=now,
            input_hash=input_hash,
            stop=stop,
            tell=tell,
        )
    return (made if asked.kind is None else liked(made, asked.kind)), told


def _show(made: Plan, *, as_json: bool) -> None:
    if as_json:
        from sheetcut.document import plan_bytes  # noqa: PLC0415

        click.echo(plan_bytes(made).decode(), nl=False)
    else:
        from sheetcut.printout import summary_lines  # noqa: PLC0415

        click.echo("\n".join(summary_lines(made)))


@click.command()
@click.argument("plan_file", metavar="PLAN", type=click.Path(path_type=Path))
@json_option
def check(plan_file: Path, as_json: bool) -> None:
    """Replay a plan's cuts and all its sums.

    PLAN is a plan.json or the folder it lies in.
    """
    from sheetcut.check import bounds_again, faults_in  # noqa: PLC0415
    from sheetcut.document import disagreements, read_plan  # noqa: PLC0415

    path = plan_path(plan_file)
    data = path.read_bytes()
    found = read_plan(data, source=str(path))
    faults = (*faults_in(found), *disagreements(data, found))
    trusted: tuple[str, ...] = ()
    if not faults:
        faults, trusted = bounds_again(found)
    if as_json:
        echo_json(
            {
                "form": "sheetcut check 1",
                "plan": found.code,
                "proved": found.is_proved,
                "faults": [{"where": one.where, "message": one.message} for one in faults],
                "bounds_on_trust": list(trusted),
            }
        )
    else:
        cuts = sum(layout.copies * len(layout.cuts) for layout in found.layouts)
        click.echo("\n".join(str(fault) for fault in faults) or f"no faults; {cuts} cuts replayed")
        for paper in trusted:
            click.echo(f"{paper}: that no plan needs less was not worked out again")
    raise SystemExit(NO if faults else YES)
