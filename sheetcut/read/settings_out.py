"""Settings changed in the text of their file: the other lines stay as their owner typed them."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from copy import deepcopy
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from sheetcut.errors import SheetcutError
from sheetcut.read.entries import entries_in
from sheetcut.read.tables import decoded

Key = tuple[str, ...]
"""A setting by its plain words: ("mat",), ("charging", "rate"), ("paper", NAME, "passes").

("parcel", NAME) is a whole section, to be taken out.
"""

Value = str | int | Sequence[str | int]

NAMED = ("paper", "parcel")
"""Sections whose headings hold a name that somebody typed."""

_MARK = "c0f7be61"
"""Stands in a setting's place while its line is looked for."""


class NotRewritable(SheetcutError):
    """A setting stands in its file in a way that cannot be changed without its neighbours."""

    def __init__(self, source: str, key: Key) -> None:
        self.key = key
        super().__init__(
            f"{source}, {', '.join(key)}: this cannot be changed without touching the lines "
            "round it; change it in the file"
        )


def written_settings(source: str, data: bytes) -> dict[Key, Any]:
    """Return what a file of settings says, each as it was typed, known or not.

    Raises:
        ProblemsFound: if the file is not written as settings are.
    """
    _, written = entries_in(source, data)
    return dict(_flat(written))


def rewritten(source: str, data: bytes, changes: Mapping[Key, Value | None]) -> bytes:
    """Return a file of settings with these changed and nothing else.

    Comments, unknown settings, the order, and the way each is spelled stay. A setting that is
    taken out becomes a comment. A new one stands behind the comment that shows it, where there
    is one, and else behind the others.

    Raises:
        ProblemsFound: if the file is not written as settings are.
        NotRewritable: if one cannot be changed by itself.

    >>> rewritten("studio.toml", b'ruler = 900  # of steel\\n', {("ruler",): 1000})
    b'ruler = 1000  # of steel\\n'
    """
    text, _ = decoded(source, data)
    entries_in(source, data)
    encoding = _encoding(text, data)
    breaks = text.count("\r\n")
    is_windows = breaks > 0 and breaks == text.count("\n")
    text = text.replace("\r\n", "\n") if is_windows else text
    for key, value in changes.items():
        text = _changed(source, text, key, value)
    return (text.replace("\n", "\r\n") if is_windows else text).encode(encoding)


def _flat(written: Mapping[str, Any]) -> Iterator[tuple[Key, Any]]:
    for key, value in written.items():
        name = plain(key)
        if name in NAMED and isinstance(value, dict):
            for own_name, own in value.items():
                if isinstance(own, dict):
                    yield from (((name, own_name, plain(word)), one) for word, one in own.items())
        elif isinstance(value, dict):
            yield from (((name, plain(word)), one) for word, one in value.items())
        else:
            yield (name,), value


def plain(key: str) -> str:
    """Return a setting's name in plain words, however it is spelled.

    >>> plain("Reading_Step")
    'reading step'
    """
    return " ".join(re.split(r"[-_\s]+", key.casefold().strip()))


def _encoding(text: str, data: bytes) -> str:
    """Return what gives the very bytes of the file again."""
    for encoding in ("utf-8", "utf-8-sig", "utf-16", "cp1252"):
        try:
            if text.encode(encoding) == data:
                return encoding
        except UnicodeEncodeError:
            continue
    return "utf-8"


def _changed(source: str, text: str, key: Key, value: Value | None) -> str:
    """Return the text with one setting changed, in the first way that changes it alone."""
    before = tomllib.loads(text, parse_float=str)
    path = _path(before, key)
    is_there = _at(before, path) is not None
    if value is None and not is_there:
        return text
    wanted = deepcopy(before)
    _put(wanted, path, _plain_value(value))
    if _filled(wanted) == _filled(before):
        return text
    ways = _without(text, path) if value is None else _with(text, path, value, is_there=is_there)
    for changed in ways:
        if _says(changed, wanted):
            return changed
    raise NotRewritable(source, key)


def _says(text: str, wanted: Mapping[str, Any]) -> bool:
    try:
        return bool(_filled(tomllib.loads(text, parse_float=str)) == _filled(wanted))
    except tomllib.TOMLDecodeError:
        return False


def _filled(written: Any) -> Any:
    """Return settings without empty sections, which say nothing."""
    if not isinstance(written, dict):
        return written
    inner = {key: _filled(value) for key, value in written.items()}
    return {key: value for key, value in inner.items() if value != {}}


def _path(written: Mapping[str, Any], key: Key) -> Key:
    """Return a setting's key as the file spells it, as far as it is there."""
    path: list[str] = []
    at: Any = written
    for place, word in enumerate(key):
        is_name = key[0] in NAMED and place == 1
        there = at if isinstance(at, dict) else {}
        found = next((one for one in there if (one if is_name else plain(one)) == word), None)
        path.append(found or (word if is_name else word.replace(" ", "-")))
        at = there.get(path[-1])
    return tuple(path)


def _at(written: Any, path: Key) -> Any:
    for word in path:
        written = written.get(word) if isinstance(written, dict) else None
    return written


