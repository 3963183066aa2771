"""The commands: each reads its arguments, calls the library and prints."""

from __future__ import annotations

import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetcut.version import VERSION

if TYPE_CHECKING:
    from sheetcut.layout import Plan
    from sheetcut.nest import Stop

YES, NO, WRONG = 0, 1, 2
PATIENCE_S = 1.0  # a run shorter than this says nothing on its way

Command = Callable[..., None]


class Shown(click.ClickException):
    """An error in words, without a traceback."""

    def __init__(self, message: str, code: int) -> None:
        super().__init__(message)
        self.code = code

    @property
    def exit_code(self) -> int:  # type: ignore[override]
        """What the shell is told."""
        return self.code

    def show(self, file: Any = None) -> None:
        """Write the message as it is: it already says where, what and what to do."""
        click.echo(self.message, file=file or sys.stderr)


class Commands(click.Group):
    """The commands in the order an artist meets them, with errors shown as sentences."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the commands as they were added."""
        return list(self.commands)

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; what the user can put right is shown without a traceback."""
        from sheetcut.errors import FaultsFound, SheetcutError  # noqa: PLC0415

        try:
            return super().invoke(ctx)
        except FaultsFound as error:
            raise Shown(str(error), NO) from error
        except SheetcutError as error:
            raise Shown(str(error), WRONG) from error
        except OSError as error:
            name = error.filename or "a file"
            raise Shown(f"{name}: {error.strerror or error}; nothing was changed", WRONG) from error


folder_argument = click.argument(
    "folder", default=".", type=click.Path(path_type=Path, file_okay=False)
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(VERSION, message="sheetcut %(version)s")
def main() -> None:
    """Plan how heavy paper is cut from large sheets by hand.

    Begin with `sheetcut start my-studio`, fill in the two tables it writes, then
    `sheetcut plan my-studio`.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


@main.command()
@click.argument("folder", type=click.Path(path_type=Path))
def start(folder: Path) -> None:
    """Write a studio folder to fill in: orders, drawer and settings."""
    from sheetcut.read import write_blank_studio  # noqa: PLC0415

    for path in write_blank_studio(folder):
        click.echo(path)
    click.echo(f"Fill these in, then: sheetcut plan {folder}", err=True)


@main.command()
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
def plan(folder: Path, as_json: bool, seconds: float, seed: int, rounds: int | None) -> None:
    """Lay out the orders: drawings, waste and the plan go into FOLDER/out.

    Ctrl-C keeps the best found up to then.
    """
    from datetime import datetime  # noqa: PLC0415

    from sheetcut.nest import Stop  # noqa: PLC0415
    from sheetcut.plan import make_plan  # noqa: PLC0415
    from sheetcut.read import read_studio  # noqa: PLC0415

    studio = read_studio(folder)
    for note in studio.notes:
        click.echo(f"note: {note}", err=True)
    stop = Stop(seconds)
    with _will_do(stop), _progress(PATIENCE_S) as tell:
        made = make_plan(
            studio.job,
            seconds=seconds,
            seed=seed,
            rounds=rounds,
            made=datetime.now().astimezone().isoformat(timespec="seconds"),
            input_hash=studio.input_hash,
            stop=stop,
            tell=tell,
        )
    written = _write_plan(made, folder)
    if as_json:
        from sheetcut.document import plan_bytes  # noqa: PLC0415

        click.echo(plan_bytes(made).decode(), nl=False)
    else:
        from sheetcut.printout import summary_lines  # noqa: PLC0415

        click.echo("\n".join(summary_lines(made)))
    click.echo(f"drawings and figures: {written}", err=True)
    raise SystemExit(NO if made.short else YES)


@main.command()
@click.argument("plan_file", metavar="PLAN", type=click.Path(path_type=Path))
@json_option
def check(plan_file: Path, as_json: bool) -> None:
    """Replay a plan's cuts and work out all its figures again.

    PLAN is a plan.json or the folder it lies in.
    """
    from sheetcut.check import faults_in  # noqa: PLC0415
    from sheetcut.document import disagreements, read_plan  # noqa: PLC0415

    path = plan_file / "plan.json" if plan_file.is_dir() else plan_file
    data = path.read_bytes()
    found = read_plan(data, source=str(path))
    faults = (*faults_in(found), *disagreements(data, found))
    if as_json:
        _echo_json(
            {
                "form": "sheetcut check 1",
                "plan": found.code,
                "proved": found.is_proved,
                "faults": [{"where": one.where, "message": one.message} for one in faults],
            }
        )
    else:
        cuts = sum(layout.copies * len(layout.cuts) for layout in found.layouts)
        click.echo("\n".join(str(fault) for fault in faults) or f"no faults; {cuts} cuts replayed")
    raise SystemExit(NO if faults else YES)


