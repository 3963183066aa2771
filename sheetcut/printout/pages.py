"""Pages to put on paper: pin-up sheets and all that goes with them, in one PDF."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Literal

from sheetcut.cost import percent
from sheetcut.draw import A3, A4, LETTER, Drawing, Page
from sheetcut.draw.account import where_it_went
from sheetcut.draw.heading import Heading
from sheetcut.draw.marked import MarkedCut, marked_pages
from sheetcut.draw.measures import (
    finished_text,
    is_read_in_inches,
    length_text,
    size_text,
)
from sheetcut.draw.mirror import mirrored_sheet
from sheetcut.draw.names import blank_names
from sheetcut.draw.pdf import Missing, Pdf, pdf_of
from sheetcut.draw.slips import Label, Tag, blank_labels, offcut_tags
from sheetcut.draw.steps import steps_of
from sheetcut.draw.strips import marking_strips
from sheetcut.draw.summary import PaperBlock, SheetLine, summary_pages
from sheetcut.draw.view import view_of
from sheetcut.handling import marks
from sheetcut.job import Piece, reading_step
from sheetcut.layout import Layout, PaperPlan, Placement, Plan
from sheetcut.printout.drawings import pin_ups
from sheetcut.printout.instead import alternative_sentences
from sheetcut.printout.sheaves import Sheaf, day, in_words, numbers_text, sheaves
from sheetcut.printout.words import closing_lines, how_good, money, sheets_used, slack_text
from sheetcut.units import Edges

Kind = Literal["summary", "pin-up", "marks", "mirrored", "strips", "tags", "labels"]
KINDS: tuple[Kind, ...] = (
    "summary",
    "pin-up",
    "marks",
    "mirrored",
    "strips",
    "tags",
    "labels",
)
"""All kinds of page, in the order they are printed."""

USUAL: tuple[Kind, ...] = ("summary", "pin-up", "strips", "tags", "labels")
PIN_UP: tuple[Kind, ...] = ("summary", "pin-up")
PAPERS: dict[str, Page] = {page.name: page for page in (A4, A3, LETTER)}


def usual_page(plan: Plan) -> Page:
    """Return what a studio's printer takes: Letter where all is read in inches, else A4."""
    papers = [paper.paper for paper in plan.papers]
    in_inches = papers and all(is_read_in_inches(plan.job, paper) for paper in papers)
    return LETTER if in_inches else A4


def printed(
    plan: Plan,
    *,
    on: Page | None = None,
    kinds: Sequence[Kind] = USUAL,
    clients: bool = True,
) -> Pdf:
    """Return the pages of a plan as one PDF.

    Args:
        on: the printer's paper; what is usual for the plan's units, if not said.
        kinds: what is to be printed; the order is always the same.
        clients: whether labels name the client.
    """
    title = " ".join(word for word in (plan.job.studio, "plan", plan.code) if word)
    return pdf_of(pages(plan, on=on, kinds=kinds, clients=clients), title)


def pages(
    plan: Plan,
    *,
    on: Page | None = None,
    kinds: Sequence[Kind] = USUAL,
    clients: bool = True,
) -> tuple[Drawing, ...]:
    """Return the pages of a plan: its summary, then all that belongs to each sheet, then slips."""
    page = on or usual_page(plan)
    found: list[Drawing] = []
    if "summary" in kinds:
        found += summary_pages(
            [_block(plan, paper) for paper in plan.papers],
            [_closing(line) for line in closing_lines(plan)],
            _words(plan, "Summary"),
            page,
        )
    for sheaf in sheaves(plan):
        if "pin-up" in kinds:
            found += pin_ups(plan, sheaf, page)
        if "marks" in kinds:
            found += _marked(plan, sheaf, page)
        if "mirrored" in kinds:
            found += _mirrored(plan, sheaf, page)
        if "strips" in kinds:
            found += _strips(plan, sheaf, page)
    if "tags" in kinds:
        found += offcut_tags(tuple(_tags(plan)), _words(plan, "Tags for the offcuts"), page)
    if "labels" in kinds:
        labels = tuple(_labels(plan, clients=clients))
        found += blank_labels(labels, _words(plan, "Labels for the blanks"), page)
    return tuple(found)


def missing_words(missing: Missing) -> str:
    """Return in a sentence which letters of which line could not be printed."""
    letters = " ".join(missing.letters)
    return (
        f'{missing.page}: "{missing.text}" has letters the printed font lacks ({letters}); '
        'each is printed as "?"'
    )


