"""What happens to text that cannot be read: it is quoted, and the remedy is named."""

from __future__ import annotations

import unicodedata

from sheetcut.errors import SheetcutError

LONGEST_QUOTE = 40
"""Characters of a cell that a message repeats at most: enough to find it again."""


class Refused(SheetcutError, ValueError):
    """Something typed that has no one meaning.

    Attributes:
        message: what was found and why it cannot be read.
        remedy: what to write instead.
    """

    def __init__(self, message: str, remedy: str) -> None:
        self.message = message
        self.remedy = remedy
        super().__init__(f"{message}; {remedy}")


def quoted(text: str) -> str:
    """Return the text in quotation marks, shortened, with unseen characters made visible.

    >>> quoted("21O"), quoted("a\\x07b")
    ('"21O"', '"a<U+0007>b"')
    >>> len(quoted("9" * 1000))
    42
    """
    shown = "".join(map(_visible, text[:LONGEST_QUOTE]))
    if len(text) > LONGEST_QUOTE or len(shown) > LONGEST_QUOTE:
        shown = f"{shown[: LONGEST_QUOTE - 1].rstrip()}…"
    return f'"{shown}"'


def unseen(text: str) -> str | None:
    """Return the first character that a cell should not hold, as "U+0007", or None.

    Line breaks and tabs are welcome in a cell; other controls, halves of characters and
    codes that stand for no character are not.
    """
    if text.isprintable():
        return None
    return next((_code(mark) for mark in text if _is_unseen(mark)), None)


def _visible(mark: str) -> str:
    if mark.isprintable():
        return mark
    return " " if mark in "\n\r\t" or unicodedata.category(mark) == "Zs" else f"<{_code(mark)}>"


def _is_unseen(mark: str) -> bool:
    if mark in "\n\r\t":
        return False
    # Unicode keeps the last two codes of each plane for no character at all.
    return unicodedata.category(mark) in {"Cc", "Cs"} or ord(mark) & 0xFFFE == 0xFFFE


def _code(mark: str) -> str:
    return f"U+{ord(mark):04X}"
