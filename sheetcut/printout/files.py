"""A plan as files in a folder of its own: document, drawings, waste, pages to print."""

from __future__ import annotations

import csv
import io
import tempfile
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from sheetcut.cost import WASTE_HEADINGS, waste_rows
from sheetcut.document import plan_bytes
from sheetcut.draw.pdf import Missing
from sheetcut.drawer.tables import FORMULA_SIGNS
from sheetcut.errors import SheetcutError
from sheetcut.layout import Plan
from sheetcut.printout.drawings import drawings
from sheetcut.printout.pages import PIN_UP, printed
from sheetcut.printout.sheaves import layout_titles

MOST_ALIKE = 10_000


class NoNameLeft(SheetcutError):
    """The plan stands in the folder under every name that there is."""

    def __init__(self, out: Path, name: str) -> None:
        super().__init__(f"{out}: {name} stands there ten thousand times; clear some away")


@dataclass(frozen=True, slots=True)
class Written:
    """A plan that was written.

    Attributes:
        folder: its own, in ``out``.
        missing: letters that the printed pages lack.
    """

    folder: Path
    missing: tuple[Missing, ...]


def write_plan(plan: Plan, folder: Path) -> Written:
    """Write a plan into ``out`` of a studio's folder, all of it or nothing, over nothing.

    Raises:
        NoNameLeft: if it stands there under every name.
    """
    table = io.StringIO(newline="")
    rows = [WASTE_HEADINGS, *waste_rows(plan, layout_titles(plan))]
    csv.writer(table).writerows([[_inert(cell) for cell in row] for row in rows])
    pin_up = printed(plan, kinds=PIN_UP)
    files = {
        "plan.json": plan_bytes(plan),
        "waste.csv": table.getvalue().encode("utf-8-sig"),
        "pin-up.pdf": pin_up.data,
        **{name: text.encode() for name, text in drawings(plan).items()},
    }
    out = folder / "out"
    is_first = not out.exists()
    out.mkdir(exist_ok=True)
    try:
        with tempfile.TemporaryDirectory(dir=out, prefix=".writing-") as unfinished:
            whole = Path(unfinished) / "plan"
            whole.mkdir()
            for name, data in files.items():
                (whole / name).write_bytes(data)
            moved = _moved(whole, out, f"{plan.made[:10]}-{plan.code}")
    except OSError:
        if is_first:
            with suppress(OSError):
                out.rmdir()
        raise
    return Written(moved, tuple(pin_up.missing))


def _moved(whole: Path, out: Path, name: str) -> Path:
    """Move a finished folder to a name that nothing has yet, and return where it went."""
    for number in range(1, MOST_ALIKE):
        target = out / (name if number == 1 else f"{name}-{number}")
        if target.exists():
            continue
        try:
            return whole.rename(target)
        except OSError:
            # Another planner of the same studio may have come to this name meanwhile.
            if not target.exists():
                raise
    raise NoNameLeft(out, name)


def _inert(cell: str) -> str:
    """Return a cell that no spreadsheet takes for a formula."""
    return f"'{cell}" if cell[:1] in FORMULA_SIGNS else cell