def _words(plan: Plan, title: str, *paper: str) -> Heading:
    code = f"plan {plan.code}" if plan.code else ""
    return Heading(plan.job.studio, title, (code, day(plan.made)), paper)


def _sheaf_words(plan: Plan, sheaf: Sheaf, title: str, *said: str) -> Heading:
    code = f"plan {plan.code}" if plan.code else ""
    marks = (code, numbers_text(plan, sheaf), day(plan.made))
    inches = is_read_in_inches(plan.job, sheaf.paper.paper)
    paper = (_paper_text(plan, sheaf.paper), *said, f"figures in {'inches' if inches else 'mm'}")
    return Heading(plan.job.studio, title, marks, paper)


def _paper_text(plan: Plan, paper: PaperPlan) -> str:
    known = plan.job.paper(paper.paper)
    return known.name if known.grammage is None else f"{known.name} {known.grammage} g/m²"


def _marked(plan: Plan, sheaf: Sheaf, page: Page) -> tuple[Drawing, ...]:
    """Return the table of marks; edges are named as the pin-up sheet shows them."""
    layout = sheaf.layouts[0]
    inches = is_read_in_inches(plan.job, sheaf.paper.paper)
    step = reading_step(plan.job, sheaf.paper.paper)
    along = {one.number: one.along for one in steps_of(view_of(plan, layout), inches=inches)}
    rows = []
    for mark in marks(layout, step=step, ruler=plan.job.rules.ruler):
        is_upright = along[mark.number] == "x"
        places = [mark.ends[0], *([] if mark.middle is None else [mark.middle]), mark.ends[1]]
        *most, last = (length_text(place, inches=inches) for place in places)
        rows.append(
            MarkedCut(
                mark.number,
                length_text(mark.at, inches=inches),
                "from the left" if is_upright else "from the foot",
                f"at {', '.join(most)} and {last} "
                + ("up from the foot" if is_upright else "in from the left"),
                mark.why_not,
            )
        )
    words = _sheaf_words(plan, sheaf, f"{sheaf.title} · marks before the first cut")
    return marked_pages(rows, words, page) if rows else ()


def _mirrored(plan: Plan, sheaf: Sheaf, page: Page) -> tuple[Drawing, ...]:
    layout, twins = sheaf.layouts[0], sheaf.layouts[1:]
    inches = is_read_in_inches(plan.job, sheaf.paper.paper)
    view = view_of(plan, layout)
    return mirrored_sheet(
        view,
        steps_of(view, inches=inches),
        blank_names(plan, layout, twins, numbers_text(plan, sheaf)),
        _sheaf_words(plan, sheaf, f"{sheaf.title} · from behind"),
        page,
        inches=inches,
    )


def _strips(plan: Plan, sheaf: Sheaf, page: Page) -> tuple[Drawing, ...]:
    return marking_strips(
        view_of(plan, sheaf.layouts[0]),
        _sheaf_words(plan, sheaf, f"{sheaf.title} · marking strips", "true size"),
        page,
        inches=is_read_in_inches(plan.job, sheaf.paper.paper),
    )


def _tags(plan: Plan) -> Iterator[Tag]:
    """Yield a tag for every keeper of every copy."""
    for sheaf in sheaves(plan):
        inches = is_read_in_inches(plan.job, sheaf.paper.paper)
        for layout in sheaf.layouts:
            view = view_of(plan, layout)
            for rect, names in view.keepers:
                for name in names:
                    yield Tag(
                        name,
                        size_text(rect.width, rect.height, inches=inches) + _unit(inches=inches),
                        (rect.width, rect.height),
                        view.grain,
                        tuple(_tag_notes(plan, sheaf, layout)),
                    )


def _tag_notes(plan: Plan, sheaf: Sheaf, layout: Layout) -> Iterator[str]:
    yield _paper_text(plan, sheaf.paper)
    if plan.sheet(layout.sheet).side == "one":
        yield "one side only; this side up: ______"
    yield " · ".join(word for word in (f"from {sheaf.title.split(':')[0]}", day(plan.made)) if word)


