"""Every message that a line of studio.toml can be answered with."""

# ruff: noqa: E501 (a message stands on one line, as it is read)
from __future__ import annotations

from pathlib import Path

from sheetcut.read import settings_in
from tests.messages.cases import Case, Says


def _case(text: str, row: int | None, field: str, found: str, remedy: str) -> Case:
    def provoke(folder: Path) -> object:
        (folder / "studio.toml").write_text(text, encoding="utf-8")
        return settings_in(folder)

    where = ", ".join(part for part in ("studio.toml", f"row {row}" if row else "", field) if part)
    return Case(f"settings: {text[:60]!r}", provoke, Says(where, found, remedy))


EVERY = "write one of name, currency, unit, reading-step, mat, ruler, printer-width, keep-size, narrowest-strip, narrow-strips, usual-margins, deckle-trim, sizes-sold, aim, preference, paper, charging, buying, printer, scanner, packing, parcel"

LINES: list[tuple[str, int | None, str, str, str]] = [
    ("name = 5", 1, "name", '"5" is not text', 'write it in quotation marks, as "Tern Point"'),
    (
        'name = "a\\u0007b"',
        1,
        "name",
        '"a<U+0007>b" is too long or holds an unseen character',
        "type it again",
    ),
    (
        'currency = "pounds"',
        1,
        "currency",
        '"pounds" is not the sign of a currency',
        'write one, as in "£" or "EUR"',
    ),
    ('ruler = ""', 1, "ruler", "a length is missing", "write one, as in 210 mm or 8 1/4 in"),
    ('mat = ""', 1, "mat", "a size is missing", "write one, as in 297 x 420 mm, 11 x 14 in or A3"),
    ("ruler = 0", 1, "ruler", '"0" is nothing', "write a length of more than 0, as in 1 mm"),
    (
        'sizes-sold = "A4"',
        1,
        "sizes sold",
        '"A4" is not a list',
        'write one, as in ["A4", "300 x 300"]',
    ),
    (
        "[usual-margins]\nprint = [1, 2]",
        2,
        "usual margins, print",
        "there are 2 lengths",
        "write four: left, right, top and foot",
    ),
    (
        "[usual-margins.print]\nnorth = 5",
        None,
        "usual margins, print",
        '"north" is not an edge',
        "write left, right, top or foot",
    ),
    (
        '[paper.Rag]\ngrammage = "140 lb"',
        2,
        'paper "Rag", grammage',
        '"140 lb" depends on the sheet that pounds are counted by',
        "write g/m²: 140 lb at 22 x 30 in is 300, 300 lb is 640",
    ),
    (
        "[paper.Rag]\npasses = 0",
        2,
        'paper "Rag", passes',
        '"0" is not a number of passes',
        "write 1 to 100",
    ),
    ("mat = true", 1, "mat", "true is not a size", 'write it as in 600 or "600 mm"'),
    ("ruler = 99999999999", 1, "ruler", "the number is far too large", "write a length as in 600"),
    (
        "usual-margins = 5",
        1,
        "usual margins",
        'usual margins is "5"',
        "write a section headed [usual-margins]",
    ),
    ("charging = 5", 1, "charging", 'charging is "5"', "write a section headed [charging]"),
    ("rulr = 5", 1, "", '"rulr" is not a setting', 'did you mean "ruler"?'),
    ('colour = "red"', 1, "", '"colour" is not a setting', EVERY),
    (
        "reading-step = 1\nreading_step = 2",
        1,
        "reading step",
        '"reading_step" is there twice',
        "keep one of the two",
    ),
    (
        "ruler =",
        1,
        "",
        '"ruler =" cannot be read, nor what comes after it',
        'write each setting as in: ruler = "1000 mm"',
    ),
    ('aim = "cheap"', 1, "aim", 'the aim is "cheap"', "write least cost or fewest sheets"),
    ("parcel = 5", 1, "parcel", 'parcel is "5"', 'write a section headed [parcel."large letter"]'),
    (
        "[parcel]\nletter = 5",
        2,
        "parcel",
        'parcel "letter" is "5"',
        'write a section headed [parcel."letter"]',
    ),
    (
        "[parcel.letter]\ngrams = 500",
        1,
        'parcel "letter", parcel',
        'parcel "letter" does not say how large and how heavy it may be',
        'write flat = "353 x 250" or rolled = 900, and grams = 750',
    ),
    ("paper = 5", 1, "paper", 'paper is "5"', 'write a section headed [paper."NAME"]'),
    ('[paper." "]\npasses = 2', 1, "paper", 'paper " " has no name', "type its name again"),
    (
        '[paper."a\\u0007b"]\npasses = 2',
        1,
        "paper",
        'paper "a<U+0007>b" holds an unseen character',
        "type its name again",
    ),
    ("[paper]\nRag = 5", 1, "paper", 'paper "Rag" is "5"', 'write a section headed [paper."NAME"]'),
    (
        "[paper.Rag]\npasses = 2\n[paper.rag]\npasses = 3",
        1,
        "paper",
        'paper "rag" is there twice',
        "keep one of the two sections",
    ),
    (
        "[charging]\nmark-up = 0",
        2,
        "charging, mark up",
        '"0" makes every charge nothing',
        "write 1 for no mark-up",
    ),
    (
        '[charging]\nhours = "many"',
        2,
        "charging, hours",
        '"many" is not a number of hours',
        "write it as in 3.5",
    ),
    (
        "[charging]\nhours = 20000",
        2,
        "charging, hours",
        '"20000" is more than 10000',
        "write it as in 3.5",
    ),
    (
        "[charging]\nrate = true",
        2,
        "charging, rate",
        "true is not a price",
        "write one, as in 15.20",
    ),
    (
        "[charging]\nround-up-to = 0",
        2,
        "charging, round up to",
        '"0" is nothing to round to',
        "write it as in 0.50, or 5",
    ),
    (
        '[buying]\ncarriage = ["free from 10.00"]',
        2,
        "buying, carriage",
        "the fees do not rise from goods of nothing",
        'write the fee for small orders first, as in ["9.50", "free from 150.00"]',
    ),
]
"""The file's lines; row and setting that are blamed; what is said."""

CASES = [_case(*line) for line in LINES]
