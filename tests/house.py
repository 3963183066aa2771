"""Counts how the package is written: sizes, docstrings, records, types and imports, as a table."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median

PACKAGE = Path(__file__).resolve().parent.parent / "sheetcut"
LONG_MODULE = 250
LONG_BODY = 30
Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True, slots=True)
class Module:
    """One file of the package.

    Attributes:
        path: from the package's folder.
        lines: of the file, empty ones too.
        tree: what Python reads in it.
    """

    path: str
    lines: tuple[str, ...]
    tree: ast.Module

    def functions(self) -> Iterator[Function]:
        """Yield every function and method."""
        for node in ast.walk(self.tree):
            if isinstance(node, Function):
                yield node

    def classes(self) -> Iterator[ast.ClassDef]:
        """Yield every class."""
        for node in ast.walk(self.tree):
            if isinstance(node, ast.ClassDef):
                yield node

    @property
    def n_comments(self) -> int:
        """How many lines hold a comment and nothing else."""
        return sum(line.lstrip().startswith("#") for line in self.lines)


def modules(package: Path = PACKAGE) -> list[Module]:
    """Return every module of a package, by path."""
    found = []
    for path in sorted(package.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        name = path.relative_to(package).as_posix()
        found.append(Module(name, tuple(text.splitlines()), ast.parse(text)))
    return found


def body_length(function: Function) -> int:
    """Return a function's lines of code: without its heading, docstring, comments and gaps."""
    statements = function.body
    if ast.get_docstring(function) is not None:
        statements = statements[1:]
    if not statements:
        return 0
    inner = [node for node in ast.walk(function) if node is not function]
    taken = {
        line
        for node in inner
        if isinstance(node, Function | ast.ClassDef)
        for line in range(node.lineno, (node.end_lineno or 0) + 1)
    }
    used = {
        line
        for statement in statements
        for node in ast.walk(statement)
        if isinstance(node, ast.stmt | ast.expr)
        for line in range(node.lineno, (node.end_lineno or node.lineno) + 1)
    }
    return len(used - taken)


def is_record(node: ast.ClassDef) -> bool:
    """Whether a class is a dataclass."""
    return any("dataclass" in ast.unparse(one) for one in node.decorator_list)


def is_frozen(node: ast.ClassDef) -> bool:
    """Whether a class is a dataclass that nobody can change."""
    return any("frozen=True" in ast.unparse(one) for one in node.decorator_list)


def share(part: int, whole: int) -> str:
    """Return a part of a whole as people write it.

    >>> share(3, 4)
    '3 of 4 (75 %)'
    """
    return f"{part} of {whole} ({100 * part // whole if whole else 100} %)"


def figures(package: Path = PACKAGE) -> dict[str, str]:
    """Return what is counted, by its name in words."""
    found = modules(package)
    functions = [one for module in found for one in module.functions()]
    public = [one for one in functions if not one.name.startswith("_")]
    records = [one for module in found for one in module.classes() if is_record(one)]
    sizes = [len(module.lines) for module in found]
    bodies = [body_length(one) for one in functions]
    long_modules = [f"{m.path} {len(m.lines)}" for m in found if len(m.lines) > LONG_MODULE]
    return {
        "modules": str(len(found)),
        "lines": str(sum(sizes)),
        "lines a module, median and most": f"{median(sizes):.0f}, {max(sizes)}",
        f"modules over {LONG_MODULE} lines": str(len(long_modules)),
        "functions and methods": str(len(functions)),
        "lines a body, median and most": f"{median(bodies):.0f}, {max(bodies)}",
        f"bodies over {LONG_BODY} lines": str(sum(body > LONG_BODY for body in bodies)),
        "public functions with a docstring": share(
            sum(ast.get_docstring(one) is not None for one in public), len(public)
        ),
        "functions with a typed return": share(
            sum(one.returns is not None for one in functions), len(functions)
        ),
        "records that are frozen": share(sum(map(is_frozen, records)), len(records)),
        "lines of code for each line of comment": str(
            sum(sizes) // max(1, sum(module.n_comments for module in found))
        ),
    }


def largest(package: Path = PACKAGE) -> Iterator[str]:
    """Yield the modules and bodies that are longer than taste has it, and the open records."""
    for module in modules(package):
        if len(module.lines) > LONG_MODULE:
            yield f"{module.path}: {len(module.lines)} lines"
        for function in module.functions():
            length = body_length(function)
            if length > LONG_BODY:
                yield f"{module.path}: {function.name} has {length} lines"
        for node in module.classes():
            if is_record(node) and not is_frozen(node):
                yield f"{module.path}: {node.name} is not frozen"


def main(arguments: list[str]) -> None:
    """Print the table, of another package's folder where one is given."""
    package = Path(arguments[0]) if arguments else PACKAGE
    for name, value in figures(package).items():
        print(f"| {name} | {value} |")
    print()
    for line in largest(package):
        print(line)


if __name__ == "__main__":
    main(sys.argv[1:])
