"""What a studio's settings say of charges, carriage, packing, the carrier and the printer."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from sheetcut.answers.buying import Carriage
from sheetcut.answers.given import price_list
from sheetcut.answers.parcel import CHECK_TARIFF, POST_LIMITS, Packing, PostLimit
from sheetcut.answers.printing import Printer
from sheetcut.answers.quote import Charging
from sheetcut.answers.shopping import Shopping, shopping
from sheetcut.answers.supply import fits_a_sheet
from sheetcut.job import Job, Piece
from sheetcut.read import Settings
from sheetcut.read.sending import SizeLimit
from sheetcut.units import Edges, Length


def charging_of(settings: Settings, hours: Fraction | None = None) -> Charging:
    """Return how the studio makes a charge of a cost; hours are the usual where None."""
    said = settings.trading
    return Charging(
        said.hours if hours is None else hours, said.rate, said.mark_up, said.round_up_to
    )


def carriage_of(settings: Settings) -> Carriage:
    """Return what carriage costs where the studio buys."""
    return Carriage(settings.trading.carriage)


def sold_by(
    job: Job, settings: Settings, *, papers: Sequence[str] | None = None
) -> tuple[Piece, ...]:
    """Return the studio's price list as pieces, with the usual margins of a drawing."""
    margin = settings.usual_margins.get("drawing", Edges())
    return tuple(price_list(job, settings.sizes_sold, margin=margin, papers=papers))


def to_buy(job: Job, settings: Settings) -> tuple[Shopping, list[Piece]]:
    """Return what to buy, and the order lines that no sheet in the drawer is large enough for."""
    found = shopping(job, sold=sold_by(job, settings), carriage=carriage_of(settings))
    ordered = (piece for piece in job.pieces if not piece.if_room)
    return found, [piece for piece in ordered if not fits_a_sheet(job, piece)]


def packing_of(settings: Settings) -> Packing:
    """Return what packing adds: as the settings say, else what is usual."""
    said, usual = settings.sending, Packing()
    return Packing(
        usual.wall if said.wall is None else said.wall,
        usual.boards if said.boards is None else said.boards,
        usual.grams if said.grams is None else said.grams,
    )


def limits_of(settings: Settings) -> tuple[PostLimit, ...]:
    """Return the carrier's limits: the studio's own table, else those to begin with."""

    def limit(said: SizeLimit) -> PostLimit:
        note = said.note or CHECK_TARIFF
        if said.flat is not None:
            thick = said.flat[0] if said.thick is None else said.thick
            return PostLimit(said.name, "flat", *said.flat, thick, said.grams, note=note)
        long = said.rolled or 0
        widest = long if said.girth is None else said.girth // 2
        thick = widest if said.thick is None else said.thick
        return PostLimit(said.name, "roll", long, 0, thick, said.grams, said.girth, note)

    return tuple(map(limit, settings.sending.limits)) or POST_LIMITS


def printer_of(settings: Settings, width: Length | None) -> Printer:
    """Return the studio's printer; what it leaves blank is the usual where nothing is said."""
    said, usual = settings.apparatus, Printer(width)
    return Printer(
        width,
        usual.sides if said.sides is None else said.sides,
        usual.lead if said.lead is None else said.lead,
        usual.tail if said.tail is None else said.tail,
    )
