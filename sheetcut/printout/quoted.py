"""A quote in words: the one figure to charge first, then what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from sheetcut.answers.given import SheetGives
from sheetcut.answers.margins import MarginStep, Smaller
from sheetcut.answers.money import half_up, sheet_price
from sheetcut.answers.opening import Opening
from sheetcut.answers.printing import PrintBlank
from sheetcut.answers.quote import Quote
from sheetcut.drawer.tables import length_text, size_text
from sheetcut.job import Unit
from sheetcut.printout.sheaves import in_words
from sheetcut.printout.words import money
from sheetcut.units import Edges

MOST_STEPS_TOLD = 4


def around_words(edges: Edges, what: str, unit: Unit) -> str:
    """Return margins or borders in words: "15 mm margin all round"."""
    if not any(edges):
        return f"no {what}"
    if len(set(edges)) == 1:
        return f"{length_text(edges.left, unit)} {what} all round"
    sides = zip(("left", "right", "top", "foot"), edges, strict=True)
    return f"{what}s " + ", ".join(f"{name} {length_text(edge, unit)}" for name, edge in sides)


def feeding_lines(blank: PrintBlank) -> Iterator[str]:
    """Yield how a print's sheet goes into the printer, and what to mind about its borders."""
    if blank.leads:
        first, *others = blank.leads
        rest = f"; or {', '.join(others)}" if others else ""
        yield f"into the printer with its {first} first{rest}"
    for word in (*blank.faults, *blank.warnings):
        yield f"mind: {word}"


def quote_lines(quote: Quote) -> tuple[str, ...]:
    """Return a quote in words, a line at a time."""
    lines = [*_title(quote), "", *_charge(quote), "", *_costs(quote)]
    lines += ["", "What a sheet gives", *gives_lines(quote.sheets, quote.currency)]
    closing = [*_steps(quote), *_one_more(quote), *_room(quote)]
    return (*lines, *([""] if closing else []), *closing)


def _title(quote: Quote) -> Iterator[str]:
    piece = quote.piece
    border = piece.border
    size = size_text(piece.width - border.across, piece.height - border.up, piece.unit)
    around = (
        around_words(border, "border", piece.unit)
        if piece.kind == "print"
        else around_words(piece.margin, "margin", piece.unit)
    )
    count = "" if piece.count == 1 else f"{piece.count} x "
    yield f"{count}{size} on {piece.paper}, {around}"
    yield f"blank {size_text(*quote.blank, piece.unit)}"


def _charge(quote: Quote) -> Iterator[str]:
    if quote.charge is None:
        fits = any(one.count for one in quote.sheets)
        why = "no price of a full sheet is known" if fits else "no sheet in the drawer holds it"
        yield f"CHARGE: not known, as {why}"
        return
    each = money(quote.charge, quote.currency)
    if quote.piece.count > 1:
        assert quote.total is not None
        all_of_them = money(quote.total, quote.currency)
        yield f"CHARGE {all_of_them}, {each} for each of {quote.piece.count}"
    else:
        yield f"CHARGE {each}"
    yield f"  {_made_of(quote)}"


def _made_of(quote: Quote) -> str:
    """Return what a charge is made of, in the order it is worked out."""
    charging = quote.charging
    words = f"paper {_near(quote.one_size_cost, quote.currency)}"
    if charging.mark_up != 1:
        words += f" x {_decimal(charging.mark_up)}"
    if charging.hours and charging.rate is not None:
        words += f", {_decimal(charging.hours)} hours at {money(charging.rate, quote.currency)}"
    elif charging.mark_up == 1:
        words += " alone; hours and mark-up are set in studio.toml"
    if charging.round_up_to > 1:
        words += f", rounded up to {money(charging.round_up_to, quote.currency)}"
    return words


def _costs(quote: Quote) -> Iterator[str]:
    fits = any(one.count for one in quote.sheets)
    share = quote.paper_share if fits else None
    rows = [
        ("one-size cost", _near(quote.one_size_cost, quote.currency), _one_size(quote)),
        ("area cost", _near(quote.area_cost, quote.currency), "waste left out, so always too low"),
        (
            "paper share",
            _near(share, quote.currency),
            "moves with the plan, not for quoting" if share is not None else _no_share(quote),
        ),
        ("opening cost", *_opening(quote)),
    ]
    yield "Paper in one piece"
    wide = max(len(row[1]) for row in rows)
    for name, cost, why in rows:
        yield f"  {name:<13}  {cost:>{wide}}  {why}".rstrip()


def _no_share(quote: Quote) -> str:
    if quote.present is None:
        return "nothing else is ordered on this paper"
    return "not known"


def _one_size(quote: Quote) -> str:
    if quote.usual is None:
        return "no full sheet with a price gives any"
    sheet = quote.usual.sheet
    price = sheet_price(sheet)
    assert price is not None
    price_words = money(half_up(price), quote.currency)
    return f"{in_words(quote.usual.count)} from {sheet.title}, {price_words} a sheet"


