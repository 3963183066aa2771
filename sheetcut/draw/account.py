"""Where the sheet went: a bar of finished paper, margins, keepers and scrap, to area and money."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sheetcut.draw.lettering import NOTE, SIZE, width
from sheetcut.draw.measures import area_text, money_text, percent_text
from sheetcut.draw.place import Box
from sheetcut.draw.primitives import Line, Primitive, Text, rectangle
from sheetcut.draw.running import spread
from sheetcut.draw.texture import stipple
from sheetcut.draw.weights import FINE, MARGIN, RULE
from sheetcut.layout import Waste
from sheetcut.units import Area, Cents

Use = Literal["finished", "margins", "keepers", "scrap"]
HEIGHT_MM = 21.5
BAR_MM = 5.0
USES: tuple[Use, ...] = ("finished", "margins", "keepers", "scrap")


@dataclass(frozen=True, slots=True)
class Went:
    """One part of the sheet: its area, and its cents of the sheet's price where known."""

    use: Use
    area: Area
    cents: Cents | None


def where_it_went(waste: Waste, price: Cents | None) -> tuple[Went, ...]:
    """Return the four parts of a sheet; their cents add up to its price exactly.

    What rounding leaves over goes, a cent each, to the parts that lost most by it.
    """
    areas = [getattr(waste, use) for use in USES]
    cents = _largest_remainder(price, areas) if price is not None else [None] * len(areas)
    return tuple(Went(*row) for row in zip(USES, areas, cents, strict=True))


def _largest_remainder(price: Cents, areas: list[Area]) -> list[int | None]:
    whole = sum(areas)
    shares = [price * area // whole for area in areas]
    by_loss = sorted(range(len(areas)), key=lambda n: (-(price * areas[n] % whole), n))
    for n in by_loss[: price - sum(shares)]:
        shares[n] += 1
    return list(shares)


def account(
    waste: Waste,
    price: Cents | None,
    price_words: str,
    currency: str,
    at: tuple[float, float, float],
) -> list[Primitive]:
    """Return the heading, the bar and its words; at is the left, top and right on the page."""
    left, top, right = at
    went = where_it_went(waste, price)
    whole = sum(part.area for part in went)
    scrap = went[-1]
    said = "no scrap"
    if scrap.area:
        said = f"scrap {area_text(scrap.area)}, {percent_text(scrap.area, whole)} of the sheet"
    said = " · ".join(part for part in (said, price_words) if part)
    items: list[Primitive] = [
        Line(((left, top), (right, top)), RULE),
        Text("Where the sheet went", (left, top + 2.2 + SIZE), SIZE, "serif"),
        Text(said, (right, top + 2.2 + SIZE), NOTE, anchor="end"),
    ]
    bar_top = top + 2.2 + SIZE + 2.4
    marks, words = [], []
    x = left
    for part in went:
        if part.area:
            wide = (right - left) * part.area / whole
            items += segment(part.use, (x, bar_top, x + wide, bar_top + BAR_MM))
            marks.append(x)
            words.append(_words(part, whole, currency))
            x += wide
    gaps = [width(word, NOTE) + 3 for word in words[:-1]]
    last = right - width(words[-1], NOTE)
    for x, word in zip(spread(marks, gaps, left, last), words, strict=True):
        items.append(Text(word, (x, bar_top + BAR_MM + 1.6 + NOTE), NOTE))
    return items


def _words(part: Went, whole: Area, currency: str) -> str:
    if part.cents is None:
        return f"{part.use} {percent_text(part.area, whole)}"
    return f"{part.use} {money_text(part.cents, currency)}"


def segment(use: Use, box: Box) -> list[Primitive]:
    """Return one part of a bar: its outline, filled as its use is told."""
    left, top, right, foot = box
    items: list[Primitive] = []
    if use == "scrap":
        items.append(stipple(box))
    if use == "margins":
        n = max(1, round((right - left) / 2.4))
        lines = [left + (right - left) * (k + 0.5) / n for k in range(n)]
        items += [Line(((x, top), (x, foot)), MARGIN, (1.1, 0.8)) for x in lines]
    if use == "keepers":
        n = max(1, round((right - left) / 3))
        step = (right - left) / n
        slope = min(step, foot - top)
        for k in range(n):
            x = left + step * k
            items.append(Line(((x, foot), (x + slope, top)), MARGIN))
    items.append(rectangle(left, top, right - left, foot - top, weight_mm=FINE))
    return items
