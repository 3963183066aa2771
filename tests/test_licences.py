"""What comes with sheetcut: every version pinned, every licence told."""

import importlib.metadata
import re
import sys
import tomllib
from email.message import Message
from itertools import chain
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

from tests.licences import (
    EXTRAS,
    OURS,
    PAGE,
    ROOT,
    WHAT_FOR,
    Row,
    carried_by,
    installed_rows,
    licence_of,
    with_table,
    written_rows,
)

PINNED = {
    canonicalize_name(name): str(Version(version))
    for name, version in re.findall(
        r"^([\w.-]+)==(\S+)$", (ROOT / "tests" / "constraints.txt").read_text("utf-8"), re.M
    )
}
WINDOWS_ONLY = {"colorama"}
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def test_whatever_is_installed_is_pinned():
    """Two were not: ast_serialize and librt had come with a newer mypy."""
    names = {row.name for row in installed_rows()}
    assert names - WINDOWS_ONLY <= set(PINNED)


def test_an_environment_of_our_own_holds_what_is_pinned_and_nothing_else():
    """Other environments may hold more; what ``python3 tests`` makes must be made again alike."""
    if Path(sys.prefix) != ROOT / ".environment":
        pytest.skip("not the environment that python3 tests makes")
    held = {canonicalize_name(one.name) for one in importlib.metadata.distributions()}
    held -= {"pip", OURS} | WINDOWS_ONLY
    assert held <= set(PINNED)
    assert "playwright" not in held or held == set(PINNED)


def test_each_requirement_says_what_it_is_for():
    lists = PROJECT["dependencies"], *(PROJECT["optional-dependencies"][one] for one in EXTRAS)
    assert {canonicalize_name(Requirement(one).name) for one in chain(*lists)} == set(WHAT_FOR)


def test_the_page_has_the_licence_of_everything_installed():
    """It may have more: what another Python needs, or an extra that was not asked for."""
    rows = installed_rows()
    if others := [row.name for row in rows if PINNED.get(row.name) != row.version]:
        pytest.skip(f"not the tested versions: {', '.join(others)}")
    written = {row.name: row for row in written_rows(page())}
    assert rows == [written.get(row.name) for row in rows], "run python -m tests.licences"


def test_the_page_has_the_tested_versions():
    assert {row.name: row.version for row in written_rows(page())} == PINNED


def test_nothing_that_runs_is_under_a_licence_that_reaches_for_ours():
    """A copyleft licence would be news; those that ask it of their own files only are named.

    The families are those of the licences' own texts: GPL, LGPL and AGPL by the FSF; MPL 2.0,
    section 3.1, asks it of the files under it alone.
    """
    strict = [row for row in written_rows(page()) if re.search(r"GPL|General Public", row.licence)]
    assert strict == []
    mild = {row.name for row in written_rows(page()) if re.search(r"MPL|Mozilla", row.licence)}
    assert mild == {"hypothesis", "pathspec"}  # both for tests, and not part of the wheel


def test_what_wheels_carry_under_such_a_licence_is_named():
    section = page().partition("## Licences")[2].partition("<!-- licences -->")[0]
    carried = chain.from_iterable(carried_by(row.name).items() for row in installed_rows())
    strict = [name for name, licence in carried if "GPL" in licence]
    assert [name for name in strict if name.partition(" (")[0] not in section] == []


@pytest.mark.parametrize(
    ("fields", "licence"),
    [
        ({"License-Expression": "MIT", "License": "see below"}, "MIT"),  # core metadata 2.4
        ({"License": "ZPL 2.1", "Classifier": "License :: OSI Approved :: Zope"}, "ZPL 2.1"),
        ({"License": "BSD\n" + "a notice " * 9, "Classifier": "License :: X :: BSD"}, "BSD"),
        ({"Classifier": "Topic :: Printing"}, ""),
    ],
)
def test_a_licence_is_named_by_the_most_exact_field(fields, licence):
    """Core metadata 2.4 (PEP 639): the expression stands before what was written earlier."""
    metadata = Message()
    for name, value in fields.items():
        metadata[name] = value
    assert licence_of(metadata) == licence


def test_the_table_is_written_in_its_place():
    row = Row("paper", "1.0", "MIT", "drawing on")
    written = with_table("before\n<!-- licences -->\nold\n<!-- end -->\nafter\n", [row])
    assert written_rows(written) == [row]
    assert written.startswith("before\n<!-- licences -->\n| distribution")
    assert written.endswith("| paper | 1.0 | MIT | drawing on |\n<!-- end -->\nafter\n")


def page():
    """Return the page that has the table."""
    return PAGE.read_text("utf-8")
