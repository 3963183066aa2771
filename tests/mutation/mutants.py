"""Small changes to a module's source, one at a time, each of which a test should notice."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass

COMPARED = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
}
RECKONED = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.FloorDiv,
    ast.FloorDiv: ast.Mult,
    ast.Div: ast.Mult,
    ast.Mod: ast.FloorDiv,
    ast.Pow: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
    ast.BitXor: ast.BitAnd,
    ast.LShift: ast.RShift,
    ast.RShift: ast.LShift,
}
CALLED = {"min": "max", "max": "min", "any": "all", "all": "any", "floor": "ceil", "ceil": "floor"}
NOT_CODE = ("annotation", "returns", "decorator_list", "type_params", "bases")


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change to one place of a module.

    Attributes:
        module: the dotted name.
        function: the outermost function or method that holds the place; "" for none.
        line: its number in the file.
        was: the text of that line.
        change: what became what.
        nth: which of the same changes to the same text in the function it is, from 1.
        steps: the way to the node: fields and places in lists, from the module's tree down.
        to: the name of the change, for ``mutated``.
        code: whether it stands in the body of the function, not in what a def evaluates.
        until: the last line of the statement it stands in, or of that statement's heading.
    """

    module: str
    function: str
    line: int
    was: str
    change: str
    steps: tuple[str | int, ...]
    to: str
    code: bool
    until: int
    nth: int = 1

    @property
    def key(self) -> tuple[str, str, str, str, int]:
        """What it is known by when the lines above it have moved."""
        return self.module, self.function, self.was, self.change, self.nth

    def __str__(self) -> str:
        again = f" ({self.nth})" if self.nth > 1 else ""
        return f"{self.module}:{self.line} {self.function}: {self.was}: {self.change}{again}"


@dataclass(frozen=True, slots=True)
class Place:
    """A node, and where it stands; the fields are those of a mutant."""

    node: ast.AST
    steps: tuple[str | int, ...] = ()
    function: str = ""
    code: bool = False
    until: int = 0


def mutants_of(module: str, source: str) -> list[Mutant]:
    """Return every mutant of a module, in the order of its text."""
    lines = source.splitlines()
    seen: Counter[tuple[str, str, str]] = Counter()
    found = []
    for place in _places(Place(ast.parse(source))):
        for to, change in _changes(place.node):
            line = place.node.lineno
            was = lines[line - 1].strip()
            seen[place.function, was, change] += 1
            found.append(
                Mutant(
                    module,
                    place.function,
                    line,
                    was,
                    change,
                    place.steps,
                    to,
                    place.code,
                    max(line, place.until),
                    seen[place.function, was, change],
                )
            )
    return sorted(found, key=lambda one: one.line)


def mutated(source: str, mutant: Mutant) -> ast.Module:
    """Return the module's tree with the change made."""
    tree = ast.parse(source)
    holder: object = tree
    for step in mutant.steps[:-1]:
        holder = holder[step] if isinstance(step, int) else getattr(holder, step)  # type: ignore[index]
    last = mutant.steps[-1]
    node = holder[last] if isinstance(last, int) else getattr(holder, last)  # type: ignore[index]
    changed = ast.copy_location(_changed(node, mutant.to), node)
    if isinstance(last, int):
        holder[last] = changed  # type: ignore[index]
    else:
        setattr(holder, last, changed)
    return ast.fix_missing_locations(tree)


def _places(place: Place) -> Iterator[Place]:
    """Yield a place and every one below it that may be changed, in the order of the text."""
    yield place
    for name, value in ast.iter_fields(place.node):
        if name in NOT_CODE:
            continue
        for more, child in _children(name, value):
            if _is_docstring(child) or _is_promise(child) or _is_strict(child):
                continue
            code = place.code or (isinstance(place.node, ast.FunctionDef) and name == "body")
            function = place.function
            if not code and isinstance(child, ast.FunctionDef | ast.ClassDef):
                function = f"{function}.{child.name}".lstrip(".")
            until = _end(child) if isinstance(child, ast.stmt) else place.until
            steps = (*place.steps, *more)
            yield from _places(Place(child, steps, function, code, until))


def _end(statement: ast.stmt) -> int:
    """Return the last line of a statement, or of the heading of one that holds others."""
    body = getattr(statement, "body", None)
    return max(statement.lineno, body[0].lineno - 1) if body else statement.end_lineno or 0


def _children(field: str, value: object) -> Iterator[tuple[tuple[str | int, ...], ast.AST]]:
    if isinstance(value, ast.AST):
        yield (field,), value
    elif isinstance(value, list):
        for i, one in enumerate(value):
            if isinstance(one, ast.AST):
                yield (field, i), one