def _put(written: dict[str, Any], path: Key, value: Any) -> None:
    for word in path[:-1]:
        inner = written.setdefault(word, {})
        if not isinstance(inner, dict):
            inner = written[word] = {}
        written = inner
    if value is None:
        written.pop(path[-1], None)
    else:
        written[path[-1]] = value


def _plain_value(value: Value | None) -> Any:
    return list(value) if isinstance(value, list | tuple) else value


def _toml(value: Any) -> str:
    return str(tomlkit.item(_plain_value(value)).as_string())


def _kit(text: str, path: Key, value: Any) -> Iterator[str]:
    """Yield the text with a setting put in its place by the library that keeps the rest."""
    try:
        document = tomlkit.parse(text)
        table: Any = document
        for word in path[:-1]:
            if word not in table:
                table[word] = tomlkit.inline_table()
            table = table[word]
        table[path[-1]] = value
        yield tomlkit.dumps(document)
    except (TOMLKitError, KeyError, TypeError, ValueError, AttributeError):
        return


def _with(text: str, path: Key, value: Value, *, is_there: bool) -> Iterator[str]:
    line = f"{tomlkit.key(path[-1]).as_string()} = {_toml(value)}"
    if is_there:
        yield from _kit(text, path, _plain_value(value))
        return
    lines = text.splitlines()
    beside = _at(tomllib.loads(text), path[:-1])
    places = list(_last_of(lines, beside)) if isinstance(beside, dict) else []
    if len(path) == 1:
        places = [*_examples(lines, path[0]), *places]
    for at in places:
        yield _inserted(lines, at, line)
    heads = [tomlkit.key(word).as_string() for word in path[:-1]]
    head = f"[{'.'.join(heads)}]"
    for at in _sections(lines, path[0]) if heads else ():
        yield _inserted(lines, at, "", head, line)
    if heads and not isinstance(beside, dict):
        yield _inserted(lines, len(lines), "", head, line)
    yield from _kit(text, path, _plain_value(value))
    if not heads:
        yield _inserted(lines, 0, line)


def _inserted(lines: Sequence[str], at: int, *new: str) -> str:
    more = new[1:] if new[0] == "" and (at == 0 or not lines[at - 1].strip()) else new
    return "\n".join([*lines[:at], *more, *lines[at:]]) + "\n"


def _examples(lines: Sequence[str], name: str) -> Iterator[int]:
    """Yield where a comment that shows the setting ends."""
    words = r"[-_ ]".join(map(re.escape, re.split(r"[-_ ]", name)))
    shown = re.compile(rf"\s*#\s*{words}\s*=", re.IGNORECASE)
    yield from (n + 1 for n, line in enumerate(lines) if shown.match(line))


def _last_of(lines: Sequence[str], written: Mapping[str, Any]) -> Iterator[int]:
    """Yield the places behind settings of the same section, the last one first."""
    names = [re.escape(name) for name, value in written.items() if not isinstance(value, dict)]
    stands = re.compile(rf"\s*[\"']?(?:{'|'.join(names)})[\"']?\s*=")
    if names:
        yield from (n + 1 for n in reversed(range(len(lines))) if stands.match(lines[n]))


def _sections(lines: Sequence[str], name: str) -> Iterator[int]:
    """Yield where a comment that shows a section ends."""
    words = r"[-_ ]".join(map(re.escape, re.split(r"[-_ ]", name)))
    shown = re.compile(rf"\s*#\s*\[\s*{words}\s*\]", re.IGNORECASE)
    for n, line in enumerate(lines):
        if shown.match(line):
            end = n
            while end < len(lines) and lines[end].lstrip().startswith("#"):
                end += 1
            yield end


def _without(text: str, path: Key) -> Iterator[str]:
    """Yield the text with a setting or a section made a comment, or else simply gone."""
    if isinstance(_at(tomllib.loads(text), path), dict):
        yield from _without_section(text)
    value = _value_text(text, path)
    for marked in _kit(text, path, _MARK):
        lines = marked.splitlines()
        n = next((n for n, line in enumerate(lines) if _MARK in line), 0)
        lines[n] = "# " + lines[n].replace(f'"{_MARK}"', value)
        yield "\n".join(lines) + "\n"
    try:
        document = tomlkit.parse(text)
        table: Any = document
        for word in path[:-1]:
            table = table[word]
        del table[path[-1]]
        yield tomlkit.dumps(document)
    except (TOMLKitError, KeyError, TypeError):
        return


def _without_section(text: str) -> Iterator[str]:
    """Yield the text with one section after the other made a comment."""
    lines = text.splitlines()
    heads = [n for n, line in enumerate(lines) if line.lstrip().startswith("[")]
    for start, end in zip(heads, [*heads[1:], len(lines)], strict=True):
        inside = [f"# {line}" if line.strip() and not line.lstrip().startswith("#") else line
                  for line in lines[start:end]]  # fmt: skip
        yield "\n".join([*lines[:start], *inside, *lines[end:]]) + "\n"


def _value_text(text: str, path: Key) -> str:
    """Return a value as its file has it, on one line."""
    value: Any = tomlkit.parse(text)
    for word in path:
        value = value[word]
    return " ".join(str(value.as_string()).split())
