"""The command after a slip of the knife: relay."""

from __future__ import annotations

from pathlib import Path

import click

from sheetcut.cli.shown import NO, YES, plan_path


@click.command()
@click.argument("plan_file", metavar="PLAN", type=click.Path(path_type=Path))
@click.option("--layout", required=True, type=click.IntRange(1), help="Which of the plan's.")
@click.option("--step", required=True, type=click.IntRange(1), help="The step that slipped.")
@click.option(
    "--blank",
    "spoiled",
    required=True,
    type=click.IntRange(1),
    help="Which blank is lost, counted as the plan lists them.",
)
def relay(plan_file: Path, layout: int, step: int, spoiled: int) -> None:
    """Lay the rest of a layout out again after a slip.

    PLAN is a plan.json or the folder it lies in. Every step before the one that slipped counts
    as made; what is left in hand then is what the rest is laid out on. Nothing is booked.
    """
    from sheetcut.answers.relay import NoSuchSlip  # noqa: PLC0415
    from sheetcut.answers.relay import relay as laid_again  # noqa: PLC0415
    from sheetcut.document import read_plan  # noqa: PLC0415
    from sheetcut.printout import summary_lines  # noqa: PLC0415
    from sheetcut.units import in_mm  # noqa: PLC0415

    path = plan_path(plan_file)
    plan = read_plan(path.read_bytes(), source=str(path))
    if layout > len(plan.layouts):
        raise NoSuchSlip("layout", layout, len(plan.layouts))
    found = laid_again(plan, plan.layouts[layout - 1], step=step, spoiled=spoiled)
    good = ", ".join(plan.piece(place.piece).order for place in found.done) or "none yet"
    in_hand = "; ".join(f"{in_mm(w)} x {in_mm(h)} mm" for _, _, w, h in found.in_hand) or "nothing"
    click.echo(f"cut and good: {good}")
    click.echo(f"left in hand: {in_hand}\n")
    click.echo("\n".join(summary_lines(found.plan)))
    raise SystemExit(NO if found.plan.short else YES)
