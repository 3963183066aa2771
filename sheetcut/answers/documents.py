"""Answers as plain mappings, for JSON: lengths in exact mm, money in the studio's currency."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction
from typing import Any

from sheetcut.answers.given import SheetGives, SizeGives
from sheetcut.answers.margins import MarginStep, Smaller
from sheetcut.answers.money import half_up
from sheetcut.answers.opening import Opening
from sheetcut.answers.parcel import Enclosed, Packing, Parcel, PostLimit, beyond
from sheetcut.answers.printing import PrintBlank
from sheetcut.answers.quote import Quote
from sheetcut.answers.scanning import Scans
from sheetcut.answers.shopping import Choice, PaperShort, Shopping
from sheetcut.job import Piece
from sheetcut.units import Cents, Edges, Length, in_mm

Document = dict[str, Any]


def quote_document(quote: Quote) -> Document:
    """Return a quote as one versioned document."""
    return {
        "form": "sheetcut quote 1",
        "unit": "mm",
        "currency": quote.currency,
        "piece": piece_row(quote.piece),
        "blank": sides(*quote.blank),
        "charge": money(quote.charge),
        "total": money(quote.total),
        "costs": {
            "sheet": quote.usual.sheet.id if quote.usual else None,
            "one_size": nearest(quote.one_size_cost),
            "area": nearest(quote.area_cost),
            "paper_share": nearest(quote.paper_share),
            "opening": None if quote.opening is None else opening_row(quote.opening),
        },
        "sheets": [gives_row(one) for one in quote.sheets],
        "margin_step": None if quote.step is None else step_row(quote.step),
        "one_more": {
            "margin": None if quote.smaller_margin is None else smaller_row(quote.smaller_margin),
            "sizes": [smaller_row(one) for one in quote.smaller_sizes],
        },
        "room_left": None
        if quote.room is None
        else {"count": quote.room.count, "sheets": dict(quote.room.places)},
    }


def gives_document(rows: Iterable[SizeGives], currency: str = "") -> Document:
    """Return a table of what sheets give as one versioned document."""
    return {
        "form": "sheetcut gives 1",
        "unit": "mm",
        "currency": currency,
        "sizes": [
            {
                "piece": piece_row(row.piece),
                "blank": sides(*row.blank),
                "sheets": [gives_row(one) for one in row.sheets],
            }
            for row in rows
        ],
    }


def shopping_document(found: Shopping, currency: str = "") -> Document:
    """Return what to buy as one versioned document."""
    purchase = found.purchase
    return {
        "form": "sheetcut buy 1",
        "unit": "mm",
        "currency": currency,
        "papers": [_short_row(one) for one in found.papers],
        "lines": [
            {
                "sheet": line.offer.sheet,
                "number": line.number,
                "of": 1 if line.offer.is_break else line.offer.count,
                "each": money(line.offer.price),
                "sheets": line.sheets,
                "cost": money(line.cost),
            }
            for line in purchase.lines
        ],
        "goods": money(purchase.goods),
        "carriage": money(purchase.carriage),
        "cost": money(purchase.cost),
        "surplus": [
            {
                "sheet": name,
                "count": n,
                "makes": [
                    {
                        "width": in_mm(one.piece.width),
                        "height": in_mm(one.piece.height),
                        "from_each": one.gives.count,
                        "count": one.count,
                    }
                    for one in found.makes
                    if one.gives.sheet.id == name
                ],
            }
            for name, n in purchase.surplus.items()
        ],
    }


def parcel_document(
    enclosed: Iterable[Enclosed], packing: Packing, found: Parcel, limits: Iterable[PostLimit]
) -> Document:
    """Return a parcel, with every limit of its shape, as one versioned document."""
    return {
        "form": "sheetcut parcel 1",
        "unit": "mm",
        "enclosed": [
            {
                "size": sides(one.width, one.height),
                "count": one.count,
                "grammage": one.grammage,
                "grams": Decimal(round(one.grams * 10)).scaleb(-1),
                "thick": _hundredths(one.thick),
            }
            for one in enclosed
        ],
        "shape": found.shape,
        "size": [_hundredths(side) for side in (found.long, found.short, found.thick)],
        "roll": None if found.roll is None else _hundredths(found.roll),
        "grams": found.grams,
        "packing_grams": packing.grams,
        "note": found.note,
        "limits": [
            {
                "name": limit.name,
                "keeps": not beyond(limit, found),
                "beyond": {
                    what: over if what == "weight" else _hundredths(over)
                    for what, over in beyond(limit, found).items()
                },
                "note": limit.note,
            }
            for limit in limits
        ],
    }


def scan_document(
    size: tuple[Length, Length], bed: tuple[Length, Length], overlap: Length, found: Scans
) -> Document:
    """Return the scans of a drawing as one versioned document."""
    return {
        "form": "sheetcut scan 1",
        "unit": "mm",
        "size": sides(*size),
        "bed": sides(*bed),
        "overlap": in_mm(overlap),
        "scans": found.count,
        "bed_turned": found.bed_turned,
        "from_the_left": [_hundredths(start) for start in found.across],
        "from_the_foot": [_hundredths(start) for start in found.up],
    }


def gives_row(gives: SheetGives) -> Document:
    """Return what one sheet gives; ``steps`` only where they were asked for."""
    sheet = gives.sheet
    row: Document = {
        "sheet": sheet.id,
        "name": sheet.title,
        "kind": sheet.kind,
        "usable": sides(sheet.usable_width, sheet.usable_height),
        "on_hand": sheet.on_hand,
        "gives": gives.count,
        "grid": gives.grid,
        "cost": nearest(gives.cost),
    }
    if gives.steps:
        row["steps"] = [step_row(step) for step in gives.steps]
    return row


def print_row(blank: PrintBlank) -> Document:
    """Return how a print's sheet goes into the printer, and what stands in the way."""
    return {
        "image": sides(*blank.image),
        "borders": four(blank.borders),
        "sheet": sides(blank.width, blank.height),
        "leads": list(blank.leads),
        "faults": list(blank.faults),
        "warnings": list(blank.warnings),
    }