def _is_docstring(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def _is_strict(node: ast.AST) -> bool:
    """Whether it only says that runs are equally long, which they are."""
    return isinstance(node, ast.keyword) and node.arg == "strict"


def _is_promise(node: ast.AST) -> bool:
    """Whether it is an import, or the names a module promises."""
    promised = isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__"
    return promised or isinstance(node, ast.Import | ast.ImportFrom)


def _changes(node: ast.AST) -> Iterator[tuple[str, str]]:  # noqa: PLR0912  a table, as cases
    """Yield what may become of a node: a name for ``_changed``, and words for people."""
    match node:
        case ast.Compare():
            for i, one in enumerate(node.ops):
                yield f"compare {i}", f"{_sign(one)} to {_sign(COMPARED[type(one)]())}"
        case ast.BinOp() | ast.AugAssign() if type(node.op) in RECKONED:
            yield "reckon", f"{_sign(node.op)} to {_sign(RECKONED[type(node.op)]())}"
        case ast.BoolOp():
            yield "join", "and to or" if isinstance(node.op, ast.And) else "or to and"
        case ast.UnaryOp(op=ast.Not() | ast.USub()):
            yield "plain", f"{_sign(node.op)} dropped"
        case ast.Constant(value=bool()):
            yield "count", f"{node.value} to {not node.value}"
        case ast.Constant(value=int()):
            yield "count", f"{node.value} to {node.value + 1}"
        case ast.Return(value=ast.expr()) if not _is_false(node.value):
            yield "nothing", "returns None"
        case ast.Call(func=ast.Name(id=name)) if name in CALLED:
            yield "call", f"{name} to {CALLED[name]}"
        case ast.Expr(value=ast.Yield() | ast.YieldFrom() | ast.Call()) | ast.Raise():
            yield "drop", "dropped"
        case ast.Continue() | ast.Break():
            yield "drop", "dropped"
        case ast.IfExp() | ast.If() | ast.While() if not isinstance(node.test, ast.Compare):
            yield "test", "the other way"
        case ast.ListComp() | ast.SetComp() | ast.GeneratorExp() | ast.DictComp():
            for i, one in enumerate(node.generators):
                for j, _ in enumerate(one.ifs):
                    yield f"filter {i} {j}", f"without its if {i + j + 1}"


def _changed(node: ast.AST, to: str) -> ast.AST:
    new = deepcopy(node)
    kind, *at = to.split()
    match new:
        case ast.Compare():
            new.ops[int(at[0])] = COMPARED[type(new.ops[int(at[0])])]()
        case ast.BinOp() | ast.AugAssign():
            new.op = RECKONED[type(new.op)]()
        case ast.BoolOp():
            new.op = ast.Or() if isinstance(new.op, ast.And) else ast.And()
        case ast.UnaryOp():
            return new.operand
        case ast.Constant(value=bool()):
            new.value = not new.value
        case ast.Constant(value=int()):
            new.value += 1
        case ast.Return():
            new.value = ast.Constant(None)
        case ast.Call(func=ast.Name()) if kind == "call":
            new.func.id = CALLED[new.func.id]
        case ast.IfExp() | ast.If() | ast.While():
            new.test = ast.UnaryOp(ast.Not(), new.test)
        case ast.ListComp() | ast.SetComp() | ast.GeneratorExp() | ast.DictComp():
            del new.generators[int(at[0])].ifs[int(at[1])]
        case _:
            return ast.Pass()
    return new


def _is_false(node: ast.expr) -> bool:
    """Whether it is None, or as good as None where a yes or a no is asked for."""
    return isinstance(node, ast.Constant) and node.value in (None, False, "")


SIGNS = {
    "Lt": "<",
    "LtE": "<=",
    "Gt": ">",
    "GtE": ">=",
    "Eq": "==",
    "NotEq": "!=",
    "In": "in",
    "NotIn": "not in",
    "Is": "is",
    "IsNot": "is not",
    "Add": "+",
    "Sub": "-",
    "Mult": "*",
    "FloorDiv": "//",
    "Div": "/",
    "Mod": "%",
    "Pow": "**",
    "BitAnd": "&",
    "BitOr": "|",
    "BitXor": "^",
    "LShift": "<<",
    "RShift": ">>",
    "Not": "not",
    "USub": "minus",
}


def _sign(operator: ast.AST) -> str:
    return SIGNS[type(operator).__name__]