def _labels(plan: Plan, *, clients: bool) -> Iterator[Label]:
    """Yield a label for every blank of every copy, in the order they come off the mat."""
    for sheaf in sheaves(plan):
        number = sheaf.first
        for layout in sheaf.layouts:
            for _ in range(layout.copies):
                for placement in layout.placements:
                    notes = _label_notes(plan, sheaf, placement, number, clients=clients)
                    piece = plan.piece(placement.piece)
                    size = finished_text(piece, inches=piece.unit != "in")
                    yield Label(piece.label or piece.order, size, tuple(notes))
                number += 1


def _label_notes(
    plan: Plan, sheaf: Sheaf, placement: Placement, number: int, *, clients: bool
) -> Iterator[str]:
    piece = plan.piece(placement.piece)
    inches = is_read_in_inches(plan.job, sheaf.paper.paper)
    yield " · ".join(word for word in (piece.order, piece.client if clients else "") if word)
    blank = size_text(*_blank(placement), inches=inches)
    margin = _margin_words(piece, inches=inches)
    yield f"blank {blank}{_unit(inches=inches)}{', ' if margin else ''}{margin}"
    sheet = plan.sheet(sheaf.layouts[0].sheet)
    where = sheet.title if sheet.kind == "offcut" else f"{sheet.title}, sheet {number}"
    yield _paper_text(plan, sheaf.paper)
    yield " · ".join(word for word in (where, plan.code) if word)


def _unit(*, inches: bool) -> str:
    return " in" if inches else " mm"


def _blank(placement: Placement) -> tuple[int, int]:
    """Return a blank's width and height as its piece stands, not as it lies."""
    size = (placement.width, placement.height)
    return (size[1], size[0]) if placement.turned else size


def _margin_words(piece: Piece, *, inches: bool) -> str:
    edges: Edges = piece.margin
    if not any(edges):
        return ""
    if len(set(edges)) == 1:
        return f"margin {length_text(edges.left, inches=inches)}"
    return "margins " + " ".join(length_text(one, inches=inches) for one in edges)


def _closing(line: str) -> tuple[str, str]:
    """Return a closing line as its word and what it says."""
    word, _, said = line.partition(": ")
    return f"{word[:1].upper()}{word[1:]}", said.replace(" x ", " × ")


def _block(plan: Plan, paper: PaperPlan) -> PaperBlock:
    """Return a paper's part of the summary."""
    cost = "" if paper.cost is None else money(paper.cost, plan.job.currency)
    good = how_good(plan, paper)
    said = (
        f"From the drawer: {sheets_used(plan, paper).replace(' x ', ' × ')}.",
        f"{good[:1].upper()}{good[1:]}.",
        *(f"Note: {note}." for note in paper.notes),
        *alternative_sentences(plan, paper),
    )
    lines = tuple(_sheet_line(plan, sheaf) for sheaf in sheaves(plan) if sheaf.paper is paper)
    return PaperBlock(_paper_text(plan, paper), cost, said, lines)


def _sheet_line(plan: Plan, sheaf: Sheaf) -> SheetLine:
    layout = sheaf.layouts[0]
    sheet = plan.sheet(layout.sheet)
    count = len(layout.squaring) + len(layout.cuts)
    cuts = "nothing to cut" if not count else f"{count} cut{'s' if count > 1 else ''}"
    scrap = f"scrap {percent(layout.waste.scrap, layout.width * layout.height)} %"
    lost = where_it_went(layout.waste, sheet.price)[-1].cents
    if lost is not None:
        scrap += f", {money(lost, plan.job.currency)}{' each' if sheaf.copies > 1 else ''}"
    orders: Counter[str] = Counter()
    for one in sheaf.layouts:
        for place in one.placements:
            piece = plan.piece(place.piece)
            orders[f"{piece.order} {piece.label}".strip()] += one.copies
    named = "; ".join(name if n == 1 else f"{name} × {n}" for name, n in sorted(orders.items()))
    return SheetLine(
        sheaf.title,
        f"{cuts} · {slack_text(plan, sheaf).replace(' x ', ' × ')} · {scrap}",
        named,
        _money_words(plan, sheaf),
        layout.waste,
        sheet.price,
    )


def _money_words(plan: Plan, sheaf: Sheaf) -> str:
    sheet = plan.sheet(sheaf.layouts[0].sheet)
    if sheet.kind == "offcut":
        return "" if sheet.price is None else f"book value {money(sheet.price, plan.job.currency)}"
    if sheet.price is None:
        return ""
    each = money(sheet.price, plan.job.currency)
    return each if sheaf.copies == 1 else f"{in_words(sheaf.copies)} at {each}"