def opening_row(opening: Opening) -> Document:
    """Return an opening cost."""
    return {
        "cost": money(opening.cost),
        "sheets": opening.sheets,
        "supposed": dict(opening.supposed),
        "proved": opening.proved,
    }


def step_row(step: MarginStep) -> Document:
    """Return a margin step with both its edges."""
    return {"gives": step.count, "least": in_mm(step.least), "most": in_mm(step.most)}


def smaller_row(smaller: Smaller) -> Document:
    """Return a smaller size or margin that gives more."""
    return {
        "finished": sides(smaller.width, smaller.height),
        "margin": four(smaller.margin),
        "gives": smaller.count,
    }


def piece_row(piece: Piece) -> Document:
    """Return what a piece is, as far as its blank goes."""
    return {
        "paper": piece.paper,
        "kind": piece.kind,
        "finished": sides(piece.width, piece.height),
        "margin": four(piece.margin),
        "border": four(piece.border),
        "count": piece.count,
        "turn": piece.turn,
    }


def sides(width: Length, height: Length) -> list[Decimal]:
    """Return width and height in mm."""
    return [in_mm(width), in_mm(height)]


def four(edges: Edges) -> list[Decimal]:
    """Return left, right, top and foot in mm."""
    return [in_mm(edge) for edge in edges]


def money(cents: Cents | None) -> Decimal | None:
    """Return an amount with two decimals.

    >>> money(1520)
    Decimal('15.20')
    """
    return None if cents is None else Decimal(cents).scaleb(-2)


def nearest(cents: Fraction | None) -> Decimal | None:
    """Return a cost that need not be whole cents, to the nearest."""
    return None if cents is None else money(half_up(cents))


def _hundredths(length: Length) -> Decimal:
    """Return a length that was worked out, to a hundredth of a millimetre."""
    return round(in_mm(length), 2)


def _short_row(found: PaperShort) -> Document:
    return {
        "paper": found.paper,
        "short": [
            {
                "order": found.pieces[one.piece].order,
                "piece": found.pieces[one.piece].label,
                "count": one.count,
                "why": one.why,
            }
            for one in found.short
        ],
        "choices": [_choice_row(one, one is found.chosen) for one in found.choices],
    }


def _choice_row(choice: Choice, is_chosen: bool) -> Document:
    return {"sheets": dict(choice.sheets), "cost": money(choice.cost), "chosen": is_chosen}
