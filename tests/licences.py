"""What is installed for sheetcut and under which licences, as each distribution says of itself.

``python -m tests.licences`` writes the table in DEVELOPERS.md again.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from itertools import chain
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "DEVELOPERS.md"
BEGIN, END = "<!-- licences -->\n", "<!-- end -->"
HEADINGS = "| distribution | tested | licence | what for |\n| --- | --- | --- | --- |\n"
OURS = "sheetcut"
EXTRAS = ("test", "browser")
"""What ``python3 tests`` installs besides what sheetcut itself needs."""

WHAT_FOR = {
    "click": "the commands",
    "flask": "the page",
    "fontpkg": "finding the typefaces",
    "fontpkg-arimo": "lettering in Greek and Cyrillic",
    "fontpkg-ibm-plex-sans-condensed": "lettering",
    "fontpkg-ibm-plex-serif": "lettering",
    "fontpkg-noto-sans-arabic": "lettering in Arabic",
    "highspy": "the integer programme and the pattern bound",
    "jinja2": "the page's templates",
    "msgspec": "the plan as a document",
    "numba": "compiling the inner loops",
    "numpy": "rows of numbers in bounds and polygons",
    "openpyxl": "tables from workbooks",
    "platformdirs": "where a computer keeps caches",
    "reportlab": "PDF",
    "rich": "tables in a terminal",
    "shapely": "the checker's polygons, stipple and hatching",
    "svgwrite": "SVG",
    "tomlkit": "settings",
    "waitress": "serving the page",
    "coverage": "tests: which branches were taken",
    "hypothesis": "tests: random jobs",
    "mypy": "tests: types",
    "packaging": "tests: reading requirements",
    "pillow": "tests: comparing pictures",
    "pypdfium2": "tests: looking at PDF",
    "pytest": "tests",
    "pytest-xdist": "tests: two at a time",
    "rectpack": "tests: another packer for the benchmark",
    "ruff": "tests: style",
    "setuptools": "building the wheel",
    "axe-core-python": "tests in a browser: whether everybody can use the page",
    "playwright": "tests in a browser",
}
"""What pyproject.toml asks for itself."""

LISTED = re.compile(r"^Name: (.*)\n(?:[A-Z]\w+: .*\n)*?License: (.*)$", re.MULTILINE)
"""How wheels list what was put into them when they were built."""

LONGEST_NAME = 60
"""A ``License`` field with more letters than this holds a notice, not a name."""


@dataclass(frozen=True, slots=True)
class Row:
    """A distribution, and why it is here.

    Attributes:
        name: in the one spelling that all registries agree on.
        version: the one installed.
        licence: by the shortest name its metadata has for it.
        what_for: what sheetcut does with it, or the first distribution met that asks for it.
    """

    name: str
    version: str
    licence: str
    what_for: str

    def __str__(self) -> str:
        return f"| {self.name} | {self.version} | {self.licence} | {self.what_for} |\n"


def installed_rows(extras: Iterable[str] = EXTRAS) -> list[Row]:
    """Return a row for everything that sheetcut's requirements brought here, by name.

    A requirement that this Python or system has no use for, or an extra that was not asked for,
    is passed over with all that only it would bring.
    """
    return sorted(_walked(extras), key=lambda row: row.name)


def licence_of(metadata: object) -> str:
    """Return the name of a licence: the expression, else a short field, else the classifier."""
    read = getattr(metadata, "get_all")  # noqa: B009 - what all sorts of metadata share
    (expression,) = read("License-Expression") or [""]
    (field,) = read("License") or [""]
    classifiers = [
        text.rpartition(" :: ")[2]
        for text in read("Classifier") or ()
        if text.startswith("License ::")
    ]
    short = field if len(field) <= LONGEST_NAME and "\n" not in field else ""
    return expression or short or " and ".join(classifiers)


def carried_by(name: str) -> dict[str, str]:
    """Return the licences of what a wheel carries besides, as the texts in it list them."""
    files = distribution(name).files or ()
    texts = [str(one.locate()) for one in files if "licenses" in one.parts and one.suffix != ".py"]
    listed = [LISTED.findall(Path(one).read_text("utf-8", "replace")) for one in texts]
    return dict(chain.from_iterable(listed))


def written_rows(page: str) -> list[Row]:
    """Return the rows of the table as the page has it."""
    table = page.partition(BEGIN + HEADINGS)[2].partition(END)[0]
    return [
        Row(*cells) for cells in re.findall(r"^\| (.*) \| (.*) \| (.*) \| (.*) \|$", table, re.M)
    ]


def with_table(page: str, rows: Iterable[Row]) -> str:
    """Return the page with these rows in the place of those it had."""
    before, _, rest = page.partition(BEGIN)
    return before + BEGIN + HEADINGS + "".join(map(str, rows)) + END + rest.partition(END)[2]


def _walked(extras: Iterable[str]) -> Iterator[Row]:
    """Yield each distribution once: all that sheetcut needs, then what each extra adds."""
    met = {OURS}
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    further = (project["optional-dependencies"][extra] for extra in extras)
    for asked in (project["dependencies"], *further):
        waiting = [(OURS, requirement) for requirement in _of_use(asked)]
        for asker, requirement in waiting:
            name = canonicalize_name(requirement.name)
            found = None if name in met else _installed(name)
            if found is None:
                continue
            met.add(name)
            reason = WHAT_FOR[name] if asker == OURS else f"for {asker}"
            yield Row(name, str(Version(found.version)), licence_of(found.metadata), reason)
            waiting += [(name, one) for one in _of_use(found.requires or (), requirement.extras)]


def _of_use(asked: Iterable[str], extras: Iterable[str] = ()) -> Iterator[Requirement]:
    """Yield the requirements that hold on this Python and system, and for these extras."""
    for requirement in map(Requirement, asked):
        marker = requirement.marker
        if marker is None or any(marker.evaluate({"extra": extra}) for extra in ("", *extras)):
            yield requirement


def _installed(name: str) -> Distribution | None:
    try:
        return distribution(name)
    except PackageNotFoundError:
        return None


if __name__ == "__main__":
    PAGE.write_text(with_table(PAGE.read_text("utf-8"), installed_rows()), encoding="utf-8")
