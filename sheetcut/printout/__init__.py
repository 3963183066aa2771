"""A plan for people: in words, as drawings, and as pages to put on paper."""

from __future__ import annotations

from sheetcut.printout.drawings import drawing, drawings
from sheetcut.printout.instead import alternative_rows
from sheetcut.printout.sheaves import Sheaf, day, file_word, in_words, layout_titles, sheaves
from sheetcut.printout.words import how_good, keepers, money, sheets_used, stays, summary_lines

__all__ = [
    "Sheaf",
    "alternative_rows",
    "day",
    "drawing",
    "drawings",
    "file_word",
    "how_good",
    "in_words",
    "keepers",
    "layout_titles",
    "money",
    "sheaves",
    "sheets_used",
    "stays",
    "summary_lines",
]
