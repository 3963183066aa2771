"""What is drawn once: sheets that are cut alike, with their title, numbers and file name."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from sheetcut.job import Sheet
from sheetcut.layout import Layout, PaperPlan, Plan

COUNT_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


@dataclass(frozen=True, slots=True)
class Sheaf:
    """Sheets that are cut alike and drawn once.

    Attributes:
        layouts: alike in cuts; the names on their blanks may differ.
        first: the number of the first of these sheets among all of its size, from 1.
        title: "Imperial, sheet 1: cut two alike".
    """

    paper: PaperPlan
    layouts: tuple[Layout, ...]
    first: int
    title: str

    @property
    def copies(self) -> int:
        """How many sheets are cut so."""
        return sum(layout.copies for layout in self.layouts)

    @property
    def numbers(self) -> str:
        """The numbers of its sheets: "1" or "1-2"."""
        last = self.first + self.copies - 1
        return str(self.first) if last == self.first else f"{self.first}-{last}"


def numbers_text(plan: Plan, sheaf: Sheaf) -> str:
    """Return which sheets of how many these are: "sheets 1–2 of 4"; nothing for an offcut."""
    sheet = plan.sheet(sheaf.layouts[0].sheet)
    if sheet.kind == "offcut":
        return ""
    word = "sheet" if sheaf.copies == 1 else "sheets"
    return f"{word} {sheaf.numbers.replace('-', '–')} of {sheaf.paper.sheets_used[sheet.id]}"


def sheaves(plan: Plan) -> tuple[Sheaf, ...]:
    """Return what is to be drawn: twins once, in the order of the plan."""
    found = []
    for paper in plan.papers:
        cut: Counter[str] = Counter()
        for _, twins in groupby(paper.layouts, key=lambda layout: layout.twins):
            layouts = tuple(twins)
            sheet = plan.sheet(layouts[0].sheet)
            copies = sum(layout.copies for layout in layouts)
            first = cut[sheet.id] + 1
            cut[sheet.id] += copies
            found.append(Sheaf(paper, layouts, first, _title(sheet, first, copies)))
    return tuple(found)


def _title(sheet: Sheet, first: int, copies: int) -> str:
    if sheet.kind == "offcut":
        return f"{sheet.title}, offcut"
    title = f"{sheet.title}, sheet {first}"
    return title if copies == 1 else f"{title}: cut {in_words(copies)} alike"


def layout_titles(plan: Plan) -> tuple[str, ...]:
    """Return the title of each of ``plan.layouts``, in the same order."""
    return tuple(sheaf.title for sheaf in sheaves(plan) for _ in sheaf.layouts)


def in_words(number: int) -> str:
    """Return a small number as a word, a larger one in figures."""
    return COUNT_WORDS[number] if number < len(COUNT_WORDS) else str(number)


def day(made: str) -> str:
    """Return the day of an ISO 8601 time as it is written by hand; other text as it is.

    >>> day("2026-11-25T09:00:00+00:00"), day("")
    ('25 November 2026', '')
    """
    try:
        when = datetime.fromisoformat(made)
    except ValueError:
        return made
    return f"{when.day} {MONTHS[when.month - 1]} {when.year}"


def file_word(text: str) -> str:
    """Return a label as a word that any file system takes.

    >>> file_word("Double éléphant / 2"), file_word("雪")
    ('double-elephant-2', 'sheet')
    """
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:40] or "sheet"
