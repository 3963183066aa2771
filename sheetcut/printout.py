"""A plan in words and drawings for people: titles, summary, and one drawing for each layout."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from sheetcut.cost import percent, total_cost, total_waste
from sheetcut.draw import A3, A4, Drawing, NoRoomOnPage, Page, pin_up, svg_text
from sheetcut.job import Sheet
from sheetcut.layout import Layout, PaperPlan, Plan
from sheetcut.units import Cents, in_mm

COUNT_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")

PAGES = (
    A4,
    A3,
    Page("A2", 420, 594),  # ISO 216:2007, as the two below
    Page("A1", 594, 841),
    Page("A0", 841, 1189),
)

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


def drawing(plan: Plan, sheaf: Sheaf) -> Drawing:
    """Return the pin-up sheet of sheets that are cut alike, on the smallest page that holds it.

    That is A4, save for layouts with very many steps.
    """
    for page in PAGES[:-1]:
        try:
            return _drawn_on(page, plan, sheaf)
        except NoRoomOnPage:
            continue
    return _drawn_on(PAGES[-1], plan, sheaf)


def _drawn_on(page: Page, plan: Plan, sheaf: Sheaf) -> Drawing:
    return pin_up(
        plan,
        sheaf.paper,
        sheaf.layouts[0],
        title=sheaf.title,
        sheet_numbers=sheaf.numbers,
        made=day(plan.made),
        twins=sheaf.layouts[1:],
        on=page,
    )


def drawings(plan: Plan) -> dict[str, str]:
    """Return file name and SVG text of every drawing of a plan, in the order of the plan."""
    files: dict[str, str] = {}
    for sheaf in sheaves(plan):
        stem = f"{file_word(plan.sheet(sheaf.layouts[0].sheet).title)}-{sheaf.numbers}"
        name = next(f"{stem}{n}.svg" for n in _suffixes() if f"{stem}{n}.svg" not in files)
        files[name] = svg_text(drawing(plan, sheaf))
    return files


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


def _suffixes() -> list[str]:
    return ["", *(f"-{letter}" for letter in "bcdefghijklmnopqrstuvwxyz")]


def file_word(text: str) -> str:
    """Return a label as a word that any file system takes.

    >>> file_word("Double éléphant / 2"), file_word("雪")
    ('double-elephant-2', 'sheet')
    """
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:40] or "sheet"


def in_words(number: int) -> str:
    """Return a small number as a word, a larger one in figures."""
    return COUNT_WORDS[number] if number < len(COUNT_WORDS) else str(number)


def money(cents: Cents, currency: str) -> str:
    """Return money as it is written in a letter.

    >>> money(12244, "£"), money(5, ""), money(1520, "EUR")
    ('£122.44', '0.05', 'EUR 15.20')
    """
    space = " " if currency[-1:].isalnum() else ""
    return f"{currency}{space}{cents // 100}.{cents % 100:02d}"


def how_good(plan: Plan, paper: PaperPlan) -> str:
    """Return in words how far a paper's plan may be from the least possible, and why."""
    by_cost = paper.bound.measure == "cost"
    if paper.proved:
        claim = "proved: no plan for these pieces " + ("costs less" if by_cost else "needs fewer")
    else:
        gap = paper.value(plan.job) - paper.bound.value
        more = money(gap, plan.job.currency) if by_cost else f"{in_words(gap)} {_sheets_word(gap)}"
        claim = f"at most {more} more than the least possible, which is not known"
    return f"{claim} ({paper.bound.reason})"


def sheets_used(plan: Plan, paper: PaperPlan) -> str:
    """Return what a paper takes from the drawer: "3 x Imperial, heron 7"."""
    words = []
    for name, n in paper.sheets_used.items():
        sheet = plan.sheet(name)
        words.append(sheet.title if sheet.kind == "offcut" else f"{n} x {sheet.title}")
    return ", ".join(words) or "nothing"


