"""Finished work in words: what it goes as by post, and how it is laid on a small scanner."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sheetcut.answers.parcel import (
    CHECK_TARIFF,
    Enclosed,
    Measured,
    Packing,
    Parcel,
    PostLimit,
    beyond,
)
from sheetcut.answers.scanning import Scans
from sheetcut.drawer.tables import length_text, size_text
from sheetcut.job import Piece, Unit
from sheetcut.units import TICKS_PER_MM, Length, round_up


def parcel_lines(
    pieces: Sequence[Piece],
    enclosed: Sequence[Enclosed],
    packing: Packing,
    found: Parcel,
    limits: Sequence[PostLimit],
    *,
    guessed: bool,
) -> Iterator[str]:
    """Yield what is sent, what it goes as, and every limit of its kind.

    Args:
        guessed: whether the thickness of a sheet comes from its weight alone.
    """
    for piece, one in zip(pieces, enclosed, strict=True):
        size = size_text(one.width, one.height, piece.unit)
        label = f", {piece.label}" if piece.label else ""
        each = f"{_tenths(one.grams / one.count)} g each"
        yield f"{one.count} x {size} on {piece.paper}{label}: {each}"
    yield ""
    yield f"GOES AS {found.allowed[0].name}" if found.allowed else "GOES AS nothing in the table"
    yield f"  {_shape_words(found)}, {found.grams} g with {packing.grams} g of packing"
    if found.note:
        yield f"  mind: {found.note}"
    if guessed:
        yield "  thickness comes from the weight alone: measure ten sheets, --thickness LENGTH"
    yield ""
    rows = [(limit.name, limit_words(limit), _verdict(limit, found)) for limit in limits]
    yield from _columns(rows)
    notes = dict.fromkeys(limit.note or CHECK_TARIFF for limit in limits)
    yield f"{'; '.join(notes)}, and change the limits in studio.toml, under [parcel]"


def limit_words(limit: PostLimit) -> str:
    """Return a limit in words: "353 x 250 x 25 mm, 750 g"."""
    if limit.shape == "flat":
        sides = " x ".join(_mm(side) for side in (limit.long, limit.short, limit.thick))
        return f"{sides} mm, {limit.grams} g"
    words = f"up to {_mm(limit.long)} mm long"
    if limit.girth is not None:
        words += f", {_mm(limit.girth)} mm with twice the diameter"
    else:
        words += f", {_mm(limit.thick)} mm thick"
    return f"{words}, {limit.grams} g"


def beyond_words(over: Mapping[Measured, int]) -> str:
    """Return by how much a parcel is beyond a limit; empty where it is not."""
    return ", ".join(
        f"{what} {by} g too much" if what == "weight" else f"{what} {_mm(by)} mm too much"
        for what, by in over.items()
    )


def scan_lines(
    size: tuple[Length, Length],
    bed: tuple[Length, Length],
    overlap: Length,
    found: Scans,
    unit: Unit,
) -> Iterator[str]:
    """Yield how many scans a drawing takes and where the scanner lies for each."""
    yield f"{size_text(*size, unit)} on a scanner of {size_text(*bed, 'mm')}"
    yield ""
    yield f"SCANS {found.count}"
    if found.count == 1:
        yield "  it lies on the glass whole"
        return
    yield f"  neighbours share {length_text(overlap, unit)} at least"
    lies = "across" if found.bed_turned else "up"
    yield f"  the glass with its long side {lies} the drawing"
    yield f"  its left edge at {_places(found.across)} mm from the drawing's left edge"
    yield f"  its lower edge at {_places(found.up)} mm from the drawing's foot"


def _shape_words(found: Parcel) -> str:
    if found.shape == "flat":
        sides = (found.long, found.short, found.thick)
        return f"flat, {' x '.join(_mm(side) for side in sides)} mm"
    assert found.roll is not None
    return (
        f"rolled {_mm(found.roll)} mm across, in a tube {_mm(found.long)} mm long and "
        f"{_mm(found.thick)} mm thick"
    )


def _verdict(limit: PostLimit, found: Parcel) -> str:
    over = beyond(limit, found)
    return beyond_words(over) if over else "goes"


def _columns(rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    if not rows:
        return
    wide = [max(len(row[place]) for row in rows) for place in range(len(rows[0]))]
    for row in rows:
        cells = (cell.ljust(width) for cell, width in zip(row, wide, strict=True))
        yield f"  {'  '.join(cells)}".rstrip()


def _places(starts: Sequence[Length]) -> str:
    return ", ".join(_mm(start) for start in starts)


def _mm(length: Length) -> str:
    """Return a length in whole millimetres, never less than it is."""
    return str(round_up(length, TICKS_PER_MM) // TICKS_PER_MM)


def _tenths(number: object) -> str:
    return f"{float(number):.1f}"  # type: ignore[arg-type]
