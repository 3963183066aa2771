"""Every place in the package that words a problem, a fault or an error, out of its syntax tree."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

import sheetcut

PACKAGE = Path(sheetcut.__file__).resolve().parent
RECORDS = {"Problem", "Fault"}
ERRORS = {"SheetcutError", "ClickException", "UsageError", "BadParameter"}
WORDED = {"message", "remedy"}
"""Who takes both as arguments makes a problem of them."""


@dataclass(frozen=True)
class Place:
    """A call that makes a message, or a yield of one in words.

    Attributes:
        words: for words that are handed on, what they read like; None for a call.
    """

    file: str
    first: int
    last: int
    code: str
    words: re.Pattern[str] | None = None

    def __str__(self) -> str:
        return f"sheetcut/{self.file}:{self.first}: {self.code}"

    def is_reached(self, lines: set[tuple[str, int]], sentences: list[str]) -> bool:
        """Whether the place was run: its line by a call that made a message, or its words."""
        if self.words is not None:
            return any(self.words.fullmatch(sentence) for sentence in sentences)
        return any((self.file, line) in lines for line in range(self.first, self.last + 1))


class Maker(NamedTuple):
    """A function that makes a message: where, whether as a method, of how many arguments."""

    file: str
    is_method: bool
    needed: int


def places() -> list[Place]:
    """Return the places of the whole package, by file and line."""
    trees = {
        path.relative_to(PACKAGE).as_posix(): ast.parse(path.read_text(encoding="utf-8"))
        for path in sorted(PACKAGE.rglob("*.py"))
    }
    errors = _errors(trees.values())
    makers = _makers(trees, errors | RECORDS)
    return [
        place
        for file, tree in trees.items()
        for place in (
            *_calls(file, tree, errors | RECORDS, makers),
            *_yields(file, tree),
            *_beside_fields(file, tree),
        )
    ]


def _errors(trees: Iterable[ast.Module]) -> set[str]:
    """Return the names of all classes of errors that are shown in words."""
    bases = [
        (node.name, {ast.unparse(base).rpartition(".")[2] for base in node.bases})
        for tree in trees
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef)
    ]
    found = set(ERRORS)
    while more := {name for name, above in bases if above & found} - found:
        found |= more
    return found


def _makers(trees: Mapping[str, ast.Module], made: set[str]) -> dict[str, list[Maker]]:
    """Return by name the functions that make a message for others."""
    makers: dict[str, list[Maker]] = {}
    for file, tree in trees.items():
        plain = _plain_classes(tree)
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef):
                names = [one.arg for one in node.args.args]
                own = [name for name in names if name != "self"]
                gives = node.returns is not None and ast.unparse(node.returns).split(" |")[0]
                if gives in made - plain or set(own) >= WORDED:
                    needed = len(own) - len(node.args.defaults)
                    makers.setdefault(node.name, []).append(Maker(file, names != own, needed))
    return makers


def _calls(
    file: str, tree: ast.Module, made: set[str], makers: Mapping[str, list[Maker]]
) -> Iterator[Place]:
    plain = _plain_classes(tree)
    known = {
        one.asname or one.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom)
        for one in node.names
    }

    def is_maker(name: str, given: int) -> bool:
        return any(
            given >= maker.needed
            and (
                _folder(file) == _folder(maker.file)
                if maker.is_method
                else file == maker.file or name in known
            )
            for maker in makers.get(name, ())
        )

    for node in ast.walk(tree):
        if isinstance(node, ast.Raise) and ast.unparse(node.exc or node) in made:
            yield Place(file, node.lineno, node.lineno, ast.unparse(node))
        if not isinstance(node, ast.Call):
            continue
        name = ast.unparse(node.func).rpartition(".")[2]
        if name in made - plain or is_maker(name, len(node.args) + len(node.keywords)):
            yield Place(file, node.lineno, node.end_lineno or node.lineno, ast.unparse(node)[:90])


def _plain_classes(tree: ast.Module) -> set[str]:
    """Return classes of a module that are no errors, though one elsewhere may bear their name."""
    return {one.name for one in tree.body if isinstance(one, ast.ClassDef) and not one.bases}


def _folder(file: str) -> str:
    return file.partition("/")[0]


def _yields(file: str, tree: ast.Module) -> Iterator[Place]:
    """Yield the sentences that a check hands on as text, to be made a fault elsewhere."""
    if not file.startswith("check/"):
        return
    constants = {
        ast.unparse(node.targets[0]): node.value
        for node in tree.body
        if isinstance(node, ast.Assign)
    }
    for function in ast.walk(tree):
        if not isinstance(function, ast.FunctionDef) or function.returns is None:
            continue
        if ast.unparse(function.returns) != "Iterator[str]":
            continue
        for node in ast.walk(function):
            if isinstance(node, ast.Yield) and node.value is not None:
                value = constants.get(ast.unparse(node.value), node.value)
                words = _pattern(value)
                if words is not None:
                    code = ast.unparse(node)[:90]
                    yield Place(file, node.lineno, node.lineno, code, words)


def _beside_fields(file: str, tree: ast.Module) -> Iterator[Place]:
    """Yield the sentences that a form of the page puts beside what was typed."""
    if not file.startswith("page/"):
        return
    for node in ast.walk(tree):
        if not isinstance(node, ast.Assign) or not ast.unparse(node.targets[0]).startswith(
            "wrong["
        ):
            continue
        (value,) = node.value.elts if isinstance(node.value, ast.List) else [node.value]
        words = _pattern(value)
        if words is not None:
            around = re.compile(f".*{words.pattern}.*", re.DOTALL)
            yield Place(file, node.lineno, node.lineno, ast.unparse(node)[:90], around)


def _pattern(value: ast.expr) -> re.Pattern[str] | None:
    """Return what a sentence reads like, whatever is filled into it; None for another's words."""
    parts = value.values if isinstance(value, ast.JoinedStr) else [value]
    if not any(isinstance(part, ast.Constant) for part in parts):
        return None
    read = (
        re.escape(str(part.value)) if isinstance(part, ast.Constant) else ".*" for part in parts
    )
    return re.compile("".join(read), re.DOTALL)