def stays(plan: Plan) -> tuple[str, ...]:
    """Return what of the ordered papers stays in the drawer, offcuts by name."""
    words = []
    used: Counter[str] = Counter()
    for paper in plan.papers:
        used.update(paper.sheets_used)
    papers = {paper.paper for paper in plan.papers}
    for sheet in plan.job.sheets:
        left = None if sheet.on_hand is None else sheet.on_hand - used[sheet.id]
        if sheet.paper in papers and left:
            words.append(sheet.title if sheet.kind == "offcut" else f"{left} x {sheet.title}")
    return tuple(words)


def keepers(plan: Plan) -> tuple[str, ...]:
    """Return what goes back into the drawer: "avocet 1, 214 x 327"."""
    return tuple(
        f"{name}, {_size(plan, keeper.width, keeper.height)}"
        for layout in plan.layouts
        for keeper in layout.keepers
        for name in keeper.names
    )


def _size(plan: Plan, width: int, height: int) -> str:
    return f"{in_mm(width)} x {in_mm(height)} mm"


def _sheets_word(count: int) -> str:
    return "sheet" if count == 1 else "sheets"


def summary_lines(plan: Plan) -> tuple[str, ...]:
    """Return a plan in words, a line at a time."""
    currency = plan.job.currency
    lines = [f"{plan.job.studio or 'The studio'}, plan {plan.code}"]
    for paper in plan.papers:
        cost = "" if paper.cost is None else f": {money(paper.cost, currency)}"
        lines += ["", f"{paper.paper}{cost}", f"  from the drawer: {sheets_used(plan, paper)}"]
        lines += [f"  {how_good(plan, paper)}"]
        lines += [f"  note: {note}" for note in paper.notes]
        lines += [f"  {line}" for line in _layout_lines(plan, paper)]
    lines += ["", *_closing_lines(plan)]
    return tuple(lines)


def _layout_lines(plan: Plan, paper: PaperPlan) -> list[str]:
    """Return a line for each drawing: its title, cuts, scrap, and the orders on it."""
    rows = [_layout_cells(plan, sheaf) for sheaf in sheaves(plan) if sheaf.paper is paper]
    widths = [max((len(row[column]) for row in rows), default=0) for column in range(3)]
    return [
        f"{title:<{widths[0]}}   {cuts:>{widths[1]}}   {scrap:>{widths[2]}}   {orders}"
        for title, cuts, scrap, orders in rows
    ]


def _layout_cells(plan: Plan, sheaf: Sheaf) -> tuple[str, str, str, str]:
    layout = sheaf.layouts[0]
    cuts = len(layout.squaring) + len(layout.cuts)
    scrap = percent(layout.waste.scrap, layout.width * layout.height)
    orders: Counter[str] = Counter()
    for one in sheaf.layouts:
        for place in one.placements:
            orders[plan.piece(place.piece).order] += one.copies
    return (
        sheaf.title,
        f"{cuts} cut{'s' if cuts != 1 else ''}",
        f"{scrap} % scrap",
        ", ".join(order if n == 1 else f"{order} x {n}" for order, n in sorted(orders.items())),
    )


def _closing_lines(plan: Plan) -> list[str]:
    lines = []
    for short in plan.short:
        piece = plan.piece(short.piece)
        lines.append(
            f"short: {piece.order}, {piece.label}: {short.count} of {piece.count} "
            f"not in the plan ({short.why})"
        )
    kept, left = keepers(plan), stays(plan)
    if kept:
        lines.append(f"back into the drawer: {'; '.join(kept)}")
    if left:
        lines.append(f"stays in the drawer: {', '.join(left)}")
    waste = total_waste(plan.layouts)
    measured = sum(layout.copies * layout.width * layout.height for layout in plan.layouts)
    if measured:
        lines.append(f"scrap in all: {percent(waste.scrap, measured)} % of the paper")
    cost = total_cost(plan.papers)
    if cost is not None:
        lines.append(f"paper in all: {money(cost, plan.job.currency)}")
    lines.append("to buy: nothing" if not plan.short else "to buy: paper for what is short")
    return lines