def _opening(quote: Quote) -> tuple[str, str]:
    found = quote.opening
    if found is None:
        return "-", "it cannot be cut from any sheet"
    cost = "-" if found.cost is None else money(found.cost, quote.currency)
    how = "proved" if found.proved else "not proved"
    n = quote.piece.count
    them = {1: "it", 2: "both"}.get(n, f"all {in_words(n)}")
    if not found.cost and not found.sheets:
        # The room that is told of elsewhere is that of the present plan as it lies.
        anew = quote.room is not None and quote.room.count < n
        laid = "the orders laid out anew" if anew else "the present orders"
        return cost, f"{laid} leave room for {them} ({how})"
    return cost, f"what the orders cost more with {them}{_supposed(quote, found)} ({how})"


def _supposed(quote: Quote, found: Opening) -> str:
    titles = {one.sheet.id: one.sheet.title for one in quote.sheets}
    words = [f"{n} x {titles.get(name, name)}" for name, n in found.supposed.items()]
    return f", {' and '.join(words)} to buy" if words else ""


def gives_lines(sheets: Sequence[SheetGives], currency: str) -> Iterator[str]:
    """Yield what each sheet gives, the plain grid where it gives fewer, and what that costs.

    Offcuts that give none are left out: a drawer may hold many.
    """
    rows = []
    for one in sheets:
        sheet = one.sheet
        if sheet.kind == "offcut" and not one.count:
            continue
        hand = "any number" if sheet.on_hand is None else str(sheet.on_hand)
        grid = f"a plain grid {one.grid}" if one.grid < one.count else ""
        cost = f"{_near(one.cost, currency)} each" if one.cost is not None else ""
        kind = "offcut" if sheet.kind == "offcut" else ""
        rest = ", ".join(word for word in (grid, cost, kind, f"{hand} on hand") if word)
        usable = size_text(sheet.usable_width, sheet.usable_height, sheet.unit)
        rows.append((sheet.title, usable, str(one.count), rest))
    wide = [max((len(row[place]) for row in rows), default=0) for place in range(3)]
    for title, usable, count, rest in rows:
        yield f"  {title:<{wide[0]}}  {usable:<{wide[1]}}  {count:>{wide[2]}}  {rest}"


def _steps(quote: Quote) -> Iterator[str]:
    if quote.usual is None or not quote.usual.steps or quote.piece.kind == "print":
        return
    unit = quote.piece.unit
    yield f"margin steps, {quote.usual.sheet.title}: {step_words(quote.usual.steps, unit)}"
    if quote.step is not None and quote.step.most:
        edges = f"{length_text(quote.step.least, unit)} to {length_text(quote.step.most, unit)}"
        yield f"  yours lies in the step from {edges}"


def step_words(steps: Sequence[MarginStep], unit: Unit) -> str:
    """Return margin steps with both edges: "five from a sheet up to 9 mm, four up to 31 mm"."""
    told = []
    for place, step in enumerate(steps[:MOST_STEPS_TOLD]):
        sheet = " from a sheet" if not place else ""
        edge = f"up to {length_text(step.most, unit)}" if step.most else "with no margin"
        told.append(f"{in_words(step.count)}{sheet} {edge}")
    return ", ".join(told) + (", then fewer" if len(steps) > MOST_STEPS_TOLD else "")


def _one_more(quote: Quote) -> Iterator[str]:
    if quote.usual is None:
        return
    unit = quote.piece.unit
    ways = []
    if quote.smaller_margin is not None:
        ways.append((_around(quote.smaller_margin, unit), quote.smaller_margin.count))
    if quote.smaller_sizes:
        one, border = quote.smaller_sizes[0], quote.piece.border
        size = size_text(one.width - border.across, one.height - border.up, unit)
        what = "image" if quote.piece.kind == "print" else "finished"
        ways.append((f"{size} {what}", one.count))
    title = quote.usual.sheet.title
    for way, count in ways:
        yield f"one more from {title}: {way} gives {in_words(count)}"
    if not ways:
        yield f"one more from {title}: no slightly smaller size or margin gives it"


def _around(smaller: Smaller, unit: Unit) -> str:
    margin = smaller.margin
    if len(set(margin)) == 1:
        return f"a margin of {length_text(margin.left, unit)}"
    return around_words(margin, "margin", unit)


def _room(quote: Quote) -> Iterator[str]:
    room = quote.room
    if room is None:
        return
    titles = {one.sheet.id: one.sheet.title for one in quote.sheets}
    if not room.count:
        yield "room left in the present plan: none for this size"
        return
    places = ", ".join(
        f"{in_words(n)} from {titles.get(name, name)}" for name, n in room.places.items()
    )
    yield f"room left in the present plan: {in_words(room.count)}, for nothing ({places})"


def _near(cost: Fraction | None, currency: str) -> str:
    return "-" if cost is None else money(half_up(cost), currency)


def _decimal(number: Fraction) -> str:
    """Return a number as it is written by hand.

    >>> _decimal(Fraction(7, 2)), _decimal(Fraction(3))
    ('3.5', '3')
    """
    return f"{float(number):.4f}".rstrip("0").rstrip(".")
