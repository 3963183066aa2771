"""The settings by which finished work is sent: what packing adds, and what a carrier takes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import Any

from sheetcut.job import Unit
from sheetcut.read.entries import Entries, as_length, as_size, as_text, as_whole, shown
from sheetcut.read.refusal import quoted
from sheetcut.units import Length

PACKING = ("wall", "boards", "grams")
LIMIT = ("flat", "rolled", "thick", "girth", "grams", "note")
HEAVIEST_PARCEL = 100_000  # grams: more than one person lifts


@dataclass(frozen=True, slots=True)
class SizeLimit:
    """The largest parcel of one kind that a carrier takes.

    Attributes:
        flat: the longer and the shorter side; None where it speaks of a roll.
        rolled: the longest roll; None where it speaks of flat parcels.
        thick: the most in the third direction; for a roll its diameter; None is not limited.
        girth: for a roll, the most that length and twice the diameter come to.
        note: what stands beside it; where it is empty, to check the current tariff.
    """

    name: str
    grams: int
    flat: tuple[Length, Length] | None = None
    rolled: Length | None = None
    thick: Length | None = None
    girth: Length | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Sending:
    """What the sections [packing] and [parcel."NAME"] say; None where they do not.

    Attributes:
        wall: what a flat mailer adds at each edge.
        boards: how thick boards and mailer are together.
        grams: what the packing weighs.
        limits: the carrier's, the cheapest first; empty for those that are known anyway.
    """

    wall: Length | None = None
    boards: Length | None = None
    grams: int | None = None
    limits: tuple[SizeLimit, ...] = ()


def read_sending(entries: Entries, given: dict[str, Any], unit: Unit) -> Sending:
    """Return what the settings say of packing and of what is taken."""
    packing = entries.part(given, "packing", PACKING)
    length = partial(as_length, unit=unit)
    grams = partial(as_whole, "grams", HEAVIEST_PARCEL)
    tables = given.get("parcel", {})
    if not isinstance(tables, dict):
        remedy = 'write a section headed [parcel."large letter"]'
        entries.add("parcel", f"parcel is {shown(tables)}", remedy)
        tables = {}
    limits = (_limit(entries, name, table, unit) for name, table in tables.items())
    return Sending(
        wall=entries.take(packing, "wall", length, None, "packing"),
        boards=entries.take(packing, "boards", length, None, "packing"),
        grams=entries.take(packing, "grams", grams, None, "packing"),
        limits=tuple(one for one in limits if one is not None),
    )


def _limit(entries: Entries, name: str, table: Any, unit: Unit) -> SizeLimit | None:
    where = f"parcel {quoted(name)}"
    if not isinstance(table, dict):
        remedy = f'write a section headed [parcel."{name}"]'
        entries.add("parcel", f"{where} is {shown(table)}", remedy, typed=name)
        return None
    own = entries.plain_keys(table, LIMIT, where)
    if ("flat" in own) == ("rolled" in own) or "grams" not in own:
        entries.add(
            "parcel",
            f"{where} does not say how large and how heavy it may be",
            'write flat = "353 x 250" or rolled = 900, and grams = 750',
            where,
        )
        return None
    length = partial(as_length, unit=unit)
    flat = entries.take(own, "flat", partial(as_size, unit=unit), None, where)
    return SizeLimit(
        " ".join(name.split()),
        grams=entries.take(own, "grams", partial(as_whole, "grams", HEAVIEST_PARCEL), 0, where),
        flat=(max(flat.width, flat.height), min(flat.width, flat.height)) if flat else None,
        rolled=entries.take(own, "rolled", length, None, where),
        thick=entries.take(own, "thick", length, None, where),
        girth=entries.take(own, "girth", length, None, where),
        note=entries.take(own, "note", as_text, "", where),
    )
