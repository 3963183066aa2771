"""Imports point down: the order of the modules is held by this test."""

import ast
from pathlib import Path

import pytest

import sheetcut

PACKAGE = Path(sheetcut.__file__).parent

# From the bottom up; names on one line are strangers to each other, save the first line's.
LAYERS = (
    ("version", "units", "errors", "sizes", "grammage", "out_of_square", "tags"),
    ("job",),
    ("layout",),
    ("handling",),
    ("document",),
    ("read", "nest", "cuts", "check", "draw", "cost", "drawer"),
    ("deckled", "drawn", "if_room", "kept_tables", "laying"),
    ("choosing",),
    ("plan",),
    ("answers",),
    ("printout",),
    ("page",),
    ("cli",),
)
LEVEL = {name: level for level, names in enumerate(LAYERS) for name in names}

# A heavy or telling library serves one place only.
HOMES = {
    "shapely": {"check", "draw"},
    "sqlite3": {"drawer"},
    "click": {"cli"},
    "rich": {"cli"},
    "highspy": {"nest", "answers"},
    "numba": {"nest"},
    "openpyxl": {"read"},
    "svgwrite": {"draw"},
    "tomlkit": {"read"},
    "reportlab": {"draw"},
    "fontpkg": {"draw"},
    "msgspec": {"document", "cli"},
    "flask": {"page"},
    "jinja2": {"page"},
    "waitress": {"page"},
    "rectpack": set(),
}

MODULES = sorted(PACKAGE.rglob("*.py"))


def home(path: Path) -> str:
    """Return the layer name of a file: its folder in the package, or its own stem."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imports(path: Path) -> set[str]:
    """Return the dotted names a file imports, wherever in the file."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        if isinstance(node, ast.ImportFrom):
            assert not node.level, f"{path}: imports are written in full"
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_imports_point_down(path):
    here = home(path)
    if here == "__init__":
        return
    for name in imports(path):
        parts = name.split(".")
        if parts[0] != "sheetcut" or parts[1] == here:
            continue
        assert parts[1] in LEVEL, f"{here} imports {name}, which has no layer"
        down = LEVEL[parts[1]] < LEVEL[here] or LEVEL[here] == 0
        assert down, f"{here} imports {name}, which is not below it"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_a_library_stays_in_its_home(path):
    for name in imports(path):
        library = name.split(".")[0]
        if library in HOMES:
            assert home(path) in HOMES[library], f"{library} is imported in {home(path)}"


def test_every_module_opens_with_a_sentence():
    for path in MODULES:
        opening = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))
        assert opening, f"{path} has no docstring"
        assert opening.splitlines()[0].endswith("."), f"{path} opens without a sentence"
