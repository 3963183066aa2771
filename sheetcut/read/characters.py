"""Typed text brought to plain characters: ½, ×, ″, full-width digits and odd spaces."""

from __future__ import annotations

import re
import unicodedata

_PLAIN = {
    "\u2044": "/",  # fraction slash
    "\u2215": "/",  # division slash
    "\uff0f": "/",
    **dict.fromkeys("\u2212\u2010\u2011\u2012\u2013\u2014\ufe63\uff0d", "-"),
    **dict.fromkeys("\u00d7\u2715\u2716\u2a2f\u0445\u0425", "x"),  # the last two are Cyrillic
    **dict.fromkeys("\u2033\u201c\u201d\u02ba\u201f\u301e\uff02", '"'),
    **dict.fromkeys("\u2032\u2018\u2019\u02b9\u00b4\uff07", "'"),
}
# 8¹⁄₂ and 8½ both set a small fraction right against the whole number.
_SMALL_FRACTION = re.compile(
    "([\u2070\u00b9\u00b2\u00b3\u2074-\u2079]+)[\u2044/]([\u2080-\u2089]+)"
)


def plain_text(text: str) -> str:
    """Return the text with look-alike characters made plain and spaces made single.

    >>> plain_text("8½\\u00a0in"), plain_text("２９７ × 420"), plain_text("11″")
    ('8 1/2 in', '297 x 420', '11"')
    """
    if text.isascii():
        return " ".join(text.split())
    opened = _SMALL_FRACTION.sub(_small_fraction, text)
    return " ".join("".join(map(_plain, opened)).split()).replace("''", '"')


def _small_fraction(found: re.Match[str]) -> str:
    top, foot = ("".join(str(unicodedata.digit(mark)) for mark in part) for part in found.groups())
    return f" {top}/{foot}"


def _plain(mark: str) -> str:
    if mark.isascii():
        return mark
    if mark in _PLAIN:
        return _PLAIN[mark]
    category = unicodedata.category(mark)
    if category == "Nd":
        return str(unicodedata.digit(mark))
    if category == "Zs":
        return " "
    if category == "Cf":  # zero-width marks that come along when text is pasted
        return ""
    # Compatibility forms would make 297² into 2972, so only these kinds are opened.
    kind = unicodedata.decomposition(mark).partition(" ")[0]
    if kind == "<fraction>":
        return " " + unicodedata.normalize("NFKC", mark).replace("\u2044", "/")
    if kind in {"<wide>", "<narrow>", "<square>"}:
        return unicodedata.normalize("NFKC", mark)
    return mark
