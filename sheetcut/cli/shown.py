"""What all commands share: errors as sentences, options, documents, words on the way."""

from __future__ import annotations

import signal
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from sheetcut.layout import Plan
    from sheetcut.nest import Stop

YES, NO, WRONG = 0, 1, 2
MOST_LISTED = 200  # problems; a table that is wrong in every row says so in fewer
PATIENCE_S = 1.0  # a run shorter than this says nothing on its way


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

    def make_context(self, *args: Any, **options: Any) -> click.Context:
        """Read what stands before the command's name."""
        from sheetcut.cli.usage import NOTHING_TYPED, usage_refused  # noqa: PLC0415

        try:
            return super().make_context(*args, **options)
        except NOTHING_TYPED:
            raise
        except click.UsageError as error:
            raise usage_refused(error) from error

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; what the user can put right is shown without a traceback."""
        from sheetcut.cli.usage import NOTHING_TYPED, usage_refused  # noqa: PLC0415
        from sheetcut.errors import (  # noqa: PLC0415
            FaultsFound,
            ProblemsFound,
            SheetcutError,
            SystemRefused,
        )

        try:
            return super().invoke(ctx)
        except NOTHING_TYPED:
            raise
        except click.UsageError as error:
            raise usage_refused(error) from error
        except FaultsFound as error:
            raise Shown(str(error), NO) from error
        except ProblemsFound as error:
            raise Shown(_listed(error.problems), WRONG) from error
        except SheetcutError as error:
            raise Shown(str(error), WRONG) from error
        except BrokenPipeError:
            raise  # whoever read what is printed has had enough, after all was done
        except OSError as error:
            raise Shown(str(SystemRefused(error)), WRONG) from error


def _listed(problems: Sequence[object]) -> str:
    """Return problems a line each; past what anybody reads, how many more there are."""
    lines = [str(problem) for problem in problems[:MOST_LISTED]]
    if len(problems) > MOST_LISTED:
        lines.append(f"and {len(problems) - MOST_LISTED} more; mend these first")
    return "\n".join(lines)


folder_argument = click.argument(
    "folder", default=".", type=click.Path(path_type=Path, file_okay=False)
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")


def plan_path(given: Path) -> Path:
    """Return a plan's document: the file itself, or the one in the folder that was given."""
    return given / "plan.json" if given.is_dir() else given


def sound_plan(given: Path, so: str) -> Plan:
    """Return a plan that was written and passes its check.

    Args:
        so: what follows from faults, to end a sentence with.
    """
    from sheetcut.check import faults_in  # noqa: PLC0415
    from sheetcut.document import disagreements, read_plan  # noqa: PLC0415

    path = plan_path(given)
    data = path.read_bytes()
    plan = read_plan(data, source=str(path))
    faults = (*faults_in(plan), *disagreements(data, plan))
    if faults:
        lines = "\n".join(f"  {fault}" for fault in faults)
        raise Shown(f"{path}: the plan has faults, so {so}\n{lines}", NO)
    return plan


def echo_json(document: dict[str, Any]) -> None:
    """Print one document as JSON, exact decimals and all."""
    import msgspec  # noqa: PLC0415

    encoder = msgspec.json.Encoder(decimal_format="number")
    click.echo(msgspec.json.format(encoder.encode(document), indent=1).decode())


@contextmanager
def will_do(stop: Stop) -> Iterator[None]:
    """Let the first Ctrl-C end the search with what was found; a second one ends the program."""

    def thatwill_do(_number: int, _frame: Any) -> None:
        signal.signal(signal.SIGINT, before)
        click.echo("That will do: finishing with what was found.", err=True)
        stop.finish()

    try:
        before = signal.signal(signal.SIGINT, thatwill_do)
    except ValueError:  # not the main thread: nobody can press Ctrl-C here
        yield
        return
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def progress(patience_s: float = PATIENCE_S) -> Iterator[Callable[[str], None]]:
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
