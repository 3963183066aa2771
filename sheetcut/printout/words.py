"""A plan in words for people: what it takes, how good it is, what it costs and leaves."""

from __future__ import annotations

from collections import Counter

from sheetcut.cost import percent, total_cost, total_waste
from sheetcut.draw.measures import is_read_in_inches, length_text
from sheetcut.handling import flags, slack
from sheetcut.layout import Keeper, PaperPlan, Plan
from sheetcut.printout.instead import alternative_lines
from sheetcut.printout.sheaves import Sheaf, in_words, sheaves
from sheetcut.units import Cents, in_inch, in_mm, inch_text


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
        f"{name}, {_size(keeper, inches=is_read_in_inches(plan.job, paper.paper))}"
        for paper in plan.papers
        for layout in paper.layouts
        for keeper in layout.keepers
        for name in keeper.names
    )


def _size(keeper: Keeper, *, inches: bool) -> str:
    on_marks = all(64 % in_inch(side).denominator == 0 for side in (keeper.width, keeper.height))
    if inches and on_marks:
        return f"{inch_text(keeper.width)} x {inch_text(keeper.height)} in"
    return f"{in_mm(keeper.width)} x {in_mm(keeper.height)} mm"


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
        lines += [f"  {line}" for line in alternative_lines(plan, paper)]
    lines += ["", *closing_lines(plan)]
    return tuple(lines)


def _layout_lines(plan: Plan, paper: PaperPlan) -> list[str]:
    """Return a line for each drawing, and one for whatever may spoil its blanks."""
    shown = [sheaf for sheaf in sheaves(plan) if sheaf.paper is paper]
    rows = [_layout_cells(plan, sheaf) for sheaf in shown]
    widths = [max((len(row[column]) for row in rows), default=0) for column in range(4)]
    lines = []
    for sheaf, (title, cuts, scrap, spare, orders) in zip(shown, rows, strict=True):
        lines.append(
            f"{title:<{widths[0]}}   {cuts:>{widths[1]}}   {scrap:>{widths[2]}}   "
            f"{spare:<{widths[3]}}   {orders}"
        )
        lines += [f"  mind: {warning}" for warning in warnings(plan, sheaf)]
    return lines


def warnings(plan: Plan, sheaf: Sheaf) -> tuple[str, ...]:
    """Return what may spoil a blank of sheets that are cut alike, a few words each.

    Where a long cut has to be interrupted stands on the drawing, beside its step.
    """
    found = [flag for layout in sheaf.layouts for flag in flags(plan.job, layout)]
    return tuple(
        dict.fromkeys(
            flag.words if flag.number is None else f"cut {flag.number}, {flag.words}"
            for flag in found
            if flag.kind in ("narrow", "creep", "printer", "deckle")
        )
    )


def slack_text(plan: Plan, sheaf: Sheaf) -> str:
    """Return how much narrower and shorter a sheet may turn out: "slack 45 x 42"."""
    inches = is_read_in_inches(plan.job, sheaf.paper.paper)
    across, up = slack(sheaf.layouts[0])
    return f"slack {length_text(across, inches=inches)} x {length_text(up, inches=inches)}"


def _layout_cells(plan: Plan, sheaf: Sheaf) -> tuple[str, str, str, str, str]:
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
        slack_text(plan, sheaf),
        ", ".join(order if n == 1 else f"{order} x {n}" for order, n in sorted(orders.items())),
    )


def closing_lines(plan: Plan) -> list[str]:
    """Return what holds for all papers: what is short, kept, left, scrapped, spent, to buy."""
    lines = []
    for short in plan.short:
        piece = plan.piece(short.piece)
        lines.append(
            f"short: {piece.order}, {piece.label}: {short.count} of {piece.count} "
            f"not in the plan ({short.why})"
        )
    planned = {paper.paper for paper in plan.papers}
    for piece in plan.job.pieces:
        if piece.if_room and piece.paper not in planned:
            lines.append(
                f"{piece.order} is cut if there is room: nothing else is cut from {piece.paper}"
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