@main.command()
@click.argument("name", required=False)
@json_option
def sizes(name: str | None, as_json: bool) -> None:
    """List named sizes with their standard; NAME shows those that begin so."""
    from sheetcut.sizes import named_sizes  # noqa: PLC0415

    wanted = (name or "").casefold()
    found = [size for size in named_sizes() if size.name.casefold().startswith(wanted)]
    if not found:
        raise Shown(f'sizes: no size begins with "{name}"; "sheetcut sizes" lists them all', NO)
    if as_json:
        _echo_json({"form": "sheetcut sizes 1", "unit": "mm", "sizes": [_size(s) for s in found]})
    else:
        _print_sizes(found)


def _size(size: Any) -> dict[str, Any]:
    from sheetcut.units import in_mm  # noqa: PLC0415

    return {
        "name": size.name,
        "width": in_mm(size.width),
        "height": in_mm(size.height),
        "standard": size.standard,
        "year": size.year,
        "traditional": size.is_traditional,
        "note": size.note,
    }


def _print_sizes(found: list[Any]) -> None:
    from rich.box import SIMPLE_HEAD  # noqa: PLC0415
    from rich.console import Console  # noqa: PLC0415
    from rich.table import Table  # noqa: PLC0415

    table = Table("name", "mm", "standard", "note", box=SIMPLE_HEAD)
    for size in found:
        row = _size(size)
        standard = f"{row['standard']}:{row['year']}" if row["year"] else row["standard"]
        table.add_row(row["name"], f"{row['width']} x {row['height']}", standard, row["note"])
    Console(markup=False, highlight=False).print(table)


def _echo_json(document: dict[str, Any]) -> None:
    import msgspec  # noqa: PLC0415

    encoder = msgspec.json.Encoder(decimal_format="number")
    click.echo(msgspec.json.format(encoder.encode(document), indent=1).decode())


@contextmanager
def _will_do(stop: Stop) -> Iterator[None]:
    """Let the first Ctrl-C end the search with what was found; a second one ends the program."""

    def that_will_do(_number: int, _frame: Any) -> None:
        signal.signal(signal.SIGINT, before)
        click.echo("That will do: finishing with what was found.", err=True)
        stop.finish()

    try:
        before = signal.signal(signal.SIGINT, that_will_do)
    except ValueError:  # not the main thread: nobody can press Ctrl-C here
        yield
        return
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _progress(patience_s: float) -> Iterator[Callable[[str], None]]:
    """Give out a teller that keeps still until a run has taken so long, then says where it is."""
    latest = ""
    spoken = threading.Event()

    def tell(words: str) -> None:
        nonlocal latest
        latest = words
        if spoken.is_set():
            click.echo(words, err=True)

    def begin() -> None:
        spoken.set()
        if latest:
            click.echo(latest, err=True)

    timer = threading.Timer(patience_s, begin)
    timer.daemon = True
    timer.start()
    try:
        yield tell
    finally:
        timer.cancel()


def _write_plan(made: Plan, folder: Path) -> Path:
    """Write a plan's files into a folder of their own, all of them or none."""
    import csv  # noqa: PLC0415
    import io  # noqa: PLC0415
    import tempfile  # noqa: PLC0415

    from sheetcut.cost import WASTE_HEADINGS, waste_rows  # noqa: PLC0415
    from sheetcut.document import plan_bytes  # noqa: PLC0415
    from sheetcut.printout import drawings, layout_titles  # noqa: PLC0415

    table = io.StringIO(newline="")
    rows = [WASTE_HEADINGS, *waste_rows(made, layout_titles(made))]
    csv.writer(table).writerows([[_inert(cell) for cell in row] for row in rows])
    files = {
        "plan.json": plan_bytes(made),
        "waste.csv": table.getvalue().encode("utf-8-sig"),
        **{name: text.encode() for name, text in drawings(made).items()},
    }
    out = folder / "out"
    out.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory(dir=out, prefix=".writing-") as unfinished:
        whole = Path(unfinished) / "plan"
        whole.mkdir()
        for name, data in files.items():
            (whole / name).write_bytes(data)
        return _moved(whole, out, f"{made.made[:10]}-{made.code}")


def _moved(whole: Path, out: Path, name: str) -> Path:
    """Move a finished folder to a name that nothing has yet, and return where it went."""
    for number in range(1, 10_000):
        target = out / (name if number == 1 else f"{name}-{number}")
        if not target.exists():
            return whole.rename(target)
    raise Shown(f"{out}: {name} stands there ten thousand times; clear some away", WRONG)


def _inert(cell: str) -> str:
    """Return a cell that no spreadsheet takes for a formula."""
    return f"'{cell}" if cell[:1] in ("=", "+", "-", "@", "\t", "\r") else cell


if __name__ == "__main__":
    main()
