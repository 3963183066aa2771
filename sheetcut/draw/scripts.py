"""Lines of scripts read from the right, for a writer that sets letters one after the other.

Source:
    Unicode Standard Annex 9 for the order, in a short form; the joined forms of Arabic letters are
    those of the Unicode character database (Arabic Presentation Forms A and B).
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import cache

FORMS = (range(0xFB50, 0xFC00), range(0xFE80, 0xFEFD))
KASHIDA = "\u0640"  # a stroke that lengthens a word; it joins on both sides
LAM = "\u0644"


def joined(text: str) -> str:
    """Return text with every Arabic letter in the form that its neighbours ask for.

    >>> [hex(ord(letter)) for letter in joined("\u0628\u062d\u0631")]
    ['0xfe91', '0xfea4', '0xfeae']
    """
    if not any("\u0600" <= letter <= "\u06ff" for letter in text):
        return text
    letters = _with_ligatures(text)
    return "".join(_form(letters, n) for n in range(len(letters)))


def _with_ligatures(text: str) -> list[str]:
    """Return the letters of a text, lam and alef together where they follow each other."""
    letters: list[str] = []
    for letter in text:
        if letters and letters[-1] == LAM and LAM + letter in _forms():
            letters[-1] += letter
        else:
            letters.append(letter)
    return letters


def _form(letters: list[str], n: int) -> str:
    forms = _forms().get(letters[n])
    if forms is None:
        return letters[n]
    before, after = _neighbour(letters, n, -1), _neighbour(letters, n, 1)
    from_before = "final" in forms and _joins_on(before)
    to_after = "initial" in forms and _is_joined(after)
    kind = {
        (False, False): "isolated",
        (True, False): "final",
        (False, True): "initial",
        (True, True): "medial",
    }[from_before, to_after]
    return forms.get(kind, letters[n])


def _neighbour(letters: list[str], n: int, step: int) -> str:
    """Return the next letter in a direction that is no mark on another one."""
    n += step
    while 0 <= n < len(letters) and unicodedata.category(letters[n][0]) == "Mn":
        n += step
    return letters[n] if 0 <= n < len(letters) else ""


def _joins_on(letter: str) -> bool:
    """Whether a letter reaches out to the one after it."""
    return letter == KASHIDA or "initial" in _forms().get(letter, {})


def _is_joined(letter: str) -> bool:
    """Whether a letter takes the hand of the one before it."""
    return letter == KASHIDA or "final" in _forms().get(letter, {})


@cache
def _forms() -> dict[str, dict[str, str]]:
    """Return the forms of each letter, and of lam with each alef, by their kind."""
    found: dict[str, dict[str, str]] = {}
    for code in (code for span in FORMS for code in span):
        kind, *letters = unicodedata.decomposition(chr(code)).split() or [""]
        plain = "".join(chr(int(letter, 16)) for letter in letters)
        if kind.startswith("<") and (len(plain) == 1 or (plain[:1] == LAM and len(plain) == 2)):
            found.setdefault(plain, {}).setdefault(kind.strip("<>"), chr(code))
    return found


def in_visual_order(text: str) -> str:
    """Return a line with what reads from the right turned round, for a writer that knows no such.

    A short form of the Unicode bidirectional algorithm (UAX 9): runs from the first to the last
    letter of a right-to-left script are turned round, but for the numbers and the left-to-right
    words in them. Enough for a label; embedded directions are gone by then.

    >>> in_visual_order("Pier 7")
    'Pier 7'
    >>> in_visual_order("אב 12 גד") == "דג 12 בא"
    True
    """
    kinds = [unicodedata.bidirectional(letter) for letter in text]
    strong = [kind for kind in kinds if kind in ("L", "R", "AL")]
    if not any(kind in ("R", "AL") for kind in strong):
        return text
    if strong[0] == "L":
        return "".join(
            _turned_round(part) if is_right else part for is_right, part in _directions(text, kinds)
        )
    return _turned_round(text)


def _directions(text: str, kinds: list[str]) -> Iterator[tuple[bool, str]]:
    """Yield parts of a left-to-right line: from one right-to-left letter to the last in a row."""
    start = 0
    n = 0
    while n < len(text):
        if kinds[n] not in ("R", "AL"):
            n += 1
            continue
        last = n
        for k in range(n, len(text)):
            if kinds[k] == "L":
                break
            if kinds[k] in ("R", "AL", "NSM"):
                last = k
        yield False, text[start:n]
        yield True, text[n : last + 1]
        start = n = last + 1
    yield False, text[start:]


def _turned_round(text: str) -> str:
    """Return a right-to-left run in visual order; numbers and foreign words in it stay as read."""
    parts: list[str] = []
    for letter in text:
        kind = unicodedata.bidirectional(letter)
        is_forward = kind in ("L", "EN", "AN")
        sits_on = kind == "NSM" and bool(parts)
        if sits_on or (is_forward and parts and _goes_forward(parts[-1][-1])):
            parts[-1] += letter
        else:
            parts.append(MIRRORED.get(letter, letter))
    return "".join(reversed(_rejoined(parts)))


def _goes_forward(letter: str) -> bool:
    return unicodedata.bidirectional(letter) in ("L", "EN", "AN")


def _rejoined(parts: list[str]) -> list[str]:
    """Return parts with words and numbers that only spaces or signs part joined again."""
    joined: list[str] = []
    for part in parts:
        between = joined[-1] if joined else ""
        is_sign = bool(between) and unicodedata.bidirectional(between[-1]) in ("ES", "CS", "WS")
        before = joined[-2] if len(joined) > 1 else ""
        if is_sign and before and _goes_forward(before[-1]) and _goes_forward(part[0]):
            joined[-2:] = [before + between + part]
        else:
            joined.append(part)
    return joined


MIRRORED = dict(zip("()[]{}<>«»", ")(][}{><»«", strict=True))
